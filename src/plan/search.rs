//! The order of the search: level after level, each held while the next is improved.
//!
//! People who are alike are planned as numbers first, then given names, then
//! the levels about single people are settled. Small programs are solved
//! whole; larger ones by windows of time that slide over the night.

use std::ops::Range;

use crate::night::Night;

use super::budget::Budget;
use super::handout::{Follow, counts, hand_out};
use super::level::{Level, LevelResult};
use super::model::{Grouping, Model};
use super::part::{Fate, Part, window};
use super::program::{Place, Program, Sum};
use super::solve::{Limit, Solved, minimise};
use super::thin::on_beat;
use super::{Effort, Planned, Watch, names};

/// Programs of up to this many columns are solved whole at every level.
const SMALL: usize = 1_500;

/// Programs of up to this many columns are worth an attempt on the whole night
/// for the levels that come first, for the bound it gives.
const BOUNDED: usize = 6_000;

/// Free columns that a window should have: wide enough to matter, small enough to solve.
const WINDOW: usize = 1_200;

/// Pivots allowed for giving names to a counted solution.
const NAMING: u64 = 5_000;

/// Plans a night.
pub fn search(night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
    let mut search = Search { night, budget: Budget::new(effort), watch };
    let mut alike = Stage::new(night, Grouping::Alike);
    let mut point = Search::nobody_enters(&alike.model);
    search.settle_levels(&mut alike, None, &mut point);
    let mut single = Stage::new(night, Grouping::Single);
    let mut point = search.names_for(&alike.model, &point, &single.model);
    single.known = std::mem::take(&mut alike.results);
    search.settle_levels(&mut single, Some(&alike.model), &mut point);
    Search::settle_facts(&mut single, &mut point);
    let rota = names::rota(night, &single.model, &point);
    Planned { rota, levels: single.results, ended: search.budget.ended() }
}

/// One model with what has been settled on it.
struct Stage {
    model: Model,
    grouping: Grouping,
    results: Vec<LevelResult>,
    /// The sum of each result, in the same order.
    sums: Vec<Sum>,
    /// Bounds from a relaxation settled before.
    known: Vec<LevelResult>,
}

impl Stage {
    fn new(night: &Night, grouping: Grouping) -> Self {
        Self { model: Model::build(night, grouping), grouping, results: vec![], sums: vec![], known: vec![] }
    }

    /// The value this level came to when people were only counted.
    fn known_value(&self, level: Level) -> Option<i64> {
        self.known.iter().find(|r| r.level == level).map(|r| r.value)
    }

    /// What a relaxation showed this level cannot be below. It only holds
    /// while every level before came out as it did there.
    fn known_bound(&self, level: Level) -> Option<i64> {
        let same = |(here, there): (&LevelResult, &LevelResult)| here.level == there.level && here.value == there.value;
        let known = self.known.iter().find(|r| r.level == level)?;
        self.results.iter().zip(&self.known).all(same).then_some(known.at_least)
    }
}

struct Search<'a> {
    night: &'a Night,
    budget: Budget,
    watch: &'a mut dyn Watch,
}

