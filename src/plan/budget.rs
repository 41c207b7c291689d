//! How much work is left, counted so that every machine stops at the same place.

use std::time::{Duration, Instant};

use super::interrupt::Stopped;
use super::{Effort, Ended};

/// Work left and why the search ended.
pub struct Budget {
    left: u64,
    /// Kept back for the last tie-break, which takes out waits that nothing needs.
    kept: u64,
    until: Option<Instant>,
    ended: Ended,
}

impl Budget {
    /// A full budget.
    pub fn new(effort: Effort) -> Self {
        let until = effort.seconds.map(|s| Instant::now() + Duration::from_secs(u64::from(s)));
        let kept = effort.work / 2;
        Self { left: effort.work - kept, kept, until, ended: Ended::ByItself }
    }

    /// Makes half of what is still kept back available.
    pub fn release(&mut self) {
        let half = self.kept / 2;
        self.kept -= half;
        self.left += half;
    }

    /// Work for one window.
    pub fn part(&self) -> u64 {
        self.left.min(2_500)
    }

    /// Work for one attempt on the whole night.
    pub fn whole(&self) -> u64 {
        self.left / 8
    }

    /// When the clock runs out.
    pub fn until(&self) -> Option<Instant> {
        self.until
    }

    /// Whether nothing more may be tried.
    pub fn is_spent(&self) -> bool {
        self.left == 0 || self.ended != Ended::ByItself
    }

    /// Books one solve.
    pub fn spend(&mut self, work: u64, stopped: Option<Stopped>) {
        self.left = self.left.saturating_sub(work);
        match stopped {
            Some(Stopped::Clock) => self.ended = Ended::ByClock,
            Some(Stopped::Asked) => self.ended = Ended::ByUser,
            Some(Stopped::Work) | None => {}
        }
    }

    /// Why the search ended.
    pub fn ended(&self) -> Ended {
        self.ended
    }
}
