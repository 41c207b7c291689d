//! Instants as the clock on the wall shows them.

use chrono::{DateTime, LocalResult, NaiveDate, Offset, TimeZone};
use chrono_tz::Tz;

use crate::night::{Clock, Minute, Span};

/// Writes instants in the unit's local time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Wall {
    clock: Clock,
}

/// Which of two instants with the same local time is meant.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Turn {
    /// This local time happens once.
    Only,
    /// It happens twice, and this is the first.
    First,
    /// It happens twice, and this is the second.
    Second,
}

impl Wall {
    /// A wall with the unit's clock on it.
    #[must_use]
    pub const fn new(clock: Clock) -> Self {
        Self { clock }
    }

    /// `19:05`; where the clocks go back and a time happens twice, `01:30A` and `01:30B`.
    #[must_use]
    pub fn time(self, at: Minute) -> String {
        let mark = match self.turn(at) {
            Turn::Only => "",
            Turn::First => "A",
            Turn::Second => "B",
        };
        format!("{}{mark}", self.clock.hhmm(at))
    }

    /// `19:05-20:10`.
    #[must_use]
    pub fn span(self, span: Span) -> String {
        format!("{}-{}", self.time(span.from), self.time(span.to))
    }

    /// The calendar day.
    #[must_use]
    pub fn date(self, at: Minute) -> NaiveDate {
        self.local(at).date_naive()
    }

    /// `Tue 4 Mar 2031`.
    #[must_use]
    pub fn day(self, at: Minute) -> String {
        self.local(at).format("%a %-d %b %Y").to_string()
    }

    /// `Tue 4 Mar 2031 19:05`.
    #[must_use]
    pub fn day_and_time(self, at: Minute) -> String {
        format!("{} {}", self.day(at), self.time(at))
    }

    /// `2031-03-04T19:05+00:00`: ISO 8601 with the offset from UTC.
    #[must_use]
    pub fn iso(self, at: Minute) -> String {
        self.local(at).format("%Y-%m-%dT%H:%M%:z").to_string()
    }

    /// Whether this instant shares its local time with another.
    #[must_use]
    pub fn happens_twice(self, at: Minute) -> bool {
        self.turn(at) != Turn::Only
    }

    /// What passes on the wall between two instants and is to be marked by a
    /// line: midnight, and the clocks changing.
    #[must_use]
    pub fn passes(self, earlier: Minute, later: Minute) -> Vec<String> {
        let (from, to) = (self.local(earlier), self.local(later));
        let mut lines = Vec::new();
        if from.date_naive() < to.date_naive() {
            lines.push(format!("MIDNIGHT: {} -> {}", from.format("%a"), to.format("%a")));
        }
        match seconds_east(&to) - seconds_east(&from) {
            0 => {}
            change if change < 0 => lines.push("THE CLOCKS GO BACK".to_owned()),
            _ => lines.push("THE CLOCKS GO FORWARD".to_owned()),
        }
        lines
    }

    fn local(self, at: Minute) -> DateTime<Tz> {
        self.clock.local(at)
    }

    fn turn(self, at: Minute) -> Turn {
        let local = self.local(at);
        match self.clock.zone().from_local_datetime(&local.naive_local()) {
            LocalResult::Ambiguous(first, _) if first == local => Turn::First,
            LocalResult::Ambiguous(..) => Turn::Second,
            LocalResult::Single(_) | LocalResult::None => Turn::Only,
        }
    }
}

fn seconds_east(local: &DateTime<Tz>) -> i32 {
    local.offset().fix().local_minus_utc()
}

#[cfg(test)]
mod tests {
    use chrono_tz::Europe::London;

    use super::*;

    /// 2031-10-26T00:30Z, when London shows 01:30 for the first time that night.
    const FIRST: Minute = Minute(32_512_350);

    #[test]
    fn an_hour_that_happens_twice_is_told_apart() {
        let wall = Wall::new(Clock::new(London));
        let second = Minute(FIRST.0 + 60);
        assert_eq!(wall.iso(FIRST), "2031-10-26T01:30+01:00");
        assert_eq!(wall.iso(second), "2031-10-26T01:30+00:00");
        assert_eq!((wall.time(FIRST).as_str(), wall.time(second).as_str()), ("01:30A", "01:30B"));
    }

    #[test]
    fn midnight_and_the_change_are_lines() {
        let wall = Wall::new(Clock::new(London));
        let evening = Minute(FIRST.0 - 180);
        assert_eq!(wall.passes(evening, Minute(FIRST.0 + 60)), ["MIDNIGHT: Sat -> Sun", "THE CLOCKS GO BACK"]);
        assert!(wall.passes(evening, Minute(evening.0 + 5)).is_empty());
    }
}
