//! The order in which a rota is built, and how it is improved.

use std::cmp::Ordering;
use std::collections::BTreeSet;
use std::ops::Range;

use fastrand::Rng;

use crate::night::{Night, Relief};

use super::super::grid::Slot;
use super::super::model::{Model, is_rescue_needed};
use super::super::program::Place;
use super::super::side_by_side::side_by_side;
use super::crew::Crew;
use super::duty::Duty;
use super::follow::Visit;
use super::ledger::Missed;
use super::score::{Demand, Score};

/// Work units after which a first rota is told of,
const FIRST: u64 = 500;

/// and for what is built on from there, before parts of it are built anew, where somebody has to be left for a rescue at
/// every step.
const REST: u64 = 3_000;

/// Work units for building a stretch anew, or a part of what the first rota took: what takes longer is hardly ever
/// worth it.
const ANEW: u64 = 100;

/// Which part of it.
const OF_FIRST: u64 = 10;

/// Work units for which nothing better may be found, besides as many as the best rota took, where others may still
/// find something.
pub const PATIENCE: u64 = 6_000;

/// Slots beside a stretch in which what was taken out may be made up for.
const NEAR: Slot = 12;

/// Row changes that count as one unit of work.
const CHANGES: u64 = 100_000;

/// Row changes' worth of time that one look around takes at least.
const LOOK: u64 = CHANGES / 50;

/// A rota under construction, and the best one so far.
#[derive(Clone)]
pub struct Builder<'m> {
    pub(super) crew: Crew<'m>,
    demand: Demand,
    now: Score,
    best: (Score, Duty),
    /// Work units that had been spent when the best was found.
    best_at: u64,
    /// Work units that a stretch built anew may take.
    anew: u64,
    /// Whether all of the night was looked at.
    is_whole: bool,
    /// Where parts are built anew.
    pub(super) within: Range<Slot>,
}

impl<'m> Builder<'m> {
    /// Builds a first rota for each seed, side by side, along a timetable of visits as far as names can be found for it.
    /// None where nothing can be built this way. Nor is relief one by one: pairs are planned in, and who relieves them one
    /// by one asks for one of them to leave a little earlier.
    pub fn begin<const N: usize>(night: &'m Night, model: &'m Model, seeds: [u64; N], visits: &[Visit]) -> Vec<Self> {
        if night.limits.relief == Relief::OneByOne {
            return vec![];
        }
        let Some(nobody) = Crew::new(night, model) else { return vec![] };
        let begin = |seed| {
            let (mut crew, demand) = (nobody.by_another_chance(seed), Demand::of(night, model));
            crew.follow(visits);
            crew.fill(&demand, 0..model.grid.slots, FIRST * CHANGES);
            let mut builder = Self::take_up(crew, demand);
            builder.is_whole = builder.work() < FIRST;
            builder
        };
        let begin = &begin;
        side_by_side(seeds.map(|seed| move || begin(seed)))
    }

    /// Goes on from a rota as it stands.
    pub(super) fn take_up(mut crew: Crew<'m>, demand: Demand) -> Self {
        let now = crew.score(&demand);
        crew.ledger.forget();
        let (best, within) = ((now.clone(), crew.duty.clone()), 0..crew.model.grid.slots);
        let mut builder = Self { crew, demand, now, best, best_at: 0, anew: ANEW, is_whole: true, within };
        builder.begin_anew();
        builder
    }

    /// The same rota, built on by another chance.
    pub fn by_another_chance(&self, seed: u64) -> Self {
        let mut other = self.clone();
        other.crew.rng = Rng::with_seed(seed);
        other
    }

    /// What the best rota so far is worth.
    pub fn worth(&self) -> Score {
        self.best.0.clone()
    }

    /// Whether nobody is missing and every task is done. Whether one could be done sooner is left to the solver.
    pub fn is_covered(&self) -> bool {
        self.missed() == 0
    }

    /// Takes a part out and builds it anew, over and over, until so much work is done in all, or none of it for so long
    /// found anything better.
    pub fn improve(&mut self, work: u64, patience: u64, stop: &dyn Fn() -> bool) {
        if !self.is_whole {
            self.build_on();
        }
        self.crew.anew = true;
        let hopeless = |builder: &Self| builder.work() > 2 * builder.best_at + patience;
        while self.work() < work && !stop() && !self.is_covered() && !hopeless(self) {
            self.build_a_part_anew();
        }
    }

    /// What the best rota so far misses, in minutes.
    pub(super) fn missed(&self) -> i64 {
        self.demand.missed(&self.best.0)
    }

    /// Takes parts out and builds them anew until no more than so much is missed, or so much more work is done.
    pub(super) fn improve_to(&mut self, missed: i64, work: u64) {
        let until = self.work() + work;
        self.crew.anew = true;
        while self.work() < until && self.missed() > missed {
            self.build_a_part_anew();
        }
    }

    /// Goes on from the first rota to the end of the night.
    fn build_on(&mut self) {
        let rest = if is_rescue_needed(self.crew.night) { REST * CHANGES } else { u64::MAX };
        self.crew.fill(&self.demand, 0..self.crew.model.grid.slots, rest);
        self.crew.ledger.forget();
        self.now = self.crew.score(&self.demand);
        if self.now < self.best.0 {
            self.best = (self.now.clone(), self.crew.duty.clone());
        }
        self.is_whole = true;
        self.begin_anew();
    }

