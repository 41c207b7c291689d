//! Wear over the days before: what is known of it, and the unit's limits (B7).

use super::Night;
use super::clock::{Minute, Minutes, Span};
use super::constraint_set::EnsembleIx;
use super::roster::PersonIx;

/// A limit on the wear of one person in any stretch of so many hours.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RollingWear {
    /// The stretch; a day or longer.
    pub window: Minutes,
    /// The most wear in it.
    pub max: Minutes,
}

/// One wear before this shift, from a log.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct LoggedWear {
    /// Who.
    pub person: PersonIx,
    /// What was worn.
    pub ensemble: EnsembleIx,
    /// From the minute from which the unit counts wear to the last item off.
    pub span: Span,
}

impl Night {
    /// The wear of a person before tonight that lies in the stretch `(at - window, at]`, in hundredths of a minute.
    #[must_use]
    pub fn logged_centi(&self, person: PersonIx, window: Minutes, at: Minute) -> i64 {
        let stretch = Span::new(at - window, at);
        let mine = self.roster.wear_log.iter().filter(|logged| logged.person == person);
        mine.map(|logged| {
            let minutes = logged.span.intersection(stretch).length().0.max(0);
            minutes * self.limits.ensemble(logged.ensemble).cumulative_percent
        })
        .sum()
    }
}
