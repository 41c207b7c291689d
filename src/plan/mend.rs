//! A small re-plan around one stretch of time: is a gap closed if something changes?

use std::ops::Range;

use crate::night::{Minutes, Night, Rota, Span};

use super::construct::Builder;
use super::encode::{measured, point_of};
use super::grid::Slot;
use super::handout::{Follow, counts, handed};
use super::model::{Grouping, Model};
use super::names;
use super::part::{Part, window};
use super::program::Sum;
use super::slide::is_within_reach;
use super::solve::{Limit, Way, minimise};
use super::thin::on_beat;

/// Work units allowed for one try: an answer that takes longer is not given.
const TRY: u64 = 3_000;

/// How far around the gap duties may move.
const AROUND: Minutes = Minutes(90);

/// Work units allowed for building around a gap.
const BUILT: u64 = 1_000;

/// Chance decides a little in building.
const SEED: u64 = 1;

/// Re-plans `rota` around `span` so that so much less of care is missed over the whole night: person-minutes uncovered,
/// and [`super::MUST_COUNTS`] and [`super::WANTED_COUNTS`] for tasks not done. Everything else stays. `None` when no such
/// rota was found.
#[must_use]
pub fn mend(night: &Night, rota: &Rota, span: Span, less: i64) -> Option<Rota> {
    let single = Model::build(night, Grouping::Single);
    let grid = &single.grid;
    let around = grid.at_or_before(span.from - AROUND).max(0)..grid.at_or_after(span.to + AROUND).min(grid.slots);
    built(night, &single, rota, &around, less).or_else(|| solved(night, single, rota, &around, less))
}

/// The same, duty by duty.
fn built(night: &Night, single: &Model, rota: &Rota, around: &Range<Slot>, less: i64) -> Option<Rota> {
    let point = point_of(night, single, rota)?;
    let mut builder = Builder::resume(night, single, (rota, &point), SEED)?;
    let built = builder.make_up_for(around.clone(), less, BUILT);
    let point = built.then(|| measured(night, single, &builder.best())).flatten()?;
    Some(names::rota(night, single, &point))
}

/// The same by the solver: people who are alike are counted together, then named.
fn solved(night: &Night, mut single: Model, rota: &Rota, around: &Range<Slot>, less: i64) -> Option<Rota> {
    let mut alike = Model::build(night, Grouping::Alike);
    let point = point_of(night, &alike, rota)?;
    let care = alike.care_missed(night);
    let missed = care.value(&point) - less;
    alike.program.at_most(care, missed, None);
    let beat = on_beat(night, &alike);
    let fates = window(&alike.program, &point, (around.start, around.end), Some(&beat));
    let part = Part::cut(&alike.program, &Sum::new(), &fates)?;
    if !is_within_reach(&part.program, TRY) {
        return None;
    }
    let limit = Limit { work: TRY, until: None, way: Way::Briefly, asked: &|| false };
    let solved = minimise(&part.program, &part.sum, None, &limit);
    let counted = part.whole_point(&solved.point?);
    let care = single.care_missed(night);
    single.program.at_most(care, missed, None);
    let counts = counts(&alike, &alike, &counted);
    let beat = on_beat(night, &single);
    let named = Follow::NAMES
        .into_iter()
        .find_map(|follow| handed((&alike, &counts), &single, follow, &beat, &Sum::new(), &limit).point);
    Some(names::rota(night, &single, &named?))
}
