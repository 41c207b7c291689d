//! Where each stage of the search starts from: a rota built duty by duty, and what the stage before came to, handed
//! over to a finer grouping of people.

use std::time::{Duration, Instant};

use crate::night::Night;

use super::budget::Besides;
use super::construct::{Builder, PATIENCE, Score, Visit, visits};
use super::encode::measured;
use super::handout::{Follow, Handed, counts, doors, handed};
use super::interrupt::Stopped;
use super::loose::misses_little;
use super::model::{Grouping, Model};
use super::program::{SMALL, Sum};
use super::search::Search;
use super::side_by_side::side_by_side;
use super::solve::{Limit, Way};
use super::thin::{around_doors, on_beat};

/// Work units allowed for handing a solution over to the next stage.
const HANDING_OVER: u64 = 12_000;

/// Time beyond the clock for handing a solution over to the next stage.
const OVERTIME: Duration = Duration::from_secs(3);

/// Two rotas are built by different chance.
const SEEDS: [u64; 2] = [1, 2];

/// How many times a rota under construction is told of while it gets better.
const ROUNDS: u64 = 6;

/// What a minute of care missed weighs beside a minute dressed when a stage is handed over.
const CARE_WEIGHS: i64 = 1_000;

/// The best of some points by the levels of care that need no columns of their own, the first of equal ones; nobody
/// enters where there is none.
pub(super) fn better<const N: usize>(night: &Night, model: &Model, points: [Option<Vec<i64>>; N]) -> Vec<i64> {
    let best = points.into_iter().flatten().min_by_key(|point| model.ranking(night, point));
    best.unwrap_or_else(|| Search::nobody_enters(model))
}

impl Search<'_> {
    /// A rota built duty by duty, as a point of the model of single people: the better of two that differ by chance, over
    /// and over.
    pub(super) fn built(&mut self, single: &Model, besides: Besides) -> Option<Vec<i64>> {
        self.built_by(single, &[], besides)
    }

    /// The same along the doors that people counted together came to.
    pub(super) fn built_along(&mut self, single: &Model, counted: &Model, point: &[i64]) -> Option<Vec<i64>> {
        self.built_by(single, &visits(counted, point, single), Besides::Counts)
    }

    fn built_by(&mut self, single: &Model, visits: &[Visit], besides: Besides) -> Option<Vec<i64>> {
        let night = self.night;
        let mut builders = Builder::begin(night, single, SEEDS, visits);
        let best = |builders: &[Builder]| {
            let mut better: Vec<&Builder> = builders.iter().collect();
            better.sort_by_key(|builder| builder.worth());
            better.into_iter().find_map(|builder| measured(night, single, &builder.best()))
        };
        let mut point = best(&builders)?;
        self.found(single, &point);
        let work = self.budget.building(besides);
        let patience = if matches!(besides, Besides::Counts | Besides::Whole) { PATIENCE } else { work };
        for round in 1..=ROUNDS {
            let is_enough = besides == Besides::Whole && misses_little(night, single, &point);
            if is_enough || builders.iter().any(Builder::is_covered) || single.program.columns.len() <= SMALL {
                break;
            }
            let before: Vec<Score> = builders.iter().map(Builder::worth).collect();
            let stopped = self.improved(&mut builders, work / ROUNDS * round, patience);
            // To measure a rota takes longer than to see that it is the same.
            if builders.iter().map(Builder::worth).ne(before) {
                point = best(&builders)?;
                self.found(single, &point);
            }
            if stopped {
                break;
            }
            if builders.iter().any(|builder| builder.worth() != builders[0].worth()) {
                builders.sort_by_key(Builder::worth);
                builders.truncate(1);
                builders.push(builders[0].by_another_chance(SEEDS[1] + round));
            }
        }
        Some(point)
    }

    /// Has each builder go on to so much work in all, side by side. Says whether the clock or the user stopped them.
    fn improved(&mut self, builders: &mut [Builder], work: u64, patience: u64) -> bool {
        let (until, watch) = (self.budget.until(), &*self.watch);
        let stop = || watch.stop() || until.is_some_and(|until| Instant::now() >= until);
        side_by_side(builders.iter_mut().map(|builder| || builder.improve(work, patience, &stop)));
        self.is_stopped()
    }

    /// Whether the clock or the user stops the search here; it is booked.
    pub(super) fn is_stopped(&mut self) -> bool {
        let asked = self.watch.stop();
        let stopped = asked || self.budget.until().is_some_and(|until| Instant::now() >= until);
        if stopped {
            self.budget.spend(0, Some(if asked { Stopped::Asked } else { Stopped::Clock }));
        }
        stopped
    }

    /// Hands a solution over to a finer model, in the first of some ways in which it can be done.
    pub(super) fn hand_over(&mut self, from: &Model, point: &[i64], to: &Model, follow: &[Follow]) -> Option<Vec<i64>> {
        follow.iter().find_map(|&follow| {
            let handed = handed_over(self.night, (from, point), to, follow, HANDING_OVER, self.overtime());
            self.budget.spend(handed.work, None);
            handed.point
        })
    }

    /// When the clock has run out so long ago that what was found so far is given up: it is worth some time.
    pub(super) fn overtime(&self) -> Option<Instant> {
        self.budget.until().map(|until| until + OVERTIME)
    }
}

/// A solution handed over to a finer model in one way, within so many work units.
pub(super) fn handed_over(
    night: &Night,
    (from, point): (&Model, &[i64]),
    to: &Model,
    follow: Follow,
    work: u64,
    until: Option<Instant>,
) -> Handed {
    let counts = counts(from, from, point);
    let beat = match to.grouping {
        Grouping::Alike => around_doors(night, to, doors(&counts, follow.near())),
        Grouping::Entrants | Grouping::Single => on_beat(night, to),
    };
    let mut sum = Sum::new();
    sum.add_sum(&to.care_missed(night), CARE_WEIGHS);
    if follow.is_exact() {
        sum.add_sum(&to.minutes_dressed(), 1);
    }
    let limit = Limit { work, until, way: Way::Briefly, asked: &|| false };
    handed((from, &counts), to, follow, &beat, &sum, &limit)
}
