//! Rows about wear over the days before (B7).
//!
//! A window is a day or longer, so all of tonight's wear lies in it, while what
//! was worn before leaves it bit by bit: a row for the whole night, and one for
//! each slot by which more of the wear before is still in the window.

use crate::night::{Minute, Night, PersonIx, RollingWear, Rule};

use super::super::grid::Slot;
use super::{Grouping, Model};

impl Model {
    /// Adds the rows; what was worn by each slot is counted for single people only.
    pub(super) fn add_rolling_rows(&mut self, night: &Night) {
        for rolling in &night.limits.rolling_wear {
            for place in 0..self.groups.len() {
                let (person, people) = (self.groups[place].members[0], self.groups[place].count());
                let last = self.most_before(night, *rolling, person, self.grid.slots);
                let left = (rolling.max.0 * 100 - last).max(0);
                let worn = self.worn_by(night, place);
                if worn.terms.is_empty() {
                    continue;
                }
                self.program.at_most(worn, left * people, Rule::B7);
                if self.grouping == Grouping::Single {
                    self.add_rolling_rows_by_slot(night, place, *rolling, last);
                }
            }
        }
    }

    fn add_rolling_rows_by_slot(&mut self, night: &Night, place: usize, rolling: RollingWear, last: i64) {
        let person = self.groups[place].members[0];
        let before = |model: &Self, slot| model.most_before(night, rolling, person, slot);
        let Some(until) = (0..self.grid.slots).rev().find(|&slot| before(self, slot) > last) else { return };
        let most = rolling.max.0 * 100;
        let worn = self.add_worn_so_far(night, place, most, until, Rule::B7);
        for (slot, col) in (0..=until).zip(worn) {
            self.program.columns[col.0].most = (most - before(self, slot)).max(0);
        }
    }

    /// What the limits over days leave a single person at the start of a slot, tonight's wear not yet taken off.
    pub(super) fn left_over_days(&self, night: &Night, place: usize, slot: Slot) -> i64 {
        let person = self.groups[place].members[0];
        let left = |rolling: &RollingWear| rolling.max.0 * 100 - self.most_before(night, *rolling, person, slot);
        night.limits.rolling_wear.iter().map(left).min().unwrap_or(i64::MAX)
    }

    /// The wear of a person before tonight that is in the window at the start of a slot, in hundredths of a minute.
    /// Where it begins or ends to leave the window inside the slot before, what was there at the start of that.
    fn most_before(&self, night: &Night, rolling: RollingWear, person: PersonIx, slot: Slot) -> i64 {
        let (earlier, at) = (self.grid.minute(slot - 1), self.grid.minute(slot));
        let inside = |moment: Minute| earlier < moment && moment < at;
        let mine = night.roster.wear_log.iter().filter(|logged| logged.person == person);
        let mut moments = mine.flat_map(|logged| [logged.span.from, logged.span.to]);
        let uneven = moments.any(|moment| inside(moment + rolling.window));
        night.logged_centi(person, rolling.window, if uneven { earlier } else { at })
    }
}
