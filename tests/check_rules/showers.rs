//! F2: shower places after the last removal.

use anteroom::check::{By, review};
use anteroom::night::{BreakTaken, Huddle, Minutes, Night, PersonIx, Rota, Rule, Standby, Stint};

use crate::common::*;

fn shower(person: PersonIx, from: i64, to: i64) -> Stint {
    Stint { person, span: span(from, to) }
}

/// A night with so many places; a shower takes 15 minutes.
fn places(places: u32) -> Night {
    let mut night = plain_night();
    night.roster.shower_places = Some(places);
    night
}

fn one_inside(mut night: Night) -> Night {
    night.limits.min_inside = 1;
    night
}

/// KB and MR have the last item off at 21:20, minute 140.
fn visit(showers: &[Stint]) -> Rota {
    Rota { showers: showers.to_vec(), ..plain_visit() }
}

#[test]
fn f2_no_more_shower_at_once_than_there_are_places() {
    accepted(&places(2), &visit(&[shower(KB, 140, 155), shower(MR, 140, 155)]));
    accepted(&places(1), &visit(&[shower(KB, 140, 155), shower(MR, 155, 170)]));
    let faults = refused(&places(1), &visit(&[shower(KB, 140, 155), shower(MR, 154, 169)]), &[Rule::F2]);
    assert_eq!((faults[0].span, faults[0].by), (span(154, 155), Some(By::Count(1))));
    assert_eq!(faults[0].what, "2 people shower 21:34-21:35 with places for 1.");
}

#[test]
fn f2_whoever_wore_a_kit_showers_after_the_last_item_off() {
    let faults = refused(&places(2), &visit(&[shower(KB, 140, 155)]), &[Rule::F2]);
    assert_eq!(faults[0].what, "MR has the last item off at 21:20 and no shower after it.");
    // A shower before the last removal is none after it, whatever it is worth.
    let again = rota_of([entry(KB, 40, 120), entry(KB, 300, 360)]);
    let night = one_inside(places(1));
    accepted(&night, &Rota { showers: vec![shower(KB, 380, 395)], ..again.clone() });
    accepted(&night, &Rota { showers: vec![shower(KB, 140, 155), shower(KB, 380, 395)], ..again.clone() });
    let faults = refused(&night, &Rota { showers: vec![shower(KB, 140, 155)], ..again }, &[Rule::F2]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(240))));
    // Off at 21:20 and under the shower from 21:19: a minute before, and a minute shared with the entry.
    let faults = refused(&places(2), &visit(&[shower(KB, 140, 155), shower(MR, 139, 154)]), &[Rule::F2]);
    assert!(faults.iter().all(|f| f.by == Some(By::Minutes(Minutes(1)))), "{}", found(&faults));
    assert_eq!(faults.len(), 2);
}

#[test]
fn f2_helpers_in_a_kit_shower_too() {
    // AL and HC have the last item off at 21:35.
    let mut night = assisted_night();
    night.roster.shower_places = Some(4);
    let two = [shower(KB, 140, 155), shower(MR, 140, 155)];
    let four = [two[0], two[1], shower(AL, 155, 170), shower(HC, 155, 170)];
    accepted(&night, &Rota { showers: four.to_vec(), ..assisted_visit() });
    let faults = refused(&night, &Rota { showers: two.to_vec(), ..assisted_visit() }, &[Rule::F2]);
    assert_eq!(faults.len(), 2);
}

#[test]
fn f2_a_shower_is_long_enough_and_on_duty() {
    let late = |from, to| visit(&[shower(KB, 140, 155), shower(MR, from, to)]);
    accepted(&places(1), &late(735, 750));
    let faults = refused(&places(1), &late(736, 751), &[Rule::F2]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(1))));
    assert_eq!(faults[0].what, "The shower of MR 07:16-07:31 is 1 min outside the time on duty, 19:00-07:30.");
    let faults = refused(&places(1), &late(735, 749), &[Rule::F2]);
    assert_eq!(faults[0].what, "The shower of MR 07:15-07:29 is 1 min shorter than 15.");
}

#[test]
fn f2_no_duty_and_no_break_shares_a_minute_with_a_shower() {
    // MR watches the donning of JT 21:50-22:10, after recovery, and has a break 22:30-22:45.
    let mut rota = rota_of([entry(MR, 40, 120), entry_in_lane_two(JT, 170, 240)]);
    rota.entries.iter_mut().filter(|e| e.person == JT).for_each(|e| e.donning_observer = Some(MR));
    rota.breaks = vec![BreakTaken { person: MR, span: span(210, 225) }];
    let night = one_inside(places(2));
    let with = |from| Rota { showers: vec![shower(MR, from, from + 15), shower(JT, 260, 275)], ..rota.clone() };
    for from in [155, 190, 195, 225] {
        accepted(&night, &with(from));
    }
    for (from, what) in [(156, "duty 21:50-22:10"), (189, "duty 21:50-22:10"), (196, "break 22:30-22:45")] {
        let faults = refused(&night, &with(from), &[Rule::F2]);
        assert_eq!(faults[0].by, Some(By::Minutes(Minutes(1))));
        assert!(faults[0].what.contains(&format!("shares 1 min with a {what}")), "{}", faults[0].what);
    }
}

#[test]
fn f2_whoever_showers_neither_coordinates_nor_stands_by_nor_is_in_a_huddle() {
    let mut night = one_inside(plain_night());
    night.limits.coordinator = true;
    night.limits.standby = Some(Standby { responders: 1, report: false });
    let mut rota = rota_of([entry(KB, 40, 120)]);
    rota.coordinators = vec![shower(HC, 60, 120)];
    rota.standby = vec![shower(MR, 60, 120)];
    rota.showers = vec![shower(HC, 120, 135), shower(MR, 45, 60)];
    accepted(&night, &rota);
    rota.showers = vec![shower(HC, 119, 134), shower(MR, 46, 61)];
    let faults = refused(&night, &rota, &[Rule::E1, Rule::F7]);
    assert_eq!((faults[0].span, faults[1].span), (span(60, 61), span(119, 120)));
    let mut night = places(2);
    let both = visit(&[shower(KB, 140, 155), shower(MR, 140, 155)]);
    night.roster.huddles = vec![Huddle { people: vec![KB], span: span(155, 180) }];
    accepted(&night, &both);
    night.roster.huddles[0].span = span(154, 180);
    refused(&night, &both, &[Rule::F1]);
}

#[test]
fn f2_asks_nothing_where_places_are_not_limited() {
    let reason = |night: &Night| {
        let not_checked = review(night, &visit(&[])).not_checked;
        not_checked.into_iter().find(|n| n.what == "F2 shower places").map(|n| n.why)
    };
    accepted(&plain_night(), &visit(&[]));
    assert_eq!(reason(&plain_night()).as_deref(), Some("the roster sets no number of them"));
    assert_eq!(reason(&places(1)), None);
    let mut night = places(1);
    night.limits.shower = Minutes(0);
    accepted(&night, &visit(&[]));
    assert_eq!(reason(&night).as_deref(), Some("the unit's shower takes no time"));
    // A shower that is listed all the same is looked at.
    refused(&plain_night(), &visit(&[shower(KB, 140, 154)]), &[Rule::F2]);
}
