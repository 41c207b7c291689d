//! How often a crew covers the night: the terminal, CSV, JSON, the list of nights and the results of a share.
//!
//! Nothing here names a person or tells a single one apart: people are counted, by crew and by role.

pub mod csv;
pub mod json;
pub mod results;
pub mod terminal;
pub mod words;

use chrono::NaiveDate;

use crate::night::Night;
use crate::show::warnings::is_overdue;
use crate::staffing::absence::answer::Answers;
use crate::staffing::absence::draw::Chance;
use crate::staffing::absence::list::Crew;

/// How often people are taken to be missing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum How {
    /// Everybody alike.
    Alike(Chance),
    /// Each as in a history; `others` people who are not in it as said for them.
    History {
        /// How many of the roster are not in it.
        others: usize,
        /// How often those are missing.
        chance: Option<Chance>,
    },
}

/// The answer with all that it was worked out from.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    /// The night with everybody there.
    pub night: &'a Night,
    /// The crews that were looked at.
    pub crews: &'a [Crew],
    /// What they come to, parallel to the crews.
    pub answers: &'a Answers,
    /// How often people are taken to be missing.
    pub how: How,
    /// Which nights were drawn.
    pub seed: u64,
    /// Work units allowed for each.
    pub effort: u64,
    /// Whether a file beside roster and limits is marked EXAMPLE.
    pub example: bool,
    /// The day on which this is looked at.
    pub today: NaiveDate,
}

impl View<'_> {
    /// How many nights were drawn.
    #[must_use]
    pub fn nights(&self) -> u32 {
        self.answers.crews.first().map_or(0, |answer| answer.all.nights)
    }

    /// Whether anything it was made from is an example.
    #[must_use]
    pub const fn is_training(&self) -> bool {
        self.example || self.night.roster.example || self.night.limits.example
    }

    /// Whether the limits are past their review.
    #[must_use]
    pub fn review_is_overdue(&self) -> bool {
        is_overdue(self.night, self.today)
    }
}
