//! A small re-plan around one stretch of time: is a gap closed if something changes?

use crate::night::{Minutes, Night, Rota, Span};

use super::encode::point_of;
use super::handout::{Follow, counts, handed};
use super::model::{Grouping, Model};
use super::names;
use super::part::{Part, window};
use super::program::Sum;
use super::solve::{Limit, minimise};
use super::thin::on_beat;

/// Work units allowed for one try: an answer that takes longer is not given.
const TRY: u64 = 3_000;

/// How far around the gap duties may move.
const AROUND: Minutes = Minutes(90);

/// Re-plans `rota` around `span` so that at most `missed` of care is missed
/// over the whole night: person-minutes uncovered, and [`super::MUST_COUNTS`]
/// and [`super::WANTED_COUNTS`] for tasks not done. Everything else stays.
/// `None` when no such rota was found.
#[must_use]
pub fn mend(night: &Night, rota: &Rota, span: Span, missed: i64) -> Option<Rota> {
    let mut alike = Model::build(night, Grouping::Alike);
    let point = point_of(night, &alike, rota)?;
    let care = alike.care_missed(night);
    alike.program.at_most(care, missed, None);
    let from = alike.grid.at_or_before(span.from - AROUND);
    let to = alike.grid.at_or_after(span.to + AROUND);
    let beat = on_beat(night, &alike);
    let fates = window(&alike.program, &point, (from, to), Some(&beat));
    let part = Part::cut(&alike.program, &Sum::new(), &fates)?;
    let limit = Limit { work: TRY, until: None, reduce_fully: false, asked: &|| false };
    let solved = minimise(&part.program, &part.sum, None, &limit);
    let counted = part.whole_point(&solved.point?);
    let mut single = Model::build(night, Grouping::Single);
    let care = single.care_missed(night);
    single.program.at_most(care, missed, None);
    let counts = counts(&alike, &alike, &counted);
    let beat = on_beat(night, &single);
    let named = Follow::NAMES
        .into_iter()
        .find_map(|follow| handed((&alike, &counts), &single, follow, &beat, &Sum::new(), &limit).point);
    Some(names::rota(night, &single, &named?))
}
