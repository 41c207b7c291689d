//! Who is here, and for what: on duty, the flags of the day, the gap between shifts (A3, A4, F4).

use super::By;
use super::facts::{Facts, Of};
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use crate::night::{Minutes, PersonIx, Rule, Span};

pub(super) const A3: Page = Page {
    does: "Every duty lies inside the person's time on duty, and after the last item off there is still time to \
           shower.",
    why: "Nobody is planned before they have come or after they should have gone; the shower is paid time.",
    formula: "on_duty <= start; end <= off_duty; t_off + shower <= off_duty",
    counts: "Minutes before on-duty, or past off-duty, whichever is more. Ready time, reset time and cleaning belong \
             to the duty.",
    source: COMMON_PRACTICE,
};

pub(super) const A4: Page = Page {
    does: "Nobody enters whose flag for entries is no; nobody assists or watches removals whose flag for the doffing \
           area is no.",
    why: "Anyone may say no for today. No reason is asked for or kept.",
    formula: "entry => enter_today; assisting or watching a removal => doffing_area_today",
    counts: "Each entry, spell on post, removal assisted and removal watched against the flag.",
    source: COMMON_PRACTICE,
};

pub(super) const F1: Page = Page {
    does: "Two crews are in one plan across a handover: lanes, helpers and the room's maximum are shared, and whoever \
           is in the huddle has no duty, no break and no shower.",
    why: "The handover is the worst hour of the night: four people at the lane, and half of them listening.",
    formula: "no duty, break or shower of a crew shares a minute with its huddle",
    counts: "Minutes shared, for each duty, break and shower, ready, reset and cleaning minutes included. In a huddle \
             nobody coordinates or stands by.",
    source: COMMON_PRACTICE,
};

pub(super) const F4: Page = Page {
    does: "The first duty starts no earlier than the gap between shifts after the last actual off-duty.",
    why: "A tired person makes the errors that removal does not forgive.",
    formula: "first duty start >= last_off_duty + G",
    counts: "Minutes too early, once a person.",
    source: "11 consecutive hours in 24: Directive 2003/88/EC, Article 3, seen second hand. The figure is the unit's.",
};

/// A3 for every duty, and the shower after every removal.
pub(super) fn on_duty(facts: &Facts, faults: &mut Faults) {
    for duty in &facts.duties {
        within(facts, faults, duty.person, duty.busy, Minutes::ZERO);
    }
    for wear in &facts.wears {
        // The duty itself was looked at above: here only what the shower adds.
        if facts.roster.person(wear.person).on_duty.covers(wear.dressed()) {
            within(facts, faults, wear.person, wear.dressed(), facts.limits.shower);
        }
    }
}

fn within(facts: &Facts, faults: &mut Faults, person: PersonIx, busy: Span, shower: Minutes) {
    let there = facts.roster.person(person).on_duty;
    let early = there.from - busy.from.min(busy.to);
    let late = busy.to.max(busy.from) + shower - there.to;
    let by = early.max(late);
    if by.0 <= 0 {
        return;
    }
    faults.add(Rule::A3, busy, &[person], Some(By::Minutes(by)), || {
        let id = facts.id(person);
        let duty = facts.times(busy);
        if shower.0 > 0 {
            format!(
                "{id} has the last item off at {}: {by} min too late to shower before {}.",
                facts.at(busy.to),
                facts.at(there.to)
            )
        } else {
            format!("{id} is planned {duty} but on duty {}: {by} min outside.", facts.times(there))
        }
    });
}

/// A4 for entries, posts, watches of removals and help.
pub(super) fn flags(facts: &Facts, faults: &mut Faults) {
    for wear in &facts.wears {
        let person = facts.roster.person(wear.person);
        let (available, what) = match wear.of {
            Of::Entry(_) => (person.enter_today, "entries"),
            Of::Post(_) => (person.doffing_area_today, "the doffing area"),
        };
        unless(facts, faults, available, wear.person, wear.dressed(), what);
    }
    let watches = facts.watches.iter().filter(|w| w.post.is_none()).map(|w| (w.observer, w.removal));
    let assists = facts.assists.iter().filter(|a| a.post.is_none()).map(|a| (a.assistant, a.removal));
    for (helper, removal) in watches.chain(assists) {
        let available = facts.roster.person(helper).doffing_area_today;
        unless(facts, faults, available, helper, removal, "the doffing area");
    }
}

fn unless(facts: &Facts, faults: &mut Faults, available: bool, person: PersonIx, span: Span, what: &str) {
    if !available {
        faults.add(Rule::A4, span, &[person], None, || {
            format!("{} is not available for {what} today, planned {}.", facts.id(person), facts.times(span))
        });
    }
}

/// F1 for every duty, every break and every shower that shares a minute with a huddle.
pub(super) fn huddles(facts: &Facts, faults: &mut Faults) {
    for huddle in &facts.roster.huddles {
        for &person in &huddle.people {
            let duties = facts.duties_of(person).iter().map(|duty| duty.busy);
            let breaks = facts.rota.breaks.iter().filter(|b| b.person == person).map(|b| b.span);
            let showers = facts.rota.showers.iter().filter(|s| s.person == person).map(|s| s.span);
            for busy in duties.chain(breaks).chain(showers).filter(|busy| busy.overlaps(huddle.span)) {
                let by = busy.intersection(huddle.span);
                faults.add(Rule::F1, by, &[person], Some(By::Minutes(by.length())), || {
                    let (id, planned, huddle) = (facts.id(person), facts.times(busy), facts.times(huddle.span));
                    format!("{id} is planned {planned} and in the huddle {huddle}.")
                });
            }
        }
    }
}

/// F4, once a person.
pub(super) fn shift_gap(facts: &Facts, faults: &mut Faults) {
    for (ix, person) in facts.roster.people.iter().enumerate() {
        let Some(last) = person.last_off_duty else { continue };
        let earliest = last + facts.limits.shift_gap;
        let Some(first) = facts.duties_of(PersonIx(ix)).first() else { continue };
        let by = earliest - first.busy.from;
        if by.0 > 0 {
            faults.add(Rule::F4, first.busy, &[PersonIx(ix)], Some(By::Minutes(by)), || {
                format!(
                    "{} went off duty at {} and is free again from {}; the first duty starts {}, {by} min too early.",
                    person.id,
                    facts.at(last),
                    facts.at(earliest),
                    facts.at(first.busy.from)
                )
            });
        }
    }
}
