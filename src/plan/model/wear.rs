//! Rows about wear: the steps of an entry, longest and cumulative wear (B1, B2, B6, B9, B10).

use crate::night::{EnsembleIx, Night, Rule};

use super::super::ability::Wearing;
use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::{Col, Place, Sum};
use super::Model;
use super::duties::{Entering, Posting};
use super::people::{Person, Rows};

/// One kind of wear: what begins it, and how many slots later, and what ends it.
struct Wear<'a> {
    wearing: &'a Wearing,
    begin: &'a Curve,
    before: Slot,
    removals: Vec<&'a Curve>,
}

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
                let (begin, before) = entering.begins(visits);
                let by = self.model.latest_off(w, slot + before) - w.removal;
                rows.push((done_by(begin, slot, &removal, by), 0, Rule::B2));
                run_row(w, slot, &visits.don, &removal, rows);
            }
        }
    }

    fn post_rows(&self, posting: &Posting, rows: &mut Rows) {
        let w = &posting.wearing;
        let removal: Vec<&Curve> = posting.removals().collect();
        for slot in 0..self.model.grid.slots {
            rows.push((later_not_before(&removal, slot, &posting.don, slot - w.donning), 0, Rule::B1));
            let by = self.model.latest_off(w, slot + w.worn_from()) - w.removal;
            rows.push((done_by(&posting.don, slot, &removal, by), 0, Rule::B2));
            run_row(w, slot, &posting.don, &removal, rows);
        }
    }

    /// Every kind of wear of the group.
    fn wears(&self) -> Vec<Wear<'_>> {
        let entries = self.duties.entering.iter().flat_map(|entering| {
            entering.rooms.iter().map(|visits| {
                let (begin, before) = entering.begins(visits);
                Wear { wearing: &entering.wearing, begin, before, removals: visits.removal.iter().collect() }
            })
        });
        let posts = self.duties.assisting.iter().chain(&self.duties.observing).map(|posting| {
            let (wearing, removals) = (&posting.wearing, posting.removals().collect());
            Wear { wearing, begin: &posting.don, before: wearing.worn_from(), removals }
        });
        entries.chain(posts).collect()
    }

    /// Cumulative wear of the group, in hundredths of a minute.
    fn worn_minutes(&self) -> Sum {
        let mut sum = Sum::new();
        for Wear { wearing, begin, before, removals } in self.wears() {
            let percent = self.percent_slot(wearing.ensemble);
            for curve in removals {
                for slot in curve.slots() {
                    curve.add_at(&mut sum, slot, percent * i64::from(slot + wearing.removal));
                }
            }
            for slot in begin.slots() {
                begin.add_at(&mut sum, slot, -percent * i64::from(slot + before));
            }
        }
        sum
    }

    /// What a slot adds to cumulative wear, in hundredths of a minute.
    fn wear_in(&self, slot: Slot) -> Sum {
        let mut sum = Sum::new();
        for Wear { wearing, begin, before, removals } in self.wears() {
            let percent = self.percent_slot(wearing.ensemble);
            begin.add_upto(&mut sum, slot - before, percent);
            removals.into_iter().for_each(|curve| curve.add_upto(&mut sum, slot - wearing.removal, -percent));
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

    /// For each slot up to the last one, a column of what one person wore by its start, in hundredths of a minute: no
    /// more than `most`.
    pub(super) fn add_worn_so_far(
        &mut self,
        night: &Night,
        place: usize,
        most: i64,
        last: Slot,
        rule: Rule,
    ) -> Vec<Col> {
        let mut all: Vec<Col> = Vec::new();
        for slot in 0..=last {
            let worn = self.program.implied(most, Place::Slot(slot));
            let mut grows = self.wear_in(night, place, slot - 1);
            grows.add(worn, -1);
            all.last().iter().for_each(|&&col| grows.add(col, 1));
            self.program.at_most(grows, 0, rule);
            all.push(worn);
        }
        all
    }

    /// Cumulative wear of a group tonight, in hundredths of a minute, without what was carried in.
    pub(super) fn worn_by(&self, night: &Night, place: usize) -> Sum {
        Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] }.worn_minutes()
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

/// Whoever begins to don in a slot is out of the respirator before its charge is used up (G2).
fn run_row(w: &Wearing, slot: Slot, don: &Curve, removal: &[&Curve], rows: &mut Rows) {
    let run = w.respirator.as_ref().and_then(|worn| Some(worn.before + worn.in_turn?.run?));
    if let Some(run) = run {
        rows.push((done_by(don, slot, removal, slot + run - w.removal), 0, Rule::G2));
    }
}
