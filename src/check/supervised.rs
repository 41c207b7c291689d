//! Supervised entrants beside their preceptors (A5).

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use crate::night::{Entry, Minute, PersonIx, Role, RoomIx, Rule, Span};

pub(super) const A5: Page = Page {
    does: "Whoever is signed off to enter only under supervision is inside only beside a preceptor, all the time, and \
           goes in with no other supervised entrant.",
    why: "Somebody who is still learning needs a pair of eyes in the room that has nothing else to learn.",
    formula: "at every minute and room: supervised inside <= preceptors inside; one supervised to an entry. A \
              preceptor counts if in date as preceptor to the own t_off",
    counts: "Minutes with too few preceptors. One preceptor minds one at a time; another preceptor may take over. \
             Entries are one where people pass the same door in the same minute. Whoever holds entrant in date at \
             the start of the shift is not supervised.",
    source: COMMON_PRACTICE,
};

/// A5 for every room.
pub(super) fn beside_preceptor(facts: &Facts, faults: &mut Faults) {
    for room in (0..facts.roster.rooms.len()).map(RoomIx) {
        let inside = |e: &&Entry| e.room == room && !stay(e).is_empty();
        let entries = || facts.rota.entries.iter().filter(inside);
        let supervised: Vec<&Entry> = entries().filter(|e| facts.night.is_supervised(e.person)).collect();
        let preceptors: Vec<&Entry> = entries().filter(|e| is_preceptor(facts, e)).collect();
        for lone in alone(&supervised, &preceptors) {
            too_few(facts, faults, room, &supervised, &lone);
        }
        one_to_an_entry(facts, faults, room, &supervised);
    }
}

fn is_preceptor(facts: &Facts, entry: &Entry) -> bool {
    let in_date = facts.past_in_date(entry.person, Role::Preceptor, entry.off).is_ok_and(|past| past.0 <= 0);
    in_date && !facts.night.is_supervised(entry.person)
}

/// Minutes in which the number of preceptors inside is too small and stays the same.
struct Lone {
    span: Span,
    supervised: usize,
    preceptors: usize,
}

fn alone(supervised: &[&Entry], preceptors: &[&Entry]) -> Vec<Lone> {
    let doors = supervised.iter().chain(preceptors).flat_map(|e| [e.door_in, e.door_out]);
    let mut doors: Vec<Minute> = doors.collect();
    doors.sort_unstable();
    doors.dedup();
    let inside = |entries: &[&Entry], at| entries.iter().filter(|e| stay(e).contains(at)).count();
    let mut found: Vec<Lone> = Vec::new();
    for pair in doors.windows(2) {
        let (span, numbers) = (Span::new(pair[0], pair[1]), (inside(supervised, pair[0]), inside(preceptors, pair[0])));
        if numbers.0 <= numbers.1 {
            continue;
        }
        match found.last_mut() {
            Some(last) if last.span.to == span.from && (last.supervised, last.preceptors) == numbers => {
                last.span.to = span.to;
            }
            _ => found.push(Lone { span, supervised: numbers.0, preceptors: numbers.1 }),
        }
    }
    found
}

fn too_few(facts: &Facts, faults: &mut Faults, room: RoomIx, supervised: &[&Entry], lone: &Lone) {
    let there = supervised.iter().filter(|e| stay(e).overlaps(lone.span));
    let people: Vec<PersonIx> = there.map(|e| e.person).collect();
    let length = lone.span.length();
    faults.add(Rule::A5, lone.span, &people, Some(By::Minutes(length)), || {
        let beside = match lone.preceptors {
            0 => "no preceptor".to_owned(),
            1 => "1 preceptor".to_owned(),
            more => format!("{more} preceptors"),
        };
        format!(
            "{} supervised and inside room {} {} with {beside}: {length} min.",
            are(facts, &people),
            facts.roster.rooms[room.0].id,
            facts.times(lone.span)
        )
    });
}

fn one_to_an_entry(facts: &Facts, faults: &mut Faults, room: RoomIx, supervised: &[&Entry]) {
    let mut doors: Vec<Minute> = supervised.iter().map(|e| e.door_in).collect();
    doors.sort_unstable();
    doors.dedup();
    for door_in in doors {
        let together: Vec<&&Entry> = supervised.iter().filter(|e| e.door_in == door_in).collect();
        let Some(over) = together.len().checked_sub(1).filter(|&over| over > 0) else { continue };
        let people: Vec<PersonIx> = together.iter().map(|e| e.person).collect();
        let by = By::Count(u32::try_from(over).unwrap_or(u32::MAX));
        faults.add(Rule::A5, stay(together[0]), &people, Some(by), || {
            let (who, room) = (are(facts, &people), &facts.roster.rooms[room.0].id);
            format!("{who} supervised and go into room {room} together at {}: one to an entry.", facts.at(door_in))
        });
    }
}

/// `TN is`, `TN, TM are`.
fn are(facts: &Facts, people: &[PersonIx]) -> String {
    let ids: Vec<&str> = people.iter().map(|&p| facts.id(p)).collect();
    format!("{} {}", ids.join(", "), if people.len() == 1 { "is" } else { "are" })
}
