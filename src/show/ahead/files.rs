//! The coming nights as CSV for spreadsheets and as JSON for scripts.
//!
//! CSV, three kinds of rows in one table, told apart by `row`:
//! - `lapse`: `date` (last day), `person`, `what`, `days_left`, `within` (`OVER`, `7`, `14`, `30`, `later`), `nights` (how many
//!   coming duties it does not cover to the end)
//! - `night`, one to a role: `date`, `roster`, `what` (the role), `fewest`, `rests_on` (how many people), `loses` (`yes`, `NO`),
//!   `short_min`, `tasks_not_done` (if nothing is renewed)
//! - `sign-off`: `date` (by when), `person`, `what` (the role), `to_do` (`renew`, `drill`, `renew and drill`,
//!   `train`)
//!
//! What a row does not have says `NONE`.
//!
//! JSON: `format`, `caution`, `training`, `today`, `constraint_set`, `nights_over`, `answer` (sentences), `lapses`, `nights`
//! (`date`, `roster`, `file`, `losses`, `short_min`, `tasks_not_done`, `rests_on`, `roles`), `smallest_set` (`spare`, `proven`,
//! `sign_offs`, `short`), `disagreements`, `not_checked`.

use serde::Serialize;

use super::{Ahead, answer, disagreements, held, in_lines, loses, to_do, too_few, within};
use crate::night::Role;
use crate::show::csv::{harmless, written};
use crate::show::view::NONE;
use crate::training::{Kind, Lapse, NightAhead, SignOffToDo};

/// The names of the columns, in order.
pub const HEADER: [&str; 14] = [
    "row",
    "date",
    "roster",
    "person",
    "what",
    "days_left",
    "within",
    "nights",
    "fewest",
    "rests_on",
    "loses",
    "short_min",
    "tasks_not_done",
    "to_do",
];

/// Writes every lapse, night and sign-off to see to.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn csv(ahead: &Ahead<'_>) -> Result<String, ::csv::Error> {
    let lapses = ahead.found.lapses.iter().map(|lapse| row("lapse", &of_lapse(lapse)));
    let nights = ahead.found.nights.iter().enumerate().flat_map(|(ix, night)| {
        let roles = [Role::DoffingObserver, Role::Assistant, Role::DonningObserver];
        roles.map(|role| row("night", &of_night(ahead, ix, night, role)))
    });
    let sign_offs = ahead.found.enough.sign_offs.iter().map(|sign_off| row("sign-off", &of_sign_off(sign_off)));
    written(&HEADER, lapses.chain(nights).chain(sign_offs))
}

