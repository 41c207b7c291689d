//! Tiny nights: the planner against the best of all rotas.

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

/// Plans the night and compares every level but the last tie-break with the best of all; says what differs.
fn compare(night: &Night, best: &Best) -> Result<(), String> {
    let planned: Planned = plan(night, AMPLE, &mut Unwatched);
    let refused: Vec<String> = review(night, &planned.rota).faults.into_iter().map(|f| f.what).collect();
    let levels = || planned.levels.iter().filter(|r| !matches!(r.level, Level::Waits | Level::MinutesDressed));
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

/// Runs the seeds of one family, each against the best of all; the rule has to matter in at least one of
/// them, that is, turning it off has to change what the night can come to.
fn run(family: &Family, seeds: std::ops::Range<u64>) {
    let (mut compared, mut bound, mut failed) = (0, 0, vec![]);
    let count = seeds.end - seeds.start;
    for seed in seeds {
        let night = night(family, seed);
        let Some(found) = best(&night) else { continue };
        if let Err(story) = compare(&night, &found) {
            failed.push((seed, story));
        }
        compared += 1;
        let mut without = night.clone();
        (family.turn_off)(&mut without);
        if best(&without).is_some_and(|b| b.values != found.values) {
            bound += 1;
        }
    }
    let name = family.name;
    println!("{name}: {compared} of {count} compared, {bound} bound, {} failed", failed.len());
    let seeds: Vec<u64> = failed.iter().map(|f| f.0).collect();
    assert!(failed.is_empty(), "{name}: seeds {seeds:?}; the first:\n{}", failed[0].1);
    assert!(compared * 2 > count, "{name}: too many nights are too large: {compared} of {count}");
    assert!(bound > 0, "{name}: the rule never mattered in {count} nights");
}

fn family(name: &str) -> &'static Family {
    FAMILIES.iter().find(|f| f.name == name).expect("a family of that name")
}

macro_rules! families {
    ($($test:ident: $name:literal,)*) => {
        $(#[test] fn $test() { run(family($name), from()..from() + seeds()); })*
    };
}

fn from() -> u64 {
    std::env::var("FROM").ok().and_then(|n| n.parse().ok()).unwrap_or(0)
}

fn seeds() -> u64 {
    std::env::var("SEEDS").ok().and_then(|n| n.parse().ok()).unwrap_or(12)
}

#[test]
fn one() {
    let Ok(name) = std::env::var("FAMILY") else { return };
    let seed: u64 = std::env::var("SEED").unwrap().parse().unwrap();
    let f = family(&name);
    let night = night(f, seed);
    let found = best(&night).unwrap();
    if let Err(story) = compare(&night, &found) {
        panic!("{story}");
    }
}

families! {
    longest_wear_and_waiting: "longest wear and waiting",
    rest: "rest",
    recovery_and_duties_inside_rest: "recovery and duties inside rest",
    cumulative_wear: "cumulative wear",
    personal_limits: "personal limits",
    carried_in: "carried in",
    relief_overlap: "relief overlap",
    two_person_rule: "two-person rule",
    room_maximum: "room maximum",
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
    breaks: "breaks",
    sign_offs: "sign-offs",
    fit_tests: "fit tests",
    on_duty: "on duty",
    flags: "flags",
    kept_apart: "kept apart",
    kits: "kits",
    tasks: "tasks",
    two_rooms: "two rooms",
    two_ensembles: "two ensembles",
    a_bit_of_everything: "a bit of everything",
}
