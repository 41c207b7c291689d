//! Figures from published tables and texts, each with its source.

use anteroom::night::{Entry, Minutes, Night, Rota, Rule, WearFrom};

use crate::common::*;

/// Wear counted from the start of donning to the last item off, `longest` at a time and `shift` in the shift, then
/// `rest`. Steps of 5 for donning and removal lie inside the wear.
fn table(longest: i64, rest: i64, shift: i64) -> Night {
    let mut night = plain_night();
    let limits = &mut night.limits;
    limits.wear_from = WearFrom::DonningStart;
    limits.cumulative_wear = Minutes(shift);
    limits.min_inside = 1;
    limits.shower = Minutes(0);
    limits.rest = vec![vec![Minutes(rest); 2]; 2];
    let ensemble = &mut limits.ensembles[F.0];
    ensemble.donning = Minutes(5);
    ensemble.sealed = Minutes(5);
    ensemble.removal = Minutes(5);
    ensemble.recovery = Minutes(0);
    ensemble.max_wear = Minutes(longest);
    night.roster.people[KB.0].on_duty = span(0, 480);
    night
}

/// KB wears for these lengths with `rest` between; gives the minute at which the last one ends too.
fn wears(lengths: &[i64], rest: i64) -> (Rota, i64) {
    let mut at = 0;
    let mut entries = Vec::new();
    for length in lengths {
        let e = entry(KB, at, at + length - 5);
        entries.push(Entry { door_in: t(at + 5), off: t(at + length), ..e });
        at += length + rest;
    }
    (rota_of(entries), at - rest)
}

#[test]
fn a_filtering_half_mask_without_valve_fills_a_shift_of_eight_hours() {
    // DGUV Regel 112-190, 8.2, table 21, seen: wear 75, rest 30, 360 in a shift. Reckoned from it: four full wears
    // and one of 60 with four rests are 360 + 4 x 30 = 480 minutes.
    let night = table(75, 30, 360);
    let (rota, end) = wears(&[75, 75, 75, 75, 60], 30);
    assert_eq!(end, 480);
    accepted(&night, &rota);
    let (longer, _) = wears(&[75, 75, 75, 75, 65], 30);
    let mut late = night.clone();
    late.roster.people[KB.0].on_duty = span(0, 500);
    let faults = refused(&late, &longer, &[Rule::B3, Rule::B6]);
    assert!(faults.iter().any(|f| f.what == "KB wears 5 min more in the shift than the 360 allowed."));
    let (rested_less, _) = wears(&[75, 75, 75, 75, 60], 29);
    refused(&night, &rested_less, &[Rule::B4]);
    let (longer, _) = wears(&[76], 30);
    refused(&night, &longer, &[Rule::B2, Rule::B3]);
}

#[test]
fn a_powered_respirator_with_full_mask_fills_it_with_three_wears() {
    // The same table, seen: wear 150, rest 30, 420 in a shift. 150 + 150 + 120 + 2 x 30 = 480.
    let night = table(150, 30, 420);
    let (rota, end) = wears(&[150, 150, 120], 30);
    assert_eq!(end, 480);
    accepted(&night, &rota);
}

#[test]
fn shorter_wear_earns_shorter_rest_in_proportion() {
    // DGUV Regel 112-190 (old table, short-use rule), seen: rest = wear x least rest / longest wear. Without valve:
    // 45 x 30 / 75 = 18. A unit that plans wears of 45 writes 45 and 18.
    let night = table(45, 45 * 30 / 75, 360);
    accepted(&night, &wears(&[45, 45, 45], 18).0);
    refused(&night, &wears(&[45, 45, 45], 17).0, &[Rule::B4]);
}

#[test]
fn forty_five_minutes_and_twenty_of_recovery() {
    // Haverkort and others, Emerg Infect Dis 2016;22(2), abstract, seen: at most 45 minutes, then 20 of recovery.
    let mut night = table(45, 20, 360);
    night.limits.ensembles[F.0].recovery = Minutes(20);
    accepted(&night, &wears(&[45, 45], 20).0);
    refused(&night, &wears(&[45, 45], 19).0, &[Rule::B4, Rule::B5]);
    refused(&night, &wears(&[46], 20).0, &[Rule::B2, Rule::B3]);
}

#[test]
fn eleven_hours_between_shifts() {
    // Directive 2003/88/EC, Article 3, seen second hand: 11 consecutive hours. Off at 20:00: from 07:00.
    let seven = -720;
    for (off, first, good) in [(-1380, seven, true), (-1380, seven - 1, false), (-1381, seven - 1, true)] {
        let mut night = plain_night();
        for person in &mut night.roster.people {
            person.on_duty = span(-800, 750);
        }
        night.roster.people[EN.0].last_off_duty = Some(t(off));
        let rota = later(plain_visit(), first - 40);
        if good { drop(accepted(&night, &rota)) } else { drop(refused(&night, &rota, &[Rule::F4])) }
    }
}
