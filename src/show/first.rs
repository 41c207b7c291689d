//! First entries in words: for the screen, spreadsheets and scripts.
//!
//! CSV: `person`, `result` (`planned`, `fits`, `NOT FOUND`), `in`, `out` (ISO 8601, local time with offset), `room`, `class`,
//! `preceptor`, `by_day` (`yes`, `NO`), `lacking`. Where there is none, the cell says `NONE`.
//! JSON: `format`, `caution`, `training`, `roster`, `constraint_set`, `first_entries` (the columns above, `null` for none),
//! `not_checked`.

use serde::Serialize;

use super::View;
use super::csv::{harmless, written};
use super::terminal::{names, not_checked};
use super::text::{hanging, heading, paragraph};
use super::view::NONE;
use super::warnings::{faults_in_words, warnings};
use super::words::PLANNING_AID;
use crate::check::Review;
use crate::training::{FirstEntry, Found, Lack, Stay};

/// What to know of the answer.
pub const HOW: &str = "Looked for are stays beside a preceptor, not in acuity class 1, outside low hours, by day before \
                       night. A stay that fits was tried: the night was planned with it, the rota keeps every rule and \
                       misses nothing more. Whether somebody is ready for a first entry is the unit's judgement.";

/// `2 faults`.
#[must_use]
pub fn faults(review: &Review) -> String {
    faults_in_words(review.faults.len())
}

/// The answer in a line.
#[must_use]
pub fn answer(all: &[FirstEntry]) -> String {
    if all.is_empty() {
        return "Nobody on this roster enters under supervision.".to_owned();
    }
    let found = all.iter().filter(|one| !matches!(one.found, Found::None(_))).count();
    format!("A first entry was found for {found} of {} who enter under supervision.", all.len())
}

/// `in 18:15, out 19:00, room 1, no presence asked for, beside MR, not by day`.
#[must_use]
pub fn stay(view: &View<'_>, stay: &Stay) -> String {
    let class = stay.class.map_or_else(|| "no presence asked for".to_owned(), |class| format!("class {class}"));
    let when = if stay.by_day { "by day" } else { "not by day" };
    let (wall, room, with) = (view.wall(), view.room(stay.room), view.person(stay.preceptor));
    format!(
        "in {}, out {}, room {room}, {class}, beside {with}, {when}",
        wall.time(stay.span.from),
        wall.time(stay.span.to)
    )
}

/// What is lacking, in plain words. Nothing of it is about the person.
#[must_use]
pub fn lacks(lacks: &[Lack]) -> String {
    let stays = |count: usize| if count == 1 { "1 stay".to_owned() } else { format!("{count} stays") };
    let word = |lack: &Lack| match *lack {
        Lack::NoPreceptor => "no preceptor is on duty who may pair with them".to_owned(),
        Lack::NoStay => "no preceptor who may pair with them goes in".to_owned(),
        Lack::Acute(count) => format!("{} beside a preceptor in acuity class 1", stays(count)),
        Lack::LowHours(count) => format!("{} beside a preceptor in low hours", stays(count)),
        Lack::Full(count) => format!("{} beside a preceptor in a room that is full", stays(count)),
        Lack::Tried(count) => format!("{} tried, and no rota found", stays(count)),
    };
    let all: Vec<String> = lacks.iter().map(word).collect();
    if all.is_empty() { "nothing was found".to_owned() } else { all.join("; ") }
}

/// What was found for one person, without the name.
#[must_use]
pub fn words(view: &View<'_>, found: &Found) -> String {
    match found {
        Found::Planned(at) => format!("planned already: {}", stay(view, at)),
        Found::Fits(at) => format!("fits, tried: {}", stay(view, at)),
        Found::None(all) => format!("NOT FOUND: {}", lacks(all)),
    }
}

