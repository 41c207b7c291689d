//! Nights for the benchmark: named, fixed, the same text on every machine.
//!
//! `Named -> Unit (drawn from a seed) -> roster.toml and constraints.toml -> read like any files`

mod draw;
mod limits;
mod named;
mod roster;
mod trial;
mod unit;

use std::fs;
use std::path::Path;

use anteroom::night::Night;
use anteroom::read::{self, Source};
use chrono::NaiveDate;

pub use named::{Named, all};
pub use unit::{Family, Tightness};

/// A night as its two files.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Files {
    /// `roster.toml`.
    pub roster: String,
    /// `constraints.toml`.
    pub limits: String,
}

impl Files {
    /// The files of an example in `rosters/` and `constraints/`.
    pub fn of_example(roster: &str, limits: &str) -> Result<Self, String> {
        let text = |folder: &str, name: &str| {
            let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder).join(format!("{name}.toml"));
            fs::read_to_string(&path).map_err(|error| format!("{}: cannot be read: {error}", path.display()))
        };
        Ok(Self { roster: text("rosters", roster)?, limits: text("constraints", limits)? })
    }

    /// Reads them as the program does.
    ///
    /// # Errors
    /// Everything the reader found, as it is shown to users.
    pub fn night(&self) -> Result<Night, String> {
        let today = NaiveDate::from_ymd_opt(2031, 3, 1).ok_or("no such day")?;
        let roster = Source::new("roster.toml", self.roster.as_bytes());
        let limits = Source::new("constraints.toml", self.limits.as_bytes());
        let reading = read::night(&roster, &limits, None, today);
        reading.map(|(night, _)| night).map_err(|findings| findings.render())
    }
}
