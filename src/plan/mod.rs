//! The planner: from a night to a rota, level by level.

mod ability;
mod bound;
mod budget;
mod construct;
mod curve;
mod encode;
mod fewest;
mod grid;
mod handout;
mod interrupt;
mod level;
mod loose;
mod mend;
mod model;
mod names;
mod naming;
mod on_call;
mod part;
mod program;
mod respirators;
mod search;
mod side_by_side;
mod slide;
mod solve;
mod start;
mod stated;
mod thin;
mod tolerance;

use crate::night::{Night, Rota};

use search::Aim;

pub use fewest::{Fewest, Want, fewest};
pub use level::{Level, LevelResult};
pub use mend::mend;
pub use side_by_side::side_by_side;
pub use stated::{
    Counted, Stated, StatedColumn, StatedLevel, StatedNight, StatedRow, levels_in_order, relaxed_least, stated,
    stated_named, stated_night, stated_rotas, stated_stretches_hold,
};

/// What a minute without somebody who could go in weighs beside uncovered person-minutes, where one figure is needed.
pub const RESCUE_COUNTS: i64 = 1_000;

/// What a must-do task not done weighs beside uncovered person-minutes, where
/// one figure is needed to steer by. Levels are never mixed in what is reported.
pub const MUST_COUNTS: i64 = 240;

/// The same for a wanted task.
pub const WANTED_COUNTS: i64 = 60;

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

/// Someone who follows the search; asked whether to stop from two threads at once.
pub trait Watch: Sync {
    /// A better rota is known, or a level is settled: uncovered person-minutes
    /// so far, and what they cannot be below.
    fn progress(&mut self, uncovered: i64, at_least: i64);
    /// A complete rota is known: an early one, or a better one. It has not been checked yet.
    fn found(&mut self, _rota: &Rota) {}
    /// Whether to stop now with the best rota so far.
    fn stop(&self) -> bool;
}

/// Nobody follows the search and nobody stops it.
pub struct Unwatched;

impl Watch for Unwatched {
    fn progress(&mut self, _uncovered: i64, _at_least: i64) {}

    fn stop(&self) -> bool {
        false
    }
}

/// Passes on whether to stop, from several searches at once; what each of them finds is not followed.
pub struct Asked<'a>(pub &'a dyn Watch);

impl Watch for Asked<'_> {
    fn progress(&mut self, _uncovered: i64, _at_least: i64) {}

    fn stop(&self) -> bool {
        self.0.stop()
    }
}

/// Plans the night. There is always a rota: entries that cannot be got out of are withheld.
pub fn plan(night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
    search::search(night, Aim::Rota, effort, watch)
}

/// Plans the night only as far as it matters whether people are enough: no level but those of what is missed
/// ([`Level::is_missed`]) is looked at, and the search ends when nothing is. Much quicker than [`plan`] where a crew
/// is enough. The rota keeps every rule, and is not one for the wall.
pub fn cover(night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
    search::search(night, Aim::Cover, effort, watch)
}
