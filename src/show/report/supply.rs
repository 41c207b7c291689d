//! The page: how long the kits last.

use maud::{Markup, html};

use super::{Report, Section, html as page_of, plain, table};
use crate::check::MostInUse;
use crate::night::Minute;
use crate::show::supply::{View, words};
use crate::staffing::supply::Shelf;

/// The picture of one shelf, in tenths of a millimetre: width, height, and where its field begins and ends.
const SIZE: (i64, i64) = (1_800, 520);
const FIELD: (i64, i64, i64, i64) = (170, 40, 1_720, 420);

/// The whole document.
#[must_use]
pub fn page(view: &View<'_>) -> String {
    let mut sections = vec![
        Section::new("tonight", "Tonight", tonight(view)),
        Section::new("hours", "Left, hour by hour", hours(view)),
    ];
    if !view.supply.respirators.is_empty() {
        sections.push(Section::new("respirators", "Respirators", respirators(view)));
    }
    sections.push(Section::new("coming", "Coming nights, each like this one", coming(view)));
    page_of(&Report {
        question: words::QUESTION.to_owned(),
        about: format!("{}.", view.night.roster.name),
        answer: words::answer(view),
        night: view.night,
        example: view.night.roster.example,
        today: view.today,
        sections,
        cautions: words::CAUTIONS.to_vec(),
    })
}

fn tonight(view: &View<'_>) -> Markup {
    let rows: Vec<Markup> = view
        .supply
        .shelves
        .iter()
        .map(|shelf| {
            html! { tr {
                th scope="row" { (plain(&view.name(shelf))) }
                td.n { (shelf.count) }
                td.n { (shelf.reserve) }
                td.n { (shelf.used()) }
                td.n { (shelf.left()) }
                td { (words::reached(view, shelf)) }
                td.gap[shelf.runs_out().is_some()] { (words::runs_out(view, shelf)) }
            } }
        })
        .collect();
    let columns = ["kit", "there", "kept back", "used", "left", "reserve reached", "runs out"];
    html! {
        @for note in words::notes(view) { p { (plain(&note)) } }
        (table("What the rota takes", &columns, &rows))
    }
}

fn hours(view: &View<'_>) -> Markup {
    let rows: Vec<Markup> = view
        .hours()
        .into_iter()
        .map(|at| {
            html! { tr {
                th scope="row" { (view.wall().time(at)) }
                @for shelf in &view.supply.shelves { td.n { (shelf.left_at(at)) } }
            } }
        })
        .collect();
    let names: Vec<String> = view.supply.shelves.iter().map(|shelf| view.name(shelf)).collect();
    let columns: Vec<&str> = std::iter::once("at").chain(names.iter().map(String::as_str)).collect();
    html! {
        @for shelf in &view.supply.shelves { (picture(view, shelf)) }
        (table("Left when the hour starts", &columns, &rows))
    }
}

/// Steps down with each kit taken, over a dotted line for what is kept back.
fn picture(view: &View<'_>, shelf: &Shelf) -> Markup {
    let title = format!("Kit {}: left through the night; dotted: kept back", view.name(shelf));
    let (left, top, right, bottom) = FIELD;
    let shift = view.night.roster.shift;
    let highest = i64::from(shelf.count.max(1));
    let x = |at: Minute| {
        left + (at.0.clamp(shift.from.0, shift.to.0) - shift.from.0) * (right - left) / shift.length().0.max(1)
    };
    let y = |kits: i64| bottom - kits.clamp(0, highest) * (bottom - top) / highest;
    let start = format!("M{left} {}", y(shelf.count.into()));
    let steps = (1..).zip(shelf.uses()).map(|(taken, at)| format!("H{}V{}", x(at), y(i64::from(shelf.count) - taken)));
    let line: Vec<String> = std::iter::once(start).chain(steps).chain([format!("H{right}")]).collect();
    let reserve = y(shelf.reserve.into());
    let mut marks = vec![(i64::from(shelf.count), y(shelf.count.into()))];
    // A figure that would stand in another is left out; the table has it.
    if (reserve - marks[0].1).abs() > 60 && shelf.reserve > 0 {
        marks.push((shelf.reserve.into(), reserve));
    }
    if marks.iter().all(|(_, at)| (at - bottom).abs() > 60) {
        marks.push((0, bottom));
    }
    let size = format!("width:{}mm;height:auto", SIZE.0 / 10);
    html! {
        figure {
            figcaption { (plain(&title)) }
            svg viewBox={ "0 0 " (SIZE.0) " " (SIZE.1) } style=(size) role="img" font-size="46" font-weight="700"
                fill="currentColor" stroke="currentColor" {
                title { (plain(&title)) ". The table below has the same figures." }
                path d={ "M" (left) " " (top) "V" (bottom) "H" (right) } fill="none" stroke-width="6" {}
                path d={ "M" (left) " " (reserve) "H" (right) } fill="none" stroke-width="8" stroke-dasharray="8 20" {}
                path d=(line.concat()) fill="none" stroke-width="14" {}
                @for (kits, at) in &marks { text x=(left - 20) y=(at + 16) text-anchor="end" stroke="none" { (kits) } }
                @for at in view.hours().into_iter().step_by(2).filter(|at| x(*at) < right - 60) {
                    path d={ "M" (x(at)) " " (bottom) "v16" } fill="none" stroke-width="6" {}
                    text x=(x(at)) y=(bottom + 76) text-anchor="middle" stroke="none" { (view.wall().time(at)) }
                }
            }
        }
    }
}

fn respirators(view: &View<'_>) -> Markup {
    let row = |most: &MostInUse| {
        html! { tr {
            th scope="row" { (plain(&most.model)) " " (plain(most.size.as_deref().unwrap_or("any"))) }
            td.n { (most.in_use) }
            td.n { (most.ready) }
            td.n { (i64::from(most.ready) - i64::from(most.in_use)) }
            td { (view.wall().time(most.at)) }
        } }
    };
    let rows: Vec<Markup> = view.supply.respirators.iter().map(row).collect();
    table("When most are in use", &["respirator", "most in use", "of", "left then", "first at"], &rows)
}

fn coming(view: &View<'_>) -> Markup {
    let plans = if view.unplanned == 0 { vec![0] } else { vec![0, view.unplanned] };
    let rows = view.supply.shelves.iter().flat_map(|shelf| {
        plans.iter().map(move |&unplanned| {
            html! { tr {
                th scope="row" { (plain(&view.name(shelf))) }
                td { @if unplanned == 0 { "as planned" } @else { (unplanned) " more entries" } }
                td { (words::sum(shelf, unplanned)) }
                td { (words::short_on(view, shelf, unplanned)) }
            } }
        })
    });
    let columns = ["kit", "each night", "(there - kept back) / used", "short from the night of"];
    html! {
        (table("Nights count tonight", &columns, &rows.collect::<Vec<_>>()))
        p { "New kits have to be there before the night of that date." }
    }
}
