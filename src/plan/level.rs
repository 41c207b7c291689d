//! The levels of the objective and what a plan came to at each.

/// A level of the objective, in the order in which they are solved (trade page 5.3).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Level {
    /// Before all others: pins of the roster that are not kept.
    PinsMissed,
    /// 1: minutes short of standby while anyone is inside, where the unit reports it.
    RescueMissing,
    /// 2: uncovered person-minutes of one acuity class.
    Uncovered(u32),
    /// 3: longest single uncovered stretch of one acuity class, minutes.
    LongestStretch(u32),
    /// 4: must-do tasks not done.
    MustMissed,
    /// 4: minutes times people by which skills are missing inside.
    SkillMissing,
    /// 4: minutes after the wanted time, must-do tasks done.
    MustLate,
    /// 5: wanted tasks not done.
    WantedMissed,
    /// 6: person-entries.
    Removals,
    /// A tie-break before the next level: spells of helpers in a kit.
    HelperRemovals,
    /// 7: minutes of entrants' wear inside the unit's figure for spare, summed.
    SpareShort,
    /// 7: minutes dressed and waiting, at the door or for a lane.
    Waits,
    /// 8: removals of entrants that begin in low hours.
    LowHours,
    /// 9: minutes of breaks outside the preferred windows.
    BreaksOutside,
    /// 10: largest cumulative wear of one person, minutes: weights applied, rounded up.
    LargestWear,
    /// 10: largest assistant and observer load of one person, minutes.
    LargestLoad,
    /// Tie-break: minutes in any kit, which nothing needs to be longer.
    MinutesDressed,
    /// Tie-break: breaks, which are not counted for more than they are needed.
    Breaks,
}

impl Level {
    /// Whether it speaks of single people, so that only names can improve it.
    #[must_use]
    pub const fn is_about_one_person(self) -> bool {
        matches!(self, Self::LargestWear | Self::LargestLoad)
    }

    /// Whether it counts care that is missed.
    #[must_use]
    pub const fn is_care(self) -> bool {
        match self {
            Self::PinsMissed
            | Self::RescueMissing
            | Self::Uncovered(_)
            | Self::LongestStretch(_)
            | Self::MustMissed
            | Self::SkillMissing
            | Self::MustLate
            | Self::WantedMissed => true,
            Self::Removals
            | Self::HelperRemovals
            | Self::LargestWear
            | Self::LargestLoad
            | Self::SpareShort
            | Self::Waits
            | Self::LowHours
            | Self::BreaksOutside
            | Self::MinutesDressed
            | Self::Breaks => false,
        }
    }

    /// Whether it counts something asked for that is not there, and not how badly or how late.
    #[must_use]
    pub const fn is_missed(self) -> bool {
        self.is_care() && !matches!(self, Self::LongestStretch(_) | Self::MustLate)
    }

    /// Whether small changes to a whole night improve it: the same duties a
    /// little earlier or later, or other spells of helpers.
    #[must_use]
    pub const fn is_fine(self) -> bool {
        matches!(
            self,
            Self::HelperRemovals
                | Self::SpareShort
                | Self::Waits
                | Self::BreaksOutside
                | Self::MinutesDressed
                | Self::Breaks
        )
    }

    /// Whether only breaks decide it, all duties held.
    #[must_use]
    pub const fn is_about_breaks(self) -> bool {
        matches!(self, Self::BreaksOutside | Self::Breaks)
    }

    /// The value to report for the sum that is minimised: wear is minimised in
    /// hundredths of a minute, since weights are percent.
    #[must_use]
    pub const fn reported(self, sum: i64) -> i64 {
        match self {
            Self::LargestWear => sum.div_euclid(100) + (sum.rem_euclid(100) > 0) as i64,
            _ => sum,
        }
    }

    /// Whether it adds up over the night, so that a window of time can improve it.
    #[must_use]
    pub const fn is_local(self) -> bool {
        !self.is_about_one_person()
    }
}

/// What one level came to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LevelResult {
    /// Which level.
    pub level: Level,
    /// Its value in this rota: minutes, person-minutes or a count.
    pub value: i64,
    /// What it cannot be below, given the levels before; equal to `value` when proven best.
    pub at_least: i64,
}

impl LevelResult {
    /// Whether the value is proven best.
    #[must_use]
    pub const fn proven(&self) -> bool {
        self.value <= self.at_least
    }
}
