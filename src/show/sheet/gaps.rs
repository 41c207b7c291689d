//! Gaps with their fix, faults, changes, the limits in full and what was not checked.

use maud::{Markup, html};

use super::frame::{self, short_foot, top_height};
use super::paper::{Tenths, lines, packed};
use super::rows::subject;
use super::{Page, Part, Place, Print, cards, changes, limits};
use crate::check::Fault;
use crate::explain::Gap;
use crate::night::Rule;
use crate::show::text::plain;
use crate::show::view::NONE;
use crate::show::words;

/// Size of the type and height of a line.
const READ: (Tenths, Tenths) = (46, 58);
/// What a heading takes.
const HEADING: Tenths = 130;
/// Between two blocks.
const BETWEEN: Tenths = 24;

/// The pages.
pub fn pages<'p>(print: &'p Print<'p>) -> Vec<Page<'p>> {
    let room = print.paper.inside().1 - top_height(print) - frame::FOOT;
    let pages = packed(blocks(print), room, usize::MAX, |_| true);
    let page =
        |blocks: Vec<Markup>| Page { part: Part::Gaps, body: Box::new(move |place| sheet(print, place, &blocks)) };
    pages.into_iter().map(page).collect()
}

fn sheet(print: &Print<'_>, place: Place, blocks: &[Markup]) -> Markup {
    let body = html! { div.blocks { @for block in blocks { (block) } } };
    frame::page(print, Part::Gaps, place, "gaps, limits, check", &body, &short_foot(print, place))
}

type Block = (Tenths, Markup);

fn blocks(print: &Print<'_>) -> Vec<Block> {
    let view = &print.view;
    let mut all = vec![heading("Gaps, worst first")];
    all.extend(view.explained.gaps.iter().enumerate().map(|(ix, gap)| gap_block(print, ix + 1, gap)));
    if view.explained.gaps.is_empty() {
        let words = if view.has_gaps() {
            "Not explained. The check counts what is not covered: see it on the screen."
        } else {
            "NONE: everything asked for is covered."
        };
        all.push(text(print, words));
    }
    all.extend(view.explained.fixes.iter().map(|fix| text(print, &format!("FIX: {}", plain(fix)))));
    all.push(heading("Check"));
    all.push(text(print, &print.verdict()));
    all.extend(view.review.faults.iter().enumerate().map(|(ix, fault)| fault_block(print, ix + 1, fault)));
    if print.faults() > 0 {
        all.push(text(print, "Who is concerned is not printed. anteroom check says it on the screen."));
    }
    if print.before.is_some() {
        all.push(heading("Changed since the sheet before"));
        all.push(text(print, &changed(print)));
        all.extend(changes::gone(print).iter().map(|(_, words)| text(print, words)));
    }
    all.push(heading("Limits used"));
    all.extend(limits_in_full(print).iter().map(|words| text(print, words)));
    all.push(heading("Not checked"));
    let unchecked = &view.review.not_checked;
    if unchecked.is_empty() {
        all.push(text(print, "NONE: every rule planned for was checked."));
    }
    all.extend(unchecked.iter().map(|n| text(print, &plain(&format!("{}: {}", n.what, n.why)))));
    all
}

fn heading(words: &str) -> Block {
    (HEADING, html! { h4 { (words) } })
}

fn text(print: &Print<'_>, words: &str) -> Block {
    (measured(print, words), html! { p { (words) } })
}

fn measured(print: &Print<'_>, words: &str) -> Tenths {
    READ.1 * lines(words, print.paper.inside().0 - 60, READ.0) + BETWEEN
}

fn gap_block(print: &Print<'_>, number: usize, gap: &Gap) -> Block {
    let view = &print.view;
    let title = format!(
        "GAP {number}  {} {}  room {}{}",
        gap.word(),
        view.wall().span(gap.span),
        view.room(gap.room),
        subject(view, gap)
    );
    let why = format!("short: {}", plain(&gap.posted));
    let fix = format!("fix: {}", plain(gap.fix.as_deref().unwrap_or("no single change that was tried closes it")));
    let height = measured(print, &title) + measured(print, &why) + measured(print, &fix) + 60;
    (height, html! { div.gapblock { p.what { (title) } p { (why) } p { (fix) } } })
}

/// Rule, time and by how much; nobody is named, since some rules are about a person's own affairs.
fn fault_block(print: &Print<'_>, number: usize, fault: &Fault) -> Block {
    // When a personal limit is missed could tell what it is.
    if fault.rule == Rule::A8 {
        return text(print, &format!("FAULT {number}: see it on the screen."));
    }
    let view = &print.view;
    let by = fault.by.map_or_else(String::new, |by| format!(": missed {}", words::by(by)));
    let at = view.wall().day_and_time(fault.span.from);
    text(print, &format!("FAULT {number}: {} {}{by}, {at}", fault.rule.id(), fault.rule.words()))
}

fn changed(print: &Print<'_>) -> String {
    let new: Vec<String> = cards::changed(print).into_iter().map(|ix| print.view.person(ix)).collect();
    format!("New cards for: {}", if new.is_empty() { NONE.to_owned() } else { new.join(", ") })
}

fn limits_in_full(print: &Print<'_>) -> Vec<String> {
    let set = &print.view.night.limits;
    let (on, review) = (set.approval.on.format("%-d %b %Y"), set.approval.review_by.format("%-d %b %Y"));
    let sources: Vec<String> = set.sources.iter().map(|source| plain(source)).collect();
    let sources = if sources.is_empty() { "not stated".to_owned() } else { sources.join("; ") };
    vec![
        format!("{}, approved by {} on {on}; to be reviewed by {review}.", plain(&set.name), plain(&set.approval.by)),
        format!("Sources: {sources}."),
        limits::in_a_line(&print.view, plain),
        format!(
            "Roster: {}. Planned on a grid of {} min: durations up, limits down.",
            plain(&print.view.night.roster.name),
            set.grid
        ),
    ]
}
