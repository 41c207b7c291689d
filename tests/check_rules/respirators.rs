//! G2: respirators that come back into use, and how long they run.

use anteroom::check::{By, out_by};
use anteroom::night::{Entry, FitTest, Minutes, Night, Respirator, RespiratorStock, Rota, Rule, Standby, Stint};

use crate::common::*;

/// Units of model RA: run 120 less 10, reprocessing 45, charging 15.
fn in_turn(units: u32) -> Night {
    let mut night = plain_night();
    night.limits.respirators = vec![Respirator {
        model: "RA".into(),
        run: Some(Minutes(120)),
        run_margin: Minutes(10),
        reprocess: Minutes(45),
        charge: Minutes(15),
    }];
    night.roster.respirators[0].count = units;
    night
}

/// KB and MR wear theirs 19:50-21:20, PS and JT from ten minutes after they start to don.
fn two_visits(don: i64) -> Rota {
    let mut rota = plain_visit();
    rota.entries.extend(pair(PS, JT, don, don + 80));
    rota.put_in_order();
    rota
}

#[test]
fn g2_a_unit_is_in_use_until_it_is_clean_and_charged() {
    // Off at 21:20, 45 + 15: put on again at 22:20 at the earliest, so donning from 22:10.
    accepted(&in_turn(2), &two_visits(190));
    let faults = refused(&in_turn(2), &two_visits(189), &[Rule::G2]);
    assert_eq!(faults[0].by, Some(By::Count(2)));
    assert_eq!(faults[0].span, span(199, 200));
    assert_eq!(
        faults[0].what,
        "Respirator RA size M runs out at 22:19 (PS): 4 in use, 2 ready; the next one is back at 22:20."
    );
    accepted(&in_turn(4), &two_visits(189));
    // With batteries swapped only the 45 of reprocessing count.
    let mut swapped = in_turn(2);
    swapped.limits.respirators[0].charge = Minutes(0);
    accepted(&swapped, &two_visits(175));
    refused(&swapped, &two_visits(174), &[Rule::G2]);
}

#[test]
fn g2_units_on_charge_count_from_when_they_are_ready() {
    let ready = |at: i64| {
        let mut night = in_turn(2);
        let later = RespiratorStock { ready_from: Some(t(at)), count: 2, ..night.roster.respirators[0].clone() };
        night.roster.respirators.push(later);
        night
    };
    accepted(&ready(170), &two_visits(160));
    refused(&ready(171), &two_visits(160), &[Rule::G2]);
}

#[test]
fn g2_a_unit_runs_for_the_wear_and_the_margin() {
    // On at 19:50, off at 21:20: 90 of 100 less 10.
    let mut night = in_turn(2);
    night.limits.respirators[0].run = Some(Minutes(100));
    accepted(&night, &plain_visit());
    night.limits.respirators[0].run = Some(Minutes(99));
    let faults = refused(&night, &plain_visit(), &[Rule::B3, Rule::G2]);
    let run = faults.iter().find(|f| f.rule == Rule::G2).expect("refused by it");
    assert_eq!(run.by, Some(By::Minutes(Minutes(1))));
    assert_eq!(run.what, "KB wears respirator RA 19:50-21:20, 90 min: 1 min over the 89 it may run.");
    night.limits.respirators[0].run = None;
    accepted(&night, &plain_visit());
}

#[test]
fn g2_out_by_is_no_later_than_the_charge_allows() {
    // On at 19:50: 120 - 10 to 21:40, removal 20: 21:20. By wear alone it would be 22:30.
    assert_eq!(out_by(&in_turn(2), &plain_visit()), [t(140), t(140)]);
    assert_eq!(out_by(&plain_night(), &plain_visit()), [t(210), t(210)]);
}

#[test]
fn g2_sizes_are_counted_apart_unless_no_fit_test_is_needed() {
    let mut night = in_turn(2);
    night.roster.respirators.push(RespiratorStock { size: "S".into(), ..night.roster.respirators[0].clone() });
    refused(&night, &two_visits(160), &[Rule::G2]);
    for person in [PS, JT] {
        night.roster.people[person.0].fit_tests[0].size = "S".into();
    }
    accepted(&night, &two_visits(160));
    let mut untested = in_turn(2);
    untested.limits.ensembles[F.0].fit_test = false;
    refused(&untested, &two_visits(160), &[Rule::G2]);
    untested.roster.respirators.push(RespiratorStock { size: "S".into(), ..untested.roster.respirators[0].clone() });
    accepted(&untested, &two_visits(160));
}

/// Ensemble F is also worn with RB, of which the constraint set says nothing and there is plenty.
fn two_models() -> Night {
    let mut night = in_turn(2);
    night.limits.ensembles[F.0].respirators.push("RB".into());
    night.roster.respirators.push(RespiratorStock {
        respirator: "RB".into(),
        size: "M".into(),
        count: 9,
        ready_from: None,
    });
    for person in &mut night.roster.people {
        let rb = FitTest { respirator: "RB".into(), ..person.fit_tests[0].clone() };
        person.fit_tests.push(rb);
    }
    night
}

fn saying(mut rota: Rota, models: [&str; 4]) -> Rota {
    let said = |(entry, model): (Entry, &str)| Entry { respirator: Some(model.to_owned()), ..entry };
    rota.entries = rota.entries.into_iter().zip(models).map(said).collect();
    rota
}

