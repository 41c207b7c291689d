//! How many are inside, and that relief overlaps (D1, D2, D3).

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::sweep::counted;
use crate::night::{Entry, Minute, PersonIx, RoomIx, Rule, Span};

pub(super) const D1: Page = Page {
    does: "Inside a room is nobody, or at least as many as the unit asks for, relief included.",
    why: "People come out exhausted, and colleagues are there to prevent mistakes.",
    formula: "at every minute: inside = 0 or inside >= k_min",
    counts: "Each stretch with too few, and how many are missing. The minute of door-in counts as inside, the minute \
             of door-out does not; waiting for a lane is outside.",
    source: "Staff enter at least in pairs: MSF, A look inside an MSF Ebola centre, seen. The figure is the unit's.",
};

pub(super) const D2: Page = Page {
    does: "Inside a room are never more than its maximum, relief overlap included.",
    why: "A crowded room is one in which people brush against each other.",
    formula: "at every minute: inside <= M",
    counts: "Each stretch with too many, and by how many.",
    source: "Number of people in the danger area held to the minimum: TRBA 130, section 5, seen. The figure is the \
             unit's.",
};

pub(super) const D3: Page = Page {
    does: "Whoever leaves while presence goes on is relieved by people who have been inside for the overlap.",
    why: "Nothing is handed over through a door.",
    formula: "at each door-out T with people required at T: n = min(required, present at T) of those present have \
              door_in <= T - o",
    counts: "The minutes by which the last of those n came too late. People who leave at T do not count. Nothing is \
             asked where nobody remains or nothing is required.",
    source: COMMON_PRACTICE,
};

/// The minutes of an entry inside the room.
pub(super) const fn stay(entry: &Entry) -> Span {
    Span::new(entry.door_in, entry.door_out)
}

/// D1, D2 and D3 for every room.
pub(super) fn rooms(facts: &Facts, faults: &mut Faults) {
    for room in (0..facts.roster.rooms.len()).map(RoomIx) {
        numbers(facts, faults, room);
        for (i, entry) in facts.rota.entries.iter().enumerate() {
            let same_door = |e: &Entry| e.room == room && e.door_out == entry.door_out && !stay(e).is_empty();
            let first = !facts.rota.entries[..i].iter().any(same_door);
            if entry.room == room && first && !stay(entry).is_empty() {
                relieved(facts, faults, entry);
            }
        }
    }
}

fn numbers(facts: &Facts, faults: &mut Faults, room: RoomIx) {
    let least = facts.limits.min_inside;
    let most = facts.roster.rooms[room.0].max_inside;
    let stays = facts.rota.entries.iter().filter(|e| e.room == room).map(stay);
    for (span, inside) in counted(stays) {
        if inside < least {
            wrong_number(facts, faults, Rule::D1, room, span, inside, least - inside);
        }
        if inside > most {
            wrong_number(facts, faults, Rule::D2, room, span, inside, inside - most);
        }
    }
}

fn wrong_number(facts: &Facts, faults: &mut Faults, rule: Rule, room: RoomIx, span: Span, inside: u32, by: u32) {
    let there = facts.rota.entries.iter().filter(|e| e.room == room && stay(e).overlaps(span));
    let people: Vec<PersonIx> = there.map(|e| e.person).collect();
    faults.add(rule, span, &people, Some(By::Count(by)), || {
        let name = &facts.roster.rooms[room.0].id;
        let ids: Vec<&str> = people.iter().map(|&p| facts.id(p)).collect();
        let which = if rule == Rule::D1 { "too few" } else { "too many" };
        format!("Room {name} has {inside} inside {}, {by} {which}: {}.", facts.times(span), ids.join(", "))
    });
}

/// D3 at the door-out of `leaver` and of all who leave that room in the same minute.
fn relieved(facts: &Facts, faults: &mut Faults, leaver: &Entry) {
    let at = leaver.door_out;
    let Some(presence) = facts.roster.required(leaver.room, at) else { return };
    let inside = |e: &&Entry| e.room == leaver.room && stay(e).contains(at);
    let mut staying: Vec<(Minute, PersonIx)> =
        facts.rota.entries.iter().filter(inside).map(|e| (e.door_in, e.person)).collect();
    staying.sort_unstable();
    let needed = staying.len().min(usize::try_from(presence.people).unwrap_or(usize::MAX));
    let Some(&(came, relief)) = needed.checked_sub(1).and_then(|last| staying.get(last)) else { return };
    let by = facts.limits.overlap - (at - came);
    if by.0 > 0 {
        faults.add(Rule::D3, Span::new(came, at), &[leaver.person, relief], Some(By::Minutes(by)), || {
            let (out, relief) = (facts.id(leaver.person), facts.id(relief));
            format!(
                "{out} leaves at {}, {relief} came at {}: {by} min of overlap missing.",
                facts.at(at),
                facts.at(came)
            )
        });
    }
}
