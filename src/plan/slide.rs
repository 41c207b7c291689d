//! Improving a rota part by part: windows of time that slide over the night,
//! and the same duties by other people.

use std::ops::Range;

use crate::night::Night;

use super::grid::Slot;
use super::handout::{Follow, counts, doors, hand_out};
use super::level::Level;
use super::model::{Event, Model};
use super::part::{Fate, Part, nearby, window};
use super::program::{Program, Sum};
use super::search::Search;
use super::side_by_side::side_by_side;
use super::solve::{Limit, Solved, minimise};
use super::thin::{around_doors, on_beat};

/// Free columns that a window should have: wide enough to matter, small enough to solve.
const WINDOW: usize = 1_200;

/// Rows up to which a first relaxation takes a second or two at most, whatever may be spent on it;
const ROWS_AT_ONCE: u64 = 10_000;

/// rows of a larger program for each work unit that may be spent on it.
const ROWS_A_UNIT: u64 = 4;

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
    /// Re-plans window after window until a whole pass improves nothing:
    /// first wide windows on the beat, then narrower ones with every slot, at
    /// last with more waiting than there was.
    pub(super) fn slide(&mut self, model: &Model, level: Level, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        let beat = on_beat(self.night, model);
        self.pass(model, level, (sum, Some(&beat), Waiting::NoMore), point, floor);
        self.pass(model, level, (sum, None, Waiting::NoMore), point, floor);
        if level.is_care() && level != Level::MustLate {
            self.pass(model, level, (sum, None, Waiting::Any), point, floor);
        }
    }

    /// The same events, each a little earlier or later, all over the night at
    /// once, until that improves nothing.
    pub(super) fn shift(&mut self, model: &Model, level: Level, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        if level == Level::HelperRemovals {
            let fates = only_helpers(self.night, model, point);
            let fates = std::slice::from_ref(&fates);
            while sum.value(point) > floor && self.replan(&model.program, level, sum, point, fates) {}
        }
        while sum.value(point) > floor && !self.budget.is_spent() {
            let fates = nearby(&model.program, point, STEP);
            if !self.replan(&model.program, level, sum, point, &[fates]) {
                return;
            }
        }
    }

    pub(super) fn pass(
        &mut self,
        model: &Model,
        level: Level,
        (sum, allowed, waiting): (&Sum, Option<&Vec<bool>>, Waiting),
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
        // A wait is taken out only by a window that holds both of its ends.
        let free = if matches!(level, Level::Waits | Level::MinutesDressed) { 2 * WINDOW } else { WINDOW };
        let per_slot = program.free_per_slot(allowed).max(1);
        let width = i32::try_from(free / per_slot).unwrap_or(night).clamp(12, night.max(12));
        let starts: Vec<Slot> = (0..night).step_by(usize::try_from(width / 2).unwrap_or(1).max(1)).collect();
        let (mut next, mut without_gain) = (0, 0);
        while without_gain < starts.len() && sum.value(point) > floor && !self.budget.is_spent() {
            // Two windows at a time, one for each of two processors; a gain in
            // the first makes the second out of date.
            let pair: Vec<Vec<Fate>> = [next, next + 1].map(|n| starts[n % starts.len()])[..starts.len().min(2)]
                .iter()
                .filter(|&&from| worth_a_look(model, level, point, from..(from + width).min(night)))
                .map(|&from| window(&program, point, (from, from + width), allowed))
                .collect();
            let gained = self.replan(&program, level, sum, point, &pair);
            without_gain = if gained { 0 } else { without_gain + 2 };
            next += if gained { 1 } else { 2 };
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
            self.replan(&program, level, sum, point, &[fates]);
            if sum.value(point) == before {
                return;
            }
        }
    }

    /// Looks for a better point among those that each of some `fates` leave
    /// open, all at once, and takes the first there is. Says whether there is one.
    pub(super) fn replan(
        &mut self,
        program: &Program,
        level: Level,
        sum: &Sum,
        point: &mut Vec<i64>,
        fates: &[Vec<Fate>],
    ) -> bool {
        let value = sum.value(point);
        let work = self.budget.part(level);
        let mut parts: Vec<Part> = fates.iter().filter_map(|fates| worthwhile(program, sum, value, fates)).collect();
        parts.retain(|part| is_within_reach(&part.program, work));
        let watch = &*self.watch;
        let asked = || watch.stop();
        let limit = Limit { work, until: self.budget.until(), reduce_fully: false, asked: &asked };
        let solve = |part: &Part| minimise(&part.program, &part.sum, None, &limit);
        let solved: Vec<Solved> = side_by_side(parts.iter().map(|part| || solve(part)));
        self.budget.spend_side_by_side(&solved.iter().map(|s| (s.work, s.stopped)).collect::<Vec<_>>());
        let better = parts.iter().zip(&solved).find_map(|(part, s)| Some(part.whole_point(s.point.as_ref()?)));
        let Some(better) = better else { return false };
        *point = better;
        debug_assert!(program.accepts(point), "a part's point is a point of the whole");
        true
    }
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
fn is_within_reach(program: &Program, work: u64) -> bool {
    u64::try_from(program.rows.len()).is_ok_and(|rows| rows <= ROWS_AT_ONCE.max(ROWS_A_UNIT * work))
}

/// Whether a window can improve a tie-break at all.
fn worth_a_look(model: &Model, level: Level, point: &[i64], slots: Range<i32>) -> bool {
    match level {
        Level::Waits => model.waits(slots).value(point) > 0,
        Level::MinutesDressed => model.anything_in(point, slots),
        _ => true,
    }
}
