//! A1-A8, F3, F4, G1.

use anteroom::check::By;
use anteroom::night::{
    Apart, BreakTaken, Breaks, Entry, ExcludedPair, LastRemoval, Minutes, Night, PersonIx, Role, Rule, SignOff,
};

use crate::common::*;

fn only_through(night: &mut Night, person: PersonIx, role: Role, until: (i32, u32, u32)) {
    let valid_through = day(until.0, until.1, until.2);
    let sign_offs = &mut night.roster.people[person.0].sign_offs;
    sign_offs.retain(|s| s.role != role);
    sign_offs.push(SignOff { role, valid_through, last_done: None });
}

#[test]
fn a1_a_sign_off_is_good_to_the_end_of_its_day_and_not_a_step_longer() {
    let mut night = plain_night();
    only_through(&mut night, KB, Role::Entrant, (2031, 3, 4));
    // The last item is off at 21:20 in the plain visit: 160 minutes later that is 24:00.
    accepted(&night, &later(plain_visit(), 160));
    let faults = refused(&night, &later(plain_visit(), 165), &[Rule::A1]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
    assert_eq!(
        faults[0].what,
        "KB's sign-off as entrant ends at 24:00 on 2031-03-04; this duty ends 00:05, 5 min later."
    );
}

#[test]
fn a1_holds_for_each_helper_to_the_end_of_the_own_duty() {
    let cases = [(EN, Role::DonningObserver, 240), (DW, Role::DoffingObserver, 145), (AL, Role::Assistant, 145)];
    for (helper, role, late) in cases {
        let mut night = assisted_night();
        only_through(&mut night, helper, role, (2031, 3, 4));
        accepted(&night, &later(assisted_visit(), late));
        // Whoever helps with the removal bounds OUT-BY too.
        let rules: &[Rule] = if helper == EN { &[Rule::A1] } else { &[Rule::A1, Rule::B3] };
        refused(&night, &later(assisted_visit(), late + 5), rules);
    }
}

#[test]
fn a1_a_role_that_is_not_held_is_refused() {
    let mut night = plain_night();
    night.roster.people[DW.0].sign_offs.retain(|s| s.role != Role::DoffingObserver);
    let faults = refused(&night, &plain_visit(), &[Rule::A1]);
    assert_eq!(faults[0].what, "DW is not signed off as doffing-observer, planned 21:00-21:20.");
}

#[test]
fn a2_a_fit_test_is_good_to_the_end_of_its_day() {
    let mut night = plain_night();
    night.roster.people[MR.0].fit_tests[0].valid_through = day(2031, 3, 4);
    accepted(&night, &later(plain_visit(), 160));
    refused(&night, &later(plain_visit(), 165), &[Rule::A2]);
}

#[test]
fn a2_the_respirator_that_fits_is_in_stock() {
    let mut night = plain_night();
    night.roster.respirators[0].count = 1;
    accepted(&night, &plain_visit());
    night.roster.respirators[0].count = 0;
    let faults = refused(&night, &plain_visit(), &[Rule::A2]);
    assert_eq!(
        faults[0].what,
        "KB has no respirator for F at 19:40 that is in stock and fit-tested to the end of the removal."
    );
}

#[test]
fn a2_an_ensemble_without_fit_test_needs_only_some_of_its_models_in_stock() {
    let mut night = plain_night();
    night.limits.ensembles[F.0].fit_test = false;
    night.roster.people[KB.0].fit_tests.clear();
    accepted(&night, &plain_visit());
    night.roster.respirators[0].respirator = "RB".into();
    refused(&night, &plain_visit(), &[Rule::A2]);
}

#[test]
fn a2_someone_signed_off_for_no_room_ensemble_does_not_enter() {
    let mut night = plain_night();
    night.roster.people[KB.0].kits.remove(0);
    refused(&night, &plain_visit(), &[Rule::A2]);
}

#[test]
fn a3_the_shower_ends_with_the_time_on_duty() {
    let mut night = plain_night();
    // Off duty 07:30, shower 15: the last item is off by 07:15, minute 735.
    accepted(&night, &later(plain_visit(), 595));
    let faults = refused(&night, &later(plain_visit(), 600), &[Rule::A3]);
    assert_eq!(faults[0].what, "KB has the last item off at 07:20: 5 min too late to shower before 07:30.");
    night.limits.shower = Minutes(10);
    accepted(&night, &later(plain_visit(), 600));
}

#[test]
fn a3_nobody_starts_before_they_are_on_duty() {
    let mut night = plain_night();
    night.roster.people[EN.0].on_duty = span(40, 60);
    accepted(&night, &plain_visit());
    night.roster.people[EN.0].on_duty = span(45, 60);
    let faults = refused(&night, &plain_visit(), &[Rule::A3]);
    assert_eq!(faults[0].what, "EN is planned 19:40-20:00 but on duty 19:45-20:00: 5 min outside.");
}

#[test]
fn a4_the_flags_of_the_day_are_kept_and_leave_other_duties_free() {
    let mut night = plain_night();
    night.roster.people[KB.0].doffing_area_today = false;
    night.roster.people[DW.0].enter_today = false;
    accepted(&night, &plain_visit());
    night.roster.people[KB.0].enter_today = false;
    let faults = refused(&night, &plain_visit(), &[Rule::A4]);
    assert_eq!(faults[0].what, "KB is not available for entries today, planned 19:40-21:20.");

    let mut night = assisted_night();
    night.roster.people[AL.0].doffing_area_today = false;
    refused(&night, &assisted_visit(), &[Rule::A4]);
}

fn supervise(night: &mut Night, person: PersonIx) {
    night.roster.people[person.0].sign_offs.retain(|s| s.role != Role::Entrant);
}

#[test]
fn a5_a_preceptor_is_there_for_the_whole_stay() {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    supervise(&mut night, KB);
    accepted(&night, &plain_visit());
    let early = rota_of([entry(KB, 40, 120), entry_in_lane_two(MR, 40, 110)]);
    let faults = refused(&night, &early, &[Rule::A5]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(10))));
    assert_eq!(faults[0].what, "KB is supervised and inside room 1 20:50-21:00 with no preceptor: 10 min.");
    // Somebody else may take over.
    let mut relieved = early;
    relieved.entries.push(Entry { donning_observer: Some(VF), ..entry_in_lane_two(JT, 90, 140) });
    accepted(&night, &relieved);
    relieved.entries[2].don = t(95);
    relieved.entries[2].door_in = t(115);
    refused(&night, &relieved, &[Rule::A5]);
}

