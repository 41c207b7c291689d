//! A rota, planned or written by hand.

use std::collections::BTreeMap;

use crate::night::{
    BreakTaken, Clock, Entry, LaneIx, Minute, Night, PersonIx, Post, PostRole, RoomIx, Rota, Span, Stint, TaskDone,
    TaskIx,
};

use super::finding::Mistakes;
use super::keys;
use super::mistake::{Mistake, RotaMistake};
use super::names::Names;
use super::record::{Maybe, Record};
use super::roster::span;
use super::shape::{self, Shaper};
use super::source::{At, File, Source};
use super::time::{Wall, written};

/// What a rota refers to.
struct Context<'a> {
    night: &'a Night,
    people: Names,
    rooms: Names,
    lanes: Names,
    tasks: Names,
}

/// Reads a rota for a night.
pub(super) fn read(source: &Source, night: &Night, out: &mut Mistakes) -> Option<Rota> {
    let roster = &night.roster;
    let here = "on the roster";
    let context = Context {
        night,
        people: Names::known("person", here, roster.people.iter().map(|person| person.id.as_str())),
        rooms: Names::known("room", here, roster.rooms.iter().map(|room| room.id.as_str())),
        lanes: Names::known("lane", here, roster.lanes.iter().map(|lane| lane.id.as_str())),
        tasks: Names::known("task", here, roster.tasks.iter().map(|task| task.id.as_str())),
    };
    let table = shape::parse(File::Rota, source, out);
    let wall = Wall { zone: roster.clock.zone(), shift: Some(roster.shift) };
    let record = Shaper { file: File::Rota, root: &keys::ROTA, wall }.shape(&table, out);
    check_head(&record, night, out);
    build(&record, &context, out)
}

fn check_head(record: &Record, night: &Night, out: &mut Mistakes) {
    if let Some(named) = record.text("roster").filter(|named| named.value != night.roster.name) {
        let other = RotaMistake::OtherRoster { named: named.value.to_owned(), given: night.roster.name.clone() };
        out.add(named.spot, Mistake::Rota(other));
    }
    if let Some(named) = record.text("constraint_set").filter(|named| named.value != night.limits.name) {
        let other = RotaMistake::OtherSet { named: named.value.to_owned(), given: night.limits.name.clone() };
        out.add(named.spot, Mistake::Rota(other));
    }
}

