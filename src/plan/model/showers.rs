//! Columns and rows about shower places (F2). A night without limited places has none of them.
//!
//! A group's curve counts showers begun. Whoever is dressed in a slot has one begin later. Nobody needs two, and where
//! the night is solved whole nobody has two. Where it is improved window by window, a shower outside the window must
//! not keep a person from another wear inside it: there one may be followed by a wear and another shower. It holds a
//! place in the program and is none of the rota.

use crate::night::{Night, Rule};

use super::super::curve::Curve;
use super::super::program::{SMALL, Sum};
use super::{Grouping, Model};

impl Model {
    /// Adds the curves of those who wear a kit; the rows about people then count them.
    pub(super) fn add_shower_columns(&mut self, night: &Night) {
        let length = self.grid.up(night.limits.shower);
        for place in 0..self.groups.len() {
            let group = &self.groups[place];
            let ability = &group.ability;
            let Some(until) = ability.shower_until else { continue };
            let worn = [&ability.enter, &ability.assist, &ability.observe_in_kit].into_iter().flatten();
            let Some(first) = worn.map(|w| w.window.first + w.donning + w.removal).min() else { continue };
            let (n, last) = (group.count(), until - length);
            let in_all = n * i64::from((last - first + 1).max(0));
            self.duties[place].showers = Curve::new(&mut self.program, first, last, n, in_all);
        }
    }

    /// A shower after every wear, and a place for every shower.
    pub(super) fn add_shower_rows(&mut self, night: &Night) {
        let Some(places) = night.shower_places().filter(|_| self.grouping != Grouping::Entrants) else { return };
        let length = self.grid.up(night.limits.shower);
        let solved_whole = self.program.columns.len() <= SMALL;
        for place in 0..self.groups.len() {
            if solved_whole {
                let mut all = Sum::new();
                self.duties[place].showers.add_all(&mut all, 1);
                self.program.at_most(all, self.groups[place].count(), Rule::F2);
            }
            for slot in 0..self.grid.slots {
                let mut sum = self.dressed_now(night, place, slot);
                let showers = &self.duties[place].showers;
                showers.add_upto(&mut sum, slot, 1);
                showers.add_all(&mut sum, -1);
                self.program.at_most(sum, 0, Rule::F2);
            }
        }
        let ends = self.duties.iter().map(|duties| duties.showers.slots().end).max();
        for slot in 0..ends.unwrap_or(0) + length {
            let mut sum = Sum::new();
            self.duties.iter().for_each(|duties| duties.showers.add_between(&mut sum, slot - length, slot, 1));
            self.program.at_most(sum, i64::from(places), Rule::F2);
        }
    }
}
