//! C8: a lane, an observer and an assistant for somebody who comes out early.

use anteroom::check::review;
use anteroom::night::{
    BreakTaken, CleanDuty, EarlyExit, Forbidden, Huddle, LastRemoval, Minutes, Night, PersonIx, PostRole, Role, Rota,
    Rule, Stint,
};

use crate::common::*;

/// Somebody who comes out is seen to within so many minutes; removals need no assistant.
fn covered(within: i64) -> Night {
    let mut night = plain_night();
    night.limits.early_exit = Some(EarlyExit { within: Minutes(within), report: false });
    night
}

/// KB and MR inside 20:00-21:00, both lanes taken from then on; who would watch an early exit, and when.
fn rota(observer: PersonIx, spans: &[(i64, i64)]) -> Rota {
    let mut rota = plain_visit();
    rota.exit_observers = stints(observer, spans);
    rota
}

fn stints(person: PersonIx, spans: &[(i64, i64)]) -> Vec<Stint> {
    spans.iter().map(|&(from, to)| Stint { person, span: span(from, to) }).collect()
}

const WHOLE: &[(i64, i64)] = &[(60, 120)];

#[test]
fn c8_some_minute_within_the_units_figure_is_enough_and_one_later_is_not() {
    let minutes =
        |second: i64| -> Vec<(i64, i64)> { [69, second, 91, 102, 113, 119].iter().map(|&at| (at, at + 1)).collect() };
    accepted(&covered(10), &rota(JT, &minutes(80)));
    // Nobody at 20:20: whoever comes out at 20:10 waits 11 minutes.
    let faults = refused(&covered(10), &rota(JT, &minutes(81)), &[Rule::C8]);
    assert_eq!((faults.len(), faults[0].span), (1, span(70, 71)));
    accepted(&covered(11), &rota(JT, &minutes(81)));
    let faults = refused(&covered(10), &rota(JT, &[]), &[Rule::C8]);
    assert_eq!(
        faults[0].what,
        "Somebody is inside 20:00-21:00 and could not be seen to within 10 min if they had to come out: no lane, \
         observer and assistant are free together."
    );
}

#[test]
fn c8_a_break_of_the_only_observer_is_too_long_by_the_minutes_beyond_the_figure() {
    // Trade page, C8: all observers on break for 15 minutes with 2 inside and e = 10 is a fault.
    let with_break = |to: i64| {
        let mut rota = rota(JT, WHOLE);
        rota.breaks = vec![BreakTaken { person: JT, span: span(80, to) }];
        rota
    };
    accepted(&covered(10), &with_break(90));
    let faults = refused(&covered(10), &with_break(95), &[Rule::C8]);
    assert_eq!(faults[0].span, span(80, 85));
}

#[test]
fn c8_a_lane_is_free_clean_and_open_to_the_end_of_a_removal() {
    let shut = |night: &mut Night, lane: usize| night.roster.lanes[lane].closures.push(span(70, 90));
    let mut night = covered(10);
    shut(&mut night, 0);
    accepted(&night, &rota(JT, WHOLE));
    shut(&mut night, 1);
    // Until 20:30 no removal of 20 minutes fits before, and from 20:20 on 20:30 is within reach.
    let faults = refused(&night, &rota(JT, WHOLE), &[Rule::C8]);
    assert_eq!(faults[0].span, span(60, 80));
    // Another two are inside while both lanes are taken, 21:00-21:20, and cleaned, to 21:30.
    let mut rota = rota(JT, &[(60, 160)]);
    let others = [entry(PS, 60, 160), entry_in_lane_two(VF, 60, 160)];
    rota.entries.extend(others);
    accepted(&covered(30), &rota);
    let faults = refused(&covered(25), &rota, &[Rule::C8]);
    assert_eq!(faults[0].span, span(120, 125));
}

