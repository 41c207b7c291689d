//! F8: nights in a row, and hours in a week.
//!
//! Clocks in Europe/London go forward at 01:00 universal time on Sunday 30 March 2031, back on Sunday 26 October 2031:
//! the last Sundays of the month (Summer Time Order 2002, from memory), counted by hand.

use anteroom::check::{By, review};
use anteroom::night::{LoggedDuty, Minute, Minutes, Night, NightsInARow, PersonIx, Role, Rota, Rule, Span, Stint};
use chrono::{NaiveDate, NaiveTime, TimeZone};

use crate::common::*;

const DAY: i64 = 24 * 60;

/// The log of KB: so many days ago, from and to in minutes after 19:00 of that day. It is whole for a month.
fn logged(log: &[(i64, i64, i64)]) -> Night {
    let mut night = plain_night();
    night.roster.duty_log_from = Some(t(-30 * DAY));
    let duty = |&(ago, from, to): &(i64, i64, i64)| span(from - ago * DAY, to - ago * DAY);
    night.roster.duty_log = log.iter().map(|logged| LoggedDuty { person: KB, span: duty(logged) }).collect();
    night
}

fn week(hours: i64, log: &[(i64, i64, i64)]) -> Night {
    let mut night = logged(log);
    night.limits.week_max = Some(Minutes(hours * 60));
    night
}

fn nights(max: u32, log: &[(i64, i64, i64)]) -> Night {
    let mut night = logged(log);
    let at = |hour| NaiveTime::from_hms_opt(hour, 0, 0).expect("an hour");
    night.limits.nights_in_a_row = Some(NightsInARow { max, from: at(0), to: at(5) });
    night
}

/// Sources, 5.3: "4 x 12 h in 7 days = 48 h -> at limit, not over".
#[test]
fn f8_four_times_twelve_hours_are_forty_eight() {
    let mut night = week(48, &[(1, 0, 720), (3, 0, 720), (5, 0, 720)]);
    night.roster.people[KB.0].on_duty = span(0, 720);
    accepted(&night, &plain_visit());
    assert_eq!(night.on_duty_in_week(KB), Minutes(48 * 60));
    night.roster.duty_log[2].span.to = night.roster.duty_log[2].span.to + Minutes(1);
    let faults = refused(&night, &plain_visit(), &[Rule::F8]);
    assert_eq!((faults[0].by, faults[0].span), (Some(By::Minutes(Minutes(1))), span(0, 720)));
    assert_eq!(
        faults[0].what,
        "KB is on duty for 48 h 1 min in the 7 days to 5 Mar 07:00, 1 min more than the 48 h allowed."
    );
    // The log is somebody else's; and nobody without a duty is asked.
    for logged in &mut night.roster.duty_log {
        logged.person = VF;
    }
    accepted(&night, &plain_visit());
}

#[test]
fn f8_a_week_is_seven_times_24_hours_to_the_end_of_the_duty() {
    // Tonight is 12 h 30 min, to 07:30. Seven days before, from 07:30 on: a duty to 07:30 has left, each minute more
    // has not.
    accepted(&week(13, &[(7, 0, 750)]), &plain_visit());
    accepted(&week(13, &[(7, 0, 780)]), &plain_visit());
    let faults = refused(&week(13, &[(7, 0, 781)]), &plain_visit(), &[Rule::F8]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(1))));
    // Tonight alone, without any log.
    accepted(&week(13, &[]), &plain_visit());
    refused(&week(12, &[]), &plain_visit(), &[Rule::F8]);
}