#[test]
fn a5_a_preceptor_is_in_date_to_the_own_last_item_off() {
    let mut night = plain_night();
    supervise(&mut night, KB);
    only_through(&mut night, MR, Role::Preceptor, (2031, 3, 4));
    accepted(&night, &later(plain_visit(), 160));
    let faults = refused(&night, &later(plain_visit(), 165), &[Rule::A5]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(60))));
    // Whoever is an entrant in date when the shift starts is not supervised.
    only_through(&mut night, KB, Role::Entrant, (2031, 3, 5));
    accepted(&night, &later(plain_visit(), 165));
    only_through(&mut night, KB, Role::Entrant, (2031, 3, 3));
    refused(&night, &later(plain_visit(), 165), &[Rule::A5]);
}

#[test]
fn a5_one_preceptor_minds_one_and_one_supervised_goes_in_at_a_time() {
    let mut night = plain_night();
    supervise(&mut night, KB);
    supervise(&mut night, MR);
    let visits = |don| {
        let second = pair(MR, PS, don, 150).map(|e| Entry { donning_observer: Some(VF), ..e });
        rota_of(pair(KB, JT, 40, 120).into_iter().chain(second))
    };
    accepted(&night, &visits(45));
    let faults = refused(&night, &visits(40), &[Rule::A5]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    assert_eq!(faults[0].what, "KB, MR are supervised and go into room 1 together at 20:00: one to an entry.");
    night.roster.people[PS.0].sign_offs.retain(|s| s.role != Role::Preceptor);
    let faults = refused(&night, &visits(45), &[Rule::A5]);
    assert_eq!(faults[0].what, "KB, MR are supervised and inside room 1 20:05-21:00 with 1 preceptor: 55 min.");
}

#[test]
fn a6_people_are_kept_apart_in_the_ways_named_and_no_others() {
    let cases =
        [(KB, MR, Apart::Room), (DW, KB, Apart::Observer), (EN, KB, Apart::Observer), (KB, AL, Apart::Assistant)];
    for (one, other, scope) in cases {
        let mut night = assisted_night();
        let others = [Apart::Room, Apart::Observer, Apart::Assistant].into_iter().filter(|&s| s != scope).collect();
        night.roster.apart = vec![ExcludedPair { one, other, scopes: others }];
        accepted(&night, &assisted_visit());
        night.roster.apart[0].scopes = vec![scope];
        refused(&night, &assisted_visit(), &[Rule::A6]);
    }
}

#[test]
fn a6_touching_stays_are_not_shared() {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night.roster.apart = vec![ExcludedPair { one: KB, other: MR, scopes: vec![Apart::Room] }];
    accepted(&night, &rota_of([entry(KB, 40, 120), entry_in_lane_two(MR, 100, 180)]));
    let faults = refused(&night, &rota_of([entry(KB, 40, 120), entry_in_lane_two(MR, 95, 180)]), &[Rule::A6]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
}

#[test]
fn a7_an_observer_changes_over_before_watching_a_donning() {
    // DW watches a removal to 21:20 and a donning from 21:25, with a changeover of 5.
    let mut rota = rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(JT, PS, 145, 225)));
    for e in &mut rota.entries[2..] {
        e.donning_observer = Some(DW);
    }
    let night = plain_night();
    accepted(&night, &rota);
    for e in &mut rota.entries[2..] {
        e.don = t(140);
    }
    let faults = refused(&night, &rota, &[Rule::A7]);
    assert_eq!(faults[0].what, "DW is watching a removal 20:55-21:25 and watching a donning from 21:20: 5 min short.");
}

