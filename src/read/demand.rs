//! What the patient needs: presence and tasks.

use crate::night::{Clock, Minutes, Need, Presence, Relief, RoomIx, Span, Task};

use super::finding::Mistakes;
use super::limits;
use super::mistake::{Advice, Mistake, RoomMistake, StretchMistake};
use super::record::{Maybe, Record};
use super::roster::{Context, span};
use super::source::Spot;
use super::time::written;

/// Continuous presence, and whether the rooms can hold it.
pub(super) fn presence(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Presence>> {
    check_rooms(record, context, out);
    let all: Vec<_> =
        record.tables("presence").iter().map(|table| (one_presence(table, context, out), table)).collect();
    let known: Vec<(Presence, Spot)> = all.iter().filter_map(|(p, table)| Some(((*p)?, table.spot))).collect();
    let asked = known.iter().map(|(p, spot)| (p.room, p.span, p.people, *spot)).collect();
    check_twice(asked, context.clock, out, |&room, when, people| StretchMistake::PresenceTwice {
        room: room_name(record, room),
        when,
        people,
    });
    let stay = longest_stay(context);
    for (presence, spot) in &known {
        check_room(presence, *spot, stay, (record, context), out);
    }
    all.into_iter().map(|(presence, _)| presence).collect()
}

fn one_presence(table: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Presence> {
    let room = context.rooms.require_in(table, "room", out);
    let span = span(table, ("from", "to"), context.clock, out);
    check_inside(table, span, "presence", context, out);
    Some(Presence { room: RoomIx(room?), span: span?, people: table.count("people")?, class: table.count("class")? })
}

pub(super) fn check_inside(
    table: &Record,
    span: Option<Span>,
    noun: &'static str,
    context: &Context<'_>,
    out: &mut Mistakes,
) {
    if let (Some(span), Some(shift)) = (span, context.shift)
        && !shift.covers(span)
    {
        let shift = format!("{} to {}", written(shift.from, context.clock), written(shift.to, context.clock));
        let key = if span.to > context.shift.map_or(span.to, |shift| shift.to) { "to" } else { "from" };
        out.add(table.spot_of(key), Mistake::Stretch(StretchMistake::OutsideShift { noun, shift }));
    }
}

/// Something asked for over a stretch: what it is, when, how many, where it stands.
pub(super) type Asked<K> = (K, Span, u32, Spot);

/// Stretches of the same that share a minute: which of them is meant is not
/// guessed. `told` says it of one thing, the shared time and both numbers.
pub(super) fn check_twice<K: Ord>(
    mut asked: Vec<Asked<K>>,
    clock: Clock,
    out: &mut Mistakes,
    told: impl Fn(&K, String, (u32, u32)) -> StretchMistake,
) {
    asked.sort_by(|a, b| (&a.0, a.1.from).cmp(&(&b.0, b.1.from)));
    let mut longest: Option<&Asked<K>> = None;
    for this in &asked {
        if let Some((what, span, people, spot)) = longest.filter(|earlier| earlier.0 == this.0) {
            let shared = span.intersection(this.1);
            if !shared.is_empty() {
                let when = format!("{}-{}", clock.hhmm(shared.from), clock.hhmm(shared.to));
                out.add_with(this.3, *spot, Mistake::Stretch(told(what, when, (*people, this.2))));
            }
            if span.to >= this.1.to {
                continue;
            }
        }
        longest = Some(this);
    }
}

/// The name of a room, for messages.
pub(super) fn room_name(record: &Record, room: RoomIx) -> String {
    record.tables("room").get(room.0).and_then(|room| room.name("id")).unwrap_or_default()
}

fn check_rooms(record: &Record, context: &Context<'_>, out: &mut Mistakes) {
    let least = context.limits.record.table("room").and_then(|room| room.count("min_inside"));
    for room in record.tables("room") {
        if let (Some(most), Some(least), Some(id)) = (room.count("max_inside"), least, room.name("id"))
            && most < least
        {
            let below = RoomMistake::BelowLeast { room: id, most, least };
            out.add(room.spot_of("max_inside"), Mistake::Room(below));
        } else if let (Some(most), Some(id)) = (room.count("max_inside"), room.name("id"))
            && most < at_the_door(context)
        {
            out.add(room.spot_of("max_inside"), Mistake::Room(RoomMistake::NoPair { room: id, most }));
        }
    }
}

/// How many pass a door together at least (D8).
fn at_the_door(context: &Context<'_>) -> u32 {
    let relief = context.limits.record.table("room").and_then(limits::relief);
    relief.unwrap_or(Relief::Either).together()
}

/// Whether the people fit in, and where relief is needed, the relief too.
fn check_room(
    presence: &Presence,
    spot: Spot,
    longest_stay: Option<Minutes>,
    (record, context): (&Record, &Context<'_>),
    out: &mut Mistakes,
) {
    let Some(room) = record.tables("room").get(presence.room.0) else { return };
    let (Some(id), Some(most)) = (room.name("id"), room.count("max_inside")) else { return };
    let people = presence.people;
    if people > most {
        out.add(spot, Mistake::Advice(Advice::MoreThanRoom { noun: "presence".to_owned(), people, room: id, most }));
        return;
    }
    let overlap = context.limits.record.table("room").and_then(|room| room.minutes("overlap_min"));
    let (Some(overlap), Some(stay)) = (overlap, longest_stay) else { return };
    // Those who leave are all still there while those who stay have been there for the overlap.
    let together = at_the_door(context);
    if overlap > Minutes::ZERO && people + together > most && presence.span.length() > stay {
        let impossible = RoomMistake::ReliefImpossible { room: id, most, people, overlap, together };
        out.add_with(room.spot_of("max_inside"), spot, Mistake::Room(impossible));
    }
}

/// No stay in any room is longer than this; presence no longer than it needs no relief.
fn longest_stay(context: &Context<'_>) -> Option<Minutes> {
    let ensembles = context.limits.record.tables("ensemble").iter();
    let stays = ensembles.filter(|ensemble| ensemble.word("worn_in") == Some("room")).filter_map(|ensemble| {
        Some(ensemble.minutes("max_wear_min")? - ensemble.minutes("margin_min")? - ensemble.minutes("removal_min")?)
    });
    stays.max()
}

/// Timed tasks.
pub(super) fn tasks(record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Vec<Task>> {
    let tasks: Vec<_> = record.tables("task").iter().map(|table| task(table, record, context, out)).collect();
    tasks.into_iter().collect()
}

fn task(table: &Record, record: &Record, context: &Context<'_>, out: &mut Mistakes) -> Option<Task> {
    let room = context.rooms.require_in(table, "room", out);
    let window = span(table, ("from", "to"), context.clock, out);
    check_inside(table, window, "task's window", context, out);
    check_window(table, window, context.clock, out);
    let room = RoomIx(room?);
    check_task_room(table, room, record, out);
    Some(Task {
        id: table.name("id")?,
        room,
        window: window?,
        wanted: table.instant("wanted")?.value,
        length: table.minutes("length_min")?,
        people: table.count("people")?,
        skill: match table.text_or_none("skill")? {
            Maybe::Nothing => None,
            Maybe::Some(skill) => Some(skill.value.to_owned()),
        },
        need: if table.word("need")? == "must" { Need::Must } else { Need::Wanted },
        same_people: table.flag("same_people")?,
        extra: table.flag("extra")?,
    })
}

fn check_window(table: &Record, window: Option<Span>, clock: Clock, out: &mut Mistakes) {
    let (Some(window), Some(length), Some(task)) = (window, table.minutes("length_min"), table.name("id")) else {
        return;
    };
    if window.length() < length {
        let short = StretchMistake::WindowTooShort { task, length, window: window.length() };
        out.add(table.spot_of("length_min"), Mistake::Stretch(short));
        return;
    }
    let Some(wanted) = table.instant("wanted") else { return };
    let latest = window.to - length;
    if wanted.value < window.from || wanted.value > latest {
        let (earliest, latest) = (written(window.from, clock), written(latest, clock));
        out.add(wanted.spot, Mistake::Stretch(StretchMistake::WantedOutside { task, earliest, latest }));
    }
}

fn check_task_room(table: &Record, room: RoomIx, record: &Record, out: &mut Mistakes) {
    let Some(room) = record.tables("room").get(room.0) else { return };
    if let (Some(people), Some(most), Some(id), Some(task)) =
        (table.count("people"), room.count("max_inside"), room.name("id"), table.text("id"))
        && people > most
    {
        let noun = super::draw::quoted(task.value);
        let advice = Advice::MoreThanRoom { noun, people, room: id, most };
        out.add(table.spot_of("people"), Mistake::Advice(advice));
    }
}
