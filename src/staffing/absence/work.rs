//! Case after case is settled, all of them or a share.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::available_parallelism;

use super::list::Missing;
use super::outcome::{Outcome, outcome};
use crate::night::Night;
use crate::plan::{Effort, side_by_side};
use crate::staffing::Wrong;

/// How one case was settled.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Settled {
    /// Planned and checked.
    Planned(Outcome),
    /// Not planned: on a night with these and more people missing nothing is missed, so on this one neither.
    Follows,
}

impl Settled {
    /// Whether it was planned and misses nothing.
    #[must_use]
    pub fn is_planned_whole(&self) -> bool {
        matches!(self, Self::Planned(outcome) if outcome.missed.is_nothing())
    }
}

/// What is known so far, by the number of the case.
pub type Known = BTreeMap<usize, Settled>;

/// Which part of the cases is worked on: every `of`th from `number` on, so that each share has its part of the nights
/// with many people missing, which take longest.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Share {
    number: usize,
    of: usize,
}

impl Share {
    /// All of them.
    pub const WHOLE: Self = Self { number: 1, of: 1 };

    /// Number `number` of `of`, counted from 1; `None` where there is no such.
    #[must_use]
    pub const fn new(number: usize, of: usize) -> Option<Self> {
        if number == 0 || number > of { None } else { Some(Self { number, of }) }
    }

    /// Its number, from 1.
    #[must_use]
    pub const fn number(self) -> usize {
        self.number
    }

    /// Of how many.
    #[must_use]
    pub const fn of(self) -> usize {
        self.of
    }

    /// Whether this case belongs to it.
    #[must_use]
    pub const fn has(self, case: usize) -> bool {
        case % self.of == self.number - 1
    }
}

/// What is to be settled.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The night with everybody there.
    pub night: &'a Night,
    /// All cases, fewest missing first.
    pub cases: &'a [Missing],
    /// Which of them are settled here.
    pub share: Share,
    /// How long to look at each.
    pub effort: Effort,
}

/// Why a job ended before its end.
#[derive(Debug)]
pub enum Ended<E> {
    /// The check found a fault in a planned rota.
    Wrong(Box<Wrong>),
    /// Whoever was told of what is known said so.
    Told(E),
}

impl Job<'_> {
    /// Settles what is not known yet and tells `told` of all that is known, again and again and at the end.
    ///
    /// Cases with most people missing come first: where one of them misses nothing, those with fewer missing follow.
    /// Cases with the same number missing never follow from each other, so that what is known at the end depends
    /// neither on which of them was done first nor on where an earlier run was cut off.
    ///
    /// # Errors
    /// See [`Ended`].
    pub fn run<E>(
        &self,
        mut known: Known,
        told: &mut dyn FnMut(&Known, usize) -> Result<(), E>,
    ) -> Result<Known, Ended<E>> {
        let all: Vec<usize> = (0..self.cases.len()).filter(|&case| self.share.has(case)).collect();
        let threads = available_parallelism().map_or(1, usize::from);
        for alike in all.chunk_by(|&a, &b| self.cases[a].len() == self.cases[b].len()).rev() {
            let follows = |case: &usize| !known.contains_key(case) && self.follows(*case, &known);
            let following: Vec<usize> = alike.iter().copied().filter(follows).collect();
            known.extend(following.into_iter().map(|case| (case, Settled::Follows)));
            let open: Vec<usize> = alike.iter().copied().filter(|case| !known.contains_key(case)).collect();
            // Told of often enough that little is lost if the machine goes off.
            for some in open.chunks(4 * threads) {
                for (case, outcome) in self.planned(some, threads) {
                    known.insert(case, Settled::Planned(outcome.map_err(Ended::Wrong)?));
                }
                told(&known, all.len()).map_err(Ended::Told)?;
            }
        }
        told(&known, all.len()).map_err(Ended::Told)?;
        Ok(known)
    }

    /// Whether nothing is missed on a night that was planned with these and more people missing.
    fn follows(&self, case: usize, known: &Known) -> bool {
        let fewer: &BTreeSet<_> = &self.cases[case];
        let worse = known.iter().filter(|(other, settled)| **other != case && settled.is_planned_whole());
        worse.into_iter().any(|(&other, _)| fewer.is_subset(&self.cases[other]))
    }

    /// Plans some cases at once: each processor takes the next one that is left.
    fn planned(&self, some: &[usize], threads: usize) -> Vec<(usize, Result<Outcome, Box<Wrong>>)> {
        let next = AtomicUsize::new(0);
        let worker = || {
            let mut done = Vec::new();
            while let Some(&case) = some.get(next.fetch_add(1, Ordering::Relaxed)) {
                done.push((case, outcome(&self.night.with_missing(&self.cases[case]), self.effort)));
            }
            done
        };
        let mut done: Vec<_> = side_by_side((0..threads).map(|_| worker)).into_iter().flatten().collect();
        done.sort_by_key(|(case, _)| *case);
        done
    }
}
