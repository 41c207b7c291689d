//! Larger nights at random, under all rules together and with little effort: whatever is planned passes the check.

use anteroom::check::measure;
use anteroom::night::{Night, Person, Relief, SignOff};
use anteroom::plan::{Effort, Level, Planned, plan};

use crate::larger::{larger_and_more, small, small_and_more};
use crate::nights::{Unwatched, measured};

/// Little work: what counts is what comes out of a search that is cut short.
const LITTLE: Effort = Effort { work: 1_500, seconds: None };

/// What a fault found in a planned rota looks like.
fn faults(night: &Night, planned: &Planned) -> String {
    let faults = anteroom::check::review(night, &planned.rota).faults;
    let lines: Vec<String> = faults.iter().map(|f| format!("{} {:?} {}", f.rule.id(), f.by, f.what)).collect();
    lines.join("\n")
}

/// Plans nights by seed, every second one with uneven figures.
fn plan_all(seeds: std::ops::Range<u64>, make: fn(u64, bool) -> Night) {
    // One night that fails must not hide the others: a long run says all of them at its end.
    let look = |seed| std::panic::catch_unwind(|| plan_one(make, seed)).map_err(|_| seed);
    let (entries, failed): (Vec<_>, Vec<_>) = seeds.map(look).partition(Result::is_ok);
    assert!(failed.is_empty(), "failed, with the reasons above: {failed:?}");
    assert!(entries.into_iter().flatten().sum::<u32>() > 0, "nobody ever entered");
}

/// Plans one night, holds the planner to what the check says of it, and counts entries.
fn plan_one(make: fn(u64, bool) -> Night, seed: u64) -> u32 {
    let night = make(seed, seed % 2 == 1);
    let planned = plan(&night, LITTLE, &mut Unwatched);
    assert_eq!(faults(&night, &planned), "", "seed {seed}");
    values_are_true(&night, &planned, seed);
    if seed.is_multiple_of(3) {
        assert!(planned == plan(&night, LITTLE, &mut Unwatched), "seed {seed}: not the same twice");
    }
    measure(&night, &planned.rota).removals
}

#[test]
fn whatever_is_planned_passes_the_check() {
    plan_all(0..6, larger_and_more);
}

#[test]
fn three_hundred_small_nights_under_all_rules() {
    std::thread::scope(|two| {
        two.spawn(|| plan_all(10_000..10_150, small_and_more));
        plan_all(10_150..10_300, small_and_more);
    });
}

/// Nights in which two of these rules meet are among the three hundred, and not by ones and twos.
#[test]
fn rules_meet_in_the_small_nights() {
    let styled = |night: &Night, style| night.limits.relief == style;
    let out_of_practice = |night: &Night| {
        let lapsed = |p: &Person, s: &SignOff| {
            let signed = p.signed_through(s.role).is_some_and(|day| night.roster.end_of_day(day) >= p.on_duty.to);
            signed && night.good_until(p, s.role).is_none_or(|until| until < p.on_duty.to)
        };
        night.roster.people.iter().any(|p| p.sign_offs.iter().any(|s| lapsed(p, s)))
    };
    let too_much = |night: &Night| night.roster.person_indices().any(|person| night.works_too_much(person));
    let nights: Vec<Night> = (10_000..10_300).map(|seed| small_and_more(seed, seed % 2 == 1)).collect();
    let met = |meet: &dyn Fn(&Night) -> bool| nights.iter().filter(|night| meet(night)).count();
    for style in [Relief::InPairs, Relief::OneByOne] {
        assert!(met(&|night| styled(night, style) && out_of_practice(night)) >= 10, "{style:?} and A9");
        assert!(met(&|night| styled(night, style) && too_much(night)) >= 10, "{style:?} and F8");
    }
    assert!(met(&|night| out_of_practice(night) && too_much(night)) >= 10, "A9 and F8");
}

/// Found among the ten thousand: recovery carried in that outlasts the rest before the same ensemble.
#[test]
fn recovery_carried_in_holds_for_the_next_wear() {
    plan_all(25_395..25_405, small);
}

/// Found among the ten thousand: a log above the limit, and tonight only a kit whose wear does not count.
#[test]
fn a_kit_that_does_not_count_may_be_worn_after_too_much_wear() {
    plan_all(20_710..20_720, small);
}

#[test]
#[ignore = "ten thousand nights: more than an hour on two cores"]
fn ten_thousand_small_nights_under_all_rules() {
    std::thread::scope(|two| {
        two.spawn(|| plan_all(20_000..25_000, small_and_more));
        plan_all(25_000..30_000, small_and_more);
    });
}

#[test]
#[ignore = "hundreds of larger nights: an hour"]
fn hundreds_of_larger_nights() {
    plan_all(1_000..1_300, larger_and_more);
}

/// Each level's value is what the check measures. Where figures lie off the grid, the planner may count its
/// own rounding in wear, load and stretches: never less than there is.
fn values_are_true(night: &Night, planned: &Planned, seed: u64) {
    for result in &planned.levels {
        let Some(measured) = measured(night, planned, result.level) else { continue };
        let rounded = matches!(
            result.level,
            Level::LargestWear | Level::LargestLoad | Level::LongestStretch(_) | Level::SpareShort
        );
        if seed % 2 == 1 && rounded {
            assert!(measured <= result.value, "seed {seed}: {measured} at {result:?}");
        } else {
            assert_eq!(measured, result.value, "seed {seed}: {result:?}");
        }
        assert!(result.at_least <= result.value, "seed {seed}: {result:?}");
    }
}
