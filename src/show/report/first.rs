//! The page of first entries.

use maud::html;

use super::{Report, Section, not_checked, table};
use crate::show::View;
use crate::show::first::{HOW, answer, words};
use crate::training::FirstEntry;

/// The page.
#[must_use]
pub fn page(view: &View<'_>, all: &[FirstEntry]) -> String {
    let roster = &view.night.roster;
    let row = |one: &FirstEntry| {
        html! {
            tr {
                th scope="row" { (view.person(one.person)) }
                td { (words(view, &one.found)) }
            }
        }
    };
    let rows: Vec<_> = all.iter().map(row).collect();
    super::html(&Report {
        question: "Where could those who enter only beside a preceptor make a first entry?".to_owned(),
        about: format!("{}, {}, {}", roster.unit, roster.name, view.wall().day(roster.shift.from)),
        answer: answer(all),
        night: view.night,
        example: roster.example,
        today: view.today,
        sections: vec![
            Section::new(
                "entries",
                "Person by person",
                table("In the order of the roster", &["who", "what was found"], &rows),
            ),
            not_checked(&view.review.not_checked),
        ],
        cautions: vec![HOW],
    })
}
