//! The nights that are looked at, and those among them that are alike.

use std::collections::{BTreeMap, BTreeSet};

use super::draw::{Chance, Draws};
use crate::night::{PersonIx, Roster};

/// People missing on one night.
pub type Missing = BTreeSet<PersonIx>;

/// The nights of one crew: each is one of some cases, which differ in who is missing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct List {
    /// Who is missing, case by case: fewest missing first, then in the order of the roster. The same set stands once.
    cases: Vec<Missing>,
    /// The case of each night.
    nights: Vec<usize>,
}

impl List {
    /// Draws `nights` nights. `chances` has one for each person of the roster, in its order.
    #[must_use]
    pub fn drawn(roster: &Roster, chances: &[Chance], draws: Draws, nights: u32) -> Self {
        let missing = |night| -> Missing {
            let people = roster.people.iter().zip(chances).enumerate();
            let gone = people.filter(|(_, (person, chance))| draws.is_missing(night, &person.id, **chance));
            gone.map(|(ix, _)| PersonIx(ix)).collect()
        };
        Self::of((0..nights).map(missing).collect())
    }

    /// The list of these nights.
    fn of(nights: Vec<Missing>) -> Self {
        let cases: BTreeSet<(usize, &Missing)> = nights.iter().map(|missing| (missing.len(), missing)).collect();
        let place: BTreeMap<&Missing, usize> =
            cases.iter().enumerate().map(|(place, &(_, missing))| (missing, place)).collect();
        Self {
            nights: nights.iter().map(|missing| place[missing]).collect(),
            cases: cases.into_iter().map(|(_, missing)| missing.clone()).collect(),
        }
    }

    /// Every case, in order.
    #[must_use]
    pub fn cases(&self) -> &[Missing] {
        &self.cases
    }

    /// The case of each night, as an index into [`Self::cases`].
    #[must_use]
    pub fn nights(&self) -> &[usize] {
        &self.nights
    }

    /// How many nights there are of each case.
    #[must_use]
    pub fn counts(&self) -> Vec<u32> {
        let mut counts = vec![0; self.cases.len()];
        self.nights.iter().for_each(|&case| counts[case] += 1);
        counts
    }
}