#[test]
fn g2_a_rota_says_which_model_where_there_is_a_choice() {
    let faults = refused(&two_models(), &two_visits(190), &[Rule::G2]);
    assert_eq!(faults[0].what, "KB dons at 19:40: the rota does not say which respirator.");
    accepted(&two_models(), &saying(two_visits(190), ["RA", "RA", "RA", "RA"]));
    refused(&two_models(), &saying(two_visits(160), ["RA", "RA", "RA", "RB"]), &[Rule::G2]);
    accepted(&two_models(), &saying(two_visits(160), ["RA", "RA", "RB", "RB"]));
}

#[test]
fn a2_the_model_said_is_one_of_the_ensembles_and_fits_to_the_end_of_the_removal() {
    let said = saying(two_visits(160), ["RA", "RA", "RB", "RB"]);
    refused(&two_models(), &saying(two_visits(160), ["RA", "RA", "RB", "RX"]), &[Rule::A2]);
    let mut night = two_models();
    night.roster.people[PS.0].fit_tests.retain(|test| test.respirator != "RB");
    refused(&night, &said, &[Rule::A2]);
    let mut night = two_models();
    night.roster.people[PS.0].fit_tests[1].valid_through = day(2031, 3, 3);
    refused(&night, &said, &[Rule::A2]);
    let mut night = two_models();
    night.roster.respirators[1].count = 0;
    refused(&night, &said, &[Rule::A2]);
}

#[test]
fn e1_a_respirator_is_kept_for_whoever_stands_by() {
    let standing = |units: u32| {
        let mut night = in_turn(units);
        night.limits.standby = Some(Standby { responders: 1, report: false });
        night
    };
    let mut rota = plain_visit();
    rota.standby = vec![Stint { person: PS, span: span(60, 120) }];
    accepted(&standing(3), &rota);
    refused(&standing(2), &rota, &[Rule::E1]);
    // Two who stand by need two, or another model that fits one of them.
    let two = |night: Night| {
        let mut night = night;
        night.limits.standby = Some(Standby { responders: 2, report: false });
        night
    };
    rota.standby.push(Stint { person: JT, span: span(60, 120) });
    accepted(&two(standing(4)), &rota);
    refused(&two(standing(3)), &rota, &[Rule::E1]);
    let mut other = two(two_models());
    other.roster.respirators[0].count = 3;
    let rota = Rota { entries: saying(rota.clone(), ["RA", "RA", "", ""]).entries, ..rota };
    accepted(&other, &rota);
    other.roster.people[JT.0].fit_tests.retain(|test| test.respirator != "RB");
    accepted(&other, &rota);
    other.roster.people[PS.0].fit_tests.retain(|test| test.respirator != "RB");
    refused(&other, &rota, &[Rule::E1]);
}

/// S6 "Heather": five pairs put theirs on at 0, 120, 240, 360 and 480; wear 150.
fn heather(units: u32, charge: i64, starts: [i64; 5]) -> (Night, Rota) {
    let mut night = in_turn(units);
    night.limits.respirators[0] = Respirator {
        model: "RA".into(),
        run: Some(Minutes(160)),
        run_margin: Minutes(10),
        reprocess: Minutes(45),
        charge: Minutes(charge),
    };
    night.limits.ensembles[F.0].max_wear = Minutes(150);
    night.limits.watching = None;
    let mut rota = rota_of([]);
    // One pair more than people: the first goes in again.
    for (pair_of, start) in [(KB, MR), (JT, PS), (VF, AL), (HC, EN), (KB, MR)].into_iter().zip(starts) {
        let out = start + 150 - 20;
        rota.entries.extend(pair(pair_of.0, pair_of.1, start - 10, out));
    }
    for entry in &mut rota.entries {
        entry.donning_observer = Some(if entry.person == EN { KB } else { EN });
    }
    // Who watches the donning of HC and EN is not what this is about.
    night.limits.donning_capacity = 2;
    rota.put_in_order();
    (night, rota)
}

#[test]
fn s6_counting_misleads_and_timing_decides() {
    let judged = |units, charge, starts: [i64; 5]| {
        let (night, rota) = heather(units, charge, starts);
        let faults = anteroom::check::review(&night, &rota).faults;
        faults.into_iter().filter(|f| f.rule == Rule::G2).collect::<Vec<_>>()
    };
    // 45 + 180 after 150: 375 from one use to the next. Ten uses, twice each: "5 units". At 360 eight are in use.
    let planned = [10, 130, 250, 370, 490];
    assert_eq!(judged(8, 180, planned), []);
    let faults = judged(7, 180, planned);
    assert_eq!((faults.len(), faults[0].by, faults[0].span.from), (1, Some(By::Count(1)), t(370)));
    assert!(!judged(5, 180, planned).is_empty());
    // Six: the fourth and fifth 15 minutes later, at 375 and 495; the last ends at 645.
    assert_eq!(judged(6, 180, [10, 130, 250, 385, 505]), []);
    assert!(!judged(6, 180, [10, 130, 250, 384, 505]).is_empty());
    assert!(!judged(6, 180, [10, 130, 250, 385, 504]).is_empty());
    let (_, late) = heather(6, 180, [10, 130, 250, 385, 505]);
    assert_eq!(late.entries.iter().map(|e| e.off).max(), Some(t(10 + 645)));
    // Batteries swapped: 195 from one use to the next, four units.
    assert_eq!(judged(4, 0, planned), []);
    assert!(!judged(3, 0, planned).is_empty());
}
