//! Which respirator model each person wears tonight (G2).
//!
//! One model all night, in one size: the first in the ensemble's order of
//! choice that lasts through the person's duty and has a unit for one more; if
//! there is none, the first that lasts. Whoever has least choice is asked
//! first. What does not fit to the end of the night is only worn where nothing
//! else fits.

use std::collections::BTreeMap;

use crate::night::{EnsembleIx, Minute, Night, PersonIx};

/// The model that a person wears with an ensemble, and until when it fits; `None` where they have none.
pub fn worn(night: &Night, person: PersonIx, ensemble: EnsembleIx) -> Option<(&str, Minute)> {
    let mut taken: BTreeMap<(&str, Option<&str>), u32> = BTreeMap::new();
    let enters = |&person: &PersonIx| night.roster.person(person).size_in(ensemble).is_some();
    let people = night.roster.person_indices().filter(enters);
    let mut people: Vec<_> = people.map(|person| (lasting(night, person, ensemble), person)).collect();
    people.sort_by_key(|(models, person)| (models.len(), *person));
    for (mut models, other) in people {
        if let Some(free) = models.iter().position(|fit| has_one_more(night, &taken, fit)) {
            models.swap(0, free);
        }
        let chosen = models.into_iter().next();
        if other == person {
            return chosen.map(|fit| (fit.model, fit.until));
        }
        if let Some(fit) = chosen {
            *taken.entry((fit.model, fit.size)).or_default() += 1;
        }
    }
    None
}

/// A model that fits somebody.
struct Fit<'a> {
    model: &'a str,
    size: Option<&'a str>,
    until: Minute,
}

fn has_one_more(night: &Night, taken: &BTreeMap<(&str, Option<&str>), u32>, fit: &Fit) -> bool {
    let in_turn = night.limits.respirator(fit.model).is_some();
    let taken = taken.get(&(fit.model, fit.size)).copied().unwrap_or(0);
    !in_turn || taken < night.roster.respirator_units(fit.model, fit.size, night.roster.shift.to)
}

/// Until when some model of the ensemble fits a person and is on the shelf (A2).
pub fn fitted_until(night: &Night, person: PersonIx, ensemble: EnsembleIx) -> Option<Minute> {
    let none_needed = night.limits.ensemble(ensemble).respirators.is_empty().then_some(FOR_EVER);
    none_needed.or_else(|| fitting(night, person, ensemble).into_iter().map(|fit| fit.until).max())
}

/// The models that fit a person, in order of choice.
fn fitting(night: &Night, person: PersonIx, ensemble: EnsembleIx) -> Vec<Fit<'_>> {
    let mut fits: Vec<Fit<'_>> = Vec::new();
    for model in &night.limits.ensemble(ensemble).respirators {
        if let Ok(test) = night.respirator_size(person, ensemble, model) {
            let until = test.map_or(FOR_EVER, |test| night.roster.end_of_day(test.valid_through));
            fits.push(Fit { model, size: test.map(|test| test.size.as_str()), until });
        }
    }
    fits
}

/// Those that fit to the end of the person's duty; if none does, those that fit longest.
fn lasting(night: &Night, person: PersonIx, ensemble: EnsembleIx) -> Vec<Fit<'_>> {
    let mut fits = fitting(night, person, ensemble);
    let longest = fits.iter().map(|fit| fit.until).max();
    let duty = night.roster.person(person).on_duty.to;
    fits.retain(|fit| longest.is_some_and(|longest| fit.until >= duty.min(longest)));
    fits
}

/// Later than any night.
const FOR_EVER: Minute = Minute(i64::MAX / 4);
