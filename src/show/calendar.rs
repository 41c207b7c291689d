//! Duties as iCalendar (RFC 5545), for the calendars of phones: one event to a duty, times in UTC.
//!
//! The same input and the same time of printing give the same bytes: nothing is drawn at random.

use chrono::{DateTime, Utc};
use icalendar::{Calendar, Component, Event, EventLike};

use super::View;
use super::mine::{About, Mine, everybody};
use super::text::plain;
use super::warnings::faults_in_words;
use crate::night::{Minute, PersonIx};

/// Which issue of the sheet the calendar goes with, and when it was printed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Issue {
    /// Its number: a later one takes the place of an earlier one in the phone.
    pub number: u32,
    /// When.
    pub printed: Minute,
}

/// The calendar of everybody.
#[must_use]
pub fn of_unit(view: &View<'_>, issue: Issue) -> String {
    let all = everybody(view);
    let lines = all.iter().flat_map(|(&ix, lines)| lines.iter().map(move |line| (ix, line)));
    written(view, issue, lines)
}

/// The calendar of each person on the roster, in its order.
#[must_use]
pub fn of_people(view: &View<'_>, issue: Issue) -> Vec<(PersonIx, String)> {
    let all = everybody(view);
    let none = Vec::new();
    let of = |ix| (ix, written(view, issue, all.get(&ix).unwrap_or(&none).iter().map(|line| (ix, line))));
    view.night.roster.person_indices().map(of).collect()
}

fn written<'l>(view: &View<'_>, issue: Issue, lines: impl Iterator<Item = (PersonIx, &'l Mine)>) -> String {
    let mut calendar = Calendar::new();
    calendar.name(&format!("{}, issue {}", plain(&view.night.roster.unit), issue.number));
    let mut nth = 0;
    let mut last = None;
    for (ix, line) in lines {
        // Two duties of one person that begin in one minute are told apart by their order.
        nth = if last == Some((ix, line.span.from)) { nth + 1 } else { 0 };
        last = Some((ix, line.span.from));
        calendar.push(event(view, issue, ix, line, nth));
    }
    calendar.to_string()
}

fn event(view: &View<'_>, issue: Issue, ix: PersonIx, line: &Mine, nth: u32) -> Event {
    let mut event = Event::new();
    let word = match line.about {
        About::Entry(_) => "entry",
        About::Post(_) => "post",
        About::Duty(doing) => super::csv::word(doing),
    };
    let uid = format!("{}-{}-{nth}-{}@{}", view.person(ix), line.span.from.0, word.replace(' ', "-"), place(view));
    event.uid(&uid);
    event.timestamp(utc(issue.printed)).starts(utc(line.span.from)).ends(utc(line.span.to));
    event.sequence(issue.number);
    event.summary(&format!("{}{}: {}", warning(view), view.person(ix), line.text));
    event.description(&description(view, issue, line));
    event.done()
}

/// Said before the words of every event, since a calendar shows one at a time.
fn warning(view: &View<'_>) -> &'static str {
    match (view.review.faults.is_empty(), view.is_training()) {
        (false, _) => "DO NOT USE (FAULTS): ",
        (true, true) => "TRAINING - NOT FOR USE: ",
        (true, false) => "",
    }
}

fn description(view: &View<'_>, issue: Issue, line: &Mine) -> String {
    let after = line.after.clone().unwrap_or_default();
    let checked = faults_in_words(view.review.faults.len());
    format!(
        "{after} Issue {} of {}. Checked: {checked}. PLANNING AID ONLY: your unit's procedures and your own judgement \
         come first. A later issue on the wall wins over this calendar.",
        issue.number,
        plain(&view.night.roster.unit)
    )
    .trim_start()
    .to_owned()
}

/// The roster's name in letters that every calendar takes.
fn place(view: &View<'_>) -> String {
    let name = view.night.roster.name.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' });
    name.collect()
}

fn utc(at: Minute) -> DateTime<Utc> {
    DateTime::from_timestamp(at.0 * 60, 0).unwrap_or_default()
}