#[test]
fn a7_where_a_reset_also_applies_the_longer_of_the_two_counts() {
    let mut night = plain_night();
    night.limits.changeover = Minutes(15);
    let mut rota = rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(JT, PS, 155, 235)));
    for e in &mut rota.entries[2..] {
        e.donning_observer = Some(DW);
    }
    // 21:20 + the longer of 5 and 15, not their sum.
    accepted(&night, &rota);
    night.limits.changeover = Minutes(16);
    refused(&night, &rota, &[Rule::A7]);
}

#[test]
fn a7_nobody_has_two_duties_at_once() {
    let mut rota = plain_visit();
    rota.entries[0].observer = Some(MR);
    let night = plain_night();
    refused(&night, &rota, &[Rule::A7]);
}

#[test]
fn a8_a_stricter_personal_limit_is_kept_and_never_quoted() {
    let mut night = plain_night();
    // Sealed 19:50, last item off 21:20: 90 minutes.
    night.roster.people[KB.0].own.max_wear = Some(Minutes(90));
    accepted(&night, &plain_visit());
    night.roster.people[KB.0].own.max_wear = Some(Minutes(89));
    let faults = refused(&night, &plain_visit(), &[Rule::A8]);
    assert_eq!(faults[0].by, None);
    assert_eq!(faults[0].what, "KB is not available then, planned 19:40-21:20.");
}

#[test]
fn a8_holds_for_the_shift_and_for_rest() {
    let mut night = plain_night();
    let twice = rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(KB, MR, 270, 350)));
    night.roster.people[KB.0].own.cumulative_wear = Some(Minutes(180));
    night.roster.people[KB.0].own.rest = Some(Minutes(130));
    accepted(&night, &twice);
    night.roster.people[KB.0].own.cumulative_wear = Some(Minutes(179));
    refused(&night, &twice, &[Rule::A8]);
    night.roster.people[KB.0].own.cumulative_wear = None;
    night.roster.people[KB.0].own.rest = Some(Minutes(135));
    refused(&night, &twice, &[Rule::A8]);
}

#[test]
fn a8_the_margin_is_kept_below_a_personal_limit_too() {
    let mut night = plain_night();
    night.limits.ensembles[F.0].margin = Minutes(10);
    night.roster.people[KB.0].own.max_wear = Some(Minutes(100));
    accepted(&night, &plain_visit());
    night.roster.people[KB.0].own.max_wear = Some(Minutes(95));
    refused(&night, &plain_visit(), &[Rule::A8]);
}

fn with_breaks() -> Night {
    let mut night = plain_night();
    night.limits.breaks = Some(Breaks { length: Minutes(30), work_max: Minutes(360), recovery_counts: false });
    for person in &mut night.roster.people {
        person.on_duty = span(0, 360);
    }
    night
}

fn break_of(person: PersonIx, from: i64, to: i64) -> BreakTaken {
    BreakTaken { person, span: span(from, to) }
}

#[test]
fn f3_a_day_of_exactly_the_longest_work_needs_no_break() {
    // Directive 2003/88/EC, Article 4, seen second hand: a break is due where the day exceeds six hours.
    let mut night = with_breaks();
    accepted(&night, &plain_visit());
    night.roster.people[KB.0].on_duty = span(0, 361);
    let faults = refused(&night, &plain_visit(), &[Rule::F3]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(1))));
    night.roster.people[JT.0].on_duty = span(0, 720);
    night.roster.people[KB.0].on_duty = span(0, 360);
    accepted(&night, &plain_visit());
}

