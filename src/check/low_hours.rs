//! Shorter wear and shorter watch in low hours (B10).

use super::By;
use super::facts::{Facts, Wear};
use super::faults::Faults;
use super::page::Page;
use crate::night::{EnsembleIx, Minute, Minutes, PersonIx, Rule, Span};

pub(super) const B10: Page = Page {
    does: "A wear, or a stretch of watching, that shares a minute with low hours keeps to the shorter figure for its \
           whole length.",
    why: "People tire soonest then, and removal at the end of a long wear is where tiredness costs most.",
    formula: "[start of wear, t_off) meets low hours: t_off - start of wear <= W low - m; a watch that meets them: \
              at most V low",
    counts: "Minutes over, where the wear or the watch is within the figure of the other hours. Starting or ending \
             exactly at the border does not meet them.",
    source: super::page::COMMON_PRACTICE,
};

/// Whether a stretch shares a minute with low hours.
fn met(facts: &Facts, span: Span) -> bool {
    facts.low_hours.iter().any(|low| low.overlaps(span))
}

/// The limit on a wear that meets low hours, where there is one; `None` where the usual one holds.
fn wear_limit(facts: &Facts, wear: &Wear) -> Option<Minutes> {
    let low = facts.limits.low_hours_wear(wear.ensemble?)?;
    met(facts, wear.worn()).then_some(low - wear.kit.margin)
}

/// B10 for every wear that keeps to the figure of the other hours.
pub(super) fn shorter_wear(facts: &Facts, faults: &mut Faults) {
    for wear in &facts.wears {
        let worn = wear.worn().length();
        let Some(most) = wear_limit(facts, wear).filter(|_| worn <= wear.kit.max_wear - wear.kit.margin) else {
            continue;
        };
        let by = worn - most;
        if by.0 > 0 {
            faults.add(Rule::B10, wear.worn(), &[wear.person], Some(By::Minutes(by)), || {
                let (id, times) = (facts.id(wear.person), facts.times(wear.worn()));
                format!("{id} wears {} {times}, {worn} min: {by} min over the {most} of low hours.", wear.kit.id)
            });
        }
    }
}

/// B10 for a stretch of watching that is not too long for the other hours.
pub(super) fn shorter_watch(facts: &Facts, faults: &mut Faults, observer: PersonIx, stretch: Span) {
    let Some(low) = facts.limits.low_hours.as_ref().filter(|_| met(facts, stretch)) else { return };
    let by = stretch.length() - low.watch_max;
    if by.0 > 0 {
        faults.add(Rule::B10, stretch, &[observer], Some(By::Minutes(by)), || {
            let (id, times, length) = (facts.id(observer), facts.times(stretch), stretch.length());
            format!("{id} watches {times}, {length} min: {by} min over the {} of low hours.", low.watch_max)
        });
    }
}

/// The latest end of a wear that may last `usual`: where it would meet low hours it lasts `low` at most, or ends as
/// they begin.
pub(super) fn latest_off(facts: &Facts, start: Minute, usual: Minutes, low: Option<Minutes>) -> Minute {
    let Some(low) = low else { return start + usual };
    let ahead = facts.low_hours.iter().filter(|hours| start < hours.to);
    ahead.map(|hours| hours.from.max(start + low.min(usual))).fold(start + usual, Minute::min)
}

/// The same of a person who wears an ensemble from `start`, under the unit's limits and stricter ones of their own.
pub(super) fn latest_off_of(facts: &Facts, person: PersonIx, ensemble: EnsembleIx, start: Minute) -> Minute {
    let kit = facts.limits.ensemble(ensemble);
    let own = facts.roster.person(person).own.max_wear;
    let most = |unit: Minutes| own.map_or(unit, |own| own.min(unit)) - kit.margin;
    latest_off(facts, start, most(kit.max_wear), facts.limits.low_hours_wear(ensemble).map(most))
}
