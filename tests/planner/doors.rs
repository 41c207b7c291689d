//! Nights on which the unit forces a relief style (D8): what is planned, and what is said of what cannot be.

use anteroom::check::review;
use anteroom::explain::explain;
use anteroom::night::{Entry, Minutes, Night, Pin, PinTo, Recency, Relief, Role, RoomIx};
use anteroom::plan::{Effort, Level};

use crate::nights::*;

const EFFORT: Effort = Effort { work: 20_000, seconds: None };

/// Twelve hours with two inside from 20 minutes on, on a grid of 5: ten who go in, helpers enough, two lanes.
fn long_night(relief: Relief) -> Night {
    let mut night = empty_night(5, 720, room_ensemble(10, 20, 20, 180), doffing_kit(5, 10, 15, 120));
    night.limits.relief = relief;
    night.limits.min_inside = 2;
    night.limits.overlap = Minutes(10);
    night.limits.min_stay = Minutes(30);
    night.limits.cumulative_wear = Minutes(360);
    night.roster.rooms[0].max_inside = 4;
    night.roster.presence = vec![presence(20, 640, 2)];
    add_lanes(&mut night, 2);
    add_people(&mut night, 10, &[Role::Entrant]);
    add_people(&mut night, 2, &[Role::DonningObserver]);
    add_people(&mut night, 3, &[Role::DoffingObserver]);
    night
}

/// The largest number of people who pass a door in one minute, and the smallest.
fn at_a_door(entries: &[Entry], of: fn(&Entry) -> anteroom::night::Minute) -> (usize, usize) {
    let counts = || entries.iter().map(|e| entries.iter().filter(|other| of(other) == of(e)).count());
    (counts().max().unwrap_or(0), counts().min().unwrap_or(0))
}

#[test]
fn a_long_night_is_covered_in_pairs() {
    let night = long_night(Relief::InPairs);
    let found = planned(&night, EFFORT);
    proven(&found, Level::Uncovered(1), 0);
    let doors = [at_a_door(&found.rota.entries, |e| e.door_in), at_a_door(&found.rota.entries, |e| e.door_out)];
    assert!(doors.iter().all(|&(_, least)| least >= 2), "{:#?}", found.rota);
}

#[test]
fn a_long_night_is_covered_one_by_one() {
    let night = long_night(Relief::OneByOne);
    let found = planned(&night, EFFORT);
    assert_eq!(value(&found, Level::Uncovered(1)), 0, "{:#?}", found.levels);
    // Both doors of the first pair, and of the last, may be passed together.
    let first = found.rota.entries.iter().map(|e| e.door_in).min().expect("somebody goes in");
    let later: Vec<Entry> = found.rota.entries.iter().filter(|e| e.door_in > first).cloned().collect();
    assert_eq!(at_a_door(&later, |e| e.door_in).0, 1, "{:#?}", found.rota);
}

#[test]
fn a_pin_brings_a_partner() {
    let mut night = long_night(Relief::InPairs);
    night.limits.min_inside = 1;
    night.roster.presence.clear();
    let pinned = person_called(&night, "P03");
    night.roster.pins = vec![Pin { person: pinned, to: PinTo::Entry { room: RoomIx(0), door_in: t(100) } }];
    let found = planned(&night, EFFORT);
    proven(&found, Level::PinsMissed, 0);
    proven(&found, Level::Removals, 2);
    night.limits.relief = Relief::OneByOne;
    proven(&planned(&night, EFFORT), Level::Removals, 1);
}

#[test]
fn a_supervised_entrant_goes_with_the_preceptor_in_pairs_and_after_them_one_by_one() {
    let mut night = long_night(Relief::InPairs);
    night.roster.people.retain(|p| p.sign_offs.iter().all(|s| s.role != Role::Entrant));
    add_people(&mut night, 2, &[Role::Entrant, Role::Preceptor]);
    add_people(&mut night, 1, &[Role::SupervisedEntrant]);
    night.roster.presence = vec![presence(30, 90, 3)];
    night.limits.waiting_places = 1;
    proven(&planned(&night, EFFORT), Level::Uncovered(1), 0);
    // Others are inside already when the supervised entrant goes in.
    night.limits.relief = Relief::OneByOne;
    proven(&planned(&night, EFFORT), Level::Uncovered(1), 0);
}

