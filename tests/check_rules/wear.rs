//! B1-B9: wear, OUT-BY, rest, recovery.

use anteroom::check::{By, out_by, review};
use anteroom::night::{CleanDuty, Entry, LoggedWear, Minutes, Night, RollingWear, Rota, Rule, WearFrom};

use crate::common::*;

/// Someone alone, where the unit lets one go in alone.
fn alone_night() -> Night {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night
}

fn alone(don: i64, out: i64) -> Rota {
    rota_of([entry(KB, don, out)])
}

#[test]
fn b1_each_step_has_its_time() {
    let night = alone_night();
    accepted(&night, &alone(40, 120));
    let steps: [fn(&mut Entry); 4] = [
        |e| e.don = t(45),
        |e| e.off = t(135),
        |e| e.removal = t(115),
        |e| (e.door_out, e.removal, e.off) = (t(55), t(120), t(140)),
    ];
    for (i, step) in steps.into_iter().enumerate() {
        let mut rota = alone(40, 120);
        step(&mut rota.entries[0]);
        let faults = review(&night, &rota).faults;
        let of_b1: Vec<_> = faults.iter().filter(|f| f.rule == Rule::B1).collect();
        assert_eq!(of_b1.len(), 1, "step {i}: {}", found(&faults));
        assert_eq!(of_b1[0].by, Some(By::Minutes(Minutes(5))), "step {i}");
    }
}

#[test]
fn b1_removal_takes_no_less_than_the_ensemble_needs() {
    let mut rota = alone(40, 120);
    rota.entries[0].off = t(135);
    let faults = refused(&alone_night(), &rota, &[Rule::B1]);
    assert_eq!(faults[0].what, "KB: removal can be done at 21:20, last item off at 21:15: 5 min too early.");
}

#[test]
fn b1_wear_starts_where_the_unit_says() {
    let mut night = alone_night();
    // Donning 40-60, sealed at 50, door 70, off 140: 100, 90 or 70 minutes of wear.
    let mut rota = alone(40, 120);
    rota.entries[0].door_in = t(70);
    for (from, worn) in [(WearFrom::DonningStart, 100), (WearFrom::Sealed, 90), (WearFrom::DoorIn, 70)] {
        night.limits.wear_from = from;
        night.limits.ensembles[F.0].max_wear = Minutes(worn);
        accepted(&night, &rota);
        night.limits.ensembles[F.0].max_wear = Minutes(worn - 1);
        refused(&night, &rota, &[Rule::B2, Rule::B3]);
    }
}

