//! The nights that are looked at, and those among them that are alike.

use std::collections::{BTreeMap, BTreeSet};

use super::draw::{Chance, Draws};
use crate::night::{PersonIx, Roster};

/// People missing on one night.
pub type Missing = BTreeSet<PersonIx>;

/// Some of the people of a roster who are on duty together. Crews that are compared are on one roster, so that a night
/// on which the same people are there is the same night whichever crew it belongs to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Crew {
    /// Its name in the answer.
    pub name: String,
    /// Those of the roster who do not belong to it.
    pub without: Missing,
}

/// The nights of some crews: each is one of some cases, which differ in who is not there.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct List {
    /// Who is not there, case by case: fewest first, then in the order of the roster. The same set stands once.
    cases: Vec<Missing>,
    /// The case of each night, crew by crew.
    nights: Vec<Vec<usize>>,
}

impl List {
    /// Draws `nights` nights for each crew. `chances` has one for each person of the roster, in its order.
    #[must_use]
    pub fn drawn(roster: &Roster, crews: &[Crew], chances: &[Chance], draws: Draws, nights: u32) -> Self {
        let gone = |night| -> Missing {
            let people = roster.people.iter().zip(chances).enumerate();
            let gone = people.filter(|(_, (person, chance))| draws.is_missing(night, &person.id, **chance));
            gone.map(|(ix, _)| PersonIx(ix)).collect()
        };
        let gone: Vec<Missing> = (0..nights).map(gone).collect();
        let of_crew = |crew: &Crew| gone.iter().map(|gone| gone | &crew.without).collect();
        Self::of(&crews.iter().map(of_crew).collect::<Vec<_>>())
    }

    /// The list of these nights, crew by crew.
    fn of(nights: &[Vec<Missing>]) -> Self {
        let cases: BTreeSet<(usize, &Missing)> = nights.iter().flatten().map(|gone| (gone.len(), gone)).collect();
        let place: BTreeMap<&Missing, usize> =
            cases.iter().enumerate().map(|(place, &(_, missing))| (missing, place)).collect();
        Self {
            nights: nights.iter().map(|crew| crew.iter().map(|missing| place[missing]).collect()).collect(),
            cases: cases.into_iter().map(|(_, missing)| missing.clone()).collect(),
        }
    }

    /// Every case, in order.
    #[must_use]
    pub fn cases(&self) -> &[Missing] {
        &self.cases
    }

    /// The case of each night of a crew, as an index into [`Self::cases`].
    #[must_use]
    pub fn nights(&self, crew: usize) -> &[usize] {
        &self.nights[crew]
    }

    /// How many nights there are of each case, all crews together.
    #[must_use]
    pub fn counts(&self) -> Vec<u32> {
        let mut counts = vec![0; self.cases.len()];
        self.nights.iter().flatten().for_each(|&case| counts[case] += 1);
        counts
    }
}
