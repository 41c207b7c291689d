//! The manager's page about crews.

use maud::html;

use super::{Report, Section, html as page_of};
use crate::show::crews::{CAUTIONS, CrewsView, answer};

/// The whole page.
#[must_use]
pub fn page(view: &CrewsView<'_>) -> String {
    let about = format!("{}, roster {}", view.question.name, view.night.roster.name);
    page_of(&Report {
        question: "How many people does this take?".to_owned(),
        about,
        answer: answer(view),
        limits: &view.night.limits,
        example: view.question.example || view.night.roster.example,
        today: view.today,
        sections: vec![Section { mark: "x", title: "x".to_owned(), body: html! {} }],
        cautions: CAUTIONS.to_vec(),
    })
}