#[test]
fn c8_whoever_is_named_is_free_in_date_rested_and_stays_to_the_end() {
    // In the last minute, 20:59, the lanes are free for the last time: removal to 21:19.
    let changes: [fn(&mut Night, i64); 4] = [
        |night, step| night.roster.people[JT.0].on_duty = span(0, 139 - step),
        |night, step| {
            night.roster.people[JT.0].last_removal = Some(LastRemoval { off: t(60 - 120 + step), ensemble: F });
            night.limits.early_exit = Some(EarlyExit { within: Minutes(0), report: false });
        },
        |night, step| night.roster.people[JT.0].last_off_duty = Some(t(70 - 660 + step)),
        |night, step| {
            night.roster.huddles.push(Huddle { people: vec![JT], span: span(70, 80 + step) });
        },
    ];
    for (i, change) in changes.into_iter().enumerate() {
        let mut night = covered(10);
        change(&mut night, 0);
        accepted(&night, &rota(JT, WHOLE));
        let mut night = covered(10);
        change(&mut night, 1);
        let faults = refused(&night, &rota(JT, WHOLE), &[Rule::C8]);
        assert_eq!(faults[0].span.length(), Minutes(1), "change {i}");
    }
    let never: [fn(&mut Night); 3] = [
        |night| night.roster.people[JT.0].doffing_area_today = false,
        |night| night.roster.people[JT.0].sign_offs.retain(|s| s.role != Role::DoffingObserver),
        |night| {
            let roles = vec![Role::DoffingObserver];
            night.roster.forbidden.push(Forbidden { person: JT, roles, span: span(0, 750) });
        },
    ];
    for change in never {
        let mut night = covered(10);
        change(&mut night);
        let faults = refused(&night, &rota(JT, WHOLE), &[Rule::C8]);
        assert_eq!(faults[0].span, span(60, 120));
    }
}

#[test]
fn c8_inside_rest_only_where_the_unit_lists_watching_removals() {
    // Off at 19:00: recovery 30 is over, rest 120 is not.
    let mut night = covered(10);
    night.roster.people[JT.0].last_removal = Some(LastRemoval { off: t(0), ensemble: F });
    refused(&night, &rota(JT, WHOLE), &[Rule::C8]);
    night.limits.inside_rest.push(CleanDuty::DoffingObserver);
    accepted(&night, &rota(JT, WHOLE));
}

#[test]
fn c8_whoever_has_another_duty_coordinates_or_stands_by_is_not_free_for_it() {
    // EN watches both donnings to 20:00; DW and GH are at the lanes from 20:55.
    accepted(&covered(10), &rota(EN, WHOLE));
    let faults = refused(&covered(10), &rota(DW, WHOLE), &[Rule::C8]);
    assert_eq!(faults[0].span, span(115, 120));
    refused(&covered(10), &rota(KB, WHOLE), &[Rule::C8]);
    let mut night = covered(10);
    night.limits.coordinator = true;
    let led = |coordinator| Rota { coordinators: stints(coordinator, WHOLE), ..rota(JT, WHOLE) };
    accepted(&night, &led(PS));
    refused(&night, &led(JT), &[Rule::C8]);
    let mut night = covered(10);
    night.limits.standby = Some(anteroom::night::Standby { responders: 1, report: false });
    let backed = |responder| Rota { standby: stints(responder, WHOLE), ..rota(JT, WHOLE) };
    accepted(&night, &backed(PS));
    refused(&night, &backed(JT), &[Rule::C8]);
}

/// The same with assistants in kit D: donning 10 of which 5 sealed, own removal 15. AL and HC are on post from 20:50.
fn assisted_exit(within: i64) -> Night {
    let mut night = assisted_night();
    night.limits.early_exit = Some(EarlyExit { within: Minutes(within), report: false });
    night
}

