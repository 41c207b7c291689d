//! Rest before the next wear and recovery after a removal (B4, B5).

use super::By;
use super::facts::{Duty, Facts, Kind, Wear};
use super::faults::Faults;
use super::page::Page;
use super::wear::not_available;
use crate::night::{CleanDuty, EnsembleIx, Minute, Minutes, PersonIx, Rule, Span};

pub(super) const B4: Page = Page {
    does: "Between the last item off and the next donning lies the rest the unit asks for, by what was worn and what \
           is put on next.",
    why: "Donning is work: the body has to have cooled, drunk and rested before it starts.",
    formula: "next t_ds >= t_off + r(worn, next)",
    counts: "Minutes short, after every earlier wear and not only the last: a short spell in a light kit between does \
             not use up the rest owed after the heavy one. The removal before the shift counts too.",
    source: "20 min after 45 min: Haverkort and others, Emerg Infect Dis 2016;22(2), seen. 30 min after filtering \
             respirators: DGUV Regel 112-190, 8.2, table 21, seen. The figures are the unit's.",
};

pub(super) const B5: Page = Page {
    does: "For the recovery time after the last item off there is no duty of any sort; until the rest is over only \
           the duties the unit lists.",
    why: "Water, toilet, cooling down and a shower come before anyone else's safety is in these hands.",
    formula: "duty start >= t_off + rec; >= t_off + r(worn, worn) where the unit does not list the duty",
    counts: "Minutes too early, ready time included. The removal before the shift counts too.",
    source: "Recovery as a time of its own: Haverkort and others, Emerg Infect Dis 2016;22(2), seen. The figures are \
             the unit's.",
};

/// Something worn before a duty, in or before the shift.
#[derive(Clone, Copy)]
struct Worn {
    off: Minute,
    ensemble: EnsembleIx,
    /// A removal before the shift bars every duty; one in the shift only those that start after it.
    before_shift: bool,
}

/// B4 and B5 for everyone who has worn something.
pub(super) fn rested(facts: &Facts, faults: &mut Faults) {
    for duties in facts.duties.chunk_by(|a, b| a.person == b.person) {
        let person = duties[0].person;
        for worn in everything_worn(facts, person) {
            for duty in duties {
                if worn.before_shift || duty.busy.from >= worn.off {
                    recovered(facts, faults, worn, duty);
                }
            }
            for next in facts.wears_of(person) {
                if worn.before_shift || next.don >= worn.off {
                    may_wear(facts, faults, worn, next);
                }
            }
        }
    }
}

fn everything_worn<'a>(facts: &'a Facts, person: PersonIx) -> impl Iterator<Item = Worn> + 'a {
    let before = facts.roster.person(person).last_removal;
    let before = before.map(|last| Worn { off: last.off, ensemble: last.ensemble, before_shift: true });
    let tonight =
        facts.wears_of(person).filter_map(|w| Some(Worn { off: w.off, ensemble: w.ensemble?, before_shift: false }));
    before.into_iter().chain(tonight)
}

/// B5: no duty in recovery, and before the end of rest only what is listed.
fn recovered(facts: &Facts, faults: &mut Faults, worn: Worn, duty: &Duty) {
    let recovery = facts.limits.ensemble(worn.ensemble).recovery;
    let rest = facts.limits.rest_between(worn.ensemble, worn.ensemble);
    let listed = match duty.kind {
        // The rest before another wear is B4.
        Kind::Entry | Kind::Post(_) => true,
        Kind::DonningWatch => facts.limits.inside_rest.contains(&CleanDuty::DonningObserver),
        Kind::RemovalWatch => facts.limits.inside_rest.contains(&CleanDuty::DoffingObserver),
        Kind::Assist => false,
    };
    let owed = if listed { recovery } else { recovery.max(rest) };
    let by = worn.off + owed - duty.busy.from;
    if by.0 > 0 {
        let span = Span::new(duty.busy.from, worn.off + owed);
        faults.add(Rule::B5, span, &[duty.person], Some(By::Minutes(by)), || {
            let id = facts.id(duty.person);
            format!(
                "{id} has the last item off at {} and a duty at {}: {by} min too early.",
                facts.at(worn.off),
                facts.at(duty.busy.from)
            )
        });
    } else if !listed && duty.busy.from - worn.off < own_rest(facts, duty.person) {
        not_available(facts, faults, duty.person, duty.busy);
    }
}

fn own_rest(facts: &Facts, person: PersonIx) -> Minutes {
    facts.roster.person(person).own.rest.unwrap_or(Minutes::ZERO)
}

/// B4: the rest between two wears.
fn may_wear(facts: &Facts, faults: &mut Faults, worn: Worn, next: &Wear) {
    let Some(ensemble) = next.ensemble else { return };
    let owed = facts.limits.rest_between(worn.ensemble, ensemble);
    let had = next.don - worn.off;
    let by = owed - had;
    if by.0 > 0 {
        let span = Span::new(worn.off, next.don);
        faults.add(Rule::B4, span, &[next.person], Some(By::Minutes(by)), || {
            let (id, off, don) = (facts.id(next.person), facts.at(worn.off), facts.at(next.don));
            format!(
                "{id} has the last item off at {off} and starts donning at {don}: {by} min short of the {owed} of rest."
            )
        });
    } else if had < own_rest(facts, next.person) {
        not_available(facts, faults, next.person, next.dressed());
    }
}
