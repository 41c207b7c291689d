//! Shares are put together only when they belong together.

use anteroom::night::Minutes;
use anteroom::staffing::Missed;
use anteroom::staffing::absence::outcome::{Outcome, Proof};
use anteroom::staffing::absence::part::{MadeFrom, Part, Refusal, Wanted};
use anteroom::staffing::absence::work::{Known, Settled, Share};

fn made_from(seed: &str) -> MadeFrom {
    vec![("roster".into(), "ab".into()), ("seed".into(), seed.into())]
}

fn covered() -> Settled {
    Settled::Planned(Outcome {
        missed: Missed { uncovered: vec![Minutes(0)], ..Missed::default() },
        proof: Proof::Amount,
    })
}

/// Share `number` of `of` in a file of that name, whole.
fn part(number: usize, of: usize) -> Part {
    let share = Share::new(number, of).expect("a share");
    let known: Known = (0..7).filter(|&case| share.has(case)).map(|case| (case, covered())).collect();
    Part { file: format!("{number}.csv"), made_from: made_from("1"), share, known }
}

fn gathered(parts: &[Part]) -> Result<Known, Vec<Refusal>> {
    Wanted { made_from: &made_from("1"), cases: 7, classes: 1 }.gathered(parts)
}

#[test]
fn every_case_belongs_to_one_share() {
    for of in 1..=9 {
        for case in 0..20 {
            assert_eq!((1..=of).filter(|&number| Share::new(number, of).is_some_and(|s| s.has(case))).count(), 1);
        }
    }
    assert_eq!((Share::new(0, 3), Share::new(4, 3), Share::new(1, 0)), (None, None, None));
}

#[test]
fn all_shares_in_any_order_are_the_whole() {
    let all = gathered(&[part(3, 3), part(1, 3), part(2, 3)]).expect("whole");
    assert_eq!(all.keys().copied().collect::<Vec<_>>(), (0..7).collect::<Vec<_>>());
}

#[test]
fn what_is_missing_or_there_twice_is_named() {
    let twice = Refusal::Twice { file: "1.csv".into(), first: "1.csv".into(), number: 1 };
    let not_there = Refusal::NotThere { numbers: vec![2, 3], of: 3 };
    assert_eq!(gathered(&[part(1, 3), part(1, 3)]), Err(vec![twice, not_there]));
}

#[test]
fn shares_of_another_split_are_refused() {
    let wrong = gathered(&[part(1, 2), part(2, 3)]).expect_err("refused");
    let split = Refusal::OtherSplit { file: "2.csv".into(), of: 3, first: "1.csv".into(), first_of: 2 };
    assert_eq!(wrong, [split, Refusal::NotThere { numbers: vec![2], of: 2 }]);
}

#[test]
fn what_was_made_from_something_else_is_refused_with_what_differs() {
    let mut other = part(1, 1);
    other.made_from = made_from("2");
    assert_eq!(gathered(&[other]), Err(vec![Refusal::Other { file: "1.csv".into(), names: vec!["seed".into()] }]));
}

#[test]
fn unfinished_and_foreign_cases_are_refused() {
    let mut cut = part(1, 1);
    cut.known.remove(&4);
    assert_eq!(gathered(&[cut]), Err(vec![Refusal::Unfinished { file: "1.csv".into(), known: 6, all: 7 }]));
    let mut foreign = part(1, 2);
    foreign.known.insert(1, covered());
    let mut beyond = part(2, 2);
    beyond.known.insert(7, covered());
    let wrong = gathered(&[foreign, beyond]).expect_err("refused");
    let all = ["1.csv", "2.csv"].map(|file| Refusal::Foreign { file: file.into() });
    assert_eq!(wrong, all);
}
