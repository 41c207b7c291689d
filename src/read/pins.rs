//! Pins and what is forbidden (H6): read, and refused where a hard rule stands
//! against them whatever else is planned.

use chrono::NaiveDate;

use crate::night::{
    Clock, Forbidden, LastRemoval, Minute, Minutes, Night, Person, PersonIx, Pin, PinTo, Role, RoomIx, Rule, TaskIx,
};

use super::finding::Mistakes;
use super::keys;
use super::mistake::{Mistake, PinMistake};
use super::people::role;
use super::record::Record;
use super::roster::{Context, span};
use super::shape::missing_when;

/// Every pin, or `None` when one could not be read.
pub(super) fn pins(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Pin>> {
    let pins: Vec<_> = record.tables("pin").iter().map(|table| pin(table, context, out)).collect();
    pins.into_iter().collect()
}

fn pin(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Pin> {
    let person = context.people.require_in(table, "person", out);
    let to = match (table.has("task"), table.has("room") || table.has("in")) {
        (true, true) => {
            out.add(table.spot_of("task"), Mistake::Pin(PinMistake::Both));
            None
        }
        (true, false) => context.tasks.require_in(table, "task", out).map(|task| PinTo::Task(TaskIx(task))),
        (false, _) => {
            for key in ["room", "in"] {
                missing_when(table, &keys::PIN, key, out);
            }
            let room = context.rooms.require_in(table, "room", out);
            let door_in = on_grid(table, context, out);
            room.map(RoomIx).zip(door_in).map(|(room, door_in)| PinTo::Entry { room, door_in })
        }
    };
    Some(Pin { person: PersonIx(person?), to: to? })
}

/// The door time of a pin, where the plan can meet it.
fn on_grid(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Minute> {
    let at = table.instant("in")?;
    if let (Some(shift), Some(grid)) = (context.shift, context.limits.record.minutes("grid_min"))
        && (at.value - shift.from).0 % grid.0 != 0
    {
        let off = PinMistake::OffGrid { at: context.clock.hhmm(at.value), grid };
        out.add(at.spot, Mistake::Pin(off));
    }
    Some(at.value)
}

/// Everything forbidden, or `None` when some of it could not be read.
pub(super) fn forbidden(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Forbidden>> {
    let all: Vec<_> = record.tables("forbid").iter().map(|table| forbid(table, context, out)).collect();
    all.into_iter().collect()
}

fn forbid(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Forbidden> {
    let person = context.people.require_in(table, "person", out);
    let span = span(table, ("from", "to"), context.clock, out);
    let duties = table.words("duties");
    if duties.as_ref().is_some_and(Vec::is_empty) {
        out.add(table.spot_of("duties"), Mistake::Pin(PinMistake::Nothing));
    }
    let roles = duties?.iter().filter_map(|word| role(word.value)).collect();
    Some(Forbidden { person: PersonIx(person?), roles, span: span? })
}

/// Refuses pins that no rota could keep: what is known of the person before
/// tonight stands against them.
pub(super) fn refuse(night: &Night, roster: &Record, out: &mut Mistakes) {
    for (&pin, table) in night.roster.pins.iter().zip(roster.tables("pin")) {
        if let Some((rule, why)) = against(night, pin) {
            let refused = PinMistake::Refused { pin: words(night, pin), rule: rule.id(), why };
            out.add(table.spot, Mistake::Pin(refused));
        }
    }
}

/// `KB in room 1 at 02:00`.
fn words(night: &Night, pin: Pin) -> String {
    let id = &night.roster.person(pin.person).id;
    match pin.to {
        PinTo::Entry { room, door_in } => {
            format!("{id} in room {} at {}", night.roster.rooms[room.0].id, night.roster.clock.hhmm(door_in))
        }
        PinTo::Task(task) => format!("{id} for task {}", night.roster.tasks[task.0].id),
    }
}

/// The latest door-in that keeps a pin, and the earliest door-out after it.
fn latest_way(night: &Night, pin: Pin) -> (Minute, Minute) {
    match pin.to {
        PinTo::Entry { door_in, .. } => (door_in, door_in + night.limits.min_stay),
        PinTo::Task(task) => {
            let task = &night.roster.tasks[task.0];
            let start = task.window.to - task.length;
            (start, task.window.from.max(night.roster.shift.from) + task.length.max(night.limits.min_stay))
        }
    }
}

/// The first rule that stands against a pin by itself, with the arithmetic.
fn against(night: &Night, pin: Pin) -> Option<(Rule, String)> {
    let person = night.roster.person(pin.person);
    let clock = night.roster.clock;
    let (door_in, door_out) = latest_way(night, pin);
    if !person.enter_today {
        return Some((Rule::A4, format!("{} is not down to enter today.", person.id)));
    }
    if let PinTo::Task(task) = pin.to
        && let Some(skill) = night.roster.tasks[task.0].skill.as_ref().filter(|skill| !person.skills.contains(skill))
    {
        return Some((Rule::D5, format!("{} does not have the skill {skill}.", person.id)));
    }
    let Some(kit) = night.room_ensemble(pin.person).map(|ix| (ix, night.limits.ensemble(ix))) else {
        return Some((Rule::A2, format!("{} has no kit for the room.", person.id)));
    };
    let (don, off) = (door_in - kit.1.donning, door_out + kit.1.removal);
    sign_off(night, pin.person, off)
        .or_else(|| hours(night, pin.person))
        .or_else(|| on_duty(night, person, (don, door_in), off, clock))
        .or_else(|| {
            let last = person.last_removal?;
            at_rest(last, night.limits.rest_between(last.ensemble, kit.0), kit.1.donning, door_in, clock)
        })
        .or_else(|| is_forbidden(night, pin, door_in, clock))
}

fn sign_off(night: &Night, ix: PersonIx, off: Minute) -> Option<(Rule, String)> {
    let person = night.roster.person(ix);
    let Some(last) = person.signed_through(night.enters_as(ix)) else {
        return Some((Rule::A1, format!("{} is not signed off as entrant.", person.id)));
    };
    let end = night.roster.end_of_day(last);
    if off > end {
        let (last, off) = (last.format("%-d %b"), night.roster.clock.hhmm(off));
        return Some((Rule::A1, format!("Entrant valid through {last}; off at {off} at the earliest.")));
    }
    recency(night, ix, off)
}

fn recency(night: &Night, ix: PersonIx, off: Minute) -> Option<(Rule, String)> {
    let (person, role) = (night.roster.person(ix), night.enters_as(ix));
    let days = night.limits.recency_of(role)?;
    let (Some(done), Some(last)) = (person.last_done(role), night.recent_through(person, role)) else {
        return Some((Rule::A9, format!("It is not known when {} last went in; within {days} days.", person.id)));
    };
    let day = |day: NaiveDate| day.format("%-d %b").to_string();
    (off > night.roster.end_of_day(last)).then(|| {
        let off = night.roster.clock.hhmm(off);
        let why = format!(
            "Last done {}, recency {days} days: good through {}; off at {off} at the earliest.",
            day(done),
            day(last)
        );
        (Rule::A9, why)
    })
}

fn hours(night: &Night, ix: PersonIx) -> Option<(Rule, String)> {
    let person = night.roster.person(ix);
    night.works_too_much(ix).then(|| {
        let why = format!("{} has too many nights in a row or hours in a week with tonight's duty.", person.id);
        (Rule::F8, why)
    })
}

fn on_duty(
    night: &Night,
    person: &Person,
    (don, door_in): (Minute, Minute),
    off: Minute,
    clock: Clock,
) -> Option<(Rule, String)> {
    let earliest = person.last_off_duty.map(|last| last + night.limits.shift_gap);
    if let Some(free) = earliest.filter(|&free| don < free) {
        return Some((
            Rule::F4,
            format!("Free again from {}; donning would start at {}.", clock.hhmm(free), clock.hhmm(don)),
        ));
    }
    let clean = off + night.limits.shower;
    if don < person.on_duty.from || don < night.roster.shift.from {
        let from = person.on_duty.from.max(night.roster.shift.from);
        return Some((
            Rule::A3,
            format!(
                "On duty from {}; door-in {} needs donning from {}.",
                clock.hhmm(from),
                clock.hhmm(door_in),
                clock.hhmm(don)
            ),
        ));
    }
    (clean > person.on_duty.to).then(|| {
        let (off, shower, to) = (clock.hhmm(off), night.limits.shower, clock.hhmm(person.on_duty.to));
        (Rule::A3, format!("Off {off} at the earliest + shower {shower} is past the end of duty at {to}."))
    })
}

fn at_rest(
    last: LastRemoval,
    rest: Minutes,
    donning: Minutes,
    door_in: Minute,
    clock: Clock,
) -> Option<(Rule, String)> {
    let rested = last.off + rest;
    (rested + donning > door_in).then(|| {
        let why = format!(
            "Off {} + rest {rest} -> donning from {}, door-in {}; the pin is {}.",
            clock.hhmm(last.off),
            clock.hhmm(rested),
            clock.hhmm(rested + donning),
            clock.hhmm(door_in)
        );
        (Rule::B4, why)
    })
}

/// Forbidden to enter at the very time of a pinned entry.
fn is_forbidden(night: &Night, pin: Pin, door_in: Minute, clock: Clock) -> Option<(Rule, String)> {
    let PinTo::Entry { .. } = pin.to else { return None };
    let mine = night.roster.forbidden.iter().filter(|f| f.person == pin.person && f.roles.contains(&Role::Entrant));
    mine.filter(|f| f.span.contains(door_in))
        .map(|f| {
            (
                Rule::H6,
                format!(
                    "Entering is forbidden {}-{} by the same roster.",
                    clock.hhmm(f.span.from),
                    clock.hhmm(f.span.to)
                ),
            )
        })
        .next()
}
