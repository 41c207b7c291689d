//! The roster: from its file to tonight.

use chrono::Timelike as _;

use crate::night::{
    Apart, Clock, EnsembleIx, ExcludedPair, Huddle, Lane, LaneIx, LoggedWear, Minute, Minutes, PersonIx, Room, Roster,
    Span,
};

use super::demand;
use super::duty_log;
use super::finding::Mistakes;
use super::keys;
use super::limits::LimitsFile;
use super::mistake::{Advice, Mistake, NameMistake, StretchMistake};
use super::names::{self, Names};
use super::people;
use super::pins;
use super::record::Record;
use super::shape::{self, Shaper};
use super::skill_cover;
use super::source::{At, File, Source};
use super::stock;
use super::time::{Wall, written};

/// The longest shift and the longest duty.
pub(super) const MOST_LENGTH: Minutes = Minutes(7 * 24 * 60);
/// The most people on one roster.
pub(super) const MOST_PEOPLE: usize = 500;

/// A roster as it was read.
pub(super) struct RosterFile {
    pub(super) record: Record,
    pub(super) people: Names,
    /// Built only as far as the file is right.
    pub(super) roster: Option<Roster>,
}

/// What the parts of a roster refer to.
pub(super) struct Context<'a> {
    pub(super) clock: Clock,
    pub(super) shift: Option<Span>,
    pub(super) limits: &'a LimitsFile,
    pub(super) people: &'a Names,
    pub(super) crews: Names,
    pub(super) rooms: Names,
    pub(super) lanes: Names,
    /// Planner and rota name a task by its id, so ids are unique.
    pub(super) tasks: Names,
}

/// Reads a roster that is to be planned under `limits`.
pub(super) fn read(source: &Source, limits: &LimitsFile, out: &mut Mistakes) -> RosterFile {
    let table = shape::parse(File::Roster, source, out);
    // A zone that cannot be read is told of; the form of times is checked all the same.
    let written_zone = table.get("zone").and_then(|zone| zone.get_ref().as_str());
    let zone = written_zone.and_then(|zone| zone.parse().ok()).unwrap_or(chrono_tz::UTC);
    let wall = Wall { zone, shift: None };
    let record = Shaper { file: File::Roster, root: &keys::ROSTER, wall }.shape(&table, out);
    let people = Names::of(&record, "person", "on the roster", out);
    let roster = check_and_build(&record, &people, limits, Clock::new(zone), out);
    RosterFile { record, people, roster }
}

fn check_and_build(
    record: &Record,
    people: &Names,
    limits: &LimitsFile,
    clock: Clock,
    out: &mut Mistakes,
) -> Option<Roster> {
    check_head(record, limits, out);
    let shift = shift(record, limits, clock, out);
    let context = Context {
        clock,
        shift,
        limits,
        people,
        crews: Names::of(record, "crew", "on the roster", out),
        rooms: Names::of(record, "room", "on the roster", out),
        lanes: Names::of(record, "lane", "on the roster", out),
        tasks: Names::of(record, "task", "on the roster", out),
    };
    let persons = people::read(record, &context, out);
    let presence = demand::presence(record, &context, out);
    let skill_cover = skill_cover::read(record, &context, out);
    let tasks = demand::tasks(record, &context, out);
    let lanes = lanes(record, &context, out);
    let kits = stock::kits(record, &context, out);
    let respirators = stock::respirators(record, out);
    let wear_log = wear_log(record, &context, out);
    let duty_log = duty_log::read(record, persons.as_deref(), &context, out);
    let apart = apart(record, &context, out);
    let huddles = huddles(record, &context, out);
    let pins = pins::pins(record, &context, out);
    let forbidden = pins::forbidden(record, &context, out);
    let break_windows = spans(record, "break_window", &context, out);
    let preferred_breaks = spans(record, "preferred_break", &context, out);
    record.zone("zone")?;
    Some(Roster {
        name: record.name("name")?,
        example: record.flag("example").unwrap_or(false),
        constraint_set: record.name("constraint_set")?,
        unit: record.name("unit")?,
        clock,
        shift: shift?,
        people: persons?,
        rooms: record.tables("room").iter().map(room).collect::<Option<_>>()?,
        presence: presence?,
        skill_cover: skill_cover?,
        tasks: tasks?,
        lanes: lanes?,
        kits: kits?,
        respirators: respirators?,
        wear_log: wear_log?,
        wear_log_from: if record.has("wear_log_from") { Some(record.instant("wear_log_from")?.value) } else { None },
        duty_log: duty_log?,
        duty_log_from: if record.has("duty_log_from") { Some(record.instant("duty_log_from")?.value) } else { None },
        apart: apart?,
        huddles: huddles?,
        pins: pins?,
        forbidden: forbidden?,
        break_windows: break_windows?,
        preferred_breaks: preferred_breaks?,
        shower_places: record.count("shower_places"),
    })
}

