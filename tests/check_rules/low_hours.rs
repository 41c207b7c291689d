//! B10: low hours, and what levels 7 to 9 count.

use anteroom::check::{By, out_by, review};
use anteroom::night::{BreakTaken, LowHours, Minutes, Night, Rota, Rule, Watching};
use chrono::NaiveTime;

use crate::common::*;

fn clock(hour: u32, minute: u32) -> NaiveTime {
    NaiveTime::from_hms_opt(hour, minute, 0).expect("a time of day")
}

/// Someone alone; low hours 21:00-22:00, wear 100 and watch 40 in them.
fn night() -> Night {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night.limits.low_hours = Some(LowHours {
        from: clock(21, 0),
        to: clock(22, 0),
        watch_max: Minutes(40),
        max_wear: vec![Minutes(100), Minutes(100)],
    });
    night
}

/// Sealed from `don + 10` to `out + 20`.
fn alone(don: i64, out: i64) -> Rota {
    rota_of([entry(KB, don, out)])
}

#[test]
fn b10_a_wear_that_meets_low_hours_keeps_to_their_figure() {
    // Sealed 20:25, off 22:05: 100. One grid step more is too long, though 180 are allowed at other hours.
    accepted(&night(), &alone(75, 165));
    let faults = refused(&night(), &alone(70, 165), &[Rule::B3, Rule::B10]);
    let of_b10 = faults.iter().find(|f| f.rule == Rule::B10).expect("named");
    assert_eq!(of_b10.by, Some(By::Minutes(Minutes(5))));
    assert_eq!(of_b10.what, "KB wears F 20:20-22:05, 105 min: 5 min over the 100 of low hours.");
}

#[test]
fn b10_a_wear_that_touches_low_hours_does_not_meet_them() {
    // Off at 21:00, 180 worn from 18:00; on at 22:00, 180 worn to 01:00.
    let mut before = night();
    before.roster.shift.from = t(-120);
    before.roster.people.iter_mut().for_each(|p| p.on_duty.from = t(-120));
    accepted(&before, &alone(-70, 100));
    refused(&before, &alone(-65, 105), &[Rule::B3, Rule::B10]);
    accepted(&night(), &alone(170, 340));
    refused(&night(), &alone(165, 335), &[Rule::B3, Rule::B10]);
}

#[test]
fn b10_over_the_figure_of_all_hours_is_b2_alone() {
    let faults = refused(&night(), &alone(75, 250), &[Rule::B2, Rule::B3]);
    assert!(faults.iter().all(|f| f.rule != Rule::B10));
}

#[test]
fn b10_out_by_keeps_to_it() {
    // Sealed 20:10: 100 would end at 21:50, inside low hours; removal takes 20: out by 21:30.
    assert_eq!(out_by(&night(), &alone(60, 120)), [t(150)]);
    // Sealed 19:10: 100 would end at 20:50, so off as low hours begin: out by 20:40.
    assert_eq!(out_by(&night(), &alone(0, 60)), [t(100)]);
}

#[test]
fn b10_a_watch_that_meets_low_hours_is_shorter() {
    let mut night = night();
    night.limits.watching = Some(Watching { max: Minutes(120), pause: Minutes(15) });
    // Ready 5, removal 20, reset 5: 30 on watch, 20:55-21:25. A reset of 15 makes it 40, of 20 it makes 45.
    for (reset, over) in [(15, false), (20, true)] {
        night.limits.observer_reset = Minutes(reset);
        if over {
            let faults = refused(&night, &alone(40, 120), &[Rule::B10]);
            assert_eq!(faults[0].what, "DW watches 20:55-21:40, 45 min: 5 min over the 40 of low hours.");
        } else {
            accepted(&night, &alone(40, 120));
        }
    }
}

#[test]
fn b10_low_hours_of_the_night_the_clocks_go_back_are_the_longer_ones() {
    // London, 26 October 2031: 01:30 comes twice, so 01:30 to 02:00 is an hour and a half.
    let mut night = night();
    let start = anteroom::night::Minute(32_173_620 + 235 * 1440);
    night.roster.shift = anteroom::night::Span::new(start, start + Minutes(750));
    night.roster.people.iter_mut().for_each(|p| p.on_duty = night.roster.shift);
    if let Some(low) = &mut night.limits.low_hours {
        (low.from, low.to) = (clock(1, 30), clock(2, 0));
    }
    let lengths: Vec<i64> = night.low_hours().iter().map(|span| span.length().0).collect();
    assert_eq!(night.roster.clock.date(start), day(2031, 10, 26).pred_opt().expect("a day"));
    assert_eq!(lengths, [90]);
}

#[test]
fn level_7_counts_minutes_inside_the_units_spare_and_minutes_waited() {
    let mut night = night();
    night.limits.low_hours = None;
    night.limits.spare = Minutes(20);
    // Sealed 19:10, W 180: off by 22:10 at the latest, off at 21:55: 15 left of 20.
    let found = review(&night, &alone(0, 155)).measures;
    assert_eq!((found.spare_short, found.waits), (Minutes(5), Minutes(0)));
    let found = review(&night, &alone(0, 150)).measures;
    assert_eq!(found.spare_short, Minutes(0));
    // A hold of 10 at the door and a wait of 15 for the lane.
    let mut rota = alone(0, 100);
    rota.entries[0].door_in = t(30);
    (rota.entries[0].removal, rota.entries[0].off) = (t(115), t(135));
    assert_eq!(review(&night, &rota).measures.waits, Minutes(25));
}

#[test]
fn level_8_counts_removals_that_begin_in_low_hours() {
    for (out, removals) in [(115, 0), (120, 1), (175, 1), (180, 0)] {
        assert_eq!(review(&night(), &alone(out - 60, out)).measures.low_hours, removals, "{out}");
    }
}

#[test]
fn level_9_counts_minutes_of_breaks_outside_the_preferred_windows() {
    let mut night = night();
    let mut rota = alone(40, 120);
    rota.breaks = vec![BreakTaken { person: KB, span: span(230, 260) }];
    assert_eq!(review(&night, &rota).measures.breaks_outside, Minutes(0));
    night.roster.preferred_breaks = vec![span(240, 300)];
    assert_eq!(review(&night, &rota).measures.breaks_outside, Minutes(10));
}
