//! How much work is left, counted so that every machine stops at the same place.

use std::time::{Duration, Instant};

use super::interrupt::Stopped;
use super::level::Level;
use super::{Effort, Ended};

/// Processors that a search makes use of.
const PROCESSORS: usize = 2;

/// Work left and why the search ended.
#[derive(Clone)]
pub struct Budget {
    effort: Effort,
    processors: usize,
    left: u64,
    until: Option<Instant>,
    ended: Ended,
}

/// A part of the search that is given its own share of the work.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Share {
    /// Entrants alone.
    Entrants,
    /// Entrants alone: tie-breaks, which make entries no longer than they have to be.
    EntrantsTies,
    /// People counted together: what is missed, and removals.
    Counted,
    /// A loose night of people counted together, looked at as a whole.
    AtOnce,
    /// People counted together: tie-breaks.
    CountedTies,
    /// What the whole night cannot be below, from the relaxation of people counted together.
    Relaxation,
    /// The same from stretches of it.
    Stretches,
    /// Names besides, where people counted together have none: what they came to is in danger.
    Unnamed,
    /// People by name: what is missed, removals, and who carries most.
    Named,
    /// People by name besides, where something is missed that may not have to be.
    NamedCare,
    /// People by name: tie-breaks.
    NamedTies,
}

/// Work units of building without which it comes to little, however little was allowed,
const BUILT_AT_LEAST: u64 = 1_000;

/// and after which windows gain more.
const BUILT_ENOUGH: u64 = 10_000;

/// What is tried besides building a rota duty by duty.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Besides {
    /// Windows in which people who are alike are counted together, or there are few people: they gain much.
    Counts,
    /// The same, and the night as a whole once little is missed: it takes no more building then.
    Whole,
    /// Only windows of many single people: narrow, they gain little.
    Names,
    /// Nothing: all the time there is goes into building.
    Nothing,
}

impl Share {
    const fn percent(self) -> u64 {
        match self {
            Self::Entrants | Self::AtOnce | Self::NamedCare => 40,
            Self::Counted | Self::Unnamed => 30,
            Self::Relaxation => 25,
            Self::Stretches | Self::CountedTies => 10,
            Self::Named | Self::NamedTies => 7,
            Self::EntrantsTies => 6,
        }
    }
}

impl Budget {
    /// Nothing may be tried before a share is given.
    pub fn new(effort: Effort) -> Self {
        let until = effort.seconds.map(|s| Instant::now() + Duration::from_secs(u64::from(s)));
        Self { effort, processors: PROCESSORS, left: 0, until, ended: Ended::ByItself }
    }

    /// What is left, for one of several attempts that are made side by side, each on one processor.
    pub fn for_one(&self) -> Self {
        Self { processors: 1, ..self.clone() }
    }

    /// How many things are done at once.
    pub fn processors(&self) -> usize {
        self.processors
    }

    /// Adds a share of the work; what was left of earlier ones stays.
    pub fn give(&mut self, share: Share) {
        self.left += self.share(share);
    }

    /// Leaves no less than so much, however little was allowed.
    pub fn at_least(&mut self, work: u64) {
        self.left = self.left.max(work);
    }

    /// Work for one window: more where care is at stake or people are shared out.
    pub fn part(&self, level: Level, by_name: bool) -> u64 {
        let usual = match level {
            Level::MustLate => self.left / 6,
            // By name there are more windows, and wider ones after them.
            _ if level.is_care() => self.left / if by_name { 4 } else { 2 },
            _ if level.is_about_one_person() => self.left / 3,
            _ => 0,
        };
        usual.max(self.left.min(2_500))
    }

    /// Work for building a rota duty by duty, by each of two.
    pub fn building(&self, besides: Besides) -> u64 {
        let part = self.effort.work / 100;
        match besides {
            Besides::Counts | Besides::Whole => (40 * part).clamp(BUILT_AT_LEAST, BUILT_ENOUGH),
            Besides::Names => 120 * part,
            // A unit of it takes a third as long there.
            Besides::Nothing => 270 * part,
        }
    }

    /// A share of the work, whatever has been spent.
    pub fn share(&self, share: Share) -> u64 {
        self.effort.work / 100 * share.percent()
    }

    /// Work for one of so many stretches, looked at two at a time.
    pub fn stretch(&self, stretches: usize) -> u64 {
        let turns = u64::try_from(stretches.div_ceil(2)).unwrap_or(u64::MAX).max(1);
        self.share(Share::Stretches) / turns
    }

    /// Work for one attempt on the whole night.
    pub fn whole(&self) -> u64 {
        self.left / 2
    }

    /// Work that may still be spent.
    pub fn left(&self) -> u64 {
        self.left
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

    /// Books solves that ran side by side, each with its work and why it ended.
    pub fn spend_side_by_side(&mut self, solves: &[(u64, Option<Stopped>)]) {
        // The processor that is busy longest says how much time has gone.
        let mut busy = vec![0; self.processors];
        for &(work, _) in solves {
            *busy.iter_mut().min().expect("there is a processor") += work;
        }
        self.spend(busy.into_iter().max().unwrap_or(0), None);
        // Each says why it ended: one that used up its work must not hide one that the clock stopped.
        solves.iter().for_each(|&(_, stopped)| self.spend(0, stopped));
    }

    /// Books attempts that were made side by side: what is left of each.
    pub fn spend_attempts(&mut self, attempts: &[Self]) {
        let stopped = |attempt: &Self| match attempt.ended {
            Ended::ByItself => None,
            Ended::ByClock => Some(Stopped::Clock),
            Ended::ByUser => Some(Stopped::Asked),
        };
        let spent = attempts.iter().map(|attempt| (self.left - attempt.left, stopped(attempt)));
        self.spend_side_by_side(&spent.collect::<Vec<_>>());
    }

    /// Why the search ended.
    pub fn ended(&self) -> Ended {
        self.ended
    }
}
