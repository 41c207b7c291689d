//! How lately a role was done or drilled: a second date beside the sign-off (A9).

use chrono::{Days, NaiveDate};

use super::Night;
use super::clock::Minute;
use super::constraint_set::ConstraintSet;
use super::roster::{Person, Role};

/// Within how many days somebody must last have done or drilled a role.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Recency {
    /// The role.
    pub role: Role,
    /// In days: done on the 1st with 30 of them, it is good through the 31st.
    pub days: u32,
}

impl ConstraintSet {
    /// Within how many days the unit wants a role done or drilled, if it says so.
    #[must_use]
    pub fn recency_of(&self, role: Role) -> Option<u32> {
        self.recency.iter().find(|recency| recency.role == role).map(|recency| recency.days)
    }
}

impl Person {
    /// The day on which this person last did or drilled `role`, if it is known.
    #[must_use]
    pub fn last_done(&self, role: Role) -> Option<NaiveDate> {
        self.sign_offs.iter().filter(|s| s.role == role).filter_map(|s| s.last_done).max()
    }
}

impl Night {
    /// The last day on which what was last done is recent enough for `role`. `None` where the unit does not ask, or
    /// the day is not known.
    #[must_use]
    pub fn recent_through(&self, person: &Person, role: Role) -> Option<NaiveDate> {
        let days = Days::new(u64::from(self.limits.recency_of(role)?));
        person.last_done(role).map(|done| done.checked_add_days(days).unwrap_or(NaiveDate::MAX))
    }

    /// The last day on which this person may act in `role`, signed off and recent: the earlier of the two days.
    /// `None` where it is not signed off, or recency is asked for and the day is not known.
    ///
    /// Whatever asks whether somebody is in date asks this, but for the check, which reads both days by itself.
    #[must_use]
    pub fn good_through(&self, person: &Person, role: Role) -> Option<NaiveDate> {
        let signed = person.signed_through(role)?;
        if self.limits.recency_of(role).is_none() {
            return Some(signed);
        }
        Some(signed.min(self.recent_through(person, role)?))
    }

    /// The first instant after [`Night::good_through`]: local midnight at the end of that day.
    #[must_use]
    pub fn good_until(&self, person: &Person, role: Role) -> Option<Minute> {
        self.good_through(person, role).map(|day| self.roster.end_of_day(day))
    }
}
