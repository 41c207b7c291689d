//! What the roster settles before planning (H6).

use super::facts::{Duty, Facts, Kind};
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use super::tasks::done_at;
use crate::night::{Forbidden, Pin, PinIx, PinTo, PostRole, Role, Rule, Span};

pub(super) const H6: Page = Page {
    does: "A person has none of the duties that the roster forbids them for a while. A pin puts a person into a room \
           at a time, or inside throughout a task.",
    why: "The charge nurse knows what no file says.",
    formula: "no forbidden duty shares a minute with [from, to)",
    counts: "Each duty that shares a minute with a time for which it is forbidden, ready, reset and cleaning minutes \
             included. A pin that is not kept is no fault: it is counted and shown as a gap.",
    source: COMMON_PRACTICE,
};

/// H6 for every duty that is forbidden.
pub(super) fn forbidden(facts: &Facts, faults: &mut Faults) {
    for forbidden in &facts.roster.forbidden {
        let mine = facts.duties_of(forbidden.person).iter();
        for duty in mine.filter(|duty| duty.busy.overlaps(forbidden.span) && is_forbidden(forbidden, duty)) {
            faults.add(Rule::H6, duty.busy.intersection(forbidden.span), &[duty.person], None, || {
                let (id, duty, times) = (facts.id(duty.person), facts.times(duty.busy), facts.times(forbidden.span));
                format!("{id} has a duty {duty} that the roster forbids {times}.")
            });
        }
    }
}

fn is_forbidden(forbidden: &Forbidden, duty: &Duty) -> bool {
    let role = match duty.kind {
        Kind::Entry => Role::Entrant,
        Kind::Post(PostRole::Assistant) | Kind::Assist => Role::Assistant,
        Kind::Post(PostRole::Observer) | Kind::RemovalWatch => Role::DoffingObserver,
        Kind::DonningWatch => Role::DonningObserver,
    };
    forbidden.roles.contains(&role)
}

/// For every pin of the roster, whether the rota keeps it.
pub(super) fn kept(facts: &Facts) -> Vec<(PinIx, bool)> {
    let pins = facts.roster.pins.iter().enumerate();
    pins.map(|(ix, &pin)| (PinIx(ix), is_kept(facts, pin))).collect()
}

fn is_kept(facts: &Facts, pin: Pin) -> bool {
    let mut mine = facts.rota.entries.iter().filter(|entry| entry.person == pin.person);
    match pin.to {
        PinTo::Entry { room, door_in } => mine.any(|entry| entry.room == room && entry.door_in == door_in),
        PinTo::Task(ix) => done_at(facts, ix).is_some_and(|start| {
            let task = &facts.roster.tasks[ix.0];
            let throughout = Span::new(start, start + task.length);
            mine.any(|entry| entry.room == task.room && stay(entry).covers(throughout))
        }),
    }
}