/// On the screen, with what to write into the roster for a stay that fits.
#[must_use]
pub fn screen(view: &View<'_>, all: &[FirstEntry]) -> String {
    let warnings: String = warnings(view).iter().map(|w| hanging("", w)).collect();
    let gap = if warnings.is_empty() { "" } else { "\n" };
    let lines: String = all.iter().map(|one| of_person(view, one)).collect();
    heading("FIRST ENTRIES")
        + &names(view)
        + gap
        + &warnings
        + "\n"
        + &hanging("", &answer(all))
        + "\n"
        + &lines
        + if lines.is_empty() { "" } else { "\n" }
        + &paragraph(HOW)
        + "\n"
        + &not_checked(view)
        + "\n"
        + &hanging("", PLANNING_AID)
}

fn of_person(view: &View<'_>, one: &FirstEntry) -> String {
    let line = hanging(&format!("  {}  ", view.person(one.person)), &words(view, &one.found));
    let Found::Fits(at) = &one.found else { return line };
    let local = view.night.roster.clock.local(at.span.from).format("%Y-%m-%dT%H:%M");
    let pin = format!(
        "[[pin]] person = \"{}\", room = \"{}\", in = \"{local}\"",
        view.person(one.person),
        view.room(at.room)
    );
    line + &hanging("      to plan it: ", &pin)
}

#[derive(Serialize)]
struct Row {
    person: String,
    result: &'static str,
    r#in: Option<String>,
    out: Option<String>,
    room: Option<String>,
    class: Option<u32>,
    preceptor: Option<String>,
    by_day: Option<bool>,
    lacking: Option<String>,
}

fn row(view: &View<'_>, one: &FirstEntry) -> Row {
    let roster = &view.night.roster;
    let (result, at, lacking) = match &one.found {
        Found::Planned(at) => ("planned", Some(at), None),
        Found::Fits(at) => ("fits", Some(at), None),
        Found::None(all) => ("NOT FOUND", None, Some(lacks(all))),
    };
    Row {
        person: roster.person(one.person).id.clone(),
        result,
        r#in: at.map(|at| view.wall().iso(at.span.from)),
        out: at.map(|at| view.wall().iso(at.span.to)),
        room: at.map(|at| roster.rooms[at.room.0].id.clone()),
        class: at.and_then(|at| at.class),
        preceptor: at.map(|at| roster.person(at.preceptor).id.clone()),
        by_day: at.map(|at| at.by_day),
        lacking,
    }
}

/// The names of the columns, in order.
pub const HEADER: [&str; 9] = ["person", "result", "in", "out", "room", "class", "preceptor", "by_day", "lacking"];

/// Writes a row to a person.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn csv(view: &View<'_>, all: &[FirstEntry]) -> Result<String, ::csv::Error> {
    let cells = |one: &FirstEntry| {
        let row = row(view, one);
        let text = |text: Option<String>| text.map_or_else(|| NONE.to_owned(), |text| harmless(&text));
        [
            harmless(&row.person),
            row.result.to_owned(),
            text(row.r#in),
            text(row.out),
            text(row.room),
            text(row.class.map(|class| class.to_string())),
            text(row.preceptor),
            text(row.by_day.map(|by_day| if by_day { "yes" } else { "NO" }.to_owned())),
            text(row.lacking),
        ]
    };
    written(&HEADER, all.iter().map(cells))
}

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    caution: &'static str,
    training: bool,
    roster: &'a str,
    constraint_set: &'a str,
    first_entries: Vec<Row>,
    /// What nobody looked at, `what: why`.
    not_checked: Vec<String>,
}

/// Writes all of it, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn json(view: &View<'_>, all: &[FirstEntry]) -> Result<String, serde_json::Error> {
    let document = Document {
        format: super::json::FORMAT,
        caution: PLANNING_AID,
        training: view.is_training(),
        roster: &view.night.roster.name,
        constraint_set: &view.night.limits.name,
        first_entries: all.iter().map(|one| row(view, one)).collect(),
        not_checked: super::ahead::in_lines(&view.review.not_checked),
    };
    crate::show::json::indented(&document)
}