#[test]
fn b2_door_hold_lane_wait_and_removal_all_count() {
    // s 10 + c 100 + q 15 + f 25 = 150.
    let mut night = alone_night();
    night.limits.ensembles[F.0].max_wear = Minutes(150);
    night.limits.ensembles[F.0].removal = Minutes(25);
    let mut rota = alone(0, 120);
    rota.entries[0].removal = t(135);
    rota.entries[0].off = t(160);
    accepted(&night, &rota);
    rota.entries[0].off = t(165);
    let faults = refused(&night, &rota, &[Rule::B2]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
    assert_eq!(faults[0].what, "KB wears F 19:10-21:45, 155 min: 5 min over the longest wear of 150.");
}

#[test]
fn b2_the_margin_comes_off_the_longest_wear() {
    let mut night = alone_night();
    night.limits.ensembles[F.0].max_wear = Minutes(100);
    night.limits.ensembles[F.0].margin = Minutes(10);
    accepted(&night, &alone(40, 120));
    night.limits.ensembles[F.0].margin = Minutes(15);
    refused(&night, &alone(40, 120), &[Rule::B2, Rule::B3]);
}

#[test]
fn b2_helpers_wear_too_with_their_own_removal() {
    let mut night = assisted_night();
    // AL: donning 100, sealed 105, last item off 155.
    night.limits.ensembles[D.0].max_wear = Minutes(50);
    accepted(&night, &assisted_visit());
    night.limits.ensembles[D.0].max_wear = Minutes(49);
    refused(&night, &assisted_visit(), &[Rule::B2, Rule::B3]);
}

#[test]
fn b3_out_by_is_sealed_plus_wear_less_removal() {
    // Sealed 20:10, W 180, no queue, f 20: 22:50.
    let night = alone_night();
    let rota = alone(60, 230);
    assert_eq!(night.roster.clock.hhmm(out_by(&night, &rota)[0]), "22:50");
    accepted(&night, &rota);
    let faults = refused(&night, &alone(60, 235), &[Rule::B2, Rule::B3]);
    assert_eq!(faults[1].what, "KB is planned out at 22:55, 5 min after OUT-BY 22:50.");
}

#[test]
fn b3_a_personal_limit_moves_the_time_shown_and_is_no_fault_of_this_rule() {
    let mut night = alone_night();
    night.roster.people[KB.0].own.max_wear = Some(Minutes(90));
    assert_eq!(out_by(&night, &alone(40, 120)), [t(120)]);
    refused(&night, &alone(40, 125), &[Rule::A8]);
}

#[test]
fn b3_what_is_left_of_the_shift_brings_it_forward() {
    let mut night = alone_night();
    night.limits.cumulative_wear = Minutes(200);
    night.roster.people[KB.0].worn_before = Minutes(100);
    // 100 left: sealed at 50, f 20.
    assert_eq!(out_by(&night, &alone(40, 120)), [t(130)]);
}

#[test]
fn b3_a_closure_of_the_lane_brings_it_forward() {
    let mut night = alone_night();
    night.roster.lanes[0].closures = vec![span(0, 60), span(150, 180)];
    assert_eq!(out_by(&night, &alone(40, 120)), [t(130)]);
}

#[test]
fn b3_a_lane_is_free_only_after_cleaning() {
    let night = plain_night();
    // W 180 from 50: the later one by 210, the earlier f 20 + t 10 before that.
    let mut rota = rota_of([entry(KB, 40, 120), Entry { observer: Some(GH), ..entry(MR, 40, 120) }]);
    rota.entries[1].removal = t(150);
    rota.entries[1].off = t(170);
    accepted(&night, &rota);
    assert_eq!(out_by(&night, &rota), [t(180), t(210)]);
    assert_eq!(anteroom::check::out_by_together(&night, &rota), [t(180), t(180)]);
}

#[test]
fn b3_the_assistant_has_to_get_out_too() {
    let night = assisted_night();
    // AL is sealed at 105, W 120, g 15: own removal by 210, and the entrant's, 20, before it.
    assert_eq!(out_by(&night, &assisted_visit()), [t(190), t(190)]);
}

#[test]
fn b3_a_helper_who_goes_home_is_not_reserved_after_that() {
    let mut night = alone_night();
    night.roster.people[DW.0].on_duty = span(0, 200);
    // f 20 and reset 5 before 200.
    assert_eq!(out_by(&night, &alone(40, 120)), [t(175)]);
}

#[test]
fn b4_rest_runs_from_the_last_item_off_to_the_next_donning() {
    // Off 22:00, r 120, d 20: the earliest door-in is 00:20.
    let night = alone_night();
    let twice = |don| rota_of([entry(KB, 80, 160), entry(KB, don, don + 80)]);
    assert_eq!(night.roster.clock.hhmm(twice(300).entries[1].door_in), "00:20");
    accepted(&night, &twice(300));
    let faults = refused(&night, &twice(295), &[Rule::B4]);
    assert_eq!(
        faults[0].what,
        "KB has the last item off at 22:00 and starts donning at 23:55: 5 min short of the 120 of rest."
    );
}

#[test]
fn b4_a_light_kit_between_does_not_use_up_the_rest_after_the_heavy_one() {
    let mut night = assisted_night();
    night.limits.ensembles[F.0].assistant = false;
    let mut rota = rota_of([entry(KB, 40, 120), entry(KB, 260, 340)]);
    // F off at 140, r(F, F) 120; in D from 200 to 230, r(D, F) 30.
    rota.posts = vec![post(KB, 200, 215, 1, GH)];
    night.limits.min_inside = 1;
    accepted(&night, &rota);
    rota.entries[1].don = t(255);
    refused(&night, &rota, &[Rule::B4]);
}

#[test]
fn b5_no_duty_in_recovery() {
    // KB is off at 140, recovery 30; KB watches a donning, which the unit lists, from 170.
    let night = plain_night();
    let mut rota = rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(JT, PS, 170, 250)));
    rota.entries[2].donning_observer = Some(KB);
    rota.entries[3].donning_observer = Some(KB);
    accepted(&night, &rota);
    rota.entries[2].don = t(165);
    let faults = refused(&night, &rota, &[Rule::B5]);
    assert_eq!(faults[0].what, "KB has the last item off at 21:20 and a duty at 21:45: 5 min too early.");
}

#[test]
fn b5_until_the_rest_is_over_only_the_duties_listed() {
    // KB is off at 140, r(F, F) 120; ready 5 minutes before watching a removal.
    let mut night = plain_night();
    let watching = |out| {
        let mut rota = rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(JT, PS, 180, out)));
        rota.entries[2].observer = Some(KB);
        rota
    };
    accepted(&night, &watching(265));
    refused(&night, &watching(260), &[Rule::B5]);
    night.limits.inside_rest.push(CleanDuty::DoffingObserver);
    accepted(&night, &watching(260));
}

#[test]
fn b6_twice_the_longest_wear_is_exactly_the_shift() {
    // 2 x 180 = 360 = C.
    let mut night = alone_night();
    let twice = rota_of([entry(KB, 0, 170), entry(KB, 310, 480)]);
    let review = accepted(&night, &twice);
    assert_eq!(review.measures.largest_wear_centi, 36_000);
    night.limits.cumulative_wear = Minutes(359);
    // OUT-BY comes forward by the same minute.
    let faults = refused(&night, &twice, &[Rule::B3, Rule::B6]);
    assert_eq!(faults.iter().find(|f| f.rule == Rule::B6).map(|f| f.by), Some(Some(By::Minutes(Minutes(1)))));
}

