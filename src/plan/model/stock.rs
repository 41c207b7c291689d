//! Rows about kits on the kit (G1).

use std::collections::BTreeMap;

use crate::night::{EnsembleIx, Night, Rule};

use super::super::program::Sum;
use super::Model;

impl Model {
    /// One kit of the right size for every entry and every spell on post.
    pub(super) fn add_stock_rows(&mut self, night: &Night) {
        for ((ensemble, size), sum) in self.kits_taken() {
            let usable = night.roster.usable_kits(ensemble, &size);
            self.program.at_most(sum, i64::from(usable), Rule::G1);
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
