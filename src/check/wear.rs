//! Continuous and cumulative wear, by the unit's limits and by stricter personal ones (B2, B6, A8).

use super::By;
use super::facts::{Facts, Wear};
use super::faults::Faults;
use super::page::Page;
use crate::night::{Minutes, PersonIx, Rule, Span};

pub(super) const B2: Page = Page {
    does: "Nobody is dressed longer than the ensemble allows, less the unit's margin.",
    why: "Heat, thirst and tiredness build up under an ensemble, and the most careful step, removal, comes last.",
    formula: "t_off - start of wear <= W - m",
    counts: "Minutes over, for every entry and every spell on post. Holding at the door, waiting for a lane and \
             removal count.",
    source: "The figure is the unit's. Published ones differ widely: 45 min in a temperate hospital (Haverkort and \
             others, Emerg Infect Dis 2016;22(2), seen), at most 60 min in a warm climate (Bettercare, Ebola \
             Prevention and Control, 3-24, seen), 4 to 6 h in ventilated suits (Loibner and others, PLoS ONE 2019, \
             seen).",
};

pub(super) const B6: Page = Page {
    does: "All the wear of one person in the shift, weighted by ensemble, stays within the unit's figure.",
    why: "Rest between wears does not undo all of what a night in an ensemble costs.",
    formula: "worn before + sum(wear x percent of the ensemble) <= C",
    counts: "Minutes over, rounded up, at the wear in which the figure is passed.",
    source: "Total wear per shift beside wear and rest: DGUV Regel 112-190, 8.2, table 21, seen (360 min for a \
             filtering half mask without valve). The figure is the unit's.",
};

pub(super) const A8: Page = Page {
    does: "Stricter limits of one person are kept like the unit's own.",
    why: "They are nobody else's business: they come from a private file, and no figure of theirs is ever shown.",
    formula: "as B2, B4, B5 and B6, with the stricter figure",
    counts: "That the person is not available then. No amount is given.",
    source: super::page::COMMON_PRACTICE,
};

/// Says of a stricter personal limit only that the person is not available then.
pub(super) fn not_available(facts: &Facts, faults: &mut Faults, person: PersonIx, span: Span) {
    faults.add(Rule::A8, span, &[person], None, || {
        format!("{} is not available then, planned {}.", facts.id(person), facts.times(span))
    });
}

/// B2 for every wear, or A8 where only a personal limit is passed.
pub(super) fn continuous(facts: &Facts, faults: &mut Faults) {
    for wear in &facts.wears {
        let worn = wear.worn().length();
        let most = wear.kit.max_wear - wear.kit.margin;
        let by = worn - most;
        if by.0 > 0 {
            faults
                .add(Rule::B2, wear.worn(), &[wear.person], Some(By::Minutes(by)), || too_long(facts, wear, most, by));
        } else if facts.roster.person(wear.person).own.max_wear.is_some_and(|own| worn > own - wear.kit.margin) {
            not_available(facts, faults, wear.person, wear.dressed());
        }
    }
}

fn too_long(facts: &Facts, wear: &Wear, most: Minutes, by: Minutes) -> String {
    let (id, kit, worn) = (facts.id(wear.person), &wear.kit.id, wear.worn());
    format!("{id} wears {kit} {}, {} min: {by} min over the longest wear of {most}.", facts.times(worn), worn.length())
}

/// B6 for every person, or A8 where only a personal limit is passed.
pub(super) fn cumulative(facts: &Facts, faults: &mut Faults) {
    for wears in facts.by_person.chunk_by(|&a, &b| facts.wears[a].person == facts.wears[b].person) {
        let person = facts.wears[wears[0]].person;
        let total = facts.cumulative_centi(person);
        let most = facts.limits.cumulative_wear;
        let over = total - most.0 * 100;
        if over > 0 {
            let by = Minutes((over + 99).div_euclid(100));
            faults.add(Rule::B6, passing(facts, wears, most), &[person], Some(By::Minutes(by)), || {
                format!("{} wears {by} min more in the shift than the {most} allowed.", facts.id(person))
            });
        } else if let Some(own) = facts.roster.person(person).own.cumulative_wear.filter(|own| total > own.0 * 100) {
            not_available(facts, faults, person, passing(facts, wears, own));
        }
    }
}

/// The wear in which the total passes `most`.
fn passing(facts: &Facts, wears: &[usize], most: Minutes) -> Span {
    let person = facts.wears[wears[0]].person;
    let mut total = facts.roster.person(person).worn_before.0 * 100;
    let passes = wears.iter().map(|&w| &facts.wears[w]).find(|wear| {
        total += wear.centi();
        total > most.0 * 100
    });
    passes.unwrap_or(&facts.wears[wears[0]]).dressed()
}