#[test]
fn f3_a_break_is_long_enough_free_of_duty_and_outside_recovery() {
    let mut night = with_breaks();
    night.roster.people[KB.0].on_duty = span(0, 500);
    let mut rota = plain_visit();
    // Off at 140, recovery 30.
    for (from, to, good) in [(170, 200, true), (170, 195, false), (165, 200, false), (10, 40, true), (15, 45, false)] {
        rota.breaks = vec![break_of(KB, from, to)];
        if from < 40 {
            night.roster.people[KB.0].on_duty = span(0, 400);
        }
        if good { drop(accepted(&night, &rota)) } else { drop(refused(&night, &rota, &[Rule::F3])) }
    }
}

#[test]
fn f3_recovery_is_a_break_where_the_unit_says_so() {
    let mut night = with_breaks();
    let mut rota = plain_visit();
    rota.breaks = vec![break_of(KB, 140, 170)];
    refused(&night, &rota, &[Rule::F3]);
    night.limits.breaks = Some(Breaks { length: Minutes(30), work_max: Minutes(360), recovery_counts: true });
    accepted(&night, &rota);
}

#[test]
fn f3_breaks_lie_in_the_windows_and_not_too_far_apart() {
    let mut night = with_breaks();
    night.roster.break_windows = vec![span(180, 240)];
    night.roster.people[KB.0].on_duty = span(0, 600);
    let mut rota = plain_visit();
    rota.breaks = vec![break_of(KB, 210, 240)];
    accepted(&night, &rota);
    rota.breaks = vec![break_of(KB, 215, 245)];
    refused(&night, &rota, &[Rule::F3]);
    night.roster.break_windows.clear();
    night.roster.people[KB.0].on_duty = span(0, 605);
    accepted(&night, &rota);
    night.roster.people[KB.0].on_duty = span(0, 610);
    refused(&night, &rota, &[Rule::F3]);
}

#[test]
fn b8_entries_of_one_person_in_a_shift() {
    let mut night = plain_night();
    let rota = || rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(KB, JT, 270, 350)));
    accepted(&night, &rota());
    night.limits.entries_max = Some(2);
    accepted(&night, &rota());
    night.limits.entries_max = Some(1);
    let faults = refused(&night, &rota(), &[Rule::B8]);
    assert_eq!((faults.len(), faults[0].by, faults[0].span), (1, Some(By::Count(1)), span(270, 370)));
    assert_eq!(faults[0].what, "KB makes 2 entries, 1 more than the 1 allowed.");
}

#[test]
fn f4_the_gap_runs_from_the_actual_off_duty() {
    // Off 08:10, 11 h: not before 19:10. Minute 10 of this night.
    let mut night = plain_night();
    night.roster.people[EN.0].last_off_duty = Some(t(-650));
    accepted(&night, &later(plain_visit(), -30));
    let faults = refused(&night, &later(plain_visit(), -35), &[Rule::F4]);
    assert_eq!(
        faults[0].what,
        "EN went off duty at 08:10 and is free again from 19:10; the first duty starts 19:05, 5 min too early."
    );
}

#[test]
fn g1_kits_run_out_at_the_reserve() {
    let mut night = assisted_night();
    night.roster.kits[F.0].count = 4;
    night.roster.kits[F.0].reserve = 2;
    night.roster.kits[D.0].count = 2;
    accepted(&night, &assisted_visit());
    night.roster.kits[F.0].reserve = 3;
    let faults = refused(&night, &assisted_visit(), &[Rule::G1]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    assert_eq!(faults[0].what, "Kit F size M runs out at 19:40 (MR): 2 used, 1 beyond the reserve.");
    night.roster.kits[F.0].reserve = 2;
    night.roster.kits[D.0].count = 1;
    refused(&night, &assisted_visit(), &[Rule::G1]);
}

#[test]
fn what_was_worn_before_the_shift_still_counts() {
    let mut night = plain_night();
    let last = |off| Some(LastRemoval { off: t(off), ensemble: F });
    night.roster.people[KB.0].last_removal = last(-80);
    night.roster.people[KB.0].worn_before = Minutes(270);
    accepted(&night, &plain_visit());
    night.roster.people[KB.0].last_removal = last(-75);
    refused(&night, &plain_visit(), &[Rule::B4]);
    night.roster.people[KB.0].last_removal = None;
    night.roster.people[KB.0].worn_before = Minutes(271);
    refused(&night, &plain_visit(), &[Rule::B3, Rule::B6]);
    night.roster.people[KB.0].worn_before = Minutes(0);
    night.roster.people[EN.0].last_removal = last(10);
    accepted(&night, &plain_visit());
    night.roster.people[EN.0].last_removal = last(15);
    refused(&night, &plain_visit(), &[Rule::B5]);
}
