//! Nights on which hardly anything has to be missed, looked at as a whole.
//!
//! Removals are where windows are weakest: one entry fewer moves all the others. But the relaxation of people counted
//! together, care and removals weighed against each other in one sum, says there how few removals can do, and solved
//! through its inside it often comes out in whole numbers at once. Where it does not, whole numbers are looked for beside
//! it.

use crate::night::Night;

use super::budget::Share;
use super::level::Level;
use super::model::Model;
use super::program::{Program, Sum};
use super::search::Search;
use super::solve::{Way, most_inside};
use super::start::better;

/// Columns of a model of people counted together up to which a night is looked at as a whole.
pub const LOOSE: usize = 6_000;

/// A night is loose where no more than one in so many person-minutes is missed.
const ONE_IN: i64 = 20;

/// What a minute of care weighs beside a removal of an entrant.
const CARE: i64 = 100;

/// What a removal of an entrant weighs beside a minute in any kit,
const REMOVAL: i64 = 2_000;

/// and a removal of a helper. Minutes make one of many equally good ways the best one, which often makes it come out
/// whole; on other nights it does without them.
const HELPER: i64 = 40;

/// How few removals can do where nothing is missed and nothing late.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Fewest {
    /// Removals of helpers are never more than this.
    helpers: i64,
    /// Removals together cannot be below this, one of an entrant counted as one more than that.
    together: i64,
}

impl Fewest {
    /// What a level cannot be below; for removals of helpers, with so many of entrants.
    pub fn of(&self, level: Level, entrants: Option<i64>) -> Option<i64> {
        match (level, entrants) {
            (Level::Removals, _) => Some(self.together.div_euclid(self.helpers + 1)),
            (Level::HelperRemovals, Some(entrants)) => Some(self.together - (self.helpers + 1) * entrants),
            _ => None,
        }
    }
}

/// What a look at a night as a whole came to.
pub struct Look {
    /// How few removals can do.
    pub fewest: Option<Fewest>,
    /// What was relaxed, the most promising first.
    pub relaxed: Vec<Relaxed>,
}

/// What was weighed, and the whole numbers between which each column then came out.
pub struct Relaxed {
    sum: Sum,
    between: Vec<(i64, i64)>,
    /// Whether entries were shared out.
    shared: bool,
}

/// Whether so little is missed that a night is worth looking at as a whole.
pub fn misses_little(night: &Night, model: &Model, point: &[i64]) -> bool {
    model.misses_one_in(night, point, ONE_IN)
}

/// The program in which no group enters more often than as many entries as there are, shared out evenly, ask of each.
fn shared_out(model: &Model, point: &[i64]) -> Program {
    let mut shared = model.program.clone();
    let entering = || model.groups.iter().zip(&model.duties).filter_map(|(g, d)| Some((g, d.entering.as_ref()?)));
    let people = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    let entrants = entering().map(|(group, _)| people(group.members.len())).sum::<i64>().max(1);
    let each = (model.entries().value(point) + entrants - 1) / entrants;
    for (group, entering) in entering() {
        let mut entries = Sum::new();
        entering.rooms.iter().for_each(|visits| visits.don.add_all(&mut entries, 1));
        shared.at_most(entries, each * people(group.members.len()), None);
    }
    shared
}

impl Search<'_> {
    /// Whether a night of people counted together is small enough to be looked at as a whole.
    pub(super) fn may_look_at_once(&self, model: &Model) -> bool {
        model.program.columns.len() <= LOOSE && most_inside(&model.program) <= self.budget.share(Share::AtOnce)
    }

    /// Looks at a loose night of people counted together as a whole and takes what comes out in whole numbers, where it is
    /// better than `point`. `None` where the night is not worth the look.
    pub(super) fn at_once(&mut self, model: &Model, point: &mut Vec<i64>) -> Option<Look> {
        let (night, work) = (self.night, self.budget.share(Share::AtOnce));
        if !self.may_look_at_once(model) || !misses_little(night, model, point) {
            return None;
        }
        let mut missed = model.care_missed(night);
        missed.add_sum(&model.late(night), 1);
        let weighed = |removal: i64, helper: i64, minute: i64| {
            let mut sum = Sum::new();
            sum.add_sum(&missed, CARE * removal);
            sum.add_sum(&model.entries(), removal);
            sum.add_sum(&model.posts(), helper);
            sum.add_sum(&model.minutes_dressed(), minute);
            sum.tidy();
            sum
        };
        let helpers = model.program.most(&model.posts());
        let sums = [weighed(helpers + 1, 1, 0), weighed(REMOVAL, HELPER, 1)];
        self.budget.give(Share::AtOnce);
        // Entries that are shared out can be shared by name; what is proven holds however they are shared.
        let shared = shared_out(model, point);
        let looks = [(true, &sums[0]), (true, &sums[1]), (false, &sums[0])];
        let programs = looks.map(|(is_shared, sum)| (if is_shared { &shared } else { &model.program }, sum, work));
        let solved = self.solve_each(Way::Inside, programs);
        let fewest = solved[2].at_least.map(|together| Fewest { helpers, together });
        let mut relaxed = vec![];
        for (solved, (shared, sum)) in solved.into_iter().zip(looks) {
            self.take_better(model, point, solved.point.filter(|_| shared));
            relaxed.extend(solved.between.map(|between| Relaxed { sum: sum.clone(), between, shared }));
        }
        Some(Look { fewest, relaxed })
    }

    /// Looks for whole numbers no further from what was relaxed than the next ones.
    pub(super) fn beside(&mut self, model: &Model, relaxed: &[Relaxed], point: &mut Vec<i64>) {
        let near = |relaxed: &Relaxed| {
            let mut near = if relaxed.shared { shared_out(model, point) } else { model.program.clone() };
            for (column, &(least, most)) in near.columns.iter_mut().zip(&relaxed.between) {
                (column.least, column.most) = (column.least.max(least), column.most.min(most));
            }
            near
        };
        let work = self.budget.share(Share::AtOnce);
        let programs: Vec<Program> = relaxed.iter().map(near).collect();
        let programs = programs.iter().zip(relaxed).map(|(program, relaxed)| (program, &relaxed.sum, work));
        for solved in self.solve_each(Way::Briefly, programs) {
            self.take_better(model, point, solved.point);
        }
    }

    /// Of equally good ones the first stays.
    fn take_better(&self, model: &Model, point: &mut Vec<i64>, other: Option<Vec<i64>>) {
        *point = better(self.night, model, [Some(std::mem::take(point)), other]);
    }
}
