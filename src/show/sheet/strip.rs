//! The four boxes at the top of the wall sheet: in charge, standby now, kits left, gaps.

use maud::{Markup, html};

use super::Print;
use super::paper::Tenths;
use crate::explain::Severity;
use crate::night::{KitStock, Span, Stint};
use crate::show::View;
use crate::show::stock::kits_used;
use crate::show::text::plain;
use crate::show::view::NONE;

/// Height of the strip.
pub const STRIP: Tenths = 260;

/// Lines of people that a box has room for.
const LINES: usize = 6;

/// The strip of the page that stands for `span`.
pub fn strip(print: &Print<'_>, span: Span) -> Markup {
    let view = &print.view;
    let end = view.wall().time(view.night.roster.shift.to);
    html! {
        dl.strip {
            div { dt { "In charge" } dd { (in_charge(view, span)) } }
            div { dt { "Standby now" } dd { (standby(view, span)) } }
            div { dt { "Kits left at " (end) } dd { (kits(view)) } }
            div { dt { "Gaps, check" } dd { (gaps(print)) } }
        }
    }
}

fn in_charge(view: &View<'_>, span: Span) -> Markup {
    if view.night.limits.coordinator {
        return named(view, &view.rota.coordinators, span);
    }
    html! { p.none { "NONE NAMED" } p { "write in: __________" } }
}

fn standby(view: &View<'_>, span: Span) -> Markup {
    match view.night.limits.standby {
        None => html! { p.none { (NONE) } p { "not asked for by this unit" } },
        Some(standby) => html! {
            (named(view, &view.rota.standby, span))
            @if standby.report { p { "A shortage is reported, not prevented." } }
        },
    }
}

/// Who from when to when, as far as it shares a minute with `span`.
fn named(view: &View<'_>, stints: &[Stint], span: Span) -> Markup {
    let during: Vec<&Stint> = stints.iter().filter(|stint| stint.span.overlaps(span)).collect();
    let more = during.len().saturating_sub(LINES);
    html! {
        @if during.is_empty() { p.none { (NONE) } }
        ul.named {
            @for stint in during.iter().take(LINES) {
                li { (view.wall().span(stint.span)) " " b { (view.person(stint.person)) } }
            }
        }
        @if more > 0 { p { "and " (more) " more: see the timeline" } }
    }
}

fn kits(view: &View<'_>) -> Markup {
    let used = kits_used(view);
    let left = |stock: &KitStock| {
        let used = used.get(&(stock.ensemble, stock.size.as_str())).copied().unwrap_or(0);
        let left = i64::from(stock.count) - i64::from(used);
        let kept = if stock.reserve > 0 { format!(" (keep {})", stock.reserve) } else { String::new() };
        format!("{} {} {left}{kept}", plain(&view.night.limits.ensemble(stock.ensemble).id), plain(&stock.size))
    };
    let stocks = &view.night.roster.kits;
    html! {
        @if stocks.is_empty() { p.none { (NONE) " on this roster" } }
        ul.named { @for stock in stocks.iter().take(LINES) { li { (left(stock)) } } }
        @if stocks.len() > LINES { p { "and " (stocks.len() - LINES) " more sizes" } }
    }
}

/// Gaps and faults in numbers; TIGHT is covered and counted apart.
pub fn gaps(print: &Print<'_>) -> Markup {
    let view = &print.view;
    let tight = view.explained.gaps.iter().filter(|gap| gap.severity == Severity::Tight).count();
    let gaps = view.explained.gaps.len() - tight;
    let unexplained = gaps == 0 && view.has_gaps();
    html! {
        @if print.faults() > 0 { p.count.black { "FAULTS " (print.faults()) } }
        @if unexplained { p.count { "GAPS: see the check" } } @else { p.count { "GAPS " (gaps) } }
        @if tight > 0 { p { "TIGHT " (tight) } }
        @if let Some(worst) = view.explained.gaps.first().filter(|_| gaps > 0 && print.faults() == 0) {
            p { (worst.word()) " " (view.wall().span(worst.span)) }
        }
    }
}
