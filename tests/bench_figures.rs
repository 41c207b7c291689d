//! The figures of the benchmark's table, on runs made by hand.

#[path = "../benches/nights/outcome.rs"]
mod outcome;
#[path = "../benches/nights/summary.rs"]
mod summary;

use outcome::{Found, Outcome, Who};
use summary::{OfNight, as_float, geometric_mean, middle, times_sooner};

/// A run on one level: milliseconds and value of each better rota.
fn run(who: Who, order: u64, found: &[(u64, i64)]) -> Outcome {
    Outcome {
        night: "birch".into(),
        order,
        who,
        seconds: 60,
        out: None,
        levels: vec!["uncovered 1".into()],
        found: found.iter().map(|&(ms, value)| Found { ms, values: vec![value] }).collect(),
        counted: vec![],
        bounds: vec![None],
        peak_kib: 0,
        check_us: None,
        disagreements: vec![],
    }
}

/// Ours at 0 after 1 s, 2 s, 4 s; CP-SAT at 10 after 20 s; HiGHS at 30 after 5 s and never in another order.
fn record() -> Vec<Outcome> {
    vec![
        run(Who::Ours, 0, &[(500, 40), (1_000, 0)]),
        run(Who::Ours, 1, &[(700, 40), (2_000, 0)]),
        run(Who::Ours, 2, &[(600, 40), (4_000, 0)]),
        run(Who::CpSat, 0, &[(3_000, 90), (20_000, 10)]),
        run(Who::HighsPlain, 0, &[(5_000, 30)]),
        run(Who::HighsPlain, 1, &[]),
    ]
}

#[test]
fn the_middle_of_several_runs_stands_for_them() {
    assert_eq!((middle(vec![3, 1, 2]), middle(vec![4, 1, 2, 3]), middle::<u64>(vec![])), (Some(2), Some(3), None));
    let record = record();
    let night = OfNight::of(&record, "birch");
    assert_eq!(night.everybody(), [Who::Ours, Who::HighsPlain, Who::CpSat]);
    assert_eq!((night.first(Who::Ours), night.at(Who::Ours, 1_999)), (Some(600), Some(vec![40])));
    assert_eq!(night.reached(Who::Ours, &[0]), Some(2_000));
    // Half of its runs never had anything.
    assert_eq!((night.first(Who::HighsPlain), night.at(Who::HighsPlain, 60_000)), (None, None));
}

#[test]
fn how_many_times_sooner_is_reckoned_by_the_best_opponent() {
    let record = record();
    let night = OfNight::of(&record, "birch");
    assert_eq!(night.best_of_opponents(60_000), Some((Who::CpSat, vec![10], 20_000)));
    let (ratio, reached) = times_sooner(&night, 60_000).expect("there is an opponent");
    assert!(reached && (ratio - 10.0).abs() < 1e-9, "{ratio}");
    // What ours never had counts as reached when the time ran out.
    let slow = [run(Who::Ours, 0, &[(500, 40)]), run(Who::CpSat, 0, &[(6_000, 10)])];
    let (ratio, reached) = times_sooner(&OfNight::of(&slow, "birch"), 60_000).expect("there is an opponent");
    assert!(!reached && (ratio - 0.1).abs() < 1e-9, "{ratio}");
}

#[test]
fn counts_without_names_are_not_compared() {
    let counted = vec![Found { ms: 2_000, values: vec![5] }, Found { ms: 9_000, values: vec![0] }];
    let merged = Outcome { counted, ..run(Who::HighsMerged, 0, &[(2_000, 7)]) };
    assert_eq!(merged.counted_at(8_999).map(|found| found.values[0]), Some(5));
    assert_eq!(merged.counted_at(9_000).map(|found| found.values[0]), Some(0));
    let record = [run(Who::Ours, 0, &[(500, 7)]), merged];
    assert_eq!(OfNight::of(&record, "birch").best_of_opponents(60_000), Some((Who::HighsMerged, vec![7], 2_000)));
}

#[test]
fn a_run_made_again_counts_once() {
    let record = [run(Who::Ours, 0, &[(500, 40)]), run(Who::Ours, 0, &[(900, 40)])];
    assert_eq!(OfNight::of(&record, "birch").first(Who::Ours), Some(900));
    assert!(OfNight::of(&record, "rush").runs.is_empty());
}

#[test]
fn figures_are_plain() {
    assert_eq!(geometric_mean(&[]), None);
    assert!((geometric_mean(&[2.0, 8.0]).expect("two figures") - 4.0).abs() < 1e-9);
    assert!((as_float(0) - 1.0).abs() < 1e-9, "nothing is sooner than a millisecond");
    let words: Vec<&str> = Who::OPPONENTS.into_iter().chain([Who::Ours]).map(Who::word).collect();
    for (who, word) in Who::OPPONENTS.into_iter().chain([Who::Ours]).zip(words) {
        assert_eq!(serde_json::to_string(&who).expect("a word"), format!("\"{word}\""));
    }
}
