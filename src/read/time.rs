//! Dates and times of day as people write them, and the instants they mean.

use std::ops::RangeInclusive;

use chrono::{Datelike as _, Days, FixedOffset, NaiveDate, NaiveDateTime, NaiveTime, Offset as _, TimeZone as _};
use chrono_tz::Tz;

use crate::night::{Clock, Minute, Minutes, Span};

use super::mistake::TimeMistake;

/// The years for which the clock changes of every zone are known.
const YEARS: RangeInclusive<i32> = 1970..=2099;

/// What is needed to turn a written time into an instant.
#[derive(Clone, Copy)]
pub(super) struct Wall {
    /// The unit's zone.
    pub(super) zone: Tz,
    /// The shift, where a bare `hh:mm` is allowed: it is the first such time at or after its start.
    pub(super) shift: Option<Span>,
}

/// Reads `2031-03-04`.
pub(super) fn date(text: &str) -> Result<NaiveDate, TimeMistake> {
    let Some(day) = iso_date(text) else {
        let readings = other_readings(text);
        let text = text.to_owned();
        return Err(if readings.len() > 1 {
            TimeMistake::TwoDates { text, readings }
        } else {
            TimeMistake::NotADate { text }
        });
    };
    if YEARS.contains(&day.year()) { Ok(day) } else { Err(TimeMistake::YearOutside { text: text.to_owned() }) }
}

/// Reads `03:00`.
pub(super) fn of_day(text: &str) -> Result<NaiveTime, TimeMistake> {
    hhmm(text).ok_or_else(|| TimeMistake::NotATimeOfDay { text: text.to_owned() })
}

/// Exactly four, two and two digits: chrono alone would take more forms.
fn iso_date(text: &str) -> Option<NaiveDate> {
    let [year, month, day] = numbers(text, '-', &[4, 2, 2])?;
    NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)
}

/// The numbers in `text`, parted by `by`, each of the given count of digits.
fn numbers<const N: usize>(text: &str, by: char, digits: &[usize; N]) -> Option<[u32; N]> {
    let mut found = [0; N];
    let mut parts = text.split(by);
    for (slot, &count) in found.iter_mut().zip(digits) {
        let part = parts.next()?;
        if part.len() != count || !part.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        *slot = part.parse().ok()?;
    }
    parts.next().is_none().then_some(found)
}

/// The days that a date such as `03/04/25` could mean.
fn other_readings(text: &str) -> Vec<NaiveDate> {
    let parts: Vec<&str> = text.split(['/', '.', '-']).collect();
    let Ok([a, b, c]) = <[&str; 3]>::try_from(parts) else { return Vec::new() };
    let (Some(a), Some(b), Some(c)) = (small(a), small(b), small(c)) else { return Vec::new() };
    let year = if c < 100 { 2000 + c } else { c };
    let mut days: Vec<NaiveDate> = [(b, a), (a, b)]
        .into_iter()
        .filter_map(|(month, day)| NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day))
        .filter(|day| YEARS.contains(&day.year()))
        .collect();
    days.dedup();
    days
}

fn small(text: &str) -> Option<u32> {
    if text.len() > 4 || !text.bytes().all(|b| b.is_ascii_digit()) { None } else { text.parse().ok() }
}

/// Reads `2031-03-04T19:00`, with an offset `+01:00` where the time happens
/// twice; in a rota also `19:00`.
pub(super) fn instant(text: &str, wall: Wall) -> Result<Minute, TimeMistake> {
    let (local, offset) = split_offset(text);
    if let Some((day, clock)) = local.split_once('T') {
        let Some(clock) = hhmm(clock) else { return Err(not_a_time(text, wall)) };
        return on_day(text, date(day)?, clock, offset?, wall.zone);
    }
    match (hhmm(local), wall.shift) {
        (Some(clock), Some(shift)) => first_after(text, clock, offset?, shift, wall.zone),
        (Some(_), None) => Err(TimeMistake::NoDate { text: text.to_owned() }),
        (None, _) => Err(not_a_time(text, wall)),
    }
}

fn not_a_time(text: &str, wall: Wall) -> TimeMistake {
    TimeMistake::NotATime { text: text.to_owned(), bare: wall.shift.is_some() }
}

fn hhmm(text: &str) -> Option<NaiveTime> {
    let [hour, minute] = numbers(text, ':', &[2, 2])?;
    NaiveTime::from_hms_opt(hour, minute, 0)
}

