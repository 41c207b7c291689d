//! Columns and rows about who coordinates and who stands by (F7, E1).
//!
//! In every slot a column of each group counts those at it; they take part in
//! the rows about one duty at a time and rest like any other duty.

use std::collections::BTreeMap;

use crate::night::{EnsembleIx, Night, Role, RoomIx, Rule, Span};

use super::super::ability::{Wearing, Window};
use super::super::grid::Slot;
use super::super::program::{Col, Place, Sum, in_slot};
use super::{Grouping, Model};

/// Whether somebody has to be left for a rescue while anyone is inside: to coordinate, to stand by, for an early exit.
pub const fn is_needed(night: &Night) -> bool {
    let limits = &night.limits;
    limits.coordinator || limits.standby.is_some() || limits.early_exit.is_some()
}

/// Columns about rescue, by slot.
#[derive(Clone, Debug, Default)]
pub struct Rescue {
    /// People missing who stand by, where a shortage is reported.
    pub short: Vec<Col>,
    /// 1 where nobody could see to an early exit, where that is reported.
    pub exits: Vec<Col>,
    /// By slot: for each group of lanes, those that are not held.
    pub lanes: Vec<Vec<Col>>,
}

impl Model {
    /// Adds the columns; the rows about people then count them.
    pub(super) fn add_rescue_columns(&mut self, night: &Night) {
        let limits = &night.limits;
        for place in 0..self.groups.len() {
            let ability = self.groups[place].ability.clone();
            if limits.coordinator && self.grouping != Grouping::Entrants {
                self.duties[place].coordinating = self.one_to_a_slot(place, ability.coordinate);
            }
            if limits.standby.is_some() {
                self.duties[place].standing_by = self.one_to_a_slot(place, ability.stand_by);
            }
        }
    }

    fn one_to_a_slot(&mut self, place: usize, window: Option<Window>) -> Vec<Option<Col>> {
        let Some(window) = window else { return vec![] };
        let n = self.groups[place].count();
        let slots = 0..self.grid.slots;
        slots
            .map(|slot| {
                (window.first <= slot && slot < window.end).then(|| self.program.whole(0, n, Place::Slot(slot)))
            })
            .collect()
    }

    /// Adds the rows, once rooms and people have theirs.
    pub(super) fn add_rescue_rows(&mut self, night: &Night) {
        let coordinated = night.limits.coordinator && self.grouping != Grouping::Entrants;
        if !coordinated && night.limits.standby.is_none() && night.limits.early_exit.is_none() {
            return;
        }
        let mut all = Vec::new();
        for slot in 0..self.grid.slots {
            let occupied = self.program.whole(0, 1, Place::Slot(slot));
            for room in (0..night.roster.rooms.len()).map(RoomIx) {
                let mut sum = self.inside(room, slot, None);
                sum.add(occupied, -i64::from(night.roster.rooms[room.0].max_inside));
                self.program.at_most(sum, 0, None);
            }
            if coordinated {
                let mut sum = self.all_at(slot, |duties| &duties.coordinating);
                sum.add(occupied, -1);
                self.program.at_least(sum, 0, Rule::F7);
            }
            self.add_standby_row(night, slot, occupied);
            all.push(occupied);
        }
        self.add_exit_rows(night, &all);
        if night.limits.standby.is_some() {
            self.add_standby_kits(night);
            self.close_forbidden(night);
            self.close_low_hours(night);
            if self.grouping == Grouping::Single {
                (0..self.groups.len()).for_each(|place| self.add_wear_left_rows(night, place));
            }
        }
    }

    pub(super) fn all_at(&self, slot: Slot, of: impl Fn(&super::Duties) -> &Vec<Option<Col>>) -> Sum {
        let mut sum = Sum::new();
        let cols = self.duties.iter().filter_map(|duties| in_slot(of(duties), slot));
        cols.for_each(|col| sum.add(col, 1));
        sum
    }

    fn add_standby_row(&mut self, night: &Night, slot: Slot, occupied: Col) {
        let Some(standby) = night.limits.standby else { return };
        let needed = i64::from(standby.responders);
        let mut sum = self.all_at(slot, |duties| &duties.standing_by);
        sum.add(occupied, -needed);
        if standby.report {
            let short = self.program.implied(needed, Place::Slot(slot));
            sum.add(short, 1);
            self.rescue.short.push(short);
        }
        self.program.at_least(sum, 0, Rule::E1);
    }