/// One inside first, three from minute 90 on. Only one donning can be watched before minute 60, and two from then on.
fn three_at_once(relief: Relief) -> Night {
    let mut night = empty_night(30, 240, room_ensemble(0, 30, 30, 180), doffing_kit(0, 30, 30, 180));
    night.limits.relief = relief;
    night.limits.cleaning = Minutes(0);
    night.limits.donning_capacity = 1;
    night.limits.waiting_places = 2;
    night.roster.presence = vec![presence(60, 90, 1), presence(90, 150, 3)];
    add_lanes(&mut night, 3);
    add_people(&mut night, 3, &[Role::Entrant]);
    add_people(&mut night, 3, &[Role::DonningObserver]);
    add_people(&mut night, 3, &[Role::DoffingObserver]);
    for (observer, on_duty) in [("P03", span(30, 60)), ("P04", span(60, 240)), ("P05", span(60, 240))] {
        let observer = person_called(&night, observer);
        night.roster.people[observer.0].on_duty = on_duty;
    }
    night
}

#[test]
fn the_style_is_named_where_it_stands_in_the_way() {
    proven(&planned(&three_at_once(Relief::Either), AMPLE), Level::Uncovered(1), 0);
    // With one more to go in there would still be only one dressed early enough.
    let night = three_at_once(Relief::OneByOne);
    let found = planned(&night, AMPLE);
    proven(&found, Level::Uncovered(1), 30);
    let gaps = explain(&night, &found.rota, &review(&night, &found.rota)).gaps;
    assert_eq!(gaps.len(), 1, "{gaps:#?}");
    assert_eq!(gaps[0].fix.as_deref(), Some("relief either way, if the unit allows it: closes it, tried"), "{gaps:#?}");
}

/// Two inside from 23:00 to 01:00, four people who enter once for an hour at most. One of them was last inside on
/// 2 February, the others later.
fn across_midnight(relief: Relief, days: u32) -> Night {
    let mut night = empty_night(30, 480, room_ensemble(0, 30, 30, 90), doffing_kit(0, 30, 30, 90));
    night.limits.relief = relief;
    night.limits.entries_max = Some(1);
    night.limits.recency = vec![Recency { role: Role::Entrant, days }];
    night.roster.presence = vec![presence(300, 420, 2)];
    add_lanes(&mut night, 2);
    add_people(&mut night, 4, &[Role::Entrant]);
    add_people(&mut night, 4, &[Role::DonningObserver]);
    add_people(&mut night, 4, &[Role::DoffingObserver]);
    for person in &mut night.roster.people {
        let done = if person.id == "P00" { day(2, 2) } else { day(2, 20) };
        person.sign_offs.iter_mut().for_each(|s| s.last_done = Some(done));
    }
    night
}

/// A9 and D8 together, by hand. 240 person-minutes are asked for, and four times 60 are there. With 30 days the one
/// of 2 February is good through 4 March (26 days of February are left, and 4 of March): the last item is off by 24:00,
/// 30 minutes after the door, so that they give 30 and not 60. One by one that is all that is lost. In pairs somebody
/// comes out with them and gives 30 too, or they stay outside.
#[test]
fn in_pairs_whoever_is_out_of_practice_at_midnight_brings_the_partner_out() {
    for (relief, days, short) in [
        (Relief::InPairs, 31, 0),
        (Relief::Either, 31, 0),
        (Relief::InPairs, 30, 60),
        (Relief::OneByOne, 30, 30),
        (Relief::Either, 30, 30),
    ] {
        proven(&planned(&across_midnight(relief, days), AMPLE), Level::Uncovered(1), short);
    }
}
