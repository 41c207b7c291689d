//! The same person is missing on the same nights, whoever else is there.

use std::collections::BTreeSet;

use anteroom::night::{PersonIx, Roster};
use anteroom::staffing::absence::draw::{Chance, Draws};
use anteroom::staffing::absence::list::{Crew, List, Missing};

use super::common::{person, roster};

const NIGHTS: u32 = 2_000;

fn chance(times: u32) -> Chance {
    Chance::new(times, 100).expect("a chance")
}

fn list(roster: &Roster, chance: Chance, nights: u32) -> List {
    let crews = [Crew { name: "all".into(), without: Missing::new() }];
    List::drawn(roster, &crews, &vec![chance; roster.people.len()], Draws::new(7), nights)
}

/// The nights on which each person is missing, by id.
fn gone(roster: &Roster, list: &List) -> Vec<BTreeSet<String>> {
    let id = |ix: &PersonIx| roster.person(*ix).id.clone();
    list.nights(0).iter().map(|&case| list.cases()[case].iter().map(id).collect()).collect()
}

#[test]
fn somebody_more_leaves_the_others_draws() {
    let before = roster();
    let mut after = before.clone();
    after.people.insert(0, person("ZA"));
    after.people.push(person("ZB"));
    after.people.reverse();
    let (before, mut others) =
        (gone(&before, &list(&before, chance(10), NIGHTS)), gone(&after, &list(&after, chance(10), NIGHTS)));
    assert!(others.iter().any(|night| night.contains("ZA")) && others.iter().any(|night| night.contains("ZB")));
    for night in &mut others {
        night.retain(|id| !id.starts_with('Z'));
    }
    assert_eq!(before, others);
}

#[test]
fn fewer_nights_are_the_first_of_more() {
    let roster = roster();
    let (few, many) = (list(&roster, chance(10), 300), list(&roster, chance(10), NIGHTS));
    assert_eq!(gone(&roster, &few), gone(&roster, &many)[..300]);
}

#[test]
fn with_a_greater_chance_the_same_are_missing_and_more() {
    let roster = roster();
    let (seldom, often) = (list(&roster, chance(6), NIGHTS), list(&roster, chance(12), NIGHTS));
    let (seldom, often) = (gone(&roster, &seldom), gone(&roster, &often));
    assert!(seldom.iter().zip(&often).all(|(seldom, often)| seldom.is_subset(often)));
    assert!(seldom != often);
}

#[test]
fn another_seed_gives_other_nights() {
    let roster = roster();
    let crews = [Crew { name: "all".into(), without: Missing::new() }];
    let drawn = |seed| List::drawn(&roster, &crews, &[chance(10); 10], Draws::new(seed), NIGHTS);
    assert!(drawn(1) == drawn(1) && drawn(1) != drawn(2));
}

/// A smaller crew meets the nights of the larger one: who is missing there and belongs to it is missing here.
#[test]
fn crews_meet_the_same_nights() {
    let roster = roster();
    let without: Missing = [PersonIx(8), PersonIx(9)].into();
    let crews =
        [Crew { name: "eight".into(), without: without.clone() }, Crew { name: "ten".into(), without: Missing::new() }];
    let list = List::drawn(&roster, &crews, &[chance(10); 10], Draws::new(1), NIGHTS);
    for (&small, &large) in list.nights(0).iter().zip(list.nights(1)) {
        assert_eq!(list.cases()[small], &list.cases()[large] | &without);
    }
}
