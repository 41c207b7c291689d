//! Respirators that come back into use (G2).

use super::Night;
use super::clock::{Minute, Minutes};
use super::constraint_set::{ConstraintSet, EnsembleIx};
use super::roster::{FitTest, PersonIx, Roster};

/// A respirator model of which each unit is worn, cleaned, charged and worn again.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Respirator {
    /// Its name, as ensembles list it.
    pub model: String,
    /// How long a charged unit runs; `None` for one without a battery.
    pub run: Option<Minutes>,
    /// The unit's margin below that.
    pub run_margin: Minutes,
    /// From the last item off until a unit is clean and checked.
    pub reprocess: Minutes,
    /// And charged again after that; zero where batteries are swapped.
    pub charge: Minutes,
}

impl Respirator {
    /// From the last item off until somebody else may put the unit on.
    #[must_use]
    pub fn turnaround(&self) -> Minutes {
        self.reprocess + self.charge
    }

    /// The longest that a unit may run: from the moment it is put on to the last item off.
    #[must_use]
    pub fn longest_run(&self) -> Option<Minutes> {
        self.run.map(|run| run - self.run_margin)
    }
}

impl ConstraintSet {
    /// The model of that name, where its units come back into use.
    #[must_use]
    pub fn respirator(&self, model: &str) -> Option<&Respirator> {
        self.respirators.iter().find(|r| r.model == model)
    }

    /// Whether units of some model worn with an ensemble come back into use: a rota then says which model is worn.
    #[must_use]
    pub fn says_respirator(&self, ensemble: EnsembleIx) -> bool {
        self.ensemble(ensemble).respirators.iter().any(|model| self.respirator(model).is_some())
    }
}

impl Roster {
    /// Units of a model, of one size or of any, that are on the shelf and ready by a minute if none is in use.
    #[must_use]
    pub fn respirator_units(&self, model: &str, size: Option<&str>, at: Minute) -> u32 {
        let here = self.respirators.iter().filter(|r| r.respirator == model && size.is_none_or(|size| size == r.size));
        here.filter(|r| r.ready_from.is_none_or(|ready| ready <= at)).map(|r| r.count).sum()
    }
}

impl Night {
    /// In which size a person wears a model: that of the fit test in stock that lasts longest. `Err` where they have
    /// none, `Ok(None)` where the ensemble needs none and the model comes in any size that is in stock.
    ///
    /// # Errors
    /// The person cannot wear the model.
    pub fn respirator_size(
        &self,
        person: PersonIx,
        ensemble: EnsembleIx,
        model: &str,
    ) -> Result<Option<&FitTest>, NoFit> {
        let stocked = |size: Option<&str>| {
            let rows = self.roster.respirators.iter().filter(|r| r.respirator == model && r.count > 0);
            rows.into_iter().any(|r| size.is_none_or(|size| size == r.size))
        };
        if !self.limits.ensemble(ensemble).fit_test {
            return if stocked(None) { Ok(None) } else { Err(NoFit) };
        }
        let tests = self.roster.person(person).fit_tests.iter();
        let mine = tests.filter(|test| test.respirator == model && stocked(Some(&test.size)));
        // Of two that last as long the first.
        mine.rev().max_by_key(|test| test.valid_through).map(Some).ok_or(NoFit)
    }

    /// The first model in the ensemble's order of choice that a person can wear, where a rota has to say one.
    #[must_use]
    pub fn first_respirator(&self, person: PersonIx, ensemble: Option<EnsembleIx>) -> Option<String> {
        let ensemble = ensemble.filter(|&ensemble| self.limits.says_respirator(ensemble))?;
        let mut models = self.limits.ensemble(ensemble).respirators.iter();
        models.find(|model| self.respirator_size(person, ensemble, model).is_ok()).cloned()
    }
}

/// No fit test of a model, or none of it in stock.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct NoFit;
