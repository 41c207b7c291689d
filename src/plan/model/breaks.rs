//! Rows about breaks (F3) and continuous watching (C11).

use crate::night::{Night, Rule, Span};

use super::super::grid::Slot;
use super::super::program::{Place, Sum, in_slot};
use super::Model;

impl Model {
    /// Adds breaks and the limit on watching.
    pub(super) fn add_break_rows(&mut self, night: &Night) {
        for place in 0..self.groups.len() {
            self.add_breaks(night, place);
            self.add_watch_limit(night, place);
        }
    }

    /// Every stretch on duty longer than the longest work without a break has
    /// one in it. People who could not have one are not planned at all.
    fn add_breaks(&mut self, night: &Night, place: usize) {
        let Some(rule) = night.limits.breaks else { return };
        let (length, work) = (self.grid.up(rule.length), self.grid.down(rule.work_max));
        let paid = self.groups[place].ability.paid;
        let n = self.groups[place].count();
        let mut rows = Vec::new();
        for from in paid.first..paid.end - work {
            let mut sum = Sum::new();
            self.duties[place].breaks.add_between(&mut sum, from - length, from + work, 1);
            rows.push(sum);
        }
        if (paid.first..paid.end - work).all(|from| self.break_possible(night, place, from - length, from + work)) {
            for sum in rows {
                self.program.at_least(sum, n, Rule::F3);
            }
        } else {
            self.forbid_duties(place);
        }
    }

    /// Whether the group may start a break in slots `after < slot <= upto`.
    fn break_possible(&self, night: &Night, place: usize, after: Slot, upto: Slot) -> bool {
        let slots = self.duties[place].breaks.slots();
        (after + 1..=upto).any(|slot| slots.contains(&slot) && self.break_allowed(night, slot))
    }

    /// Nobody of the group has a duty.
    fn forbid_duties(&mut self, place: usize) {
        let d = &self.duties[place];
        let posts = d.assisting.iter().chain(&d.observing).map(|p| &p.don);
        let entries = d.entering.iter().flat_map(|e| e.rooms.iter().map(|v| &v.don));
        let watches = d.watches.iter().flat_map(|w| w.entrant.iter().chain(&w.both).flatten().chain(&w.assistant));
        let others = d.watches_donning.iter().chain([&d.watches_observer]).chain(d.assists.iter().flatten());
        for curve in posts.chain(entries).chain(watches).chain(others) {
            let mut none = Sum::new();
            curve.add_all(&mut none, 1);
            self.program.at_most(none, 0, Rule::F3);
        }
    }

    /// A stretch of watching lasts at most `max`; a pause of `pause` ends it (C11).
    fn add_watch_limit(&mut self, night: &Night, place: usize) {
        let Some(rule) = night.limits.watching else { return };
        let (longest, pause) = (self.grid.down(rule.max), self.grid.up(rule.pause));
        let n = self.groups[place].count();
        for slot in 0..self.grid.slots {
            let mut watching = self.watching_now(night, place, slot);
            watching.tidy();
            let stretch = (!watching.terms.is_empty()).then(|| self.program.whole(0, n, Place::Slot(slot)));
            if let Some(col) = stretch {
                watching.add(col, -1);
                self.program.at_most(watching, 0, Rule::C11);
            }
            self.duties[place].stretch.push(stretch);
        }
        for slot in 0..self.grid.slots {
            self.add_stretch_rows(place, slot, longest, pause);
            if let Some(low) = &night.limits.low_hours {
                self.add_low_hours_row(place, slot, self.grid.down(low.watch_max));
            }
        }
    }

    /// A stretch that is longer than low hours allow and meets them holds one of just a slot too many that does (B10).
    fn add_low_hours_row(&mut self, place: usize, slot: Slot, longest: Slot) {
        let stretch = Span::new(self.grid.minute(slot), self.grid.minute(slot + longest + 1));
        if !self.low_hours.iter().any(|hours| hours.overlaps(stretch)) {
            return;
        }
        let cols = self.duties[place].stretch.iter().skip(usize::try_from(slot).unwrap_or(0));
        let mut sum = Sum::new();
        let long = usize::try_from(longest + 1).unwrap_or(usize::MAX);
        cols.take(long).flatten().for_each(|&col| sum.add(col, 1));
        self.program.at_most(sum, self.groups[place].count() * i64::from(longest), Rule::B10);
    }

    fn add_stretch_rows(&mut self, place: usize, slot: Slot, longest: Slot, pause: Slot) {
        let n = self.groups[place].count();
        let stretch = self.duties[place].stretch.clone();
        let at = |slot: Slot| in_slot(&stretch, slot);
        let mut sum = Sum::new();
        (slot..=slot + longest).filter_map(at).for_each(|col| sum.add(col, 1));
        self.program.at_most(sum, n * i64::from(longest), Rule::C11);
        // Whoever ends a stretch at `slot` watches nothing for the whole pause.
        for later in 1..pause {
            let (Some(before), Some(after)) = (at(slot - 1), at(slot + later)) else { continue };
            let mut sum = Sum::new();
            sum.add(before, 1);
            sum.add(after, 1);
            at(slot).into_iter().for_each(|col| sum.add(col, -1));
            self.program.at_most(sum, n, Rule::C11);
        }
    }
}
