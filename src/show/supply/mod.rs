//! How long the kits last: the terminal, CSV and JSON.

pub mod csv;
pub mod json;
pub mod terminal;
pub mod words;

use chrono::NaiveDate;

use super::Wall;
use crate::night::{Minute, Minutes, Night};
use crate::staffing::supply::{Shelf, Supply};

/// The answer with all that it was worked out from.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    /// The night.
    pub night: &'a Night,
    /// What its rota takes.
    pub supply: &'a Supply,
    /// Nights to look ahead, tonight included.
    pub coming: u32,
    /// Entries that nobody planned, a night.
    pub unplanned: u32,
    /// Faults that the check found in the rota.
    pub faults: usize,
    /// The day on which this is looked at.
    pub today: NaiveDate,
}

impl View<'_> {
    /// The unit's clock on the wall.
    #[must_use]
    pub const fn wall(&self) -> Wall {
        Wall::new(self.night.roster.clock)
    }

    /// The start of the shift, every full hour after it, and its end.
    #[must_use]
    pub fn hours(&self) -> Vec<Minute> {
        let shift = self.night.roster.shift;
        let hours = std::iter::successors(Some(shift.from), |at| Some(*at + Minutes(60)));
        hours.take_while(|at| *at < shift.to).chain([shift.to]).collect()
    }

    /// `F M`: ensemble and size.
    #[must_use]
    pub fn name(&self, kit: &Shelf) -> String {
        format!("{} {}", self.night.limits.ensemble(kit.ensemble).id, kit.size)
    }

    /// The date of the first night for which it is not enough, with so many unplanned entries a night; `None` where that
    /// is later than is looked ahead, or never.
    #[must_use]
    pub fn short_on(&self, kit: &Shelf, unplanned: u32) -> Option<NaiveDate> {
        let nights = kit.nights(unplanned).filter(|&nights| nights < self.coming)?;
        let first = self.wall().date(self.night.roster.shift.from);
        first.checked_add_days(chrono::Days::new(u64::from(nights)))
    }
}