    /// A kit of the right size is left for each who stands by, beyond all that is planned.
    fn add_standby_kits(&mut self, night: &Night) {
        let mut groups: BTreeMap<(EnsembleIx, String), Vec<usize>> = BTreeMap::new();
        for (place, duties) in self.duties.iter().enumerate() {
            if let Some(entering) = duties.entering.as_ref().filter(|_| !duties.standing_by.is_empty()) {
                let kit = (entering.wearing.ensemble, entering.wearing.size.clone());
                groups.entry(kit).or_default().push(place);
            }
        }
        for ((ensemble, size), places) in groups {
            let taken = self.kits_taken().remove(&(ensemble, size.clone())).unwrap_or_default();
            let usable = i64::from(night.roster.usable_kits(ensemble, &size));
            for slot in 0..usize::try_from(self.grid.slots).unwrap_or(0) {
                let mut sum = taken.clone();
                let cols = places.iter().filter_map(|&place| self.duties[place].standing_by[slot]);
                cols.for_each(|col| sum.add(col, 1));
                self.program.at_most(sum, usable, Rule::E1);
            }
        }
    }

    /// Whoever is forbidden to enter does not stand by either.
    fn close_forbidden(&mut self, night: &Night) {
        for place in 0..self.groups.len() {
            let Some(person) = self.groups[place].ability.settled else { continue };
            let mine = night.roster.forbidden.iter().filter(|f| f.person == person);
            let spans: Vec<Span> = mine.filter(|f| f.roles.contains(&Role::Entrant)).map(|f| f.span).collect();
            self.close_standing(night, place, |_| 0, &spans);
        }
    }

    /// Where not even the shortest entry fits into the wear of low hours, nobody stands by to make one that meets them.
    fn close_low_hours(&mut self, night: &Night) {
        let stay = self.grid.up(night.limits.min_stay).max(1);
        for place in 0..self.groups.len() {
            let Some(w) = self.duties[place].entering.as_ref().map(|e| &e.wearing) else { continue };
            if w.low_wear.is_some_and(|low| w.donning - w.worn_from() + stay + w.removal > low) {
                let hours = self.low_hours.clone();
                self.close_standing(night, place, Wearing::worn_from, &hours);
            }
        }
    }

    /// Nobody of a group stands by in a slot from which the shortest entry, from so many slots after the start of
    /// donning to its end, shares a minute with one of some stretches. Every minute of the slot has to do.
    fn close_standing(&mut self, night: &Night, place: usize, after: fn(&Wearing) -> Slot, shut: &[Span]) {
        let Some(wearing) = self.duties[place].entering.as_ref().map(|e| &e.wearing) else { return };
        let length = wearing.donning + self.grid.up(night.limits.min_stay).max(1) + wearing.removal;
        let after = after(wearing);
        for (slot, col) in (0..self.grid.slots).zip(&self.duties[place].standing_by) {
            let going = Span::new(self.grid.minute(slot + after), self.grid.minute(slot + 1 + length));
            if let Some(col) = col.filter(|_| shut.iter().any(|span| span.overlaps(going))) {
                self.program.columns[col.0].most = 0;
            }
        }
    }

    /// Whoever stands by has wear left for the shortest entry (B6): what was worn by each slot is kept count of.
    fn add_wear_left_rows(&mut self, night: &Night, place: usize) {
        let standing = self.duties[place].standing_by.clone();
        let Some(entering) = self.duties[place].entering.clone().filter(|_| !standing.is_empty()) else { return };
        let w = &entering.wearing;
        let sealed = w.donning - w.worn_from();
        let least = self.grid.minutes(i64::from(sealed + self.grid.up(night.limits.min_stay) + w.removal)) * w.percent;
        let of_shift = self.groups[place].ability.wear_left.max(0);
        let most = of_shift.max(least);
        let worn = self.add_worn_so_far(night, place, most, self.grid.slots - 1, Rule::E1);
        for ((slot, standing), worn) in (0..self.grid.slots).zip(standing).zip(worn) {
            let Some(standing) = standing else { continue };
            let left = of_shift.min(self.left_over_days(night, place, slot)).max(0);
            if left < least {
                self.program.columns[standing.0].most = 0;
                continue;
            }
            // Whoever does not stand by may have worn all that the shift allows.
            let mut sum = Sum::new();
            sum.add(worn, 1);
            sum.add(standing, least + most - left);
            self.program.at_most(sum, most, Rule::E1);
        }
    }

    /// Minutes short of standby, times the people missing, and minutes without cover for an early exit (level 1).
    /// Columns that count minutes without rescue, where the unit reports them.
    pub fn rescue_columns(&self) -> impl Iterator<Item = Col> + '_ {
        self.rescue.short.iter().chain(&self.rescue.exits).copied()
    }

    pub fn rescue_missing(&self) -> Sum {
        let mut sum = Sum::new();
        self.rescue_columns().for_each(|short| sum.add(short, self.grid.minutes(1)));
        sum
    }
}
