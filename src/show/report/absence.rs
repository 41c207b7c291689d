//! The page: how often a crew covers the night.

use maud::html;

use super::{Report, Section, html as page_of};
use crate::show::absence::{View, words};

/// The whole document.
#[must_use]
pub fn page(view: &View<'_>) -> String {
    let sections = vec![Section { mark: "how", title: "How it was worked out".to_owned(), body: html! { p { (words::work(view)) } p { (words::METHOD) } } }];
    page_of(&Report {
        question: words::QUESTION.to_owned(),
        about: format!("{}. {}.", view.night.roster.name, words::how(view)),
        answer: words::answer(view),
        limits: &view.night.limits,
        example: view.example || view.night.roster.example,
        today: view.today,
        sections,
        cautions: words::CAUTIONS.to_vec(),
    })
}
