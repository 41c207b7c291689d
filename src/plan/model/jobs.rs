//! Duties without a kit that take a fixed time from an event on, or around it.

use crate::night::Night;

use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::Sum;
use super::Model;
use super::duties::Duties;
use super::people::Person;

/// Busy from `before` slots before an event of a curve until `after` slots after it.
pub(super) struct Job<'a> {
    pub(super) events: &'a Curve,
    pub(super) before: Slot,
    pub(super) after: Slot,
}

impl Job<'_> {
    pub(super) const fn length(&self) -> Slot {
        self.before + self.after
    }

    /// Adds those who are at it in a slot.
    pub(super) fn add_at(&self, sum: &mut Sum, slot: Slot) {
        self.events.add_between(sum, slot - self.after, slot + self.before, 1);
    }

    /// Adds those who are at it from `first` through `last`, both slots included.
    pub(super) fn add_through(&self, sum: &mut Sum, first: Slot, last: Slot) {
        let (after, upto) = (last - self.after, first + self.before);
        if after < upto {
            self.events.add_between(sum, after, upto, 1);
        }
    }
}

impl Model {
    /// Watching donnings, one at a time.
    pub(super) fn donnings_watched<'d>(&self, night: &Night, duties: &'d Duties) -> Vec<Job<'d>> {
        let donnings = duties.watches_donning.iter().zip(&night.limits.ensembles);
        donnings.map(|(events, ensemble)| Job { events, before: 0, after: self.grid.up(ensemble.donning) }).collect()
    }

    /// Watching removals in a lane group, ready and reset included.
    pub(super) fn watches_in_lane<'d>(&self, night: &Night, duties: &'d Duties, lane: usize) -> Vec<Job<'d>> {
        let Some(watches) = &duties.watches else { return vec![] };
        let (before, reset) = (self.grid.up(night.limits.observer_ready), self.grid.up(night.limits.observer_reset));
        let own = self.own_removal_slots(night);
        let mut jobs = Vec::new();
        for kind in 0..self.ensembles.len() {
            let after = self.removal_slots(night, kind) + reset;
            jobs.push(Job { events: &watches.entrant[kind][lane], before, after });
            jobs.push(Job { events: &watches.both[kind][lane], before, after: after + own });
        }
        jobs.extend(watches.assistant.get(lane).map(|events| Job { events, before, after: own + reset }));
        jobs
    }
}

impl Person<'_> {
    /// Breaks.
    pub(super) fn breaks(&self) -> Job<'_> {
        let length = self.night.limits.breaks.map_or(0, |breaks| self.model.grid.up(breaks.length));
        Job { events: &self.duties.breaks, before: 0, after: length }
    }

    /// Showers, where places are limited.
    pub(super) fn showers(&self) -> Job<'_> {
        Job { events: &self.duties.showers, before: 0, after: self.model.grid.up(self.night.limits.shower) }
    }
}
