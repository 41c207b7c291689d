//! The page that proves, or does not, that every donning and removal is watched.

use maud::{Markup, html};

use super::{Report, Section, not_checked, table};
use crate::night::Rule;
use crate::show::View;
use crate::show::observed::{others, row, verdict};
use crate::show::words;
use crate::training::{Proof, Watched};

/// The names of the columns, here and on the sheet.
pub(in crate::show) const COLUMNS: [&str; 10] = [
    "time",
    "what",
    "of",
    "lane",
    "OBSERVER",
    "in date until",
    "on watch at its end",
    "last break",
    "ASSISTANT",
    "in date until",
];

/// The page. Like the sheet on the wall it names a fault by rule and time and puts nobody's name beside it.
#[must_use]
pub fn page(view: &View<'_>, proof: &Proof) -> String {
    let roster = &view.night.roster;
    let answer = verdict(proof) + &others(proof).map_or_else(String::new, |text| format!(" {text}"));
    let rows: Vec<Markup> = proof.all.iter().map(|one| cells(view, one)).collect();
    let mut sections =
        vec![Section::new("all", "Every donning and removal", table("In order of time", &COLUMNS, &rows))];
    if !proof.holds() {
        sections.insert(0, Section::new("against", "What stands against it", against(view, proof)));
    }
    sections.push(not_checked(&view.review.not_checked));
    super::html(&Report {
        question: "Is every donning and removal watched by somebody in date, rested and free?".to_owned(),
        about: format!(
            "{}, {}, issue {} of the rota, {}",
            roster.unit,
            roster.name,
            view.rota.issue,
            view.wall().day(roster.shift.from)
        ),
        answer,
        night: view.night,
        example: roster.example,
        today: view.today,
        sections,
        cautions: vec!["A date in a file is not yet competence. A rota is a plan: it does not prove that it was kept."],
    })
}

/// A row of the table, here and on the sheet.
pub(in crate::show) fn cells(view: &View<'_>, one: &Watched) -> Markup {
    let words = row(view, one);
    html! {
        tr {
            th scope="row" { (words.time) }
            td { (words.what) }
            td { (words.of) }
            td { (words.lane) }
            td.strong { (words.observer) }
            td { (words.observer_until) }
            td { (words.on_watch) }
            td { (words.last_break) }
            td .strong[one.assisted] { (words.assistant) }
            td { (words.assistant_until) }
        }
    }
}

fn against(view: &View<'_>, proof: &Proof) -> Markup {
    html! {
        ul {
            @for one in proof.all.iter().filter(|one| !one.faults.is_empty()) {
                @let words = row(view, one);
                @for &fault in &one.faults {
                    li { (words.time) " " (words.what) ", lane " (words.lane) ": " (rule(view, fault)) }
                }
            }
            @for &fault in &proof.beside { li { "of no donning or removal of the list: " (rule(view, fault)) } }
        }
        p { "Who and why stands on the screen: " code { "anteroom observers" } "." }
    }
}

/// Rule, time and by how much. Some rules are about a person's own affairs: those are not named here.
fn rule(view: &View<'_>, fault: usize) -> String {
    let fault = &view.review.faults[fault];
    if matches!(fault.rule, Rule::A4 | Rule::A8) {
        return "see it on the screen".to_owned();
    }
    let by = fault.by.map_or_else(String::new, |by| format!(": missed {}", words::by(by)));
    format!("{} {}{by}, {}", fault.rule.id(), fault.rule.words(), view.wall().day_and_time(fault.span.from))
}
