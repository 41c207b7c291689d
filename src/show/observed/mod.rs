//! Every donning and removal with those who see to it: for the screen, spreadsheets, scripts, paper.

mod files;
mod screen;

pub use files::{HEADER, csv, json};
pub use screen::screen;

use chrono::NaiveDate;

use super::View;
use super::view::NONE;
use super::words::date;
use crate::training::{Proof, Watched, What};

/// One donning or removal in words.
pub struct Row {
    /// `21:30-21:55`.
    pub time: String,
    /// `donning` or `REMOVAL`.
    pub what: &'static str,
    /// Whose.
    pub of: String,
    /// The lane; a dash where there is none.
    pub lane: String,
    /// Who watches, or NONE.
    pub observer: String,
    /// The last day of the observer's sign-off, or NONE.
    pub observer_until: String,
    /// `25 min`, or NONE.
    pub on_watch: String,
    /// `to 02:30`, or `NONE since 19:00`.
    pub last_break: String,
    /// Who assists, NONE, or `none asked for`.
    pub assistant: String,
    /// The last day of the assistant's sign-off, NONE, or a dash.
    pub assistant_until: String,
}

/// A donning or removal in words.
#[must_use]
pub fn row(view: &View<'_>, one: &Watched) -> Row {
    let (assistant, assistant_until) = if one.assisted {
        (view.person_or_none(one.assistant), day_or_none(one.assistant_until(view.night)))
    } else {
        ("none asked for".to_owned(), "-".to_owned())
    };
    Row {
        time: view.wall().span(one.span),
        what: what(one.what),
        of: view.person(one.wearer),
        lane: one.lane.map_or_else(|| "-".to_owned(), |lane| view.lane(Some(lane))),
        observer: view.person_or_none(one.observer),
        observer_until: day_or_none(one.observer_until(view.night)),
        on_watch: one.on_watch.map_or_else(|| NONE.to_owned(), |minutes| format!("{minutes} min")),
        last_break: last_break(view, one),
        assistant,
        assistant_until,
    }
}

/// `donning`, `REMOVAL`.
#[must_use]
pub const fn what(what: What) -> &'static str {
    match what {
        What::Donning => "donning",
        What::Removal => "REMOVAL",
    }
}

fn day_or_none(day: Option<NaiveDate>) -> String {
    day.map_or_else(|| NONE.to_owned(), date)
}

fn last_break(view: &View<'_>, one: &Watched) -> String {
    let Some(observer) = one.observer else { return NONE.to_owned() };
    let on_duty = view.night.roster.person(observer).on_duty.from;
    one.last_break.map_or_else(
        || format!("NONE since {}", view.wall().time(on_duty)),
        |end| format!("to {}", view.wall().time(end)),
    )
}

/// The one line that is the answer.
#[must_use]
pub fn verdict(proof: &Proof) -> String {
    let (donnings, removals) = (proof.count(What::Donning), proof.count(What::Removal));
    if !proof.holds() {
        let beside = match proof.beside.len() {
            0 => String::new(),
            1 => " One more fault of watching belongs to none of them.".to_owned(),
            more => format!(" {more} more faults of watching belong to none of them."),
        };
        return format!(
            "NO PROOF: {} of {} removals and {} of {} donnings are not watched by somebody in date, rested and \
             free.{beside}",
            removals.all - removals.good,
            removals.all,
            donnings.all - donnings.good,
            donnings.all
        );
    }
    if proof.all.is_empty() {
        return "NOTHING TO PROVE: no donning and no removal is planned.".to_owned();
    }
    format!(
        "PROOF: {} of {} donnings and {} of {} removals are watched by somebody in date, rested and free.",
        donnings.good, donnings.all, removals.good, removals.all
    )
}

/// What else the check found, which the answer does not speak of.
#[must_use]
pub fn others(proof: &Proof) -> Option<String> {
    (proof.others > 0).then(|| {
        format!(
            "DO NOT USE this rota all the same: the check found {} of other kinds. See `anteroom check`.",
            super::warnings::faults_in_words(proof.others)
        )
    })
}