type MaybeOffset = Result<Option<FixedOffset>, TimeMistake>;

/// Parts the offset, if there is one, from the local time before it.
fn split_offset(text: &str) -> (&str, MaybeOffset) {
    if let Some(local) = text.strip_suffix('Z') {
        return (local, Ok(FixedOffset::east_opt(0)));
    }
    // The offset follows the minutes: a `-` before them belongs to the date.
    let after_clock = text.find(':').map_or(text.len(), |colon| colon + 1);
    let sign = text.get(after_clock..).and_then(|rest| rest.find(['+', '-'])).map(|at| after_clock + at);
    let Some(at) = sign else { return (text, Ok(None)) };
    let (local, written) = text.split_at(at);
    let offset = numbers(&written[1..], ':', &[2, 2]).filter(|[_, minutes]| *minutes < 60).and_then(|[h, m]| {
        let seconds = i32::try_from(h * 3600 + m * 60).ok()?;
        FixedOffset::east_opt(if written.starts_with('-') { -seconds } else { seconds })
    });
    let mistake = || TimeMistake::NotATime { text: text.to_owned(), bare: false };
    (local, offset.map(Some).ok_or_else(mistake))
}

/// The instants that a local time stands for: none, one or two.
fn readings(naive: NaiveDateTime, zone: Tz) -> Vec<(Minute, FixedOffset)> {
    let local = zone.from_local_datetime(&naive);
    let mut all: Vec<_> = [local.earliest(), local.latest()]
        .into_iter()
        .flatten()
        .map(|at| (Minute(at.timestamp().div_euclid(60)), at.offset().fix()))
        .collect();
    all.dedup();
    all
}

fn on_day(
    text: &str,
    day: NaiveDate,
    clock: NaiveTime,
    offset: Option<FixedOffset>,
    zone: Tz,
) -> Result<Minute, TimeMistake> {
    let naive = day.and_time(clock);
    let all = readings(naive, zone);
    match (offset, all.as_slice()) {
        (_, []) => Err(TimeMistake::NeverHappens { clock: clock_words(clock), day, zone: zone.name() }),
        (None, [(at, _)]) => Ok(*at),
        (None, [(_, first), (_, second), ..]) => Err(TimeMistake::HappensTwice {
            clock: clock_words(clock),
            day,
            zone: zone.name(),
            first: offset_words(*first),
            second: offset_words(*second),
        }),
        (Some(offset), all) => all.iter().find(|(_, known)| *known == offset).map(|(at, _)| *at).ok_or_else(|| {
            let right = all.iter().map(|(_, known)| offset_words(*known)).collect::<Vec<_>>().join(" or ");
            TimeMistake::WrongOffset { text: text.to_owned(), zone: zone.name(), right }
        }),
    }
}

/// The first instant at or after the start of the shift at which the clock shows `clock`.
fn first_after(
    text: &str,
    clock: NaiveTime,
    offset: Option<FixedOffset>,
    shift: Span,
    zone: Tz,
) -> Result<Minute, TimeMistake> {
    if shift.length() > Minutes(24 * 60) {
        return Err(TimeMistake::BareTooLong { text: text.to_owned() });
    }
    let start = Clock::new(zone).local(shift.from).naive_local();
    for ahead in 0..=2 {
        let Some(day) = start.date().checked_add_days(Days::new(ahead)) else { break };
        let all = readings(day.and_time(clock), zone);
        let passed =
            if all.is_empty() { day.and_time(clock) < start } else { all.iter().all(|(at, _)| *at < shift.from) };
        if !passed {
            return on_day(text, day, clock, offset, zone);
        }
    }
    Err(TimeMistake::NotATime { text: text.to_owned(), bare: true })
}

fn clock_words(clock: NaiveTime) -> String {
    clock.format("%H:%M").to_string()
}

fn offset_words(offset: FixedOffset) -> String {
    let minutes = offset.local_minus_utc() / 60;
    let sign = if minutes < 0 { '-' } else { '+' };
    format!("{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
}

/// `4 Mar 2031`.
pub(super) fn day_words(day: NaiveDate) -> String {
    day.format("%-d %b %Y").to_string()
}

/// `2031-03-04T19:00`, as it is written in files.
pub(super) fn written(at: Minute, clock: Clock) -> String {
    clock.local(at).format("%Y-%m-%dT%H:%M").to_string()
}