#[test]
fn f8_nights_are_in_a_row_on_days_one_after_another() {
    let before = |days: &[i64]| days.iter().map(|&ago| (ago, 0, 750)).collect::<Vec<_>>();
    accepted(&nights(4, &before(&[1, 2, 3])), &plain_visit());
    let faults = refused(&nights(4, &before(&[1, 2, 3, 4])), &plain_visit(), &[Rule::F8]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    assert_eq!(faults[0].what, "KB comes out of this duty with 5 nights in a row, 1 more than the 4 allowed.");
    // A night off between them starts anew.
    accepted(&nights(4, &before(&[1, 2, 3, 5, 6])), &plain_visit());
    assert_eq!(nights(4, &before(&[1, 2, 3, 5, 6])).nights_in_a_row(KB), 4);
    // A duty to 24:00 is no night, one minute more is; 19:00 and 300 minutes are 24:00.
    accepted(&nights(1, &[(1, 0, 300)]), &plain_visit());
    refused(&nights(1, &[(1, 0, 301)]), &plain_visit(), &[Rule::F8]);
    // Nor is one from 05:00: 600 minutes after 19:00.
    accepted(&nights(1, &[(1, 600, 1000)]), &plain_visit());
    refused(&nights(1, &[(1, 599, 1000)]), &plain_visit(), &[Rule::F8]);
}

#[test]
fn f8_only_nights_are_limited() {
    let mut evening = nights(1, &[(1, 0, 750), (2, 0, 750)]);
    evening.roster.people[KB.0].on_duty = span(0, 300);
    accepted(&evening, &plain_visit());
    evening.roster.people[KB.0].on_duty = span(0, 301);
    refused(&evening, &plain_visit(), &[Rule::F8]);
    // A duty of two nights counts as two.
    let mut long = nights(2, &[(1, 0, 750)]);
    long.roster.people[KB.0].on_duty = span(0, 302 + DAY);
    refused(&long, &plain_visit(), &[Rule::F8]);
    long.limits.nights_in_a_row = long.limits.nights_in_a_row.map(|limit| NightsInARow { max: 3, ..limit });
    accepted(&long, &plain_visit());
}

/// Whoever is over neither coordinates nor stands by.
#[test]
fn f8_whoever_is_over_is_not_counted_on() {
    let mut night = week(13, &[]);
    night.limits.coordinator = true;
    let mut rota = plain_visit();
    rota.coordinators = vec![Stint { person: PS, span: span(60, 120) }];
    accepted(&night, &rota);
    night.roster.duty_log = vec![LoggedDuty { person: PS, span: span(-DAY, -DAY + 30) }];
    accepted(&night, &rota);
    night.roster.duty_log = vec![LoggedDuty { person: PS, span: span(-DAY, -DAY + 31) }];
    refused(&night, &rota, &[Rule::F7]);
}

/// Nor is a preceptor who has no duties tonight somebody to go in beside.
#[test]
fn f8_whoever_is_over_is_no_preceptor() {
    let mut night = week(13, &[]);
    night.roster.people[KB.0].sign_offs.retain(|s| s.role != Role::Entrant);
    let others: Vec<PersonIx> = night.roster.person_indices().filter(|&person| person != KB).collect();
    assert_eq!(night.preceptors_for(KB), others);
    // Tonight is 12 h 30 min.
    let before = |minutes: i64, people: &[PersonIx]| {
        let duty = |&person: &PersonIx| LoggedDuty { person, span: span(-DAY, -DAY + minutes) };
        people.iter().map(duty).collect::<Vec<_>>()
    };
    night.roster.duty_log = before(30, &others);
    assert_eq!(night.preceptors_for(KB), others);
    night.roster.duty_log = before(31, &others[1..]);
    assert_eq!(night.preceptors_for(KB), others[..1]);
}

#[test]
fn f8_what_the_log_does_not_reach_is_not_checked_and_never_zero() {
    let said = |night: &Night| {
        let all = review(night, &plain_visit()).not_checked;
        all.into_iter().filter(|n| n.what.starts_with("F8")).map(|n| (n.what, n.why)).collect::<Vec<_>>()
    };
    let of = |what: &str, why: &str| (what.to_owned(), why.to_owned());
    let (row, hours, none) = ("F8 nights in a row", "F8 hours in a week", "the unit's constraint set says none");
    assert_eq!(said(&plain_night()), [of(row, none), of(hours, none)]);
    let mut night = nights(2, &[]);
    night.limits.week_max = Some(Minutes(48 * 60));
    assert_eq!(said(&night), []);
    // Trade page, input mistake 19. What is known is checked all the same.
    night.roster.duty_log_from = None;
    let unread = "a limit is set but no log was read";
    assert_eq!(said(&night), [of(row, unread), of(hours, unread)]);
    night.limits.week_max = Some(Minutes(12 * 60));
    refused(&night, &plain_visit(), &[Rule::F8]);
    // A week before the shift starts at 19:00.
    night.roster.duty_log_from = Some(t(-7 * DAY));
    assert_eq!(said(&night), []);
    night.roster.duty_log_from = Some(t(-7 * DAY + 1));
    assert_eq!(said(&night), [of(hours, "the log only reaches back to 25 Feb 19:01")]);
    // Tonight's night begins at 00:00 on 5 March; with two allowed, that of 3 March would make it one too many.
    night.limits.week_max = None;
    night.roster.duty_log_from = Some(t(300 - 2 * DAY));
    assert_eq!(said(&night), [of(hours, none)]);
    night.roster.duty_log_from = Some(t(301 - 2 * DAY));
    assert_eq!(said(&night), [of(row, "the log only reaches back to 3 Mar 00:01"), of(hours, none)]);
}

/// From 19:00 of a day to 07:30 of the next, as the wall in London shows it.
fn wall_night(evening: NaiveDate) -> Span {
    let at = |day: NaiveDate, hour, minute| {
        let local = day.and_hms_opt(hour, minute, 0).expect("a time of day");
        let instant = chrono_tz::Europe::London.from_local_datetime(&local).single().expect("it happens once");
        Minute(instant.timestamp() / 60)
    };
    Span::new(at(evening, 19, 0), at(evening.succ_opt().expect("a next day"), 7, 30))
}

/// Tonight and earlier nights of KB, all from 19:00 to 07:30 on the wall; and a visit tonight.
fn wall_nights(tonight: NaiveDate, earlier: &[NaiveDate]) -> (Night, Rota) {
    let (mut night, duty) = (plain_night(), wall_night(tonight));
    night.roster.shift = duty;
    night.roster.people.iter_mut().for_each(|person| person.on_duty = duty);
    night.roster.duty_log_from = Some(duty.from - Minutes(30 * DAY));
    night.roster.duty_log =
        earlier.iter().map(|&evening| LoggedDuty { person: KB, span: wall_night(evening) }).collect();
    (night, later(plain_visit(), (duty.from - t(0)).0))
}

/// The night is 13 h 30 min long when the clocks go back and 11 h 30 min when they go forward; any other 12 h 30 min.
#[test]
fn f8_hours_are_elapsed_when_the_clocks_change() {
    for (tonight, before, together) in [
        (day(2031, 10, 26), day(2031, 10, 25), 26 * 60),
        (day(2031, 3, 30), day(2031, 3, 29), 24 * 60),
        // The change is tonight.
        (day(2031, 10, 25), day(2031, 10, 24), 26 * 60),
        (day(2031, 3, 29), day(2031, 3, 28), 24 * 60),
    ] {
        let (mut night, visit) = wall_nights(tonight, &[before]);
        night.limits.week_max = Some(Minutes(together));
        accepted(&night, &visit);
        night.limits.week_max = Some(Minutes(together - 1));
        let faults = refused(&night, &visit, &[Rule::F8]);
        assert_eq!(faults[0].by, Some(By::Minutes(Minutes(1))), "{tonight}");
    }
}

/// Seven times 24 hours before 07:30 it was 06:30 where the clocks went forward since, and 08:30 where they went back.
#[test]
fn f8_a_week_back_is_another_time_on_the_wall_when_the_clocks_change() {
    let in_week = |tonight, a_week_ago| wall_nights(tonight, &[a_week_ago]).0.on_duty_in_week(KB);
    let alone = Minutes(12 * 60 + 30);
    assert_eq!(in_week(day(2031, 3, 30), day(2031, 3, 23)), alone + Minutes(60));
    assert_eq!(in_week(day(2031, 10, 26), day(2031, 10, 19)), alone);
    // The clocks changed before the week.
    assert_eq!(in_week(day(2031, 4, 6), day(2031, 3, 30)), alone);
}

/// A night is one on the wall, however long it was.
#[test]
fn f8_nights_go_on_in_a_row_when_the_clocks_change() {
    let at = |hour| NaiveTime::from_hms_opt(hour, 0, 0).expect("an hour");
    for (month, tonight) in [(3, 30), (10, 26)] {
        let before = [1, 2].map(|ago| day(2031, month, tonight - ago));
        let (mut night, visit) = wall_nights(day(2031, month, tonight), &before);
        night.limits.nights_in_a_row = Some(NightsInARow { max: 3, from: at(0), to: at(5) });
        accepted(&night, &visit);
        night.limits.nights_in_a_row = Some(NightsInARow { max: 2, from: at(0), to: at(5) });
        refused(&night, &visit, &[Rule::F8]);
    }
}
