//! F1, F7 and E1: the huddle, who leads from the clean side, who could go in now.

use anteroom::check::{By, review};
use anteroom::night::{
    BreakTaken, Huddle, LastRemoval, LoggedWear, LowHours, Minutes, Night, PersonIx, Role, RollingWear, Rota, Rule,
    SignOff, Standby, Stint,
};

use crate::common::*;

/// KB inside 20:00-21:00, dressed 19:40-21:20; watched by EN and, to 21:25, by DW.
fn rota(coordinator: PersonIx, standby: PersonIx, (from, to): (i64, i64)) -> Rota {
    let mut rota = rota_of([entry(KB, 40, 120)]);
    rota.coordinators = vec![Stint { person: coordinator, span: span(from, to) }];
    rota.standby = vec![Stint { person: standby, span: span(from, to) }];
    rota
}

fn led() -> Night {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night.limits.coordinator = true;
    night
}

fn backed() -> Night {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night.limits.standby = Some(Standby { responders: 1, report: false });
    night
}

#[test]
fn f7_somebody_is_named_for_every_minute_with_anyone_inside() {
    accepted(&led(), &rota(HC, MR, (60, 120)));
    for span in [(61, 120), (60, 119)] {
        let faults = refused(&led(), &rota(HC, MR, span), &[Rule::F7]);
        assert_eq!(faults[0].span.length(), Minutes(1));
    }
    let faults = refused(&led(), &rota(HC, MR, (300, 400)), &[Rule::F7]);
    assert_eq!(faults[0].what, "Somebody is inside 20:00-21:00 and nobody coordinates.");
}

#[test]
fn f7_whoever_coordinates_does_nothing_else_then() {
    // EN watches the donning until 20:00, DW the removal from 20:55, ready time included.
    accepted(&led(), &rota(EN, MR, (60, 120)));
    let faults = refused(&led(), &rota(DW, MR, (60, 120)), &[Rule::F7]);
    assert_eq!(faults[0].span, span(115, 120));
    refused(&led(), &rota(KB, MR, (60, 120)), &[Rule::F7]);
    let mut on_break = rota(HC, MR, (60, 120));
    on_break.breaks = vec![BreakTaken { person: HC, span: span(90, 100) }];
    refused(&led(), &on_break, &[Rule::F7]);
}

#[test]
fn f7_a_coordinator_is_in_date_rested_and_on_duty() {
    let changes: [fn(&mut Night); 4] = [
        |night| night.roster.people[HC.0].sign_offs.retain(|s| s.role != Role::Coordinator),
        |night| night.roster.people[HC.0].on_duty = span(65, 750),
        |night| night.roster.people[HC.0].last_off_duty = Some(t(60 - 660 + 1)),
        // Rest after F is 120 before the same again, and coordinating is not listed inside rest.
        |night| night.roster.people[HC.0].last_removal = Some(LastRemoval { off: t(-59), ensemble: F }),
    ];
    for change in changes {
        let mut night = led();
        change(&mut night);
        refused(&night, &rota(HC, MR, (60, 120)), &[Rule::F7]);
    }
    let mut night = led();
    night.roster.people[HC.0].last_removal = Some(LastRemoval { off: t(-60), ensemble: F });
    accepted(&night, &rota(HC, MR, (60, 120)));
}

