//! Who watches a removal, and that nobody goes in without a way out (C1, C2, C4, C7).

use super::By;
use super::facts::{Facts, Of, Removal};
use super::faults::Faults;
use super::page::Page;
use crate::night::{PersonIx, PostRole, Rule};

pub(super) const C1: Page = Page {
    does: "Every removal has one named observer from its start to its end, who watches nobody else meanwhile.",
    why: "Removal is where most contamination happens, and the wearer cannot see all of it.",
    formula: "each removal: one observer on [t_fs, t_off); no shared minute with another of the same observer",
    counts: "Each removal without an observer; minutes in which one observer watches two.",
    source: "A trained observer for each step of every donning and removal: CDC guidance for viral haemorrhagic \
             fevers, seen.",
};

pub(super) const C2: Page = Page {
    does: "The person removing, the observer and the assistant are three different people.",
    why: "Whoever has their hands on the suit cannot also watch the whole of it.",
    formula: "wearer, observer and assistant pairwise different",
    counts: "Each pair of roles in one removal held by one person.",
    source: "The observer is not the removal partner: CDC guidance of 27 August 2015, seen second hand in OR Manager, \
             18 July 2016.",
};

pub(super) const C4: Page = Page {
    does: "The assistant's own removal is watched like any other.",
    why: "The assistant has handled what the entrant carried out.",
    formula: "each own removal of an assistant: one observer on [t_fs, t_off)",
    counts: "Each own removal of an assistant without an observer. Whether the observer is free is C1 and A7.",
    source: "A trained observer for each step of every donning and removal: CDC guidance for viral haemorrhagic \
             fevers, seen.",
};

pub(super) const C7: Page = Page {
    does: "No entry is planned whose removal lacks a lane, an observer or an assistant.",
    why: "Nobody goes in who cannot be got out safely. If the exit is not there, the entry is not made.",
    formula: "each entry: lane, observer and, where the ensemble needs one, assistant named",
    counts: "Each entry, once, with how many of them are missing; each missing one is a fault of its own rule besides.",
    source: super::page::COMMON_PRACTICE,
};

/// C1, C4 and C5: every removal that is to be watched names an observer.
pub(super) fn watched(facts: &Facts, faults: &mut Faults) {
    for removal in facts.removals.iter().filter(|r| r.watched && r.observer.is_none()) {
        let rule = match removal.of {
            Of::Entry(_) => Rule::C1,
            Of::Post(p) => match facts.rota.posts[p].role {
                PostRole::Assistant => Rule::C4,
                PostRole::Observer => Rule::C5,
            },
        };
        faults.add(rule, removal.span, &[removal.wearer], Some(By::Count(1)), || {
            format!("The removal of {} at {} has no observer.", facts.id(removal.wearer), facts.at(removal.span.from))
        });
    }
}

/// C1: one observer watches one removal at a time.
pub(super) fn one_to_one(facts: &Facts, faults: &mut Faults) {
    for watches in facts.watches.chunk_by(|a, b| a.observer == b.observer) {
        for (i, next) in watches.iter().enumerate() {
            let clash = watches[..i].iter().find(|first| first.removal.overlaps(next.removal));
            let Some(first) = clash else { continue };
            let shared = first.removal.intersection(next.removal);
            let people = [next.observer, first.wearer, next.wearer];
            faults.add(Rule::C1, shared, &people, Some(By::Minutes(shared.length())), || {
                let [observer, one, other] = people.map(|p| facts.id(p));
                format!(
                    "{observer} watches the removals of {one} and {other} at the same time, {}.",
                    facts.times(shared)
                )
            });
        }
    }
}

/// C2: three people at every removal.
pub(super) fn three_people(facts: &Facts, faults: &mut Faults) {
    for removal in &facts.removals {
        let Removal { wearer, observer, assistant, .. } = *removal;
        same(facts, faults, removal, observer, Some(wearer), "removes and watches");
        same(facts, faults, removal, assistant, Some(wearer), "removes and assists");
        same(facts, faults, removal, observer, assistant, "watches and assists");
    }
}

fn same(facts: &Facts, faults: &mut Faults, at: &Removal, one: Option<PersonIx>, other: Option<PersonIx>, does: &str) {
    let Some(person) = one.filter(|_| one == other) else { return };
    faults.add(Rule::C2, at.span, &[person], Some(By::Count(1)), || {
        let (id, wearer, from) = (facts.id(person), facts.id(at.wearer), facts.at(at.span.from));
        format!("{id} {does} at the removal of {wearer} at {from}: these are two people.")
    });
}

/// C7: every entry has its exit.
pub(super) fn exit_reserved(facts: &Facts, faults: &mut Faults) {
    for (i, entry) in facts.rota.entries.iter().enumerate() {
        let needs_assistant = facts.wear(Of::Entry(i)).kit.assistant;
        let missing = [
            (entry.lane.is_none(), "a lane"),
            (entry.observer.is_none(), "an observer"),
            (needs_assistant && entry.assistant.is_none(), "an assistant"),
        ];
        let missing: Vec<&str> = missing.iter().filter(|(gone, _)| *gone).map(|(_, what)| *what).collect();
        let Some(count) = u32::try_from(missing.len()).ok().filter(|&n| n > 0) else { continue };
        let span = facts.wear(Of::Entry(i)).dressed();
        faults.add(Rule::C7, span, &[entry.person], Some(By::Count(count)), || {
            let (id, at) = (facts.id(entry.person), facts.at(entry.door_in));
            format!("{id} goes in at {at} without {} for the removal.", missing.join(" and "))
        });
    }
}
