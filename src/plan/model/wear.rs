//! Rows about wear: the steps of an entry, longest and cumulative wear (B1, B2, B6, B9, B10).

use crate::night::{EnsembleIx, Night, Rule};

use super::super::ability::Wearing;
use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::Sum;
use super::Model;
use super::duties::{Entering, Posting};
use super::people::{Person, Rows};

impl Person<'_> {
    /// Order of an entry's steps, wear, cumulative wear (B1, B2, B6, B9).
    pub(super) fn wear_rows(&self, rows: &mut Rows) {
        if let Some(entering) = &self.duties.entering {
            self.entry_rows(entering, rows);
        }
        for posting in self.duties.assisting.iter().chain(&self.duties.observing) {
            self.post_rows(posting, rows);
        }
        let mut worn = self.worn_minutes();
        worn.tidy();
        if !worn.terms.is_empty() {
            let left = self.group.ability.wear_left.max(0) * self.group.count();
            rows.push((worn, left, Rule::B6));
        }
    }

    fn entry_rows(&self, entering: &Entering, rows: &mut Rows) {
        let w = &entering.wearing;
        let stay = self.model.grid.up(self.night.limits.min_stay).max(1);
        for visits in &entering.rooms {
            let removal: Vec<&Curve> = visits.removal.iter().collect();
            for slot in 0..self.model.grid.slots {
                rows.push((later_not_before(&[&visits.door_in], slot, &visits.don, slot - w.donning), 0, Rule::B1));
                rows.push((later_not_before(&[&visits.door_out], slot, &visits.door_in, slot - stay), 0, Rule::B9));
                rows.push((later_not_before(&removal, slot, &visits.door_out, slot), 0, Rule::B1));
                let (begin, before) = w.before_wear.map_or((&visits.door_in, 0), |before| (&visits.don, before));
                let by = self.model.latest_off(w, slot + before) - w.removal;
                rows.push((done_by(begin, slot, &removal, by), 0, Rule::B2));
            }
        }
    }

    fn post_rows(&self, posting: &Posting, rows: &mut Rows) {
        let w = &posting.wearing;
        let removal: Vec<&Curve> = posting.removals().collect();
        for slot in 0..self.model.grid.slots {
            rows.push((later_not_before(&removal, slot, &posting.don, slot - w.donning), 0, Rule::B1));
            let by = self.model.latest_off(w, slot + w.before_wear.unwrap_or(w.donning)) - w.removal;
            rows.push((done_by(&posting.don, slot, &removal, by), 0, Rule::B2));
        }
    }

    /// Cumulative wear of the group, in hundredths of a minute.
    fn worn_minutes(&self) -> Sum {
        let mut sum = Sum::new();
        if let Some(entering) = &self.duties.entering {
            let percent = self.percent_slot(entering.wearing.ensemble);
            for visits in &entering.rooms {
                let (begin, before) = match entering.wearing.before_wear {
                    Some(before) => (&visits.don, before),
                    None => (&visits.door_in, 0),
                };
                add_worn(&mut sum, &entering.wearing, begin, before, visits.removal.iter(), percent);
            }
        }
        for posting in self.duties.assisting.iter().chain(&self.duties.observing) {
            let w = &posting.wearing;
            let before = w.before_wear.unwrap_or(w.donning);
            add_worn(&mut sum, w, &posting.don, before, posting.removals(), self.percent_slot(w.ensemble));
        }
        sum
    }

    /// What a slot adds to cumulative wear, in hundredths of a minute.
    fn wear_in(&self, slot: Slot) -> Sum {
        let mut sum = Sum::new();
        let mut add = |w: &Wearing, begin: &Curve, before: Slot, removals: Vec<&Curve>| {
            let percent = self.percent_slot(w.ensemble);
            begin.add_upto(&mut sum, slot - before, percent);
            removals.into_iter().for_each(|curve| curve.add_upto(&mut sum, slot - w.removal, -percent));
        };
        if let Some(entering) = &self.duties.entering {
            for visits in &entering.rooms {
                let begin = entering.wearing.before_wear.map_or((&visits.door_in, 0), |before| (&visits.don, before));
                add(&entering.wearing, begin.0, begin.1, visits.removal.iter().collect());
            }
        }
        for posting in self.duties.assisting.iter().chain(&self.duties.observing) {
            let before = posting.wearing.before_wear.unwrap_or(posting.wearing.donning);
            add(&posting.wearing, &posting.don, before, posting.removals().collect());
        }
        sum
    }

    /// Hundredths of a minute that one slot in an ensemble counts.
    fn percent_slot(&self, ensemble: EnsembleIx) -> i64 {
        self.night.limits.ensemble(ensemble).cumulative_percent * self.model.grid.minutes(1)
    }
}

impl Model {
    /// The latest end of a wear that begins in `from`: a wear that shares a minute with low hours has its own,
    /// shorter limit (B10), so it may also end as they begin. It never falls as `from` rises, so that whoever
    /// begins first may end first.
    pub(super) fn latest_off(&self, wearing: &Wearing, from: Slot) -> Slot {
        let usual = from + wearing.max_wear;
        let Some(low) = wearing.low_wear else { return usual };
        let grid = &self.grid;
        let met = self.low_hours.iter().filter(|hours| from < grid.at_or_after(hours.to));
        met.map(|hours| grid.at_or_before(hours.from).max(from + low)).fold(usual, Slot::min)
    }

    /// What a slot adds to a group's cumulative wear, in hundredths of a minute.
    pub(super) fn wear_in(&self, night: &Night, place: usize, slot: Slot) -> Sum {
        Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] }.wear_in(slot)
    }

    /// Cumulative wear of a group tonight, in hundredths of a minute, without what was carried in.
    pub(super) fn worn_by(&self, night: &Night, place: usize) -> Sum {
        Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] }.worn_minutes()
    }
}

fn add_worn<'a>(
    sum: &mut Sum,
    wearing: &Wearing,
    begin: &Curve,
    before: Slot,
    removals: impl Iterator<Item = &'a Curve>,
    percent: i64,
) {
    for curve in removals {
        for slot in curve.slots() {
            curve.add_at(sum, slot, percent * i64::from(slot + wearing.removal));
        }
    }
    for slot in begin.slots() {
        begin.add_at(sum, slot, -percent * i64::from(slot + before));
    }
}

/// `later events up to slot - earlier events up to its own slot`, to be at most 0.
fn later_not_before(later: &[&Curve], slot: Slot, earlier: &Curve, earlier_slot: Slot) -> Sum {
    let mut sum = Sum::new();
    for curve in later {
        curve.add_upto(&mut sum, slot, 1);
    }
    earlier.add_upto(&mut sum, earlier_slot, -1);
    sum
}

/// `begun up to slot - done up to by`, to be at most 0.
fn done_by(begun: &Curve, slot: Slot, done: &[&Curve], by: Slot) -> Sum {
    let mut sum = Sum::new();
    begun.add_upto(&mut sum, slot, 1);
    for curve in done {
        curve.add_upto(&mut sum, by, -1);
    }
    sum
}
