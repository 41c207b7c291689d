//! The estimate beside the exact chance: every set of missing people planned, each weighed by its probability.

use anteroom::night::{Night, PersonIx, Role};
use anteroom::plan::Effort;
use anteroom::staffing::absence::answer::{Answers, State, answers};
use anteroom::staffing::absence::draw::{Chance, Draws};
use anteroom::staffing::absence::list::{Crew, List, Missing};
use anteroom::staffing::absence::outcome::{Outcome, outcome};
use anteroom::staffing::absence::work::{Job, Known, Settled, Share};
use anteroom::staffing::interval;

use super::common::{plain_night, presence, span};

const EFFORT: Effort = Effort { work: 1_000, seconds: None };

/// Five people who hold every role on a short shift; two are to be inside for an hour.
fn five() -> Night {
    let mut night = plain_night();
    night.roster.people.truncate(5);
    night.roster.shift = span(0, 240);
    night.roster.people.iter_mut().for_each(|person| person.on_duty = span(0, 240));
    night.roster.presence = vec![presence(60, 120, 2)];
    night
}

/// The same with three who enter, and three who watch, two of them donnings alone.
fn six_apart() -> Night {
    let mut night = plain_night();
    night.roster.people.truncate(6);
    night.roster.shift = span(0, 240);
    night.roster.presence = vec![presence(60, 120, 2)];
    for (place, person) in night.roster.people.iter_mut().enumerate() {
        person.on_duty = span(0, 240);
        let may = |role| match place {
            0..3 => role == Role::Entrant,
            3 => matches!(role, Role::DoffingObserver | Role::DonningObserver),
            4 => role == Role::DoffingObserver,
            _ => role == Role::DonningObserver,
        };
        person.sign_offs.retain(|sign_off| may(sign_off.role));
    }
    night
}

fn subsets(people: usize) -> impl Iterator<Item = Missing> {
    (0..1_usize << people).map(move |bits| (0..people).filter(|ix| bits >> ix & 1 == 1).map(PersonIx).collect())
}

/// Every set of missing people with what it comes to.
fn all(night: &Night) -> Vec<(Missing, Outcome)> {
    let settled = |missing: Missing| {
        let outcome = outcome(&night.with_missing(&missing), EFFORT).expect("no fault");
        (missing, outcome)
    };
    subsets(night.roster.people.len()).map(settled).collect()
}

/// The chance of a figure, summed over everything that can happen; each person is missing with this chance.
fn expected(all: &[(Missing, Outcome)], people: usize, chance: Chance, of: impl Fn(&Outcome) -> f64) -> f64 {
    let p = f64::from(chance.times()) / f64::from(chance.of());
    let weight = |missing: &Missing| -> f64 {
        (0..people).map(|ix| if missing.contains(&PersonIx(ix)) { p } else { 1.0 - p }).product()
    };
    all.iter().map(|(missing, outcome)| weight(missing) * of(outcome)).sum()
}

fn estimated(night: &Night, chance: Chance, seed: u64, nights: u32) -> Answers {
    let crews = [Crew { name: "all".into(), without: Missing::new() }];
    let chances = vec![chance; night.roster.people.len()];
    let list = List::drawn(&night.roster, &crews, &chances, Draws::new(seed), nights);
    let job = Job { night, cases: list.cases(), share: Share::WHOLE, effort: EFFORT };
    let known = job.run(Known::new(), &mut |_, _| Ok::<(), ()>(())).expect("no fault");
    answers(night, &crews, &list, &known).expect("all are settled")
}