impl Search<'_> {
    /// The rota with no duties and everybody's breaks: it always exists.
    fn nobody_enters(model: &Model) -> Vec<i64> {
        let mut fates: Vec<Fate> = model.program.columns.iter().map(|c| fate_without_duty(c.place)).collect();
        for col in model.duties.iter().flat_map(|d| d.breaks.columns()) {
            fates[col.0] = Fate::Free;
        }
        let part = Part::cut(&model.program, &Sum::new(), &fates).expect("a night without duties breaks no rule");
        let solved = minimise(&part.program, &part.sum, None, &Limit::none());
        part.whole_point(&solved.point.expect("breaks without duties can be placed"))
    }

    fn settle_levels(&mut self, stage: &mut Stage, counted: Option<&Model>, point: &mut Vec<i64>) {
        for level in Model::levels(self.night, stage.grouping) {
            if matches!(level, Level::Waits | Level::MinutesDressed) {
                self.budget.release();
            }
            let sum = stage.model.objective(self.night, level);
            Self::complete(&stage.model.program, &sum, point);
            // No level can be below nothing at all, whatever the columns' bounds say.
            let floor = stage.model.program.least(&sum).max(0).max(stage.known_bound(level).unwrap_or(0));
            let at_least = self.improve(stage, level, &sum, counted, point, floor);
            let value = sum.value(point);
            let bound = level.reported(at_least.min(value));
            stage.results.push(LevelResult { level, value: level.reported(value), at_least: bound });
            stage.model.program.at_most(sum.clone(), value, None);
            stage.sums.push(sum);
            if let Level::Uncovered(_) = level {
                self.watch.progress(value, at_least.min(value));
            }
        }
    }

    /// A level that was not settled may have come out better while later ones
    /// were improved, and columns that only measure may have been left above
    /// what they measure: reads every level again off the duties as they are.
    fn settle_facts(stage: &mut Stage, point: &mut Vec<i64>) {
        for (result, sum) in stage.results.iter_mut().zip(&stage.sums) {
            let program = &mut stage.model.program;
            let fates: Vec<Fate> =
                program.columns.iter().zip(point.iter()).map(|(c, &v)| held_duty(c.place, v)).collect();
            let part = Part::cut(program, sum, &fates);
            let measured = part.and_then(|part| {
                let measured = minimise(&part.program, &part.sum, None, &Limit::none()).point?;
                Some(part.whole_point(&measured))
            });
            *point = measured.unwrap_or_else(|| point.clone());
            result.value = result.level.reported(sum.value(point));
            result.at_least = result.at_least.min(result.value);
            program.at_most(sum.clone(), sum.value(point), None);
        }
    }

    /// Gives values to columns that a level has just added.
    fn complete(program: &Program, sum: &Sum, point: &mut Vec<i64>) {
        if point.len() == program.columns.len() {
            return;
        }
        let held = point.iter().map(|&v| Fate::Held(v));
        let fates: Vec<Fate> = held.chain(std::iter::repeat(Fate::Free)).take(program.columns.len()).collect();
        let part = Part::cut(program, sum, &fates).expect("new columns only measure what is there");
        let solved = minimise(&part.program, &part.sum, None, &Limit::none());
        *point = part.whole_point(&solved.point.expect("new columns only measure what is there"));
    }

    /// Improves `point` and returns what the sum cannot be below.
    fn improve(
        &mut self,
        stage: &Stage,
        level: Level,
        sum: &Sum,
        counted: Option<&Model>,
        point: &mut Vec<i64>,
        floor: i64,
    ) -> i64 {
        let model = &stage.model;
        let program = &model.program;
        let columns = program.columns.len();
        if columns > SMALL {
            if let Some(counted) = counted.filter(|_| level.is_about_one_person()) {
                self.rename(counted, model, sum, point, floor);
            }
            if level.is_local() && stage.known_value(level) != Some(sum.value(point)) {
                self.slide(model, level, sum, point, floor);
            }
            if matches!(level, Level::Uncovered(_)) && sum.value(point) > floor && columns <= BOUNDED {
                return floor.max(self.relaxed(program, sum).unwrap_or(i64::MIN));
            }
            return floor;
        }
        if sum.value(point) <= floor {
            return floor;
        }
        let solved = self.solve(program, sum, Some(point), self.budget.whole());
        if let Some(better) = solved.point.filter(|p| sum.value(p) < sum.value(point)) {
            *point = better;
        }
        floor.max(solved.at_least.unwrap_or(i64::MIN))
    }

    /// What the sum cannot be below when people may be split: quick to know, often weak.
    fn relaxed(&mut self, program: &Program, sum: &Sum) -> Option<i64> {
        let mut relaxed = program.clone();
        relaxed.columns.iter_mut().for_each(|c| c.integer = false);
        self.solve(&relaxed, sum, None, self.budget.whole()).at_least
    }

    fn solve(&mut self, program: &Program, sum: &Sum, start: Option<&[i64]>, work: u64) -> Solved {
        let watch = &*self.watch;
        let asked = || watch.stop();
        let limit = Limit { work, until: self.budget.until(), asked: &asked };
        let solved = minimise(program, sum, start, &limit);
        self.budget.spend(solved.work, solved.stopped);
        solved
    }

    /// Re-plans window after window until a whole pass improves nothing:
    /// first wide windows on the beat, then narrower ones with every slot.
    fn slide(&mut self, model: &Model, level: Level, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        let program = &model.program;
        let night = model.grid.slots;
        let beat = on_beat(self.night, model);
        // A wait is taken out only by a window that holds both of its ends.
        let free = if matches!(level, Level::Waits | Level::MinutesDressed) { 2 * WINDOW } else { WINDOW };
        for allowed in [Some(beat.as_slice()), None] {
            let per_slot = program.free_per_slot(allowed).max(1);
            let width = i32::try_from(free / per_slot).unwrap_or(night).clamp(12, night.max(12));
            loop {
                let before = sum.value(point);
                let mut from = 0;
                while from < night && sum.value(point) > floor && !self.budget.is_spent() {
                    if !worth_a_look(model, level, point, from..(from + width).min(night)) {
                        from += width / 2;
                        continue;
                    }
                    self.replan(program, sum, point, &window(program, point, (from, from + width), allowed));
                    from += width / 2;
                }
                if sum.value(point) == before || self.budget.is_spent() {
                    break;
                }
            }
        }
    }

    /// The same duties in the same slots, by other people.
    fn rename(&mut self, counted: &Model, single: &Model, sum: &Sum, point: &mut Vec<i64>, floor: i64) {
        while sum.value(point) > floor && !self.budget.is_spent() {
            let before = sum.value(point);
            let counts = counts(counted, single, point);
            let (program, fates) = hand_out(counted, &counts, single, Follow::Exactly, &[]);
            self.replan(&program, sum, point, &fates);
            if sum.value(point) == before {
                return;
            }
        }
    }

    /// Looks for a better point among those that `fates` leave open.
    fn replan(&mut self, program: &Program, sum: &Sum, point: &mut Vec<i64>, fates: &[Fate]) {
        let Some(mut part) = Part::cut(program, sum, fates) else { return };
        let value = sum.value(point);
        if part.program.least(&part.sum) >= value {
            return;
        }
        part.program.at_most(part.sum.clone(), value - 1, None);
        let solved = self.solve(&part.program, &part.sum, None, self.budget.part());
        if let Some(better) = solved.point {
            *point = part.whole_point(&better);
            debug_assert!(program.accepts(point), "a part's point is a point of the whole");
        }
    }

    /// Names for a counted solution: exactly if the people who are alike can
    /// share it out, else for as much of it as they can.
    fn names_for(&mut self, alike: &Model, point: &[i64], single: &Model) -> Vec<i64> {
        let counts = counts(alike, alike, point);
        let beat = on_beat(self.night, single);
        for follow in Follow::ALL {
            let (program, fates) = hand_out(alike, &counts, single, follow, &beat);
            let sum = single.care_missed(self.night);
            let Some(part) = Part::cut(&program, &sum, &fates) else { continue };
            // Names are needed even when the time is up: this limit is the search's own.
            let limit = Limit { work: NAMING, until: None, asked: &|| false };
            let solved = minimise(&part.program, &part.sum, None, &limit);
            self.budget.spend(solved.work, None);
            if let Some(named) = solved.point {
                return part.whole_point(&named);
            }
        }
        Self::nobody_enters(single)
    }
}

/// Whether a window can improve a tie-break at all.
fn worth_a_look(model: &Model, level: Level, point: &[i64], slots: Range<i32>) -> bool {
    match level {
        Level::Waits => model.waits(slots).value(point) > 0,
        Level::MinutesDressed => model.anything_in(point, slots),
        _ => true,
    }
}

fn held_duty(place: Place, value: i64) -> Fate {
    match place {
        Place::Total { .. } => Fate::Held(value),
        Place::Slot(_) | Place::Night => Fate::Free,
    }
}

fn fate_without_duty(place: Place) -> Fate {
    match place {
        Place::Total { .. } => Fate::Held(0),
        Place::Slot(_) | Place::Night => Fate::Free,
    }
}
