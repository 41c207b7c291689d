//! Donnings and who watches them (C6).

use super::By;
use super::facts::{Donning, Facts};
use super::faults::Faults;
use super::page::Page;
use crate::night::{PersonIx, Rule};

pub(super) const C6: Page = Page {
    does: "Every donning into the room, and every other that the unit has watched, has an observer from its start to \
           its end, who watches no more donnings at once than the unit allows.",
    why: "A gap left at donning is found inside the room.",
    formula: "each donning: one observer on [t_ds, t_ds + d), another person; at every minute donnings watched by one \
              observer <= capacity",
    counts: "Each donning without an observer; how many too many at once.",
    source: "A trained observer for each step of every donning and removal: CDC guidance for viral haemorrhagic \
             fevers, seen. The capacity is the unit's.",
};

/// C6: observers named, and none with too many at once.
pub(super) fn donning_watched(facts: &Facts, faults: &mut Faults) {
    for donning in &facts.donnings {
        let alone = donning.observer.is_none_or(|o| o == donning.wearer);
        if alone && (donning.watched || donning.observer.is_some()) {
            faults.add(Rule::C6, donning.span, &[donning.wearer], Some(By::Count(1)), || {
                format!(
                    "The donning of {} at {} has no observer.",
                    facts.id(donning.wearer),
                    facts.at(donning.span.from)
                )
            });
        }
    }
    for donning in &facts.donnings {
        if let Some(observer) = donning.observer {
            not_too_many(facts, faults, observer, donning);
        }
    }
}

/// Counts at the start of each donning, where the number at once can only have risen.
fn not_too_many(facts: &Facts, faults: &mut Faults, observer: PersonIx, newest: &Donning) {
    let at = newest.span.from;
    let now = facts.donnings.iter().filter(|d| d.observer == Some(observer) && d.span.contains(at)).count();
    let capacity = facts.limits.donning_capacity;
    let over = u32::try_from(now).unwrap_or(u32::MAX).saturating_sub(capacity);
    if over > 0 {
        faults.add(Rule::C6, newest.span, &[observer, newest.wearer], Some(By::Count(over)), || {
            let (id, at) = (facts.id(observer), facts.at(at));
            format!("{id} watches {now} donnings at once at {at}, {over} more than {capacity}.")
        });
    }
}
