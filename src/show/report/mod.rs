//! Pages that answer a question: one HTML file each, for the screen and for A4 paper.
//!
//! No script, no network, black on white; hatching and words carry everything, colour nothing. Never a
//! ranking of people, a personal limit or a reason why somebody may not.

pub mod absence;
mod chart;
pub mod crews;
pub mod first;
pub mod observers;
pub mod outlook;
pub mod supply;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::text::plain;
use super::warnings::of_answer;
use super::words::date;
use crate::check::NotChecked;
use crate::night::Night;
use chrono::NaiveDate;

/// What a page is made of.
pub struct Report<'a> {
    /// The question, as its user would ask it: the title of the page.
    pub question: String,
    /// Whose question it is: unit, roster or rosters, and which nights.
    pub about: String,
    /// The answer in a line or two, first of all.
    pub answer: String,
    /// The night it is about, the last of several: its limits are those by which it was worked out.
    pub night: &'a Night,
    /// Whether a file that it was made from is marked EXAMPLE.
    pub example: bool,
    /// The day on which it is made.
    pub today: NaiveDate,
    /// What follows, in order.
    pub sections: Vec<Section>,
    /// What has to be kept in mind with this answer, beside the caution on every page.
    pub cautions: Vec<&'static str>,
}

/// A part of the page under a heading of its own.
pub struct Section {
    /// Its mark in the document: small letters and dashes.
    pub mark: &'static str,
    /// Its heading.
    pub title: String,
    /// What stands below it.
    pub body: Markup,
}

impl Section {
    fn new(mark: &'static str, title: &str, body: Markup) -> Self {
        Self { mark, title: title.to_owned(), body }
    }
}

/// The whole document.
#[must_use]
pub fn html(report: &Report<'_>) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="description" content="PLANNING AID ONLY. The unit's procedures and licensed judgement come first.";
                title { (plain(&report.question)) }
                style { (PreEscaped(include_str!("report.css"))) }
            }
            body {
                a.skip href="#answer" { "Skip to the answer" }
                header {
                    h1 { (plain(&report.question)) }
                    p { (plain(&report.about)) }
                    @for (word, text) in of_answer(report.example, report.night, report.today) { p.band { strong { (word) } " " (text) } }
                    nav aria-label="Parts of this page" {
                        ul.links { @for part in &report.sections { li { a href={ "#" (part.mark) } { (part.title) } } } }
                    }
                }
                main #answer tabindex="-1" {
                    p.answer { (plain(&report.answer)) }
                    @for part in &report.sections {
                        section #(part.mark) aria-labelledby={ (part.mark) "-title" } {
                            h2 #{ (part.mark) "-title" } { (part.title) }
                            (part.body)
                        }
                    }
                }
                footer {
                    p { b { "PLANNING AID ONLY." } " The unit's procedures, occupational health and licensed judgement come first." }
                    @for caution in &report.cautions { p { (caution) } }
                    p { (by_whom(report)) }
                }
            }
        }
    };
    markup.into_string() + "\n"
}

/// A table that can be scrolled on a small screen. Numbers are set right by `td.n`.
#[must_use]
pub fn table(caption: &str, columns: &[&str], rows: &[Markup]) -> Markup {
    html! {
        div.scroll tabindex="0" role="region" aria-label=(plain(caption)) {
            table {
                caption { (plain(caption)) }
                thead { tr { @for name in columns { th scope="col" { (name) } } } }
                tbody { @for row in rows { (row) } }
            }
        }
    }
}

/// What nobody looked at, as a part of a page.
fn not_checked(all: &[NotChecked]) -> Section {
    let body = html! {
        @if all.is_empty() { p { "NONE: every rule planned for was checked." } }
        ul { @for n in all { li { (plain(&n.what)) ": " (plain(&n.why)) } } }
    };
    Section::new("not-checked", "Not checked", body)
}

fn by_whom(report: &Report<'_>) -> String {
    let (limits, approval) = (&report.night.limits, &report.night.limits.approval);
    format!(
        "Limits: {}, approved by {} on {}. They are the unit's; this program did not choose or verify them. Made on {}.",
        plain(&limits.name),
        plain(&approval.by),
        date(approval.on),
        date(report.today)
    )
}