/// The cells that a row has, by the name of the column.
type Cells = Vec<(&'static str, String)>;

fn row(kind: &str, cells: &Cells) -> [String; 14] {
    HEADER.map(|name| {
        let cell = cells.iter().find(|(column, _)| *column == name).map(|(_, text)| harmless(text));
        if name == "row" { kind.to_owned() } else { cell.unwrap_or_else(|| NONE.to_owned()) }
    })
}

fn of_lapse(lapse: &Lapse) -> Cells {
    // A figure below zero would be held down as a formula: what is over says so in the next column.
    let days = if lapse.days_left < 0 { NONE.to_owned() } else { lapse.days_left.to_string() };
    vec![
        ("date", lapse.last.to_string()),
        ("person", lapse.person.clone()),
        ("what", held(&lapse.held)),
        ("days_left", days),
        ("within", within(lapse.band()).to_owned()),
        ("nights", lapse.nights.len().to_string()),
    ]
}

fn of_night(ahead: &Ahead<'_>, ix: usize, night: &NightAhead, role: Role) -> Cells {
    let kind = match role {
        Role::DoffingObserver => Kind::WatchRemovals,
        Role::Assistant => Kind::Assist,
        _ => Kind::WatchDonnings,
    };
    let loses = if night.losses.iter().any(|loss| loss.kind == kind) { "yes" } else { "NO" };
    let rests = night.rests.iter().find(|rests| rests.role == role).map_or(0, |rests| rests.people);
    let fewest = night.roles.iter().find(|ahead| ahead.role == role);
    vec![
        ("date", ahead.day(ix).to_string()),
        ("roster", ahead.nights[ix].night.roster.name.clone()),
        ("what", super::role_words(role)),
        ("fewest", fewest.map_or_else(|| NONE.to_owned(), |ahead| ahead.fewest.to_string())),
        ("rests_on", rests.to_string()),
        ("loses", loses.to_owned()),
        ("short_min", night.missing.0.to_string()),
        ("tasks_not_done", night.missing.1.to_string()),
    ]
}

fn of_sign_off(sign_off: &SignOffToDo) -> Cells {
    vec![
        ("date", sign_off.by.to_string()),
        ("person", sign_off.person.clone()),
        ("what", super::role_words(sign_off.role)),
        ("to_do", to_do(sign_off).to_owned()),
    ]
}

#[derive(Serialize)]
struct Document {
    format: u32,
    caution: &'static str,
    training: bool,
    today: String,
    constraint_set: String,
    nights_over: usize,
    answer: Vec<String>,
    lapses: Vec<LapseShape>,
    nights: Vec<NightShape>,
    smallest_set: SetShape,
    disagreements: Vec<String>,
    not_checked: Vec<String>,
}

#[derive(Serialize)]
struct LapseShape {
    last_day: String,
    person: String,
    what: String,
    days_left: i64,
    within: &'static str,
    nights: Vec<String>,
}

#[derive(Serialize)]
struct NightShape {
    date: String,
    roster: String,
    file: String,
    losses: Vec<LossShape>,
    short_min: i64,
    tasks_not_done: i64,
    rests_on: Vec<RestsShape>,
    roles: Vec<RoleShape>,
}

#[derive(Serialize)]
struct LossShape {
    what: &'static str,
    short_min: i64,
    tasks_not_done: i64,
    proven: bool,
}

#[derive(Serialize)]
struct RestsShape {
    role: &'static str,
    people: usize,
}

#[derive(Serialize)]
struct RoleShape {
    role: &'static str,
    pieces: usize,
    fewest: usize,
}

#[derive(Serialize)]
struct SetShape {
    spare: usize,
    proven: bool,
    sign_offs: Vec<SignOffShape>,
    short: Vec<String>,
}

#[derive(Serialize)]
struct SignOffShape {
    by: String,
    to_do: &'static str,
    role: &'static str,
    person: String,
}

/// Writes everything, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn json(ahead: &Ahead<'_>) -> Result<String, serde_json::Error> {
    let found = ahead.found;
    let lapse = |lapse: &Lapse| LapseShape {
        last_day: lapse.last.to_string(),
        person: lapse.person.clone(),
        what: held(&lapse.held),
        days_left: lapse.days_left,
        within: within(lapse.band()),
        nights: lapse.nights.iter().map(|&night| ahead.day(night).to_string()).collect(),
    };
    let sign_off = |s: &SignOffToDo| SignOffShape {
        by: s.by.to_string(),
        to_do: to_do(s),
        role: s.role.word(),
        person: s.person.clone(),
    };
    let document = Document {
        format: crate::show::json::FORMAT,
        caution: crate::show::words::PLANNING_AID,
        training: ahead.is_training(),
        today: ahead.today.to_string(),
        constraint_set: ahead.nights[0].night.limits.name.clone(),
        nights_over: ahead.past,
        answer: answer(ahead),
        lapses: found.lapses.iter().map(lapse).collect(),
        nights: found.nights.iter().enumerate().map(|(ix, night)| night_shape(ahead, ix, night)).collect(),
        smallest_set: SetShape {
            spare: found.spare,
            proven: true,
            sign_offs: found.enough.sign_offs.iter().map(sign_off).collect(),
            short: too_few(ahead),
        },
        disagreements: disagreements(ahead),
        not_checked: in_lines(&found.not_checked),
    };
    crate::show::json::indented(&document)
}

fn night_shape(ahead: &Ahead<'_>, ix: usize, night: &NightAhead) -> NightShape {
    let loss = |loss: &crate::training::Loss| LossShape {
        what: loses(loss.kind),
        short_min: loss.minutes,
        tasks_not_done: loss.tasks,
        proven: loss.proven,
    };
    NightShape {
        date: ahead.day(ix).to_string(),
        roster: ahead.nights[ix].night.roster.name.clone(),
        file: ahead.nights[ix].file.clone(),
        losses: night.losses.iter().map(loss).collect(),
        short_min: night.missing.0,
        tasks_not_done: night.missing.1,
        rests_on: night.rests.iter().map(|r| RestsShape { role: r.role.word(), people: r.people }).collect(),
        roles: night
            .roles
            .iter()
            .map(|r| RoleShape { role: r.role.word(), pieces: r.pieces, fewest: r.fewest })
            .collect(),
    }
}
