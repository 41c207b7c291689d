//! Whole minutes on the true, elapsed time line.
//!
//! Local times exist only at the edges (reading and showing): inside the
//! program every instant is a [`Minute`], so midnight and the nights on which
//! the clocks change need no special case (F5).

use std::fmt;
use std::ops::{Add, AddAssign, Neg, Sub};

use chrono::{DateTime, Days, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, TimeZone, Timelike, Utc};
use chrono_tz::Tz;

/// A length of time in whole minutes. May be negative in differences.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minutes(pub i64);

/// An instant: whole minutes since 1970-01-01T00:00Z.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minute(pub i64);

/// A half-open stretch of time `[from, to)`: touching is not overlapping.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Span {
    /// The first minute inside.
    pub from: Minute,
    /// The first minute after.
    pub to: Minute,
}

impl Minutes {
    /// No time at all.
    pub const ZERO: Self = Self(0);

    /// `48 h`, `48 h 15 min`: for what is too long to be read in minutes.
    #[must_use]
    pub fn in_hours(self) -> String {
        let (hours, minutes) = (self.0 / 60, self.0 % 60);
        if minutes == 0 { format!("{hours} h") } else { format!("{hours} h {minutes} min") }
    }

    /// Rounds up to a multiple of `grid`, as durations are (F6).
    #[must_use]
    pub fn up_to_grid(self, grid: Self) -> Self {
        Self(self.0.div_euclid(grid.0) * grid.0 + if self.0.rem_euclid(grid.0) == 0 { 0 } else { grid.0 })
    }

    /// Rounds down to a multiple of `grid`, as limits are (F6).
    #[must_use]
    pub fn down_to_grid(self, grid: Self) -> Self {
        Self(self.0.div_euclid(grid.0) * grid.0)
    }
}

impl Span {
    /// The stretch `[from, to)`.
    #[must_use]
    pub const fn new(from: Minute, to: Minute) -> Self {
        Self { from, to }
    }

    /// Its length in minutes; zero or less when it is empty.
    #[must_use]
    pub fn length(self) -> Minutes {
        self.to - self.from
    }

    /// Whether no minute is inside.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.to <= self.from
    }

    /// Whether the minute starting at `at` is inside.
    #[must_use]
    pub fn contains(self, at: Minute) -> bool {
        self.from <= at && at < self.to
    }

    /// Whether the two share at least one minute.
    #[must_use]
    pub fn overlaps(self, other: Self) -> bool {
        !self.intersection(other).is_empty()
    }

    /// The minutes in both; possibly empty.
    #[must_use]
    pub fn intersection(self, other: Self) -> Self {
        Self::new(self.from.max(other.from), self.to.min(other.to))
    }

    /// Whether every minute of `other` is inside.
    #[must_use]
    pub fn covers(self, other: Self) -> bool {
        self.from <= other.from && other.to <= self.to
    }
}

impl Add<Minutes> for Minute {
    type Output = Self;
    fn add(self, length: Minutes) -> Self {
        Self(self.0 + length.0)
    }
}

impl Sub<Minutes> for Minute {
    type Output = Self;
    fn sub(self, length: Minutes) -> Self {
        Self(self.0 - length.0)
    }
}

impl Sub for Minute {
    type Output = Minutes;
    fn sub(self, earlier: Self) -> Minutes {
        Minutes(self.0 - earlier.0)
    }
}

impl Add for Minutes {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Minutes {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Minutes {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Minutes {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl std::iter::Sum for Minutes {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl fmt::Debug for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} min", self.0)
    }
}

impl fmt::Debug for Minute {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0.checked_mul(60).and_then(|seconds| DateTime::<Utc>::from_timestamp(seconds, 0)) {
            Some(utc) => write!(f, "{}", utc.format("%Y-%m-%dT%H:%MZ")),
            None => write!(f, "minute {}", self.0),
        }
    }
}

/// The unit's local clock: turns instants into what the wall shows.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Clock {
    zone: Tz,
}

impl Clock {
    /// The clock of a named zone.
    #[must_use]
    pub const fn new(zone: Tz) -> Self {
        Self { zone }
    }

    /// The zone, as IANA names it.
    #[must_use]
    pub fn zone_name(self) -> &'static str {
        self.zone.name()
    }

    /// The zone itself.
    #[must_use]
    pub const fn zone(self) -> Tz {
        self.zone
    }

    /// The local date and time with its offset from UTC.
    ///
    /// # Panics
    /// When the instant is outside the years chrono can hold, which no reader lets in.
    #[must_use]
    pub fn local(self, at: Minute) -> DateTime<Tz> {
        DateTime::<Utc>::from_timestamp(at.0 * 60, 0)
            .expect("readers let in no instant outside chrono's years")
            .with_timezone(&self.zone)
    }

    /// `19:05`: 24-hour, leading zero.
    #[must_use]
    pub fn hhmm(self, at: Minute) -> String {
        let local = self.local(at);
        format!("{:02}:{:02}", local.hour(), local.minute())
    }

    /// The local calendar date.
    #[must_use]
    pub fn date(self, at: Minute) -> NaiveDate {
        self.local(at).date_naive()
    }

    /// The stretches from one local time of day to another that share a minute
    /// with `within`, in order. Where the clocks change at such a time, the
    /// stretch is the longer one.
    #[must_use]
    pub fn daily(self, from: NaiveTime, to: NaiveTime, within: Span) -> Vec<Span> {
        let first = self.date(within.from).checked_sub_days(Days::new(1));
        let days = first.iter().flat_map(NaiveDate::iter_days).take_while(|&day| day <= self.date(within.to));
        days.filter_map(|day| {
            let end_day = if to > from { day } else { day.checked_add_days(Days::new(1))? };
            let begin = self.instants(day.and_time(from)).min()?;
            let end = self.instants(end_day.and_time(to)).max()?;
            Some(Span::new(begin, end)).filter(|span| span.overlaps(within))
        })
        .collect()
    }

    /// What a local time stands for; where the clocks jump over it, the first time there is after it.
    fn instants(self, local: NaiveDateTime) -> impl Iterator<Item = Minute> {
        let later = (0..=240).map(move |minutes| local + TimeDelta::minutes(minutes));
        let found = later.map(move |local| self.zone.from_local_datetime(&local)).find(|all| all.earliest().is_some());
        let ends = found.map(|all| [all.earliest(), all.latest()]);
        ends.into_iter().flatten().flatten().map(|at| Minute(at.timestamp().div_euclid(60)))
    }

    /// Minutes past the local hour, 0 to 59.
    #[must_use]
    pub fn minute_of_hour(self, at: Minute) -> u32 {
        self.local(at).minute()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_round_up_and_limits_round_down() {
        let grid = Minutes(5);
        assert_eq!(Minutes(22).up_to_grid(grid), Minutes(25));
        assert_eq!(Minutes(25).up_to_grid(grid), Minutes(25));
        assert_eq!(Minutes(22).down_to_grid(grid), Minutes(20));
    }

    #[test]
    fn touching_is_not_overlapping() {
        let early = Span::new(Minute(0), Minute(10));
        let late = Span::new(Minute(10), Minute(20));
        assert!(!early.overlaps(late));
        assert!(!early.contains(Minute(10)));
        assert!(late.contains(Minute(10)));
    }
}
