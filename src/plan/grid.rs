//! The planning grid: slots of equal length from the start of the shift (F6).

use crate::night::{Minute, Minutes, Night};

/// A point on the grid: slots since the start of the shift.
pub type Slot = i32;

/// Turns minutes into slots and back. Durations round up, limits down.
#[derive(Clone, Copy, Debug)]
pub struct Grid {
    start: Minute,
    step: Minutes,
    /// Slots in the shift; a duty ends at this point at the latest.
    pub slots: Slot,
}

impl Grid {
    /// The grid of a night.
    #[must_use]
    pub fn of(night: &Night) -> Self {
        let step = night.limits.grid;
        let shift = night.roster.shift;
        Self { start: shift.from, step, slots: whole(shift.length().0.max(0) / step.0) }
    }

    /// Slots that hold a duration.
    #[must_use]
    pub fn up(&self, length: Minutes) -> Slot {
        whole(length.up_to_grid(self.step).0 / self.step.0)
    }

    /// Slots that fit in a limit.
    #[must_use]
    pub fn down(&self, length: Minutes) -> Slot {
        whole(length.down_to_grid(self.step).0 / self.step.0)
    }

    /// The first grid point at or after an instant.
    #[must_use]
    pub fn at_or_after(&self, at: Minute) -> Slot {
        self.up(at - self.start)
    }

    /// The last grid point at or before an instant.
    #[must_use]
    pub fn at_or_before(&self, at: Minute) -> Slot {
        self.down(at - self.start)
    }

    /// The instant of a grid point.
    #[must_use]
    pub fn minute(&self, slot: Slot) -> Minute {
        self.start + Minutes(self.step.0 * i64::from(slot))
    }

    /// Minutes in so many slots.
    #[must_use]
    pub fn minutes(&self, slots: i64) -> i64 {
        self.step.0 * slots
    }
}

/// Far-away instants are as good as any point outside the shift.
fn whole(slots: i64) -> Slot {
    let far = i64::from(Slot::MAX / 4);
    Slot::try_from(slots.clamp(-far, far)).expect("the range was clamped")
}