#[test]
fn e1_somebody_rested_stands_by_for_every_minute_with_anyone_inside() {
    accepted(&backed(), &rota(HC, MR, (60, 120)));
    let faults = refused(&backed(), &rota(HC, MR, (60, 119)), &[Rule::E1]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    assert_eq!(faults[0].what, "Somebody is inside 20:59-21:00; 1 should stand by, 0 can.");
}

#[test]
fn e1_a_minute_short_of_rest_does_not_count() {
    // Trade page, E1: somebody at r - 5 minutes does not count. r = 120 after F.
    let mut night = backed();
    night.roster.people[MR.0].last_removal = Some(LastRemoval { off: t(60 - 120), ensemble: F });
    accepted(&night, &rota(HC, MR, (60, 120)));
    night.roster.people[MR.0].last_removal = Some(LastRemoval { off: t(60 - 115), ensemble: F });
    let faults = refused(&night, &rota(HC, MR, (60, 120)), &[Rule::E1]);
    assert_eq!(faults[0].span, span(60, 65));
}

#[test]
fn e1_there_is_time_left_to_go_in_and_come_out() {
    // 20:59 + donning 20 + stay 15 + removal 20 = 21:54, and 15 to shower: 22:09.
    let mut night = backed();
    night.roster.people[MR.0].on_duty = span(0, 189);
    accepted(&night, &rota(HC, MR, (60, 120)));
    night.roster.people[MR.0].on_duty = span(0, 188);
    refused(&night, &rota(HC, MR, (60, 120)), &[Rule::E1]);
}

#[test]
fn e1_sign_off_fit_test_flag_and_kit_are_those_of_an_entry() {
    let changes: [fn(&mut Night); 5] = [
        |night| night.roster.people[MR.0].enter_today = false,
        |night| night.roster.people[MR.0].sign_offs.retain(|s| s.role != Role::Entrant),
        |night| night.roster.people[MR.0].fit_tests.clear(),
        // One kit is KB's, and one is kept back.
        |night| (night.roster.kits[0].count, night.roster.kits[0].reserve) = (2, 1),
        |night| {
            let through = day(2031, 12, 31);
            night.roster.people[MR.0].sign_offs.retain(|s| s.role != Role::Entrant);
            let supervised = SignOff { role: Role::SupervisedEntrant, valid_through: through, last_done: None };
            night.roster.people[MR.0].sign_offs.push(supervised);
        },
    ];
    for (i, change) in changes.into_iter().enumerate() {
        let mut night = backed();
        change(&mut night);
        let faults = review(&night, &rota(HC, MR, (60, 120))).faults;
        assert!(faults.iter().any(|f| f.rule == Rule::E1), "change {i}");
    }
    let mut night = backed();
    (night.roster.kits[0].count, night.roster.kits[0].reserve) = (3, 1);
    accepted(&night, &rota(HC, MR, (60, 120)));
}

#[test]
fn e1_wear_of_the_shift_is_left_for_the_shortest_entry() {
    // Sealed 10 + stay 15 + removal 20 = 45 of 360.
    let mut night = backed();
    night.roster.people[MR.0].worn_before = Minutes(315);
    accepted(&night, &rota(HC, MR, (60, 120)));
    night.roster.people[MR.0].worn_before = Minutes(316);
    refused(&night, &rota(HC, MR, (60, 120)), &[Rule::E1]);
}

#[test]
fn e1_the_wear_of_low_hours_has_room_for_the_shortest_entry() {
    // At 20:59: sealed 21:09, off 21:54 at the earliest, 45 min of wear; low hours begin at 21:30.
    let mut night = backed();
    let clock = |hour, minute| chrono::NaiveTime::from_hms_opt(hour, minute, 0).expect("a time of day");
    let low = |wear| LowHours {
        from: clock(21, 30),
        to: clock(23, 0),
        watch_max: Minutes(60),
        max_wear: vec![Minutes(wear), Minutes(90)],
    };
    // KB is off at 21:20, before they begin.
    night.limits.low_hours = Some(low(45));
    accepted(&night, &rota(HC, MR, (60, 120)));
    night.limits.low_hours = Some(low(44));
    let faults = refused(&night, &rota(HC, MR, (60, 120)), &[Rule::E1]);
    // Off by 21:30 goes for whoever starts by 20:35.
    assert_eq!(faults[0].span, span(96, 120));
}

#[test]
fn e1_whoever_coordinates_does_not_stand_by() {
    let mut night = backed();
    night.limits.coordinator = true;
    accepted(&night, &rota(HC, MR, (60, 120)));
    refused(&night, &rota(MR, MR, (60, 120)), &[Rule::E1]);
}

#[test]
fn e1_a_shortage_is_counted_where_the_unit_reports_it() {
    let mut night = backed();
    night.limits.standby = Some(Standby { responders: 2, report: true });
    let rota = rota(HC, MR, (60, 100));
    accepted(&night, &rota);
    // One of two for 40 minutes, none for 20.
    let found = review(&night, &rota);
    assert_eq!(found.measures.rescue_missing, Minutes(40 + 2 * 20));
    let spans: Vec<_> = found.rescue.iter().map(|s| (s.span, s.there)).collect();
    assert_eq!(spans, [(span(60, 100), 1), (span(100, 120), 0)]);
}

#[test]
fn f1_whoever_is_in_the_huddle_has_no_duty_and_no_break() {
    // KB is dressed 19:40-21:20, EN watches the donning 19:40-20:00, DW the removal 20:55-21:25.
    let cases = [(KB, 40, 140), (EN, 40, 60), (DW, 115, 145)];
    for (person, from, to) in cases {
        for (huddle, by) in [((from - 30, from), 0), ((to, to + 30), 0), ((from - 30, from + 5), 5), ((to - 5, to), 5)]
        {
            let mut night = plain_night();
            night.limits.min_inside = 1;
            night.roster.huddles = vec![Huddle { people: vec![person], span: span(huddle.0, huddle.1) }];
            let rota = rota_of([entry(KB, 40, 120)]);
            if by == 0 {
                accepted(&night, &rota);
            } else {
                let faults = refused(&night, &rota, &[Rule::F1]);
                assert_eq!((faults[0].by, &faults[0].people[..]), (Some(By::Minutes(Minutes(by))), &[person][..]));
            }
        }
    }
    let mut night = plain_night();
    night.roster.huddles = vec![Huddle { people: vec![HC], span: span(60, 90) }];
    let mut rota = rota_of([]);
    rota.breaks = vec![BreakTaken { person: HC, span: span(90, 120) }];
    accepted(&night, &rota);
    rota.breaks[0].span = span(85, 115);
    refused(&night, &rota, &[Rule::F1]);
}

#[test]
fn f1_nobody_coordinates_or_stands_by_in_a_huddle() {
    let mut night = backed();
    night.limits.coordinator = true;
    night.roster.huddles = vec![Huddle { people: vec![HC, MR], span: span(0, 60) }];
    accepted(&night, &rota(HC, MR, (60, 120)));
    night.roster.huddles[0].span = span(0, 61);
    refused(&night, &rota(HC, MR, (60, 120)), &[Rule::E1, Rule::F7]);
}

#[test]
fn e1_wear_of_the_days_before_leaves_room_for_the_shortest_entry() {
    // Shortest entry: sealed 10 + stay 15 + removal 20 = 45; 60 of yesterday are still in the 24 hours at 20:00.
    let night = |max: i64| {
        let mut night = backed();
        night.limits.rolling_wear = vec![RollingWear { window: Minutes(24 * 60), max: Minutes(max) }];
        let yesterday = LoggedWear { person: MR, ensemble: F, span: span(-1380, -1320) };
        night.roster.wear_log = vec![yesterday];
        night
    };
    accepted(&night(105), &rota(HC, MR, (60, 120)));
    let faults = refused(&night(104), &rota(HC, MR, (60, 120)), &[Rule::E1]);
    // At 20:01 the first minute of yesterday's has left them.
    assert_eq!(faults[0].span, span(60, 61));
}