/// With five who can do everything, three are enough: two go in, the third watches both donnings (two at once are
/// allowed) and one removal after the other (there is one place to wait). Two are not: nobody watches. So the chance is
/// that of at most two missing in five, by the binomial formula: with 0.2 it is 0.32768 + 0.4096 + 0.2048 = 0.94208.
#[test]
fn three_of_five_is_the_binomial_chance() {
    let night = five();
    let fifth = Chance::new(20, 100).expect("a chance");
    let all = all(&night);
    for (missing, outcome) in &all {
        assert_eq!(outcome.missed.is_nothing(), missing.len() <= 2, "{missing:?}: {outcome:?}");
        // Nobody inside for an hour, where two should be.
        let minutes = if missing.len() <= 2 { 0 } else { 120 };
        assert_eq!(outcome.missed.person_minutes().0, minutes, "{missing:?}");
    }
    let exact = expected(&all, 5, fifth, |outcome| f64::from(u8::from(outcome.missed.is_nothing())));
    assert!((exact - 0.942_08).abs() < 1e-9, "{exact}");
    let answers = estimated(&night, fifth, 1, 20_000);
    let tally = answers.crews[0].all;
    let share = interval::share(tally.covered, tally.nights).expect("nights");
    assert!(share.low <= 9_421 && 9_421 <= share.high, "{share:?}");
    assert!((share.value - 9_421).abs() < 50, "{share:?}");
    assert_eq!((answers.cases, answers.crews[0].in_state(State::Unproven)), (32, 0));
}

/// The estimate agrees with counting all that can happen, for a crew whose people differ, in the share of nights and in
/// the minutes; and over many seeds the interval misses the truth about once in twenty times.
#[test]
fn the_estimate_agrees_with_counting_all_that_can_happen() {
    let night = six_apart();
    let tenth = Chance::new(15, 100).expect("a chance");
    let all = all(&night);
    let exact = expected(&all, 6, tenth, |outcome| f64::from(u8::from(outcome.missed.is_nothing()))) * 1e4;
    let minutes =
        expected(&all, 6, tenth, |outcome| f64::from(i32::try_from(outcome.missed.person_minutes().0).expect("small")))
            * 1e2;
    let answers = estimated(&night, tenth, 1, 20_000);
    let answer = &answers.crews[0];
    let share = interval::share(answer.all.covered, answer.all.nights).expect("nights");
    let mean = interval::mean(&answer.minutes()).expect("nights");
    assert!(holds(share, exact) && holds(mean, minutes), "{share:?} {exact} {mean:?} {minutes}");
    // Known once, the cases serve every seed.
    let whole: std::collections::BTreeMap<Missing, bool> =
        all.iter().map(|(missing, outcome)| (missing.clone(), outcome.missed.is_nothing())).collect();
    let crews = [Crew { name: "all".into(), without: Missing::new() }];
    let misses = (0..400).filter(|&seed| {
        let list = List::drawn(&night.roster, &crews, &[tenth; 6], Draws::new(seed), 500);
        let covered = list.nights(0).iter().filter(|&&case| whole[&list.cases()[case]]).count();
        let share = interval::share(u32::try_from(covered).expect("few"), 500).expect("nights");
        !holds(share, exact)
    });
    // 20 are expected of 400, with a standard deviation of 4.4 (binomial): four of them to each side.
    let misses = misses.count();
    assert!((3..=38).contains(&misses), "{misses}");
}

fn holds(between: interval::Between, exact: f64) -> bool {
    let end = |end: i64| f64::from(i32::try_from(end).expect("small"));
    end(between.low) <= exact && exact <= end(between.high)
}

/// What follows is what planning would have said; and nothing is said to follow that was not shown.
#[test]
fn what_follows_is_so() {
    let night = five();
    let cases: Vec<Missing> = {
        let mut all: Vec<Missing> = subsets(5).collect();
        all.sort_by_key(|missing| (missing.len(), missing.clone()));
        all
    };
    let job = Job { night: &night, cases: &cases, share: Share::WHOLE, effort: EFFORT };
    let known = job.run(Known::new(), &mut |_, _| Ok::<(), ()>(())).expect("no fault");
    for (case, settled) in &known {
        match settled {
            // With three and more missing nothing is covered; with two missing all ten are planned; the rest follow.
            Settled::Planned(outcome) => assert_eq!(outcome.missed.is_nothing(), cases[*case].len() == 2),
            Settled::Follows => assert!(cases[*case].len() < 2),
        }
    }
    assert_eq!(known.len(), 32);
}
