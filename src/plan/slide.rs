//! Improving a rota part by part: windows of time that slide over the night,
//! and the same duties by other people.

use std::ops::Range;

use crate::night::{Need, Night};

use super::Asked;
use super::budget::Budget;
use super::construct::Builder;
use super::encode::measured;
use super::grid::Slot;
use super::handout::{Follow, counts, doors, hand_out};
use super::interrupt::Stopped;
use super::level::Level;
use super::model::{Event, Grouping, Model};
use super::names;
use super::part::{Fate, Part, nearby, window};
use super::program::{Program, Sum};
use super::search::Search;
use super::side_by_side::in_turn;
use super::solve::{Limit, Way, minimise};
use super::thin::{around_doors, on_beat};

/// Free columns that a window should have: wide enough to matter, small enough to solve.
const WINDOW: usize = 1_200;

/// Columns up to which a night of single people is looked at as a whole.
const AT_ONCE: usize = 6_000;

/// How many times as wide windows of single people are in the end, one pass after another.
const WIDER: [usize; 3] = [1, 2, 4];

/// Rows up to which a first relaxation takes a second or two at most, whatever may be spent on it;
const ROWS_AT_ONCE: u64 = 10_000;

/// rows of a larger program for each work unit that may be spent on it.
const ROWS_A_UNIT: u64 = 4;

/// Windows that are looked at before what they gained is taken.
const AT_A_TIME: usize = 4;

/// Rounds in which two parts are taken out by chance at most, side by side.
const SHAKES: u64 = 100;

/// How many parts taken out may come to nothing, one after another.
const SHAKES_IN_VAIN: usize = 8;

/// Slots by which events may move in a shift.
const STEP: Slot = 2;

/// Whether a pass may lengthen waits while dressed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Waiting {
    /// It may not.
    NoMore,
    /// It may.
    Any,
}

