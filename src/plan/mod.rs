//! The planner: from a night to a rota, level by level.

use crate::night::{Night, Rota};

/// A level of the objective, in the order in which they are solved (trade page 5.3).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Level {
    /// 2: uncovered person-minutes of one acuity class.
    Uncovered(u32),
    /// 3: longest single uncovered stretch of one acuity class.
    LongestStretch(u32),
    /// 4: must-do tasks not done.
    MustMissed,
    /// 4: minutes after the wanted time, must-do tasks done.
    MustLate,
    /// 5: wanted tasks not done.
    WantedMissed,
    /// 6: person-entries.
    Removals,
    /// A tie-break before the next level: spells of helpers in a kit.
    HelperRemovals,
    /// 10: largest cumulative wear of one person, minutes (weights applied, rounded up).
    LargestWear,
    /// 10: largest assistant and observer load of one person, minutes.
    LargestLoad,
    /// Tie-break: minutes dressed, waits and holds above all.
    MinutesDressed,
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

/// Why the search ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ended {
    /// Every level proven best, or the effort allowed was used: the same on every run.
    ByItself,
    /// The clock ran out: not covered by the promise of the same bytes.
    ByClock,
    /// The user stopped it.
    ByUser,
}

/// A planned rota, not yet checked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Planned {
    /// The rota.
    pub rota: Rota,
    /// Each level in order.
    pub levels: Vec<LevelResult>,
    /// Why the search ended.
    pub ended: Ended,
}

/// How long the planner may look.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Effort {
    /// Work units, the same on every machine.
    pub work: u64,
    /// A stop by the wall clock, if wanted.
    pub seconds: Option<u32>,
}

/// Plans the night. There is always a rota: entries that cannot be got out of are withheld.
///
/// `watch` hears of progress and may ask to stop.
pub fn plan(night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
    let _ = (night, effort, watch);
    todo!("the planner")
}

/// Someone who follows the search.
pub trait Watch {
    /// A better rota is known, or a level is settled: uncovered person-minutes
    /// so far, and what they cannot be below.
    fn progress(&mut self, uncovered: i64, at_least: i64);
    /// Whether to stop now with the best rota so far.
    fn stop(&self) -> bool;
}
