//! Shifts before tonight: what is known of them, and the unit's limits on nights in a row and hours in a week (F8).

use chrono::NaiveTime;

use super::Night;
use super::clock::{Minutes, Span};
use super::roster::PersonIx;

/// The stretch over which hours of a week are counted: seven times 24 hours, whatever the clocks do.
pub const WEEK: Minutes = Minutes(7 * 24 * 60);

/// The most nights in a row, and what makes a time on duty a night.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct NightsInARow {
    /// How many.
    pub max: u32,
    /// Whoever is on duty for a minute from this local time on has worked a night,
    pub from: NaiveTime,
    /// to this one, the next day if that is not later.
    pub to: NaiveTime,
}

/// One time on duty before tonight's, from a log.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct LoggedDuty {
    /// Who.
    pub person: PersonIx,
    /// On duty.
    pub span: Span,
}

impl Night {
    /// With how many nights in a row a person comes out of tonight's duty: back from the last night of it, for as long
    /// as the log has one after another. None where tonight's duty is no night, or the unit has no limit.
    #[must_use]
    pub fn nights_in_a_row(&self, person: PersonIx) -> u32 {
        let Some(limit) = self.limits.nights_in_a_row else { return 0 };
        let (duty, earlier) = (self.roster.person(person).on_duty, self.logged_duties(person));
        let first = earlier.iter().map(|span| span.from).min().unwrap_or(duty.from).min(duty.from);
        let nights = self.roster.clock.daily(limit.from, limit.to, Span::new(first, duty.to));
        let Some(last) = nights.iter().rposition(|night| night.overlaps(duty)) else { return 0 };
        let worked = |night: &&Span| night.overlaps(duty) || earlier.iter().any(|span| night.overlaps(*span));
        let in_a_row = nights[..=last].iter().rev().take_while(worked).count();
        u32::try_from(in_a_row).unwrap_or(u32::MAX)
    }

    /// The time on duty of a person in the week that ends with tonight's duty, the earlier duties as the log has them.
    /// It is never more at another minute of the duty: while somebody is on duty a minute comes in for each that may
    /// go out.
    #[must_use]
    pub fn on_duty_in_week(&self, person: PersonIx) -> Minutes {
        let duty = self.roster.person(person).on_duty;
        let week = Span::new(duty.to - WEEK, duty.to);
        let all = self.logged_duties(person).into_iter().chain([duty]);
        all.map(|span| span.intersection(week).length().max(Minutes::ZERO)).sum()
    }

    /// Whether tonight's duty is one too many for the unit's limits on nights in a row or hours in a week (F8): then a
    /// person has none.
    #[must_use]
    pub fn works_too_much(&self, person: PersonIx) -> bool {
        let nights = self.limits.nights_in_a_row.is_some_and(|limit| self.nights_in_a_row(person) > limit.max);
        nights || self.limits.week_max.is_some_and(|most| self.on_duty_in_week(person) > most)
    }

    fn logged_duties(&self, person: PersonIx) -> Vec<Span> {
        self.roster.duty_log.iter().filter(|logged| logged.person == person).map(|logged| logged.span).collect()
    }
}
