//! Counting curves: how many events of one kind have happened by each slot.
//!
//! A curve has one whole-number column per slot: events up to and including
//! it. Rules about durations then touch two or three columns, however long the
//! duration is; this is what keeps nights on a 5-minute grid small.

use super::grid::Slot;
use super::part::Fate;
use super::program::{Col, Place, Program, Sum};

/// Events of one kind, possible in slots `first..first + totals.len()`.
#[derive(Clone, Debug, Default)]
pub struct Curve {
    first: Slot,
    totals: Vec<Col>,
}

impl Curve {
    /// A curve with events possible in `from..=last`, at most `at_once` in one
    /// slot and `in_all` over the night.
    pub fn new(program: &mut Program, from: Slot, last: Slot, at_once: i64, in_all: i64) -> Self {
        let mut curve = Self { first: from, ..Self::default() };
        for slot in from..=last {
            let total = program.whole(0, in_all, Place::Total { first: from, slot });
            curve.totals.push(total);
            let mut step = Sum::new();
            curve.add_at(&mut step, slot, 1);
            program.between(step, 0, at_once, None);
        }
        curve
    }

    /// The same events, each so many slots later.
    pub fn later(&self, by: Slot) -> Self {
        Self { first: self.first + by, totals: self.totals.clone() }
    }

    /// Whether no event is possible.
    pub fn is_empty(&self) -> bool {
        self.totals.is_empty()
    }

    /// Slots in which an event is possible.
    pub fn slots(&self) -> std::ops::Range<Slot> {
        self.first..self.first + Slot::try_from(self.totals.len()).expect("a night has few slots")
    }

    /// The slot of every event in a solution, as often as it happens there.
    pub fn events(&self, point: &[i64]) -> Vec<Slot> {
        let times = |slot| usize::try_from(self.count(point, slot)).unwrap_or(0);
        self.slots().flat_map(|slot| std::iter::repeat_n(slot, times(slot))).collect()
    }

    /// Forbids events in a slot.
    pub fn close(&self, program: &mut Program, slot: Slot) {
        let mut step = Sum::new();
        self.add_at(&mut step, slot, 1);
        program.at_most(step, 0, None);
    }

    /// Adds `times x events in the slot`.
    pub fn add_at(&self, sum: &mut Sum, slot: Slot, times: i64) {
        if !self.slots().contains(&slot) {
            return;
        }
        self.add_upto(sum, slot, times);
        self.add_upto(sum, slot - 1, -times);
    }

    /// Its columns.
    pub fn columns(&self) -> &[Col] {
        &self.totals
    }

    /// The column of a slot.
    pub fn column(&self, slot: Slot) -> Option<Col> {
        usize::try_from(slot - self.first).ok().and_then(|place| self.totals.get(place).copied())
    }

    /// Makes no event in a slot a matter of fact: the total stays what it was.
    pub fn hold_still(&self, fates: &mut [Fate], slot: Slot) {
        let Some(place) = usize::try_from(slot - self.first).ok().filter(|&i| i < self.totals.len()) else { return };
        let before = place.checked_sub(1).map(|before| self.totals[before]);
        fates[self.totals[place].0] = before.map_or(Fate::Held(0), |before| Fate::Follows(before, 0));
    }

    /// Events in a slot, in a solution.
    pub fn count(&self, point: &[i64], slot: Slot) -> i64 {
        let mut sum = Sum::new();
        self.add_at(&mut sum, slot, 1);
        sum.value(point)
    }

    fn total(&self, slot: Slot) -> Option<Col> {
        let past = usize::try_from(slot - self.first).ok()?;
        self.totals.get(past.min(self.totals.len().checked_sub(1)?)).copied()
    }

    /// Adds `times x events in slots up to and including slot`.
    pub fn add_upto(&self, sum: &mut Sum, slot: Slot, times: i64) {
        if let Some(total) = self.total(slot) {
            sum.add(total, times);
        }
    }

    /// Adds `times x events in slots after < slot <= upto`; negative when `upto < after`.
    pub fn add_between(&self, sum: &mut Sum, after: Slot, upto: Slot, times: i64) {
        self.add_upto(sum, upto, times);
        self.add_upto(sum, after, -times);
    }

    /// Adds `times x all events of the night`.
    pub fn add_all(&self, sum: &mut Sum, times: i64) {
        self.add_upto(sum, Slot::MAX / 2, times);
    }
}
