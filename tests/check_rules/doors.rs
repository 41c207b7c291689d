//! D8: relief in pairs or one by one, where the unit forces a style.

use anteroom::check::{By, out_by, out_by_together};
use anteroom::night::{Entry, LaneIx, Minutes, Night, PersonIx, Relief, Room, RoomIx, Rota, Rule};

use crate::common::*;

/// A night with this style, without rests in the way.
fn night_of(relief: Relief) -> Night {
    let mut night = plain_night();
    night.limits.inside_rest.clear();
    night.limits.waiting_places = 2;
    night.limits.relief = relief;
    night
}

/// The first pair inside 20:00-21:00, the second from `inside` on to 22:20.
fn two_pairs(inside: i64) -> Rota {
    rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(JT, PS, inside - 20, 200)))
}

/// The rota with one entry of a person through the door in so many minutes later, out so many minutes earlier.
fn moved(mut rota: Rota, who: PersonIx, later: i64, earlier: i64) -> Rota {
    let entry = rota.entries.iter_mut().find(|e| e.person == who).expect("an entry of theirs");
    *entry =
        Entry { door_in: entry.door_in + Minutes(later), door_out: entry.door_out - Minutes(earlier), ..entry.clone() };
    rota
}

#[test]
fn in_pairs_nobody_goes_in_alone_by_a_minute() {
    let mut night = night_of(Relief::InPairs);
    night.limits.min_inside = 1;
    accepted(&night, &two_pairs(110));
    let rota = moved(two_pairs(110), PS, 1, 0);
    let faults = refused(&night, &rota, &[Rule::D8]);
    assert_eq!((faults.len(), faults[0].by), (1, Some(By::Minutes(Minutes(1)))));
    assert_eq!(faults[0].what, "Room 1: JT goes in alone at 20:50; the nearest other is PS at 20:51, 1 min apart.");
    night.limits.relief = Relief::Either;
    accepted(&night, &rota);
}

#[test]
fn in_pairs_nobody_comes_out_alone_by_a_minute_and_may_wait_for_the_lane() {
    let mut night = night_of(Relief::InPairs);
    // S4: a pair that leaves together through one lane; the second waits, dressed, for removal and cleaning.
    let mut rota = two_pairs(110);
    let waits = rota.entries.iter_mut().find(|e| e.person == MR).expect("MR goes in");
    *waits = Entry { removal: t(150), off: t(170), lane: Some(LaneIx(0)), ..waits.clone() };
    accepted(&night, &rota);
    let rota = moved(two_pairs(110), MR, 0, 1);
    let faults = refused(&night, &rota, &[Rule::D8]);
    assert_eq!((faults.len(), faults[0].by), (1, Some(By::Minutes(Minutes(1)))));
    assert_eq!(faults[0].what, "Room 1: MR comes out alone at 20:59; the nearest other is KB at 21:00, 1 min apart.");
    night.limits.relief = Relief::OneByOne;
    // Out a minute apart, the second pair in together while others are inside.
    let faults = refused(&night, &rota, &[Rule::D8]);
    assert_eq!(faults[0].what, "Room 1: JT, PS go in together at 20:50 with others inside.");
}

#[test]
fn in_pairs_three_may_go_together_and_partners_may_change() {
    let mut night = night_of(Relief::InPairs);
    // KB and MR go in, JT and PS after them; KB comes out with JT, and MR with PS.
    let mut rota = two_pairs(110);
    let doors_out = [(KB, 130, 0, DW), (JT, 130, 1, GH), (MR, 200, 0, DW), (PS, 200, 1, GH)];
    for (person, out, lane, observer) in doors_out {
        let entry = rota.entries.iter_mut().find(|e| e.person == person).expect("an entry of theirs");
        (entry.door_out, entry.removal, entry.off) = (t(out), t(out), t(out + 20));
        (entry.lane, entry.observer) = (Some(LaneIx(lane)), Some(observer));
    }
    accepted(&night, &rota);
    // All three of those who are left may come out together, and two of three leave one alone at the door.
    night.limits.min_inside = 1;
    rota.entries.retain(|e| e.person != PS);
    let faults = refused(&night, &rota, &[Rule::D8]);
    let said: Vec<&str> = faults.iter().map(|f| f.what.as_str()).collect();
    assert_eq!(
        said,
        [
            "Room 1: JT goes in alone at 20:50; the nearest other is KB at 20:00, 50 min apart.",
            "Room 1: MR comes out alone at 22:20; the nearest other is KB at 21:10, 70 min apart."
        ]
    );
}

#[test]
fn in_pairs_somebody_who_goes_in_alone_all_night_has_no_partner() {
    let mut night = night_of(Relief::InPairs);
    night.limits.min_inside = 1;
    let faults = refused(&night, &rota_of([entry(KB, 40, 120)]), &[Rule::D8]);
    let said: Vec<&str> = faults.iter().map(|f| f.what.as_str()).collect();
    assert_eq!(
        said,
        [
            "Room 1: KB goes in alone at 20:00; nobody else does tonight.",
            "Room 1: KB comes out alone at 21:00; nobody else does tonight."
        ]
    );
}

#[test]
fn one_by_one_two_pass_together_only_into_and_out_of_an_empty_room() {
    let night = night_of(Relief::OneByOne);
    accepted(&night, &plain_visit());
    // JT relieves MR and PS relieves KB, a minute apart, then both come out together: the room is empty after.
    let rota = moved(moved(two_pairs(110), PS, 1, 0), MR, 0, 1);
    accepted(&night, &rota);
    let faults = refused(&night, &moved(two_pairs(110), MR, 0, 1), &[Rule::D8]);
    assert_eq!((faults.len(), faults[0].by), (1, Some(By::Count(1))));
    let faults = refused(&night, &moved(two_pairs(110), PS, 1, 0), &[Rule::D8]);
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].what, "Room 1: KB, MR come out together at 21:00 and others stay.");
    // Relief in the same minute leaves nobody inside in the minute after, but for those who come.
    let faults = refused(&night, &two_pairs(120), &[Rule::D8]);
    assert_eq!(faults.len(), 2, "{}", found(&faults));
    // A minute later the room has been empty.
    accepted(&night, &two_pairs(121));
}

#[test]
fn rooms_have_doors_of_their_own() {
    let mut night = night_of(Relief::InPairs);
    night.limits.min_inside = 1;
    night.roster.rooms.push(Room { id: "2".into(), max_inside: 4 });
    let mut rota = plain_visit();
    accepted(&night, &rota);
    rota.entries[1].room = RoomIx(1);
    assert_eq!(refused(&night, &rota, &[Rule::D8]).len(), 4);
}

#[test]
fn those_who_come_out_together_share_the_earlier_out_by() {
    let mut night = night_of(Relief::Either);
    night.limits.min_inside = 1;
    let mut rota = plain_visit();
    rota.entries[1].don = t(30);
    let own = out_by(&night, &rota);
    assert!(own[0] != own[1]);
    assert_eq!(out_by_together(&night, &rota), own);
    night.limits.relief = Relief::InPairs;
    assert_eq!(out_by_together(&night, &rota), [own[0].min(own[1]); 2]);
}
