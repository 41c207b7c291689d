//! The other parts of the program as the front end calls them.
//!
//! They are called through a trait so that the front end's own ways, and above
//! all what it does when the planner is wrong, can be tested without them.

use chrono::NaiveDate;

use super::files::Given;
use crate::check::{self, Review};
use crate::explain::Explained;
use crate::night::{Minute, Night, Rota};
use crate::plan::{self, Effort, Planned, Watch};

/// The files that make a night.
pub struct NightFiles {
    /// Tonight.
    pub roster: Given,
    /// The unit's limits.
    pub limits: Given,
    /// Personal limits.
    pub private: Option<Given>,
    /// The day on which they are looked at.
    pub today: NaiveDate,
}

/// What was read, and the warnings to tell; or what has to be put right first.
pub type Read<T> = Result<(T, String), String>;

/// One method for each part that the front end calls.
pub trait Parts {
    /// Reads roster, limits and personal limits.
    fn night(&self, files: &NightFiles) -> Read<Night>;
    /// Reads a rota.
    fn rota(&self, file: &Given, night: &Night) -> Read<Rota>;
    /// Plans.
    fn plan(&self, night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned;
    /// Checks.
    fn review(&self, night: &Night, rota: &Rota) -> Review;
    /// OUT-BY of every entry.
    fn out_by(&self, night: &Night, rota: &Rota) -> Vec<Minute>;
    /// Says why there are gaps and what closes them.
    fn explain(&self, night: &Night, rota: &Rota, review: &Review) -> Explained;
    /// Every key of the files.
    fn key_reference(&self) -> String;
    /// A page for every rule, each under a heading `## ID words`.
    fn rule_pages(&self) -> String;
}

/// The parts themselves.
pub struct Real;

impl Parts for Real {
    fn night(&self, files: &NightFiles) -> Read<Night> {
        let NightFiles { roster, limits, private, today } = files;
        let _ = (roster, limits, private, today);
        todo!("read::night")
    }

    fn rota(&self, file: &Given, night: &Night) -> Read<Rota> {
        let _ = (file, night);
        todo!("read::rota")
    }

    fn plan(&self, night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
        plan::plan(night, effort, watch)
    }

    fn review(&self, night: &Night, rota: &Rota) -> Review {
        check::review(night, rota)
    }

    fn out_by(&self, night: &Night, rota: &Rota) -> Vec<Minute> {
        check::out_by(night, rota)
    }

    fn explain(&self, night: &Night, rota: &Rota, review: &Review) -> Explained {
        let _ = (night, rota, review);
        todo!("explain::explain")
    }

    fn key_reference(&self) -> String {
        todo!("read::key_reference")
    }

    fn rule_pages(&self) -> String {
        todo!("check::rule_pages")
    }
}
