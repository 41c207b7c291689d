//! Continuous presence and where it is short (D4).

use super::Shortage;
use super::facts::Facts;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use super::sweep::counted;
use crate::night::{Minute, Presence, RoomIx, Span};

pub(super) const D4: Page = Page {
    does: "Says when fewer people are inside than the presence of the room requires.",
    why: "This is what the entries are for. A gap is not a fault: entering without a way out would be.",
    formula: "sum over minutes of max(0, required - inside)",
    counts: "Person-minutes by class and room, as stretches in which the shortage stays the same, and the longest \
             unbroken run of any shortage. Everyone inside counts, relief included, from door-in to door-out.",
    source: COMMON_PRACTICE,
};

/// Every shortage, in order of class, then time, then room.
pub(super) fn shortages(facts: &Facts) -> Vec<Shortage> {
    let mut found = Vec::new();
    for room in (0..facts.roster.rooms.len()).map(RoomIx) {
        let mut wanted: Vec<&Presence> = facts.roster.presence.iter().filter(|p| p.room == room).collect();
        wanted.sort_by_key(|p| p.span);
        let inside = counted(facts.rota.entries.iter().filter(|e| e.room == room).map(stay));
        for presence in wanted {
            short_in(presence, &inside, &mut found);
        }
    }
    found.sort_by_key(|s| (s.class, s.span, s.room));
    found
}

/// The shortages in one stretch of required presence.
fn short_in(presence: &Presence, inside: &[(Span, u32)], found: &mut Vec<Shortage>) {
    let mut at = presence.span.from;
    for &(span, present) in inside {
        let here = span.intersection(presence.span);
        if here.is_empty() {
            continue;
        }
        note(presence, at, here.from, 0, found);
        note(presence, here.from, here.to, present, found);
        at = here.to;
    }
    note(presence, at, presence.span.to, 0, found);
}

/// Notes a shortage, as part of the last one where that touches it and is the same.
fn note(presence: &Presence, from: Minute, to: Minute, present: u32, found: &mut Vec<Shortage>) {
    let Presence { room, class, people: required, .. } = *presence;
    if from >= to || present >= required {
        return;
    }
    let same = |s: &Shortage| (s.room, s.class, s.required, s.present) == (room, class, required, present);
    match found.last_mut() {
        Some(last) if same(last) && last.span.to == from => last.span.to = to,
        _ => found.push(Shortage { span: Span::new(from, to), room, class, required, present }),
    }
}
