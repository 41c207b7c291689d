//! The rows of the wall sheet: entries and gaps in order of time, in words.

use super::Print;
use crate::explain::{Gap, Severity};
use crate::night::{Minute, Minutes, Span, TaskDone};
use crate::show::View;
use crate::show::relief::relieved_by;
use crate::show::text::plain;
use crate::show::view::NONE;

/// One row.
pub enum Row {
    /// People through a door together.
    Entry(EntryRow),
    /// What is not covered.
    Gap(GapRow),
    /// An entry of the sheet before that is no more.
    Gone(String),
    /// Midnight, or the clocks changing.
    Passing(String),
}

/// An entry as it is printed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct EntryRow {
    pub number: u32,
    pub room: String,
    pub door_in: String,
    pub out: String,
    pub out_by: String,
    pub spare: String,
    /// Spare under the unit's figure.
    pub tight: bool,
    pub people: Vec<PersonRow>,
    /// Tasks, respirators and whatever differs between the people.
    pub notes: Vec<String>,
    /// It shares a minute with low hours.
    pub low: bool,
}

/// One person of an entry.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PersonRow {
    pub place: usize,
    pub id: String,
    pub relief: String,
    pub observer: String,
    pub assistant: String,
    pub lane: String,
}

/// A gap as it is printed.
pub struct GapRow {
    pub title: String,
    pub words: String,
}

/// Every row with the minute it stands for, in order. Rows that mark the passing of midnight stand between.
pub fn rows(print: &Print<'_>) -> Vec<(Minute, Row)> {
    let view = &print.view;
    let mut rows: Vec<(Minute, Row)> = entries(view).into_iter().map(|(at, row)| (at, Row::Entry(row))).collect();
    let gaps = view.explained.gaps.iter().enumerate().filter(|(_, gap)| gap.severity != Severity::Tight);
    rows.extend(gaps.map(|(ix, gap)| (gap.span.from, Row::Gap(gap_row(view, ix + 1, gap)))));
    rows.extend(super::changes::gone(print).into_iter().map(|(at, words)| (at, Row::Gone(words))));
    rows.sort_by_key(|(at, row)| (*at, matches!(row, Row::Entry(_))));
    with_passing(view, rows)
}

fn with_passing(view: &View<'_>, rows: Vec<(Minute, Row)>) -> Vec<(Minute, Row)> {
    let mut all = Vec::new();
    let mut last = None;
    for (at, row) in rows {
        let passed = last.map_or_else(Vec::new, |last| view.wall().passes(last, at));
        all.extend(passed.into_iter().map(|words| (at, Row::Passing(words))));
        all.push((at, row));
        last = Some(at);
    }
    all
}

/// Entries in order of the door, with the minute of it.
pub fn entries(view: &View<'_>) -> Vec<(Minute, EntryRow)> {
    view.groups().iter().filter_map(|group| Some((view.first_in(group)?, entry(view, group)))).collect()
}

fn entry(view: &View<'_>, group: &[usize]) -> EntryRow {
    let (wall, entries) = (view.wall(), &view.rota.entries);
    let time = |at: Option<Minute>| at.map_or_else(|| NONE.to_owned(), |at| wall.time(at));
    let first = &entries[group[0]];
    let spare = group.iter().filter_map(|&ix| view.spare(ix)).min();
    let low = view.night.low_hours();
    let worn = |ix: &usize| Span::new(entries[*ix].don, entries[*ix].off);
    EntryRow {
        number: first.number,
        room: view.room(first.room),
        door_in: time(view.first_in(group)),
        out: time(group.iter().map(|&ix| entries[ix].door_out).min()),
        out_by: time(group.iter().filter_map(|&ix| view.out_by(ix)).min()),
        spare: spare.map_or_else(|| NONE.to_owned(), |spare| format!("{spare} min")),
        tight: spare.is_some_and(|spare| spare < view.night.limits.spare),
        people: group.iter().map(|&ix| person(view, ix)).collect(),
        notes: notes(view, group),
        low: group.iter().any(|ix| low.iter().any(|low| low.overlaps(worn(ix)))),
    }
}