fn check_head(record: &Record, limits: &LimitsFile, out: &mut Mistakes) {
    if record.flag("example") == Some(true) {
        out.add(record.spot_of("example"), Mistake::Advice(Advice::Example { noun: "roster" }));
    }
    if let (Some(named), Some(given)) = (record.text("constraint_set"), limits.record.name("name"))
        && named.value != given
    {
        let other = Advice::OtherSet { named: named.value.to_owned(), given };
        out.add(named.spot, Mistake::Advice(other));
    }
    let people = record.tables("person");
    if let Some(first_too_many) = people.get(MOST_PEOPLE) {
        let what = format!("{} people", people.len());
        out.add(first_too_many.spot, Mistake::Name(NameMistake::TooMany { what, most: MOST_PEOPLE }));
    }
    names::check_ids(people, out);
}

fn shift(record: &Record, limits: &LimitsFile, clock: Clock, out: &mut Mistakes) -> Option<Span> {
    let shift = span(record, ("from", "to"), clock, out)?;
    if shift.length() > MOST_LENGTH {
        out.add(record.spot_of("to"), Mistake::Stretch(StretchMistake::ShiftTooLong));
    }
    if let Some(grid) = limits.record.minutes("grid_min")
        && i64::from(clock.minute_of_hour(shift.from)) % grid.0 != 0
    {
        let off = StretchMistake::ShiftOffGrid { from: clock.hhmm(shift.from), grid };
        out.add(record.spot_of("from"), Mistake::Stretch(off));
    }
    Some(shift)
}

/// A stretch of time with its start and end under two keys.
pub(super) fn span(
    record: &Record,
    keys: (&'static str, &'static str),
    clock: Clock,
    out: &mut Mistakes,
) -> Option<Span> {
    let (from, to) = (record.instant(keys.0)?, record.instant(keys.1)?);
    if to.value <= from.value {
        out.add(to.spot, Mistake::Stretch(end_before_start(keys, from.value, to, clock)));
        return None;
    }
    Some(Span::new(from.value, to.value))
}

fn end_before_start(keys: (&'static str, &'static str), from: Minute, to: At<Minute>, clock: Clock) -> StretchMistake {
    let same_day = clock.date(from) == clock.date(to.value);
    let show = |at: Minute| if same_day { clock.hhmm(at) } else { written(at, clock) };
    // A night typed with one date: it starts in the second half of the day.
    let evening = same_day && clock.local(from).hour() >= 12;
    let next = clock.local(to.value).naive_local().checked_add_days(chrono::Days::new(1));
    let next_day = next.filter(|_| evening).map(|at| at.format("%Y-%m-%dT%H:%M").to_string());
    StretchMistake::EndBeforeStart { start: (keys.0, show(from)), end: (keys.1, show(to.value)), same_day, next_day }
}

fn room(record: &Record) -> Option<Room> {
    Some(Room { id: record.name("id")?, max_inside: record.count("max_inside")? })
}

