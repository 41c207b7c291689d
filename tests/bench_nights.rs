//! The nights of the benchmark are read without a mistake and are what their rows say.

#[path = "../benches/generator/mod.rs"]
mod generator;

use std::collections::BTreeSet;

use anteroom::night::{Minutes, Night};
use anteroom::plan::{Effort, Level, Unwatched, plan};
use generator::{Family, Named, Tightness, all};

fn night(named: &Named, order: u64) -> Night {
    let files = named.files(order).expect("its files are there");
    files.night().unwrap_or_else(|findings| panic!("{}:\n{findings}", named.name))
}

#[test]
fn every_named_night_is_read_and_has_its_size() {
    for named in all() {
        let read = night(&named, 0);
        if let Some((people, rooms, hours)) = named.size() {
            let found = (read.roster.people.len(), read.roster.rooms.len(), read.roster.shift.length());
            let hours = Minutes(60 * i64::try_from(hours).expect("few"));
            assert_eq!(found, (people, rooms, hours), "{}", named.name);
        }
    }
}

#[test]
fn names_are_given_once_and_every_family_is_loose_tight_and_impossible() {
    let nights = all();
    let names: BTreeSet<&str> = nights.iter().map(|night| night.name).collect();
    assert_eq!(names.len(), nights.len());
    let made = nights.iter().filter(|night| night.family != Family::Example).count();
    assert!(made >= 18, "{made} nights");
    for family in [Family::Temperate, Family::Hot, Family::FullRule] {
        for tightness in [Tightness::Loose, Tightness::Tight, Tightness::Impossible] {
            let found = nights.iter().any(|night| night.family == family && night.tightness() == Some(tightness));
            assert!(found, "no night is {} and {}", family.word(), tightness.word());
        }
    }
}

#[test]
fn another_order_is_the_same_night() {
    for named in all() {
        let (first, other) = (night(&named, 0), night(&named, 1));
        let ids = |night: &Night| night.roster.people.iter().map(|p| p.id.clone()).collect::<Vec<_>>();
        assert_ne!(ids(&first), ids(&other), "{}", named.name);
        let sorted = |night: Night| {
            let mut people = night.roster.people;
            people.sort_by(|one, other| one.id.cmp(&other.id));
            people
        };
        assert_eq!(sorted(first), sorted(other), "{}", named.name);
    }
}

/// Hand arithmetic: two are asked for in one room over 630 of 720 minutes, 1,260 person-minutes. Nobody may be in the kit
/// for more than 180, of which donning takes 20 and removal 25, so that each entry adds 135 at most: 9 entries are not
/// enough, 10 may be.
#[test]
fn a_loose_night_is_covered_with_as_few_removals_as_arithmetic_allows_whoever_is_listed_first() {
    let trial = all().into_iter().find(|named| named.name == "trial-temperate").expect("it is in the table");
    let entries = (2 * (720 - 30 - 60) + 134) / (180 - 20 - 25);
    for order in [0, 2] {
        let planned = plan(&night(&trial, order), Effort { work: 20_000, seconds: None }, &mut Unwatched);
        let found = |level| planned.levels.iter().find(|result| result.level == level).expect("it is a level");
        assert_eq!(found(Level::Uncovered(1)).value, 0, "order {order}");
        let (removals, helpers) = (found(Level::Removals), found(Level::HelperRemovals));
        assert_eq!((removals.value, removals.at_least), (entries, entries), "order {order}");
        assert!(helpers.proven() && helpers.value > 0, "order {order}: {helpers:?}");
    }
}