fn build(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Rota> {
    let clock = context.night.roster.clock;
    // Each list is collected before it is asked whether it is whole, so that all mistakes are told of.
    let entries: Vec<_> = numbered(record, "entry").map(|(n, table)| entry(table, n, context, out)).collect();
    let posts: Vec<_> = numbered(record, "post").map(|(n, table)| post(table, n, context, out)).collect();
    let breaks: Vec<_> = record.tables("break").iter().map(|table| break_taken(table, clock, context, out)).collect();
    let tasks: Vec<_> = record.tables("task").iter().map(|table| task_done(table, context, out)).collect();
    let coordinators = stints(record, "coordinator", context, out);
    let standby = stints(record, "standby", context, out);
    let exit_observers = stints(record, "exit_observer", context, out);
    let exit_assistants = stints(record, "exit_assistant", context, out);
    let showers = stints(record, "shower", context, out);
    let mut rota = Rota {
        roster: record.name("roster")?,
        constraint_set: record.name("constraint_set")?,
        issue: record.count("issue")?,
        entries: entries.into_iter().collect::<Option<_>>()?,
        posts: posts.into_iter().collect::<Option<_>>()?,
        breaks: breaks.into_iter().collect::<Option<_>>()?,
        tasks: tasks.into_iter().collect::<Option<_>>()?,
        coordinators: coordinators?,
        standby: standby?,
        exit_observers: exit_observers?,
        exit_assistants: exit_assistants?,
        showers: showers?,
    };
    let all_numbered = record.tables("entry").iter().all(|table| table.has("number"));
    put_in_order(&mut rota, all_numbered);
    Some(rota)
}

fn numbered<'a>(record: &'a Record, key: &str) -> impl Iterator<Item = (usize, &'a Record)> + use<'a> {
    record.tables(key).iter().enumerate().map(|(position, table)| (position + 1, table))
}

/// Puts the lists in order; the user's own numbers are kept when every entry has one.
fn put_in_order(rota: &mut Rota, keep_numbers: bool) {
    let unnumbered = |entry: &Entry| Entry { number: 0, ..entry.clone() };
    let own: BTreeMap<Entry, u32> = rota.entries.iter().map(|entry| (unnumbered(entry), entry.number)).collect();
    rota.put_in_order();
    if keep_numbers {
        for entry in &mut rota.entries {
            entry.number = own.get(&unnumbered(entry)).copied().unwrap_or(entry.number);
        }
    }
}

fn entry(table: &Record, position: usize, context: &Context<'_>, out: &mut Mistakes) -> Option<Entry> {
    let number = table.count("number");
    let whose = format!("entry {}", number.unwrap_or(u32::try_from(position).unwrap_or(u32::MAX)));
    check_order(table, &["don", "in", "out", "removal", "off"], &whose, context.night.roster.clock, out);
    let person = context.people.require_in(table, "person", out);
    let room = context.rooms.require_in(table, "room", out);
    let lane = named(table, "lane", &context.lanes, out);
    let donning_observer = named(table, "donning_observer", &context.people, out);
    let observer = named(table, "observer", &context.people, out);
    let assistant = named(table, "assistant", &context.people, out);
    Some(Entry {
        number: number.unwrap_or(0),
        person: PersonIx(person?),
        room: RoomIx(room?),
        don: instant(table, "don")?,
        door_in: instant(table, "in")?,
        door_out: instant(table, "out")?,
        removal: instant(table, "removal")?,
        off: instant(table, "off")?,
        lane: lane?.some().map(LaneIx),
        donning_observer: donning_observer?.some().map(PersonIx),
        observer: observer?.some().map(PersonIx),
        assistant: assistant?.some().map(PersonIx),
        respirator: respirator(table)?.some(),
    })
}

fn instant(table: &Record, key: &str) -> Option<Minute> {
    table.instant(key).map(|at| at.value)
}

/// A name that may be left out or be `none`. `None` is a mistake.
fn named(table: &Record, key: &str, names: &Names, out: &mut Mistakes) -> Option<Maybe<usize>> {
    if !table.has(key) {
        return Some(Maybe::Nothing);
    }
    match table.text_or_none(key)? {
        Maybe::Nothing => Some(Maybe::Nothing),
        Maybe::Some(name) => names.require(name, out).map(Maybe::Some),
    }
}

fn post(table: &Record, position: usize, context: &Context<'_>, out: &mut Mistakes) -> Option<Post> {
    check_order(table, &["don", "removal", "off"], &format!("post {position}"), context.night.roster.clock, out);
    let role = table.word("as").map(|word| if word == "assistant" { PostRole::Assistant } else { PostRole::Observer });
    let person = context.people.require_in(table, "person", out);
    let lane = named(table, "lane", &context.lanes, out);
    let donning_observer = named(table, "donning_observer", &context.people, out);
    let observer = named(table, "observer", &context.people, out);
    if let (Some(PostRole::Observer), Some(Maybe::Some(_))) = (role, lane) {
        out.add(table.spot_of("lane"), Mistake::Rota(RotaMistake::ObserverWithLane));
    }
    Some(Post {
        person: PersonIx(person?),
        role: role?,
        don: instant(table, "don")?,
        removal: instant(table, "removal")?,
        off: instant(table, "off")?,
        lane: lane?.some().map(LaneIx),
        donning_observer: donning_observer?.some().map(PersonIx),
        observer: observer?.some().map(PersonIx),
        respirator: respirator(table)?.some(),
    })
}

/// The model, if one is named; whether the ensemble is worn with it is for the check. `None` is a mistake.
fn respirator(table: &Record) -> Option<Maybe<String>> {
    if table.has("respirator") { table.name("respirator").map(Maybe::Some) } else { Some(Maybe::Nothing) }
}

fn break_taken(table: &Record, clock: Clock, context: &Context<'_>, out: &mut Mistakes) -> Option<BreakTaken> {
    let person = context.people.require_in(table, "person", out);
    let span: Option<Span> = span(table, ("from", "to"), clock, out);
    Some(BreakTaken { person: PersonIx(person?), span: span? })
}

fn stints(record: &Record, key: &str, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Stint>> {
    let clock = context.night.roster.clock;
    let stint = |table: &Record, out: &mut Mistakes| {
        let person = context.people.require_in(table, "person", out);
        let span = span(table, ("from", "to"), clock, out);
        Some(Stint { person: PersonIx(person?), span: span? })
    };
    let all: Vec<_> = record.tables(key).iter().map(|table| stint(table, out)).collect();
    all.into_iter().collect()
}

fn task_done(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<TaskDone> {
    let task = context.tasks.require_in(table, "task", out);
    Some(TaskDone { task: TaskIx(task?), start: instant(table, "start")? })
}

/// Times that run backwards are a slip of the pen; whether they are long enough is for the check.
fn check_order(table: &Record, keys: &[&'static str], whose: &str, clock: Clock, out: &mut Mistakes) {
    for pair in keys.windows(2) {
        let &[earlier_key, later_key] = pair else { continue };
        let (Some(earlier), Some(later)) = (table.instant(earlier_key), table.instant(later_key)) else { continue };
        if later.value < earlier.value {
            let order = out_of_order(whose, (earlier_key, earlier), (later_key, later), clock);
            out.add(later.spot, Mistake::Rota(order));
        }
    }
}

fn out_of_order(
    whose: &str,
    earlier: (&'static str, At<Minute>),
    later: (&'static str, At<Minute>),
    clock: Clock,
) -> RotaMistake {
    let same_day = clock.date(earlier.1.value) == clock.date(later.1.value);
    let show = |at: At<Minute>| if same_day { clock.hhmm(at.value) } else { written(at.value, clock) };
    RotaMistake::OutOfOrder {
        whose: whose.to_owned(),
        later: (later.0, show(later.1)),
        earlier: (earlier.0, show(earlier.1)),
    }
}