    /// Counts patience, and what a part may take, from what it took so far.
    fn begin_anew(&mut self) {
        self.best_at = self.work();
        self.anew = ANEW.max(self.best_at / OF_FIRST);
    }

    fn build_a_part_anew(&mut self) {
        let (before, mark) = (self.crew.duty.clone(), self.crew.ledger.mark());
        let sound = self.take_a_part_out().is_some();
        let (crew, demand) = (&mut self.crew, &self.demand);
        let then = crew.score(demand);
        if sound && crew.accepts(&self.now, &then, demand.classes.len()) {
            crew.ledger.forget();
            self.now = then;
            if self.now < self.best.0 {
                self.best = (self.now.clone(), crew.duty.clone());
                self.best_at = crew.ledger.work / CHANGES;
            }
        } else {
            crew.ledger.back_to(mark);
            crew.duty = before;
        }
    }

    /// Takes a part out and builds it anew, whatever that comes to. Says where; `None` where what is left breaks a rule.
    pub(super) fn take_a_part_out(&mut self) -> Option<Range<Slot>> {
        let (crew, demand) = (&mut self.crew, &self.demand);
        crew.ledger.work += LOOK;
        let around = crew.around(demand, &self.within);
        let picked = crew.pick(&around);
        crew.take_out(picked);
        crew.drop_tasks();
        let sound = crew.ledger.missed() == Missed::default();
        let near = around.start - NEAR..around.end + NEAR;
        if sound {
            crew.fill(demand, near.clone(), self.anew * CHANGES);
        }
        sound.then_some(near)
    }

    /// Work units spent so far.
    pub fn work(&self) -> u64 {
        self.crew.ledger.work / CHANGES
    }

    /// The best rota: a value for every total and every start of a task. Other columns follow from them.
    pub fn best(&self) -> Vec<i64> {
        self.crew.point(&self.best.1)
    }
}

impl Crew<'_> {
    /// A stretch of the night to build anew: mostly one around a time at which somebody is missing or a task is not done.
    fn around(&mut self, demand: &Demand, within: &Range<Slot>) -> Range<Slot> {
        let slots = self.model.grid.slots;
        let missed =
            self.duty.tasks.iter().zip(&self.model.tasks).filter(|(done, starts)| done.is_none() && !starts.is_empty());
        let tasks = missed.map(|(_, starts)| starts[0].0..starts[starts.len() - 1].0 + 1);
        let short = self.runs(demand).into_iter().map(|run| run.from..run.to);
        let inside = |range: Range<Slot>| range.start.max(within.start)..range.end.min(within.end);
        let missing: Vec<Range<Slot>> = short.chain(tasks).map(inside).filter(|range| !range.is_empty()).collect();
        let centre = if missing.is_empty() || self.rng.u8(..3) == 0 {
            self.rng.i32(within.clone())
        } else {
            let chosen = self.rng.usize(..missing.len());
            self.rng.i32(missing[chosen].clone())
        };
        let half = self.rng.i32(4..=24);
        (centre - half).max(0)..(centre + half).min(slots)
    }

    /// Which entries to take out there: most of one room, or of all.
    fn pick(&mut self, around: &Range<Slot>) -> BTreeSet<usize> {
        let room = if self.rng.bool() { Some(self.rng.usize(..self.model.rooms.len())) } else { None };
        let mut picked = BTreeSet::new();
        for at in 0..self.duty.entries.len() {
            let (entry, off) = (&self.duty.entries[at], self.duty.entries[at].off(self));
            let near = entry.don < around.end && off > around.start && room.is_none_or(|room| room == entry.room);
            if near && self.rng.u8(..5) > 0 {
                picked.insert(at);
            }
        }
        picked
    }

    /// Whether a changed rota is gone on from: it is as good, or leaves hardly more uncovered by a rare chance.
    fn accepts(&mut self, now: &Score, then: &Score, classes: usize) -> bool {
        let uncovered = then[..=classes].cmp(&now[..=classes]);
        match (uncovered, self.rng.u8(..20)) {
            (Ordering::Less, _) => true,
            (Ordering::Equal, chance) => chance < 10 || then <= now,
            (Ordering::Greater, chance) => {
                let more: i64 = then[1..=classes].iter().sum::<i64>() - now[1..=classes].iter().sum::<i64>();
                chance == 0 && then[0] <= now[0] && more <= 4 * self.model.grid.minutes(1)
            }
        }
    }

    /// Every total of the program, and 1 for the starts that tasks take.
    pub(super) fn point(&self, duty: &Duty) -> Vec<i64> {
        let program = &self.model.program;
        let mut events = vec![0; program.columns.len()];
        duty.tasks.iter().flatten().for_each(|col| events[col.0] = 1);
        let entries = duty.entries.iter().flat_map(|entry| self.all_events(entry));
        let posts = duty.posts.iter().flat_map(|post| self.all_events_of_post(post));
        entries.chain(posts).chain(self.break_events(duty)).flatten().for_each(|col| events[col.0] += 1);
        for at in 1..events.len() {
            if let Place::Total { first, slot } = program.columns[at].place
                && slot > first
            {
                events[at] += events[at - 1];
            }
        }
        events
    }
}