impl Search<'_> {
    /// Re-plans window after window until a whole pass improves nothing: first on the beat, then with every
    /// slot, then with more waiting than there was, at last in wider windows. A night of few single people is looked at
    /// as a whole once its windows improve nothing.
    pub(super) fn slide(&mut self, model: &Model, level: Level, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        let beat = on_beat(self.night, model);
        self.pass(model, level, (sum, Some(&beat), Waiting::NoMore), point, floor);
        self.pass(model, level, (sum, None, Waiting::NoMore), point, floor);
        if !level.is_care() || level == Level::MustLate {
            return;
        }
        let waiting = (sum, None, Waiting::Any);
        if model.grouping != Grouping::Single {
            self.pass(model, level, waiting, point, floor);
            return;
        }
        self.shake(model, level, sum, point, floor);
        if model.program.columns.len() <= AT_ONCE && sum.value(point) > floor {
            let night = [vec![Fate::Free; model.program.columns.len()]];
            self.replan(&model.program, self.budget.whole(), sum, point, &night);
        }
        for times in WIDER {
            self.pass_by(model, level, waiting, (times * WINDOW, &(0..model.grid.slots)), point, floor);
        }
    }

    /// Takes a part of the rota out by chance, builds it anew and improves what comes of it window by window, even where
    /// it is worse at first. What is better in the end is kept.
    fn shake(&mut self, model: &Model, level: Level, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        let (night, beat) = (self.night, on_beat(self.night, model));
        let reserve = self.budget.left() / 2;
        let taken_up = |point: &[i64]| Builder::resume(night, model, (&names::rota(night, model, point), point), 1);
        let (mut builder, mut in_vain) = (taken_up(point), 0);
        for seed in 1..=SHAKES {
            let is_enough = sum.value(point) <= floor || in_vain >= SHAKES_IN_VAIN;
            if is_enough || self.budget.left() <= reserve || self.budget.is_spent() || self.is_stopped() {
                return;
            }
            let Some(whole) = &builder else { return };
            let (aim, one, watch) = (self.aim, self.budget.for_one(), &*self.watch);
            let shaken = |seed: u64| {
                let (built, near) = whole.by_another_chance(seed).shaken()?;
                let mut other = measured(night, model, &built).filter(|other| model.program.accepts(other))?;
                let mut search = Search { night, aim, budget: one.clone(), watch: &mut Asked(watch) };
                for allowed in [Some(&beat), None] {
                    search.pass_by(model, level, (sum, allowed, Waiting::NoMore), (WINDOW, &near), &mut other, floor);
                }
                Some((other, search.budget))
            };
            let shaken = &shaken;
            let tried = in_turn(self.budget.processors(), [2 * seed - 1, 2 * seed].map(|seed| move || shaken(seed)));
            let (others, budgets): (Vec<Vec<i64>>, Vec<Budget>) = tried.into_iter().flatten().unzip();
            self.budget.spend_attempts(&budgets);
            in_vain += others.len();
            let better = others.into_iter().min_by_key(|other| sum.value(other));
            if let Some(better) = better.filter(|better| sum.value(better) < sum.value(point)) {
                *point = better;
                self.found(model, point);
                (builder, in_vain) = (taken_up(point), 0);
            }
        }
    }

    /// The same events, each a little earlier or later, all over the night at
    /// once, until that improves nothing.
    pub(super) fn shift(&mut self, model: &Model, level: Level, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        if level == Level::HelperRemovals {
            let fates = only_helpers(self.night, model, point);
            let fates = std::slice::from_ref(&fates);
            while sum.value(point) > floor && self.replan(&model.program, self.part(model, level), sum, point, fates) {}
        }
        while sum.value(point) > floor && !self.budget.is_spent() {
            let fates = nearby(&model.program, point, STEP);
            if !self.replan(&model.program, self.part(model, level), sum, point, &[fates]) {
                return;
            }
        }
    }

    pub(super) fn pass(
        &mut self,
        model: &Model,
        level: Level,
        how: (&Sum, Option<&Vec<bool>>, Waiting),
        point: &mut Vec<i64>,
        floor: i64,
    ) {
        // A wait is taken out only by a window that holds both of its ends.
        let free = if matches!(level, Level::Waits | Level::MinutesDressed) { 2 * WINDOW } else { WINDOW };
        self.pass_by(model, level, how, (free, &(0..model.grid.slots)), point, floor);
    }

    /// One pass of windows with about so many columns free, near some slots.
    fn pass_by(
        &mut self,
        model: &Model,
        level: Level,
        (sum, allowed, waiting): (&Sum, Option<&Vec<bool>>, Waiting),
        (free, near): (usize, &Range<Slot>),
        point: &mut Vec<i64>,
        floor: i64,
    ) {
        let night = model.grid.slots;
        let mut program = model.program.clone();
        if waiting == Waiting::NoMore && level != Level::Waits {
            let waits = model.waits(0..night);
            let now = waits.value(point);
            program.at_most(waits, now, None);
        }
        let allowed = allowed.map(Vec::as_slice);
        let per_slot = program.free_per_slot(allowed).max(1);
        let width = i32::try_from(free / per_slot).unwrap_or(night).clamp(12, night.max(12));
        let starts = (0..night).step_by(usize::try_from(width / 2).unwrap_or(1).max(1));
        let starts: Vec<Slot> = starts.filter(|&from| from < near.end && near.start < from + width).collect();
        // What is tried out near some slots is told of once it is better than what there was.
        let is_whole = *near == (0..night);
        // As far apart as can be: what is gained in each can then mostly be had.
        let apart = starts.len().div_ceil(AT_A_TIME).max(2);
        let (mut next, mut without_gain) = (0, 0);
        let reserve = self.budget.left() / 2;
        while without_gain < apart && sum.value(point) > floor && !self.budget.is_spent() {
            if without_gain > 0 && self.budget.left() < reserve {
                // What is left may be of more use to other windows.
                return;
            }
            let some: Vec<Vec<Fate>> = starts
                .iter()
                .skip(next)
                .step_by(apart)
                .filter(|&&from| worth_a_look(self.night, model, level, point, from..(from + width).min(night)))
                .map(|&from| window(&program, point, (from, from + width), allowed))
                .collect();
            let gained = self.replan(&program, self.part(model, level), sum, point, &some);
            if gained && is_whole && model.grouping == Grouping::Single && level.is_missed() {
                self.found(model, point);
            }
            without_gain = if gained { 0 } else { without_gain + 1 };
            next = (next + 1) % apart;
        }
    }

    /// The same duties in the same slots, by other people.
    pub(super) fn rename(
        &mut self,
        counted: &Model,
        single: &Model,
        (level, sum): (Level, &Sum),
        point: &mut Vec<i64>,
        floor: i64,
    ) {
        let beat = on_beat(self.night, single);
        while sum.value(point) > floor && !self.budget.is_spent() {
            let before = sum.value(point);
            let counts = counts(counted, single, point);
            let (program, fates) = hand_out(counted, &counts, single, Follow::Exactly, &beat);
            self.replan(&program, self.part(single, level), sum, point, &[fates]);
            if sum.value(point) == before {
                return;
            }
        }
    }

    /// Work for one window of a model.
    fn part(&self, model: &Model, level: Level) -> u64 {
        self.budget.part(level, model.grouping == Grouping::Single)
    }

    /// Looks for a better point among those that each of some `fates` leave open, side by side and each within so much
    /// work, and takes what is gained. Says whether anything is.
    pub(super) fn replan(
        &mut self,
        program: &Program,
        work: u64,
        sum: &Sum,
        point: &mut Vec<i64>,
        fates: &[Vec<Fate>],
    ) -> bool {
        let value = sum.value(point);
        let watch = &*self.watch;
        let asked = || watch.stop();
        let limit = Limit { work, until: self.budget.until(), way: Way::Briefly, asked: &asked };
        let solve = |fates: &Vec<Fate>| {
            let part = worthwhile(program, sum, value, fates).filter(|part| is_within_reach(&part.program, work))?;
            let solved = minimise(&part.program, &part.sum, None, &limit);
            let better = solved.point.as_ref().map(|point| part.whole_point(point));
            Some((better, solved.work, solved.stopped))
        };
        let solved = in_turn(self.budget.processors(), fates.iter().map(|fates| || solve(fates)));
        let solved: Vec<(Option<Vec<i64>>, u64, Option<Stopped>)> = solved.into_iter().flatten().collect();
        let spent: Vec<(u64, Option<Stopped>)> = solved.iter().map(|&(_, work, stopped)| (work, stopped)).collect();
        self.budget.spend_side_by_side(&spent);
        let better: Vec<Vec<i64>> = solved.into_iter().filter_map(|(better, ..)| better).collect();
        let Some(best) = together(program, sum, point, better) else { return false };
        *point = best;
        debug_assert!(program.accepts(point), "a part's point is a point of the whole");
        true
    }
}

