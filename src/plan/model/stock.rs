//! Rows about kits on the shelf (G1) and respirators in turn (G2).

use std::collections::{BTreeMap, BTreeSet};

use crate::night::{EnsembleIx, Night, Rule};

use super::super::ability::Wearing;
use super::super::grid::Slot;
use super::super::program::{Sum, in_slot};
use super::{Duties, Model};

impl Model {
    /// One kit of the right size for every entry and every spell on post.
    pub(super) fn add_stock_rows(&mut self, night: &Night) {
        for ((ensemble, size), sum) in self.kits_taken() {
            let usable = night.roster.usable_kits(ensemble, &size);
            self.program.at_most(sum, i64::from(usable), Rule::G1);
        }
        self.add_respirator_rows(night);
    }

    /// In every slot no more units are worn, in the wash or on charge, or kept for whoever stands by, than are there.
    fn add_respirator_rows(&mut self, night: &Night) {
        let worn = self.duties.iter().flat_map(Duties::wearings).filter_map(|wearing| wearing.respirator.as_ref());
        let in_turn = worn.filter(|worn| worn.in_turn.is_some());
        let kinds: BTreeSet<(String, Option<String>)> = in_turn.map(|w| (w.model.clone(), w.size.clone())).collect();
        for (model, size) in kinds {
            for slot in 0..self.grid.slots {
                let mut sum = Sum::new();
                for duties in &self.duties {
                    add_in_use(&mut sum, duties, (&model, size.as_deref()), slot);
                }
                let there = night.roster.respirator_units(&model, size.as_deref(), self.grid.minute(slot));
                self.program.at_most(sum, i64::from(there), Rule::G2);
            }
        }
    }

    /// Kits taken over the whole night, by ensemble and size.
    pub(super) fn kits_taken(&self) -> BTreeMap<(EnsembleIx, String), Sum> {
        let mut taken: BTreeMap<(EnsembleIx, String), Sum> = BTreeMap::new();
        for duties in &self.duties {
            if let Some(entering) = &duties.entering {
                let kit = (entering.wearing.ensemble, entering.wearing.size.clone());
                let sum = taken.entry(kit).or_default();
                entering.rooms.iter().for_each(|visits| visits.don.add_all(sum, 1));
            }
            for posting in duties.assisting.iter().chain(&duties.observing) {
                let kit = (posting.wearing.ensemble, posting.wearing.size.clone());
                posting.don.add_all(taken.entry(kit).or_default(), 1);
            }
        }
        taken
    }
}

/// Adds the units of a model and size that a group wears in a slot, has in the wash or on charge, or keeps standing by.
fn add_in_use(sum: &mut Sum, duties: &Duties, (model, size): (&str, Option<&str>), slot: Slot) {
    let mine = |wearing: &Wearing| {
        let worn = wearing.respirator.clone().filter(|w| w.model == model && w.size.as_deref() == size)?;
        Some((worn.before, wearing.removal + worn.in_turn?.turnaround))
    };
    if let Some(entering) = &duties.entering
        && let Some((before, back)) = mine(&entering.wearing)
    {
        for visits in &entering.rooms {
            visits.don.add_upto(sum, slot - before, 1);
            visits.removal.iter().for_each(|curve| curve.add_upto(sum, slot - back, -1));
        }
        sum.terms.extend(in_slot(&duties.standing_by, slot).map(|col| (col, 1)));
    }
    for posting in duties.assisting.iter().chain(&duties.observing) {
        if let Some((before, back)) = mine(&posting.wearing) {
            posting.don.add_upto(sum, slot - before, 1);
            posting.removals().for_each(|curve| curve.add_upto(sum, slot - back, -1));
        }
    }
}
