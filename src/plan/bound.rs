//! What a whole night cannot be below, from parts of it.
//!
//! What is missed adds up over stretches of time. A stretch looked at alone, with everything before and after it as it
//! would suit best, can only come out better than it does in any rota: so the least that each of some stretches comes
//! to adds up to something that no rota is below. The relaxation of a whole tight night says next to nothing; that of
//! a stretch can be settled.

use std::ops::Range;

use crate::night::{Minutes, Rule};

use super::budget::Share;
use super::grid::Slot;
use super::level::{Level, LevelResult};
use super::model::Model;
use super::program::{Col, Place, Program, Sum};
use super::search::Search;
use super::side_by_side::side_by_side;
use super::slide::is_within_reach;
use super::solve::{Way, most_inside};

/// How long a stretch is: much longer than one wear and the rest after it, since at its start everybody is fresh, and
/// short enough to be settled.
const STRETCH: Minutes = Minutes(240);

impl Search<'_> {
    /// What a class of presence cannot be below, with what is settled already held: from the relaxation of people counted
    /// together or, where that says nothing, from stretches of the night.
    pub(super) fn least(
        &mut self,
        settled: &[LevelResult],
        (counted, class): (&Model, u32),
        (model, sum): (&Model, &Sum),
    ) -> i64 {
        let by_relaxation = self.least_by_relaxation(settled, counted, class).unwrap_or(0);
        if by_relaxation > 0 { by_relaxation } else { self.least_by_stretches(model, sum) }
    }

    fn least_by_relaxation(&mut self, settled: &[LevelResult], counted: &Model, class: u32) -> Option<i64> {
        let work = self.budget.share(Share::Relaxation);
        if most_inside(&counted.program) > work {
            return None;
        }
        let mut program = counted.program.clone();
        for result in settled {
            let sum = match result.level {
                Level::PinsMissed => counted.pins_missed(),
                Level::RescueMissing => counted.rescue_missing(),
                Level::Uncovered(class) => counted.uncovered(class),
                _ => continue,
            };
            program.at_most(sum, result.value, None);
        }
        self.budget.give(Share::Relaxation);
        self.solve_by(Way::Inside, &program, &counted.uncovered(class), None, work).at_least
    }

    /// What `sum`, which adds up over slots, cannot be below in any rota of the model.
    fn least_by_stretches(&mut self, model: &Model, sum: &Sum) -> i64 {
        let (program, width) = (&model.program, model.grid.up(STRETCH).max(1));
        let count = (model.grid.slots / width).max(1);
        let border = |place: Slot| model.grid.slots * place / count;
        let stretches: Vec<Range<Slot>> = (0..count).map(|place| border(place)..border(place + 1)).collect();
        self.budget.give(Share::Stretches);
        let work = self.budget.stretch(stretches.len());
        let mut least = sum.constant;
        for pair in stretches.chunks(2) {
            let parts = side_by_side(pair.iter().map(|slots| move || stretch(program, sum, slots)));
            let within_reach = |part: &Program| if is_within_reach(part, work) { work } else { 0 };
            let each = parts.iter().map(|(part, sum)| (part, sum, within_reach(part)));
            let settled = self.solve_each(Way::AtLength, each);
            let at_least = settled.iter().map(|solved| solved.at_least.unwrap_or(i64::MIN));
            least += parts.iter().zip(at_least).map(|((part, sum), least)| part.least(sum).max(least)).sum::<i64>();
        }
        least
    }
}

/// A program of what lies in a stretch of slots, and the part of the sum that does.
///
/// Every point of the whole program has a point here whose sum is that of the same slots: running totals from before
/// the stretch are at most what they are at its start, those from after it at least what they are at its end, and a
/// row that then says nothing is left out.
fn stretch(whole: &Program, sum: &Sum, slots: &Range<Slot>) -> (Program, Sum) {
    let mut inside = Inside { program: Program::default(), place: vec![None; whole.columns.len()] };
    for (at, column) in whole.columns.iter().enumerate() {
        let keep = lies_in(column.place, slots);
        inside.place[at] = keep.then(|| inside.program.add(*column));
    }
    for row in &whole.rows {
        if let Some(most) = row.most {
            inside.keep(whole, row.terms(), most, row.rule, slots);
        }
        if let Some(least) = row.least {
            inside.keep(whole, row.terms().map(|(col, times)| (col, -times)), -least, row.rule, slots);
        }
    }
    let mut part = Sum::new();
    sum.terms.iter().filter_map(|&(col, times)| Some((inside.place[col.0]?, times))).for_each(|(c, t)| part.add(c, t));
    (inside.program, part)
}

/// Whether what of a point lies in a stretch keeps every row of the stretch.
pub fn keeps_stretch(whole: &Program, point: &[i64], slots: &Range<Slot>) -> bool {
    let columns = whole.columns.iter().zip(point);
    let inside: Vec<i64> =
        columns.filter(|(column, _)| lies_in(column.place, slots)).map(|(_, &value)| value).collect();
    stretch(whole, &Sum::new(), slots).0.accepts(&inside)
}

fn lies_in(place: Place, slots: &Range<Slot>) -> bool {
    match place {
        Place::Total { slot, .. } | Place::Slot(slot) => slots.contains(&slot),
        Place::Night => true,
    }
}

struct Inside {
    program: Program,
    /// For each column of the whole its column here, if it lies inside.
    place: Vec<Option<Col>>,
}

impl Inside {
    /// Adds `terms <= most`, each column outside replaced by what makes its term no larger.
    fn keep(
        &mut self,
        whole: &Program,
        terms: impl Iterator<Item = (Col, i64)>,
        most: i64,
        rule: Option<Rule>,
        slots: &Range<Slot>,
    ) {
        let mut sum = Sum::new();
        for (col, times) in terms {
            if let Some(here) = self.place[col.0].or_else(|| self.nearest(whole, col, times, slots)) {
                sum.add(here, times);
            } else {
                let column = whole.columns[col.0];
                sum.constant += (times * column.least).min(times * column.most);
            }
        }
        self.program.at_most(sum, most, rule);
    }

    /// The running total at the border that is never on the wrong side of one outside.
    fn nearest(&self, whole: &Program, col: Col, times: i64, slots: &Range<Slot>) -> Option<Col> {
        let Place::Total { slot, .. } = whole.columns[col.0].place else { return None };
        let border = if slot < slots.start { slots.start } else { slots.end - 1 };
        let of_use = if slot < slots.start { times < 0 } else { times > 0 };
        let there = col.0.checked_add_signed(isize::try_from(border - slot).ok()?)?;
        let same_curve = |at: usize| match (whole.columns.get(at).map(|c| c.place), whole.columns[col.0].place) {
            (Some(Place::Total { first, slot }), Place::Total { first: mine, .. }) => first == mine && slot == border,
            _ => false,
        };
        self.place.get(there).copied().flatten().filter(|_| of_use && same_curve(there))
    }
}
