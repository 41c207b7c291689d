//! Who showers when, where places are limited (F2).

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::sweep::counted;
use crate::night::{Minutes, PersonIx, Rule, Span, Stint};

pub(super) const F2: Page = Page {
    does: "Where the roster limits the shower places, whoever wore a kit showers after the last item off, on duty, and \
           never more at once than there are places.",
    why: "A crew that comes out together queues for the shower, and a queue at the end of a shift is unpaid time.",
    formula: "for each wearer one shower: start >= last t_off; length >= shower; end <= off_duty; at every minute \
              showers <= places",
    counts: "For each shower minutes short, or shared with a duty or a break; for each wearer minutes before the last \
             item off, or no shower at all; stretches with too many at once, and by how many. Whoever showers neither \
             coordinates nor stands by in that minute. A shower between two wears is not the one after the last.",
    source: COMMON_PRACTICE,
};

/// F2 for every shower in the rota and, where places are limited, everyone who wore a kit.
pub(super) fn showers(facts: &Facts, faults: &mut Faults) {
    for shower in &facts.rota.showers {
        long_enough(facts, faults, shower);
        on_duty(facts, faults, shower);
        free(facts, faults, shower);
    }
    let Some(places) = facts.night.shower_places() else { return };
    for person in facts.roster.person_indices() {
        after_last_removal(facts, faults, person);
    }
    too_many(facts, faults, places);
}

fn fault(facts: &Facts, faults: &mut Faults, shower: &Stint, by: Option<Minutes>, why: impl FnOnce() -> String) {
    faults.add(Rule::F2, shower.span, &[shower.person], by.map(By::Minutes), || {
        format!("The shower of {} {} {}.", facts.id(shower.person), facts.times(shower.span), why())
    });
}

fn long_enough(facts: &Facts, faults: &mut Faults, shower: &Stint) {
    let least = facts.limits.shower;
    let by = least - shower.span.length();
    if by.0 > 0 {
        fault(facts, faults, shower, Some(by), || format!("is {by} min shorter than {least}"));
    }
}

fn on_duty(facts: &Facts, faults: &mut Faults, shower: &Stint) {
    let there = facts.roster.person(shower.person).on_duty;
    let by = (there.from - shower.span.from).max(shower.span.to - there.to);
    if by.0 > 0 {
        fault(facts, faults, shower, Some(by), || {
            format!("is {by} min outside the time on duty, {}", facts.times(there))
        });
    }
}

/// No duty and no break shares a minute with the shower.
fn free(facts: &Facts, faults: &mut Faults, shower: &Stint) {
    let duties = facts.duties_of(shower.person).iter().map(|duty| (duty.busy, "duty"));
    let breaks = facts.rota.breaks.iter().filter(|b| b.person == shower.person).map(|b| (b.span, "break"));
    for (busy, what) in duties.chain(breaks) {
        let shared = busy.intersection(shower.span).length();
        if busy.overlaps(shower.span) {
            fault(facts, faults, shower, Some(shared), || {
                format!("shares {shared} min with a {what} {}", facts.times(busy))
            });
        }
    }
}

fn after_last_removal(facts: &Facts, faults: &mut Faults, person: PersonIx) {
    let Some(off) = facts.wears_of(person).map(|wear| wear.off).max() else { return };
    let mine = facts.rota.showers.iter().filter(|shower| shower.person == person);
    let Some(last) = mine.max_by_key(|shower| shower.span.from) else {
        faults.add(Rule::F2, Span::new(off, off + facts.limits.shower), &[person], None, || {
            format!("{} has the last item off at {} and no shower after it.", facts.id(person), facts.at(off))
        });
        return;
    };
    let by = off - last.span.from;
    if by.0 > 0 {
        fault(facts, faults, last, Some(by), || {
            format!("starts {by} min before the last item off at {}", facts.at(off))
        });
    }
}

fn too_many(facts: &Facts, faults: &mut Faults, places: u32) {
    let all = &facts.rota.showers;
    for (span, showering) in counted(all.iter().map(|shower| shower.span)) {
        if showering <= places {
            continue;
        }
        let mut people: Vec<PersonIx> = all.iter().filter(|s| s.span.overlaps(span)).map(|s| s.person).collect();
        people.sort_unstable();
        people.dedup();
        faults.add(Rule::F2, span, &people, Some(By::Count(showering - places)), || {
            format!("{showering} people shower {} with places for {places}.", facts.times(span))
        });
    }
}
