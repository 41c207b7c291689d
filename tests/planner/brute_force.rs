//! Tiny nights: the planner against the best of all rotas, by family of rules.

use std::ops::Range;

use anteroom::check::review;
use anteroom::night::Night;
use anteroom::plan::{Level, Planned, plan};

use crate::brute::{Best, best};
use crate::nights::{AMPLE, Unwatched, measured};
use crate::random::{FAMILIES, Family, Tiny};

/// The night of a family and a seed.
pub fn night(family: &Family, seed: u64) -> Night {
    let mut tiny = Tiny::new(seed);
    (family.make)(&mut tiny);
    tiny.night
}

/// Plans the night and compares every level but the last tie-breaks with the best of all; says what differs.
fn compare(night: &Night, best: &Best) -> Result<(), String> {
    let planned: Planned = plan(night, AMPLE, &mut Unwatched);
    let refused: Vec<String> = review(night, &planned.rota).faults.into_iter().map(|f| f.what).collect();
    let levels = || planned.levels.iter().filter(|r| !matches!(r.level, Level::MinutesDressed | Level::Breaks));
    let found: Vec<(Level, i64)> = levels().map(|r| (r.level, r.value)).collect();
    let unlike = levels().find(|r| measured(night, &planned, r.level) != Some(r.value));
    let what = if !refused.is_empty() {
        format!("refused: {refused:#?}")
    } else if let Some(unlike) = unlike {
        format!("measured {:?} at {unlike:?}", measured(night, &planned, unlike.level))
    } else if found != best.values {
        let bounds: Vec<i64> = levels().map(|r| r.at_least).collect();
        format!("found {found:?}\n at least {bounds:?}\n best {:?}", best.values)
    } else if let Some(open) = levels().find(|r| !r.proven() || r.at_least > r.value) {
        format!("not proven: {open:?}")
    } else {
        return Ok(());
    };
    Err(format!("{what}\nplanned: {:#?}\nbest: {:#?}\n{night:#?}", planned.rota, best.rota))
}

/// Compares the seeds of one family, each against the best of all.
fn compare_all(family: &Family, seeds: Range<u64>) {
    let (mut compared, mut failed) = (0, vec![]);
    let count = seeds.end - seeds.start;
    for seed in seeds {
        let night = night(family, seed);
        let Some(found) = best(&night) else { continue };
        compared += 1;
        if let Err(story) = compare(&night, &found) {
            failed.push((seed, story));
        }
    }
    let name = family.name;
    let seeds: Vec<u64> = failed.iter().map(|f| f.0).collect();
    assert!(failed.is_empty(), "{name}: seeds {seeds:?}; the first:\n{}", failed[0].1);
    assert!(compared * 2 > count, "{name}: too many nights are too large: {compared} of {count}");
}

/// The rule has to matter: turning it off changes what some night can come to.
fn matters(family: &Family) {
    let changes = |seed| {
        let night = night(family, seed);
        let mut without = night.clone();
        (family.turn_off)(&mut without);
        best(&night).zip(best(&without)).is_some_and(|(with, without)| with.values != without.values)
    };
    assert!((0..100).any(changes), "{}: turning it off never changed anything", family.name);
}

fn run(name: &str) {
    let family = FAMILIES.iter().find(|f| f.name == name).expect("a family of that name");
    matters(family);
    compare_all(family, 0..8);
}

macro_rules! families {
    ($($test:ident: $name:literal,)*) => {
        $(#[test] fn $test() { run($name); })*

        #[test]
        fn every_family_has_a_test() {
            let names: Vec<&str> = FAMILIES.iter().map(|f| f.name).collect();
            assert_eq!(names, [$($name),*]);
        }
    };
}

#[test]
#[ignore = "thousands of nights: half an hour"]
fn thousands_of_nights() {
    for family in FAMILIES {
        compare_all(family, 1_000..1_150);
    }
}

families! {
    longest_wear_and_waiting: "longest wear and waiting",
    rest: "rest",
    recovery_and_duties_inside_rest: "recovery and duties inside rest",
    cumulative_wear: "cumulative wear",
    wear_over_days: "wear over days",
    entries_in_the_shift: "entries in the shift",
    personal_limits: "personal limits",
    carried_in: "carried in",
    relief_overlap: "relief overlap",
    two_person_rule: "two-person rule",
    room_maximum: "room maximum",
    relief_in_pairs: "relief in pairs",
    relief_one_by_one: "relief one by one",
    lanes_and_closures: "lanes and closures",
    ready_and_reset: "ready and reset",
    changeover: "changeover",
    donning_capacity: "donning capacity",
    assistants_in_a_kit: "assistants in a kit",
    assistants_who_clean: "assistants who clean",
    assistants_without_a_kit: "assistants without a kit",
    observers_in_a_kit: "observers in a kit",
    everybody_in_a_kit: "everybody in a kit",
    watching: "watching",
    low_hours: "low hours",
    spare: "spare",
    breaks: "breaks",
    sign_offs: "sign-offs",
    last_done: "last done",
    fit_tests: "fit tests",
    respirators_in_turn: "respirators in turn",
    on_duty: "on duty",
    nights_and_hours: "nights and hours",
    shower_places: "shower places",
    flags: "flags",
    supervised_entrants: "supervised entrants",
    kept_apart: "kept apart",
    kits: "kits",
    coordinator: "coordinator",
    standby: "standby",
    standby_reported: "standby reported",
    early_exit: "early exit",
    early_exit_reported: "early exit reported",
    huddles: "huddles",
    pins: "pins",
    forbidden: "forbidden",
    tasks: "tasks",
    skill_cover: "skill cover",
    two_rooms: "two rooms",
    two_ensembles: "two ensembles",
    a_bit_of_everything: "a bit of everything",
}