/// The best of some better points, with what the others gained where that keeps every row.
fn together(program: &Program, sum: &Sum, before: &[i64], mut better: Vec<Vec<i64>>) -> Option<Vec<i64>> {
    better.sort_by_key(|point| sum.value(point));
    better.into_iter().reduce(|best, other| {
        let both: Vec<i64> = (0..before.len()).map(|at| best[at] + other[at] - before[at]).collect();
        if sum.value(&both) < sum.value(&best) && program.accepts(&both) { both } else { best }
    })
}

/// The same entries, helped by the same people or others, in other spells.
fn only_helpers(night: &Night, model: &Model, point: &[i64]) -> Vec<Fate> {
    let beat = around_doors(night, model, doors(&counts(model, model, point), 0));
    let mut fates = window(&model.program, point, (0, model.grid.slots), Some(&beat));
    let entrants = [Event::Don, Event::DoorIn, Event::DoorOut, Event::Removal];
    for (_, curve) in model.curves().iter().filter(|(key, _)| entrants.contains(&key.event)) {
        curve.columns().iter().for_each(|col| fates[col.0] = Fate::Held(point[col.0]));
    }
    fates
}

/// What `fates` leave open, asked for a sum below `value`; `None` when that cannot be.
fn worthwhile(program: &Program, sum: &Sum, value: i64, fates: &[Fate]) -> Option<Part> {
    let mut part = Part::cut(program, sum, fates)?;
    if part.program.least(&part.sum) >= value {
        return None;
    }
    part.program.at_most(part.sum.clone(), value - 1, None);
    Some(part)
}

/// Whether so much work can be enough for a program. Its first relaxation takes about as many pivots as it has rows,
/// and the solver does not ask whether to stop before that is solved.
pub(super) fn is_within_reach(program: &Program, work: u64) -> bool {
    u64::try_from(program.rows.len()).is_ok_and(|rows| rows <= ROWS_AT_ONCE.max(ROWS_A_UNIT * work))
}

/// Whether a window can improve a level at all.
fn worth_a_look(night: &Night, model: &Model, level: Level, point: &[i64], slots: Range<i32>) -> bool {
    let undone = |task: usize| model.tasks[task].iter().all(|(_, col)| point[col.0] == 0);
    let may_start = |task: usize| model.tasks[task].iter().any(|(slot, _)| slots.contains(slot));
    let needed = |need: Need| {
        let mut tasks = night.roster.tasks.iter().enumerate().filter(|(_, task)| task.need == need);
        tasks.any(|(task, _)| undone(task) && may_start(task))
    };
    match level {
        Level::Waits => model.waits(slots).value(point) > 0,
        Level::MinutesDressed => model.anything_in(point, slots),
        Level::MustMissed => needed(Need::Must),
        Level::WantedMissed => needed(Need::Wanted),
        Level::PinsMissed => {
            let mut missed = night.roster.pins.iter().zip(&model.pins).filter(|(_, kept)| point[kept.0] == 0);
            missed.any(|(pin, _)| model.pinned_slots(pin).iter().any(|slot| slots.contains(slot)))
        }
        _ => true,
    }
}