fn person(view: &View<'_>, ix: usize) -> PersonRow {
    let entry = &view.rota.entries[ix];
    let relief = relieved_by(view.rota, ix).map(|by| &view.rota.entries[by]);
    PersonRow {
        place: entry.person.0,
        id: view.person(entry.person),
        relief: relief.map_or_else(
            || NONE.to_owned(),
            |by| format!("{} {}", view.person(by.person), view.wall().time(by.door_in)),
        ),
        observer: view.person_or_none(entry.observer),
        assistant: view.person_or_none(entry.assistant),
        lane: view.lane(entry.lane),
    }
}

fn notes(view: &View<'_>, group: &[usize]) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(differing(view, group, "OUT-BY", |ix| view.out_by(ix)));
    notes.extend(differing(view, group, "plan out", |ix| Some(view.rota.entries[ix].door_out)));
    notes.extend(view.rota.tasks.iter().filter(|done| belongs(view, group, **done)).map(|done| {
        let span = Span::new(done.start, done.start + view.night.roster.tasks[done.task.0].length);
        format!("TASK {} {}", view.wall().span(span), view.task(done.task))
    }));
    let worn = |&ix: &usize| {
        let entry = &view.rota.entries[ix];
        entry.respirator.as_ref().map(|model| format!("{} {}", view.person(entry.person), plain(model)))
    };
    let worn: Vec<String> = group.iter().filter_map(worn).collect();
    if !worn.is_empty() {
        notes.push(format!("respirators {}", worn.join(", ")));
    }
    notes
}

/// `OUT-BY KB 22:20, MR 22:40`, where it is not the same for all.
fn differing(view: &View<'_>, group: &[usize], what: &str, time: impl Fn(usize) -> Option<Minute>) -> Option<String> {
    let times: Vec<(usize, Minute)> = group.iter().filter_map(|&ix| Some((ix, time(ix)?))).collect();
    let differ = times.iter().any(|(_, at)| *at != times[0].1);
    let each =
        times.iter().map(|&(ix, at)| format!("{} {}", view.person(view.rota.entries[ix].person), view.wall().time(at)));
    differ.then(|| format!("{what} {}", each.collect::<Vec<_>>().join(", ")))
}

/// A task stands at the last entry that was inside when it begins.
fn belongs(view: &View<'_>, group: &[usize], done: TaskDone) -> bool {
    let room = view.night.roster.tasks[done.task.0].room;
    let inside = |ix: &usize| {
        let entry = &view.rota.entries[*ix];
        entry.room == room && Span::new(entry.door_in, entry.door_out).contains(done.start)
    };
    let with = view.groups().into_iter().filter(|group| group.iter().any(&inside));
    with.max_by_key(|group| view.first_in(group)).is_some_and(|last| last == group)
}

fn gap_row(view: &View<'_>, number: usize, gap: &Gap) -> GapRow {
    let span = view.wall().span(gap.span);
    let title = format!("GAP {number}  {} {span}", gap.word());
    let nobody = matches!((gap.severity, gap.short), (Severity::PatientAlone, Some((_, 0))));
    let consequence = if nobody { format!("NO ENTRY {span}: ") } else { String::new() };
    GapRow { title, words: format!("room {}{}. {consequence}{}", view.room(gap.room), subject(view, gap), gap.posted) }
}

/// What of it is not covered.
pub fn subject(view: &View<'_>, gap: &Gap) -> String {
    let people = gap.short.map(|(needed, inside)| format!(", {needed} needed, {inside} inside"));
    let people = people.filter(|_| gap.task.is_none()).unwrap_or_default();
    match (gap.task, &gap.skill) {
        (Some(task), _) => format!(", task {}", view.task(task)),
        (None, Some(skill)) => format!(", skill {}{people}", plain(skill)),
        (None, None) => people,
    }
}

/// The stretch from one row to another, for "standby now" and the title of a page.
pub fn stretch(view: &View<'_>, from: Minute, to: Option<Minute>) -> Span {
    Span::new(from, to.unwrap_or(view.night.roster.shift.to).max(from + Minutes(1)))
}