fn assisted_rota(assistants: &[(PersonIx, i64, i64)]) -> Rota {
    let mut rota = assisted_visit();
    rota.exit_observers = stints(JT, WHOLE);
    let each = assistants.iter().flat_map(|&(person, from, to)| stints(person, &[(from, to)]));
    rota.exit_assistants = each.collect();
    rota
}

#[test]
fn c8_an_assistant_dresses_within_the_figure_or_is_dressed_already() {
    // Whoever comes out at 20:49 is seen to at 20:59 by PS, who dresses meanwhile; later ones by AL, dressed.
    accepted(&assisted_exit(10), &assisted_rota(&[(PS, 60, 120), (AL, 110, 120)]));
    let faults = refused(&assisted_exit(9), &assisted_rota(&[(PS, 60, 120), (AL, 110, 120)]), &[Rule::C8]);
    // From 20:41 AL is within reach.
    assert_eq!(faults[0].span, span(60, 101));
    let faults = refused(&assisted_exit(10), &assisted_rota(&[(PS, 60, 120)]), &[Rule::C8]);
    assert_eq!(faults[0].span, span(110, 120));
    // Free without a pause while dressing.
    let mut interrupted = assisted_rota(&[(PS, 60, 120), (AL, 110, 120)]);
    interrupted.breaks = vec![BreakTaken { person: PS, span: span(80, 81) }];
    let faults = refused(&assisted_exit(10), &interrupted, &[Rule::C8]);
    assert_eq!(faults[0].span, span(70, 81));
}

#[test]
fn c8_observer_and_assistant_are_two_people() {
    let rota = assisted_rota(&[(JT, 60, 120), (AL, 110, 120)]);
    let faults = refused(&assisted_exit(10), &rota, &[Rule::C8]);
    // From 20:40 AL, dressed at 20:50, is within reach.
    assert_eq!(faults[0].span, span(60, 100));
}

#[test]
fn c8_whoever_is_dressed_has_wear_left_for_a_removal_and_their_own() {
    // PS on post 19:40-20:30, sealed 19:35, own removal to 20:45: 70. From 20:29 a removal and the own take to 21:04: 89.
    let night = |max_wear| {
        let mut night = assisted_exit(10);
        night.limits.ensembles[D.0].max_wear = Minutes(max_wear);
        night
    };
    let mut rota = assisted_rota(&[(PS, 60, 90), (VF, 90, 120), (AL, 110, 120)]);
    rota.posts.push(post(PS, 30, 90, 0, GH));
    accepted(&night(89), &rota);
    let faults = refused(&night(88), &rota, &[Rule::C8]);
    assert_eq!(faults[0].span, span(89, 90));
}

#[test]
fn c8_observers_in_a_kit_dress_too() {
    let mut night = covered(10);
    night.limits.observer_kit = Some(D);
    let mut rota = rota(JT, WHOLE);
    for person in [DW, GH] {
        let kitted = post(person, 105, 145, 0, EN);
        rota.posts.push(anteroom::night::Post { role: PostRole::Observer, lane: None, observer: None, ..kitted });
    }
    // JT could be dressed at 20:59 for whoever comes out by 20:49; then DW and GH are dressed and at the lanes.
    let faults = refused(&night, &rota, &[Rule::C8]);
    assert_eq!(faults[0].span, span(110, 120));
    // Where the unit asks for no ready time, DW is dressed with nothing to do from 20:55.
    night.limits.observer_ready = Minutes(0);
    rota.exit_observers.extend(stints(DW, &[(115, 120)]));
    accepted(&night, &rota);
}

#[test]
fn c8_reported_it_is_counted_and_no_fault() {
    let mut night = covered(10);
    night.limits.early_exit = Some(EarlyExit { within: Minutes(10), report: true });
    accepted(&night, &rota(JT, WHOLE));
    let found = review(&night, &rota(JT, &[(60, 100)]));
    assert_eq!(found.faults, []);
    assert_eq!(found.exits, [span(100, 120)]);
    assert_eq!(found.measures.rescue_missing, Minutes(20));
}
