//! Kits on the shelf (G1).

use super::By;
use super::facts::{Facts, Wear};
use super::faults::Faults;
use super::page::Page;
use crate::night::{EnsembleIx, PersonIx, Rule, Span};

pub(super) const G1: Page = Page {
    does: "No more kits of an ensemble and size are used than are on the shelf beyond the reserve.",
    why: "A kit of the wrong size, or none, is found out at the moment of donning.",
    formula: "entries and spells on post by ensemble and size <= count - reserve",
    counts: "One kit for each entry and each spell on post; kits too many, from the donning at which they run out.",
    source: "One full set for each entry: Bettercare, Ebola Prevention and Control, 3-25, seen.",
};

/// G1 for every ensemble and size.
pub(super) fn kits(facts: &Facts, faults: &mut Faults) {
    let mut used: Vec<(EnsembleIx, &str, &Wear)> = facts.wears.iter().filter_map(|wear| kit_of(facts, wear)).collect();
    used.sort_by_key(|&(ensemble, size, wear)| (ensemble, size, wear.don, wear.of));
    for same in used.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
        let (ensemble, size, _) = same[0];
        let usable = usize::try_from(facts.roster.usable_kits(ensemble, size)).unwrap_or(usize::MAX);
        let Some(without) = same.get(usable..).filter(|without| !without.is_empty()) else { continue };
        let people: Vec<PersonIx> = without.iter().map(|(.., wear)| wear.person).collect();
        let span = without.iter().map(|(.., wear)| wear.dressed()).reduce(hull).unwrap_or(without[0].2.dressed());
        let by = u32::try_from(without.len()).unwrap_or(u32::MAX);
        faults.add(Rule::G1, span, &people, Some(By::Count(by)), || {
            let (kit, first) = (&facts.limits.ensemble(ensemble).id, without[0].2);
            let (id, at) = (facts.id(first.person), facts.at(first.don));
            format!("Kit {kit} size {size} runs out at {at} ({id}): {} used, {usable} beyond the reserve.", same.len())
        });
    }
}

fn kit_of<'a>(facts: &'a Facts, wear: &'a Wear) -> Option<(EnsembleIx, &'a str, &'a Wear<'a>)> {
    let ensemble = wear.ensemble?;
    let size = facts.roster.person(wear.person).size_in(ensemble)?;
    Some((ensemble, size, wear))
}

fn hull(one: Span, other: Span) -> Span {
    Span::new(one.from.min(other.from), one.to.max(other.to))
}