fn lanes(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Lane>> {
    let mut lanes: Vec<Option<Lane>> =
        record.tables("lane").iter().map(|lane| Some(Lane { id: lane.name("id")?, closures: Vec::new() })).collect();
    let mut complete = true;
    for closure in record.tables("closure") {
        let lane = context.lanes.require_in(closure, "lane", out);
        let shut = span(closure, ("from", "to"), context.clock, out);
        match (lane.map(LaneIx), shut) {
            (Some(lane), Some(shut)) => {
                if let Some(Some(lane)) = lanes.get_mut(lane.0) {
                    lane.closures.push(shut);
                }
            }
            _ => complete = false,
        }
    }
    lanes.into_iter().collect::<Option<Vec<_>>>().filter(|_| complete)
}

fn apart(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<ExcludedPair>> {
    // Not lazily: every pair is looked at even after a wrong one.
    let pairs: Vec<_> = record.tables("apart").iter().map(|pair| excluded(pair, context, out)).collect();
    pairs.into_iter().collect()
}

fn excluded(pair: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<ExcludedPair> {
    let scopes = pair.words("never");
    if scopes.as_ref().is_some_and(Vec::is_empty) {
        out.add(pair.spot_of("never"), Mistake::Name(NameMistake::NeverWhat));
    }
    let ids = pair.texts("people")?;
    let names: Vec<String> = ids.iter().map(|id| id.value.to_owned()).collect();
    for id in &ids {
        if context.people.find(id.value).is_none() && context.people.is_complete() {
            let unknown = NameMistake::UnknownInPair { pair: names.clone(), missing: id.value.to_owned() };
            out.add(id.spot, Mistake::Name(unknown));
        }
    }
    let [one, other] = names.as_slice() else {
        out.add(pair.spot_of("people"), Mistake::Name(NameMistake::NotAPair { count: names.len() }));
        return None;
    };
    if one == other {
        out.add(pair.spot_of("people"), Mistake::Name(NameMistake::NotAPair { count: 1 }));
    }
    let (one, other) = (PersonIx(context.people.find(one)?), PersonIx(context.people.find(other)?));
    Some(ExcludedPair { one, other, scopes: scopes?.into_iter().map(|word| scope(word.value)).collect() })
}

fn scope(word: &str) -> Apart {
    match word {
        "room" => Apart::Room,
        "observer" => Apart::Observer,
        _ => Apart::Assistant,
    }
}

/// Wear before the shift; what lies in it is the rota's.
fn wear_log(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<LoggedWear>> {
    let logged = |table: &Record, out: &mut Mistakes| {
        let person = context.people.require_in(table, "person", out);
        let kit = context.limits.ensembles.require_in(table, "kit", out);
        let span = span(table, ("on", "off"), context.clock, out);
        if let (Some(shift), Some(off)) = (context.shift, table.instant("off").filter(|_| span.is_some()))
            && off.value > shift.from
        {
            let late = StretchMistake::LoggedInShift { off: written(off.value, context.clock) };
            out.add(off.spot, Mistake::Stretch(late));
        }
        Some(LoggedWear { person: PersonIx(person?), ensemble: EnsembleIx(kit?), span: span? })
    };
    let all: Vec<_> = record.tables("wear_log").iter().map(|table| logged(table, out)).collect();
    all.into_iter().collect()
}

fn huddles(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Huddle>> {
    let all: Vec<_> = record.tables("huddle").iter().map(|table| huddle(table, record, context, out)).collect();
    all.into_iter().collect()
}

fn huddle(table: &Record, record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Huddle> {
    let crew = context.crews.require_in(table, "crew", out);
    let span = span(table, ("from", "to"), context.clock, out);
    crew?;
    let name = table.text("crew")?.value;
    let people = record.tables("person").iter().enumerate();
    let people = people.filter(|(_, person)| person.text("crew").is_some_and(|crew| crew.value == name));
    Some(Huddle { people: people.map(|(place, _)| PersonIx(place)).collect(), span: span? })
}

fn spans(record: &Record, key: &str, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Span>> {
    let windows: Vec<_> =
        record.tables(key).iter().map(|window| span(window, ("from", "to"), context.clock, out)).collect();
    windows.into_iter().collect()
}
