//! The times of one entry or spell on post (B1), and the shortest useful stay (B9).

use super::By;
use super::facts::{Facts, Of, Wear};
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use crate::night::{Minute, Minutes, Rule, Span};

pub(super) const B1: Page = Page {
    does: "The times of an entry are in order, and donning and removal take at least as long as the ensemble needs. \
           They are the times from which wear is counted.",
    why: "Removal done faster than the procedure is the likeliest way to be contaminated. Waiting at the door, waiting \
          for a lane and removal are wear: the person is still hot and still breathing through a respirator.",
    formula: "don + d <= door_in <= door_out <= removal; removal + f <= off. Wear runs to off from don + d - s, don \
              or door_in, as the unit sets",
    counts: "For each step the minutes missing. Longer is allowed and counts as it is.",
    source: COMMON_PRACTICE,
};

pub(super) const B9: Page = Page {
    does: "Nobody goes in for less than the shortest useful stay.",
    why: "Each entry costs a removal, and each removal is a chance of contamination.",
    formula: "door_out - door_in >= c_min",
    counts: "Minutes missing.",
    source: "Each donning and removal adds contamination risk: trade page 0.4, from a heat-strain paper, seen. The \
             figure is the unit's.",
};

pub(super) const B8: Page = Page {
    does: "Nobody makes more entries in a shift than the unit allows.",
    why: "Each entry costs its wearer a donning, heat and a removal, however short it is.",
    formula: "entries of one person on the rota <= n",
    counts: "Entries over. Spells on post in a doffing-area kit are no entries.",
    source: COMMON_PRACTICE,
};

/// B8 for every person.
pub(super) fn not_too_many(facts: &Facts, faults: &mut Faults) {
    let Some(most) = facts.limits.entries_max else { return };
    let allowed = usize::try_from(most).unwrap_or(usize::MAX);
    for person in facts.roster.person_indices() {
        let mut own: Vec<_> = facts.rota.entries.iter().filter(|e| e.person == person).collect();
        own.sort_by_key(|e| (e.don, e.off));
        let Some(first_over) = own.get(allowed) else { continue };
        let over = u32::try_from(own.len() - allowed).unwrap_or(u32::MAX);
        let dressed = Span::new(first_over.don, first_over.off);
        faults.add(Rule::B8, dressed, &[person], Some(By::Count(over)), || {
            format!("{} makes {} entries, {over} more than the {most} allowed.", facts.id(person), own.len())
        });
    }
}

/// B1 for every entry and every spell on post.
pub(super) fn in_order(facts: &Facts, faults: &mut Faults) {
    for wear in &facts.wears {
        match wear.of {
            Of::Entry(i) => {
                let entry = &facts.rota.entries[i];
                step(facts, faults, wear, "donning is done", wear.donned, "through the door", entry.door_in);
                step(facts, faults, wear, "through the door", entry.door_in, "out of the room", entry.door_out);
                step(facts, faults, wear, "out of the room", entry.door_out, "removal", entry.removal);
            }
            Of::Post(_) => step(facts, faults, wear, "donning is done", wear.donned, "own removal", wear.removal),
        }
        let least = wear.removal + wear.kit.removal;
        step(facts, faults, wear, "removal can be done", least, "last item off", wear.off);
    }
}

fn step(facts: &Facts, faults: &mut Faults, wear: &Wear, first: &str, from: Minute, then: &str, to: Minute) {
    let by = from - to;
    if by.0 > 0 {
        faults.add(Rule::B1, Span::new(to, from), &[wear.person], Some(By::Minutes(by)), || {
            format!(
                "{}: {first} at {}, {then} at {}: {by} min too early.",
                facts.id(wear.person),
                facts.at(from),
                facts.at(to)
            )
        });
    }
}

/// B9 for every entry.
pub(super) fn shortest_stay(facts: &Facts, faults: &mut Faults) {
    for entry in &facts.rota.entries {
        let stay = Span::new(entry.door_in, entry.door_out);
        let by = facts.limits.min_stay - stay.length().max(Minutes::ZERO);
        if by.0 > 0 {
            faults.add(Rule::B9, stay, &[entry.person], Some(By::Minutes(by)), || {
                let least = facts.limits.min_stay;
                format!(
                    "{} is inside {}, {by} min less than the shortest stay of {least}.",
                    facts.id(entry.person),
                    facts.times(stay)
                )
            });
        }
    }
}
