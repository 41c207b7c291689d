//! Who passes the door of a room together, where the unit forces a relief style (D8).

use std::collections::BTreeMap;

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use crate::night::{Entry, Minute, Minutes, PersonIx, Relief, RoomIx, Rule, Span};

pub(super) const D8: Page = Page {
    does: "Where the unit says relief in pairs, nobody passes the door of a room alone, neither in nor out. Where it \
           says one by one, one person at a time goes in while others are inside, and one at a time comes out while \
           others stay. Where it says neither, both are allowed.",
    why: "A pair watch each other from the door to the lane and hand over together. One by one, somebody who knows the \
          room is always there, and fewer people are enough. Which of them counts for more is for the unit to say.",
    formula: "in(T), out(T) = people of a room with door_in = T, with door_out = T. In pairs: in(T) != 1 and out(T) != \
              1. One by one: in(T) <= 1 if anybody was inside in the minute before T; out(T) <= 1 if anybody is inside \
              in the minute T",
    counts: "In pairs: each person alone at the door, and by how many minutes the nearest other of that room came or \
             went earlier or later. Two who miss each other are one fault. Those who go in together need not come out \
             together: what counts is that somebody of the room is beside them at the door. The door counts, not \
             dressing or the lane: of two who come out together the second may wait for the lane. One by one: those \
             too many in the same minute. Whoever goes into an empty room, or is the last to leave, may do so with \
             others. Anybody may come out early, alone or not: the rule is about what is planned.",
    source: COMMON_PRACTICE,
};

/// Which way somebody passes the door.
#[derive(Clone, Copy)]
enum Way {
    In,
    Out,
}

impl Way {
    const fn at(self, entry: &Entry) -> Minute {
        match self {
            Self::In => entry.door_in,
            Self::Out => entry.door_out,
        }
    }

    /// The minute in which the room has to be empty for several to pass at `at`.
    const fn empty_in(self, at: Minute) -> Minute {
        match self {
            Self::In => Minute(at.0 - 1),
            Self::Out => at,
        }
    }

    const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::In => ("goes in", "go in"),
            Self::Out => ("comes out", "come out"),
        }
    }
}

/// D8 for every room, both ways.
pub(super) fn relief_style(facts: &Facts, faults: &mut Faults) {
    for room in (0..facts.roster.rooms.len()).map(RoomIx) {
        for way in [Way::In, Way::Out] {
            match facts.limits.relief {
                Relief::InPairs => in_pairs(facts, faults, room, way),
                Relief::OneByOne => one_by_one(facts, faults, room, way),
                Relief::Either => {}
            }
        }
    }
}

fn entries<'a>(facts: &'a Facts, room: RoomIx) -> impl Iterator<Item = &'a Entry> {
    facts.rota.entries.iter().filter(move |e| e.room == room && !stay(e).is_empty())
}

/// Who passes the door, minute by minute.
fn passing(facts: &Facts, room: RoomIx, way: Way) -> Vec<(Minute, Vec<PersonIx>)> {
    let mut by_minute: BTreeMap<Minute, Vec<PersonIx>> = BTreeMap::new();
    for entry in entries(facts, room) {
        by_minute.entry(way.at(entry)).or_default().push(entry.person);
    }
    by_minute.into_iter().collect()
}

fn in_pairs(facts: &Facts, faults: &mut Faults, room: RoomIx, way: Way) {
    let all = passing(facts, room, way);
    let mut told = None;
    for place in (0..all.len()).filter(|&place| all[place].1.len() == 1) {
        if told != Some(place) {
            let nearest = nearest(&all, place);
            // Two who are alone because they miss each other are told of once.
            told = nearest.filter(|&other| other > place && all[other].1.len() == 1);
            alone(facts, faults, (room, way), &all[place], nearest.map(|other| &all[other]));
        }
    }
}

/// The place of the passing nearest in time, the earlier of two.
fn nearest(all: &[(Minute, Vec<PersonIx>)], place: usize) -> Option<usize> {
    let beside = [place.checked_sub(1), Some(place + 1).filter(|&next| next < all.len())];
    beside.into_iter().flatten().min_by_key(|&other| (all[other].0 - all[place].0).0.abs())
}

type Passing = (Minute, Vec<PersonIx>);

fn alone(facts: &Facts, faults: &mut Faults, (room, way): (RoomIx, Way), one: &Passing, other: Option<&Passing>) {
    let (at, person) = (one.0, one.1[0]);
    let apart = other.map(|other| Minutes((other.0 - at).0.abs()));
    let span = other.map_or(Span::new(at, at + Minutes(1)), |other| Span::new(at.min(other.0), at.max(other.0)));
    let people: Vec<PersonIx> = [person].into_iter().chain(other.and_then(|other| other.1.first().copied())).collect();
    faults.add(Rule::D8, span, &people, apart.map(By::Minutes), || {
        let (id, name, goes) = (facts.id(person), &facts.roster.rooms[room.0].id, way.words().0);
        let nearest = match (other, apart) {
            (Some(other), Some(apart)) => {
                format!("the nearest other is {} at {}, {apart} min apart", facts.id(other.1[0]), facts.at(other.0))
            }
            _ => "nobody else does tonight".to_owned(),
        };
        format!("Room {name}: {id} {goes} alone at {}; {nearest}.", facts.at(at))
    });
}

fn one_by_one(facts: &Facts, faults: &mut Faults, room: RoomIx, way: Way) {
    for (at, people) in passing(facts, room, way) {
        let others = entries(facts, room).filter(|e| stay(e).contains(way.empty_in(at))).count();
        if people.len() < 2 || others == 0 {
            continue;
        }
        let by = u32::try_from(people.len() - 1).unwrap_or(u32::MAX);
        faults.add(Rule::D8, Span::new(at, at + Minutes(1)), &people, Some(By::Count(by)), || {
            let ids: Vec<&str> = people.iter().map(|&p| facts.id(p)).collect();
            let (name, go) = (&facts.roster.rooms[room.0].id, way.words().1);
            let meanwhile = match way {
                Way::In => "with others inside",
                Way::Out => "and others stay",
            };
            format!("Room {name}: {} {go} together at {} {meanwhile}.", ids.join(", "), facts.at(at))
        });
    }
}
