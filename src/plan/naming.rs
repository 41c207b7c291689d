//! Names for people counted together.
//!
//! What one group is counted to do says nothing about who of another group does what, so whether there are names is a
//! question of each group by itself, and quick to settle. Only the groups that have none are looked at person by
//! person, with everybody else still counted: as much of the counts as can be, then improved window by window. That
//! loses far less than giving up the counts of the whole night.

use crate::night::{Minutes, Night, PersonIx};

use super::budget::Share;
use super::handout::{Follow, counts, doors, hand_out};
use super::model::{Group, Grouping, Model};
use super::part::{Fate, Part, window};
use super::search::{Aim, Search};
use super::side_by_side::side_by_side;
use super::solve::{Limit, Way, minimise};
use super::start::{better, handed_over};
use super::thin::around_doors;
use super::{Effort, Unwatched};

/// Names that come as near to the counts as can be are looked for in steps of the night,
const STEP: Minutes = Minutes(240);

/// each of which goes back so far into the one before.
const BACK: Minutes = Minutes(120);

/// Work units allowed for one such step.
const ONE_STEP: u64 = 8_000;

/// Work units allowed for finding whether one group has names.
const ONE_GROUP: u64 = 12_000;

/// Names for people counted together as this search finds them, and nothing improved: see [`Search::named`].
pub fn only_named(night: &Night, counted: &Model, point: &[i64], single: &Model) -> Vec<i64> {
    let mut unwatched = Unwatched;
    Search::new(night, Aim::Rota, Effort { work: 0, seconds: None }, &mut unwatched).named(counted, point, single, None)
}

impl Search<'_> {
    /// Names for people counted together: names that add up to the counts; where there are none, as much of the counts
    /// as can be, group by group, or a rota built along their doors. The one built before stays where it is better.
    pub(super) fn named(
        &mut self,
        counted: &Model,
        point: &[i64],
        single: &Model,
        built: Option<Vec<i64>>,
    ) -> Vec<i64> {
        let unnamed = match self.exactly_named(counted, point, single) {
            Ok(exactly) => return better(self.night, single, [Some(exactly), built]),
            Err(unnamed) => unnamed,
        };
        let nearest = self.named_in_turn(counted, point, single, unnamed);
        let ranking = |point: &Vec<i64>| single.ranking(self.night, point);
        let gained = nearest
            .as_ref()
            .is_some_and(|nearest| built.as_ref().is_none_or(|built| ranking(nearest) < ranking(built)));
        let along = if gained { None } else { self.built_along(single, counted, point) };
        better(self.night, single, [built, nearest, along])
    }

    /// Names that add up to the counts.
    ///
    /// # Errors
    /// Members of the groups that have none; nobody, where there are none for all groups together.
    pub(super) fn exactly_named(
        &mut self,
        counted: &Model,
        point: &[i64],
        single: &Model,
    ) -> Result<Vec<i64>, Vec<PersonIx>> {
        let unnamed = self.without_names(counted, point);
        if !unnamed.is_empty() {
            return Err(unnamed);
        }
        self.hand_over(counted, point, single, &[Follow::Exactly]).ok_or(unnamed)
    }

    /// Members of the groups that have no names that add up to their counts, or none that were found.
    fn without_names(&mut self, counted: &Model, point: &[i64]) -> Vec<PersonIx> {
        let night = self.night;
        let groups: Vec<&Group> = several(counted).collect();
        let mut unnamed = Vec::new();
        // Two at a time, one for each of two processors.
        for pair in groups.chunks(2) {
            let until = self.overtime();
            let handed = side_by_side(pair.iter().map(|group| {
                move || {
                    let apart = Model::build_with(night, Grouping::Alike, &group.members);
                    handed_over(night, (counted, point), &apart, Follow::Exactly, ONE_GROUP, until)
                }
            }));
            self.budget.spend_side_by_side(&handed.iter().map(|handed| (handed.work, None)).collect::<Vec<_>>());
            let missing = pair.iter().zip(&handed).filter(|(_, handed)| handed.point.is_none());
            unnamed.extend(missing.flat_map(|(group, _)| &group.members).copied());
        }
        unnamed
    }

    /// Names for `alone` as near to the counts as can be, improved while everybody else is counted; then for one group
    /// after another.
    fn named_in_turn(
        &mut self,
        counted: &Model,
        point: &[i64],
        single: &Model,
        mut alone: Vec<PersonIx>,
    ) -> Option<Vec<i64>> {
        let night = self.night;
        let mut partly = Model::build_with(night, Grouping::Alike, &alone);
        let mut point = self.nearest(counted, point, &partly);
        self.budget.give(Share::Unnamed);
        self.improve_care(&mut partly, &mut point);
        for group in several(counted) {
            if alone.contains(&group.members[0]) {
                continue;
            }
            alone.extend(&group.members);
            let further = Model::build_with(night, Grouping::Alike, &alone);
            point = self.hand_over(&partly, &point, &further, &Follow::NAMES)?;
            partly = further;
        }
        self.hand_over(&partly, &point, single, &Follow::NAMES)
    }

    /// As much of the counts as can be, from nothing, one stretch of the night after another.
    fn nearest(&mut self, counted: &Model, point: &[i64], partly: &Model) -> Vec<i64> {
        let counts = counts(counted, counted, point);
        let beat = around_doors(self.night, partly, doors(&counts, 0));
        let (program, fates) = hand_out(counted, &counts, partly, Follow::AtMost, &beat);
        let allowed: Vec<bool> = fates.iter().map(|fate| *fate == Fate::Free).collect();
        let (step, back, night) = (partly.grid.up(STEP), partly.grid.up(BACK), partly.grid.slots);
        let (mut nearest, sum) = (Self::nobody_enters(partly), partly.care_missed(self.night));
        for upto in (0..night).step_by(usize::try_from(step).unwrap_or(1).max(1)).map(|from| (from + step).min(night)) {
            let from = (upto - step - back).max(0);
            let fates = window(&program, &nearest, (from, upto), Some(&allowed));
            let Some(part) = Part::cut(&program, &sum, &fates) else { continue };
            let limit = Limit { work: ONE_STEP, until: self.overtime(), way: Way::Briefly, asked: &|| false };
            let solved = minimise(&part.program, &part.sum, None, &limit);
            self.budget.spend(solved.work, solved.stopped);
            let found = solved.point.map(|point| part.whole_point(&point));
            nearest = found.filter(|found| sum.value(found) < sum.value(&nearest)).unwrap_or(nearest);
        }
        nearest
    }

    /// Window by window, level by level of what is missed and adds up over the night.
    fn improve_care(&mut self, model: &mut Model, point: &mut Vec<i64>) {
        let levels = Model::levels(self.night, model.grouping).into_iter();
        for level in levels.filter(|level| level.is_missed()) {
            let sum = model.objective(self.night, level);
            self.slide(model, level, &sum, point, 0);
            let value = sum.value(point);
            model.program.at_most(sum, value, None);
        }
    }
}

/// Groups of more than one.
fn several(counted: &Model) -> impl Iterator<Item = &Group> {
    counted.groups.iter().filter(|group| group.members.len() > 1)
}
