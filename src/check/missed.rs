//! What of all that was asked for a rota misses.

use super::Measures;
use crate::night::Minutes;

/// What a rota misses, in the order in which it matters: of two, the smaller is the better.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct Missed {
    /// Pins not kept.
    pub pins: u32,
    /// Minutes without somebody who could go in or see to an early exit, where the unit reports that.
    pub rescue: Minutes,
    /// Person-minutes of presence, a figure to each class in the order of the classes.
    pub uncovered: Vec<Minutes>,
    /// Must-do tasks not done.
    pub must: u32,
    /// Minutes times people by which skills are missing inside.
    pub skill: Minutes,
    /// Wanted tasks not done.
    pub wanted: u32,
}

impl Missed {
    /// Whether all that is asked for is there.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.pins == 0
            && self.rescue == Minutes::ZERO
            && self.person_minutes() == Minutes::ZERO
            && self.must == 0
            && self.skill == Minutes::ZERO
            && self.wanted == 0
    }

    /// Uncovered person-minutes of presence, all classes together.
    #[must_use]
    pub fn person_minutes(&self) -> Minutes {
        self.uncovered.iter().copied().sum()
    }

    /// Tasks not done, must-do or wanted.
    #[must_use]
    pub const fn tasks(&self) -> u32 {
        self.must + self.wanted
    }
}

impl Measures {
    /// What of this is something missed, and not how badly or how late.
    #[must_use]
    pub fn missed(&self) -> Missed {
        Missed {
            pins: self.pins_missed,
            rescue: self.rescue_missing,
            uncovered: self.uncovered.values().copied().collect(),
            must: self.must_missed,
            skill: self.skill_missing,
            wanted: self.wanted_missed,
        }
    }
}