#[test]
fn b6_each_ensemble_has_its_weight() {
    let mut night = assisted_night();
    // AL is in D for 50 minutes, at half: 25.
    night.roster.people[AL.0].worn_before = Minutes(335);
    accepted(&night, &assisted_visit());
    night.roster.people[AL.0].worn_before = Minutes(336);
    refused(&night, &assisted_visit(), &[Rule::B3, Rule::B6]);
}

#[test]
fn b9_the_shortest_useful_stay() {
    let night = alone_night();
    accepted(&night, &alone(40, 75));
    let faults = refused(&night, &alone(40, 70), &[Rule::B9]);
    assert_eq!(faults[0].what, "KB is inside 20:00-20:10, 5 min less than the shortest stay of 15.");
}

/// At most so many minutes of wear in any 24 hours. The wear of KB and MR tonight is 19:50-21:20, 90 minutes.
fn rolling(max: i64, log: &[(i64, i64)]) -> Night {
    let mut night = plain_night();
    night.limits.rolling_wear = vec![RollingWear { window: Minutes(24 * 60), max: Minutes(max) }];
    night.roster.wear_log_from = Some(t(-7 * 24 * 60));
    night.roster.wear_log =
        log.iter().map(|&(on, off)| LoggedWear { person: KB, ensemble: F, span: span(on, off) }).collect();
    night
}

#[test]
fn b7_wear_over_a_day_counts_what_the_log_says() {
    accepted(&rolling(90, &[]), &plain_visit());
    // 19:00-20:00 yesterday has left the stretch when tonight's wear ends at 21:20. Of 20:30-21:30 all 60 are in it with
    // 40 of tonight at 20:30, and 10 with 90 at 21:20; of 21:20-22:20 all 60 with 90.
    accepted(&rolling(90, &[(-1440, -1380)]), &plain_visit());
    accepted(&rolling(100, &[(-1350, -1290)]), &plain_visit());
    let faults = refused(&rolling(99, &[(-1350, -1290)]), &plain_visit(), &[Rule::B3, Rule::B7]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(1))));
    assert_eq!(faults[0].what, "KB wears 1 min more in the 24 h to 20:30 than the 99 allowed.");
    accepted(&rolling(150, &[(-1300, -1240)]), &plain_visit());
    refused(&rolling(149, &[(-1300, -1240)]), &plain_visit(), &[Rule::B3, Rule::B7]);
    // Another's log is nobody else's, and a kit counts by its percent.
    let mut other = rolling(149, &[(-1300, -1240)]);
    other.roster.wear_log[0].person = PS;
    accepted(&other, &plain_visit());
    other.roster.wear_log[0] = LoggedWear { person: KB, ensemble: D, ..other.roster.wear_log[0] };
    other.limits.rolling_wear[0].max = Minutes(120);
    accepted(&other, &plain_visit());
    other.limits.rolling_wear[0].max = Minutes(119);
    refused(&other, &plain_visit(), &[Rule::B3, Rule::B7]);
}

#[test]
fn b7_is_worst_where_earlier_wear_begins_to_leave_the_stretch() {
    // In the 24 h to 20:50: 60 of yesterday (20:50-21:50) and 19:50-20:50 of tonight, 120; to 21:20 only 30 + 90.
    accepted(&rolling(120, &[(-1330, -1270)]), &plain_visit());
    refused(&rolling(119, &[(-1330, -1270)]), &plain_visit(), &[Rule::B3, Rule::B7]);
}

#[test]
fn b7_what_the_log_does_not_reach_is_not_checked_and_never_zero() {
    let said = |night: &Night| {
        let all = review(night, &plain_visit()).not_checked;
        all.into_iter().filter(|n| n.what.starts_with("B7")).map(|n| (n.what, n.why)).collect::<Vec<_>>()
    };
    let of = |what: &str, why: &str| vec![(what.to_owned(), why.to_owned())];
    let mut night = rolling(90, &[]);
    assert_eq!(said(&night), []);
    night.roster.wear_log_from = None;
    assert_eq!(said(&night), of("B7 wear over 24 hours", "a limit is set but no log was read"));
    // Trade page, input mistake 19. What is known is checked all the same.
    night.limits.rolling_wear[0].max = Minutes(89);
    refused(&night, &plain_visit(), &[Rule::B3, Rule::B7]);
    night.roster.wear_log_from = Some(t(-1439));
    assert_eq!(said(&night), of("B7 wear over 24 hours", "the log only reaches back to 3 Mar 19:01"));
    night.roster.wear_log_from = Some(t(-1440));
    assert_eq!(said(&night), []);
}

#[test]
fn b7_out_by_leaves_what_the_days_before_allow() {
    // 60 of yesterday, 21:20-22:20, stay in the 24 hours until 21:20; then one more minute of tonight for one of them.
    // 150 + x: off at 21:20 + x, and with 22:20 reached all of yesterday's has left.
    let by = |max: i64| out_by(&rolling(max, &[(-1300, -1240)]), &plain_visit())[0];
    assert_eq!(out_by(&plain_night(), &plain_visit())[0], t(210));
    // At 150 it may go on for as long as each minute of tonight takes the place of one of yesterday: 60 minutes.
    assert_eq!(by(150), t(180));
    assert_eq!(by(155), t(185));
}
