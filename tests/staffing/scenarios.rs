//! The smallest crew of scenarios of the trade page (section 7) and of published cycles (`sources.md` section 4), found
//! by search, beside the number reckoned by hand.

use anteroom::night::Lever;
use anteroom::night::{
    Group, Minutes, Night, Presence, Question, Relief, Role, Room, RoomIx, Standby, Tried, WearFrom,
};
use anteroom::plan::{Effort, cover};
use anteroom::staffing::{Answer, Arithmetic, Bound, Relaxed, Row, Scope, Verdict, answer};

use crate::nights::*;

const EFFORT: Effort = Effort { work: 20_000, seconds: None };

/// A group of people on duty for the whole shift with the kits of the tests.
fn group(night: &Night, id: &str, roles: &[Role], from: u32, to: u32) -> Group {
    let mut model = night.clone();
    model.roster.people.clear();
    add_people(&mut model, 1, roles);
    Group { id: id.into(), roles: roles.to_vec(), from, to, one: Group::like(&model.roster.people[0], roles) }
}

/// So many entrants beside the helpers of the roster?
fn entrants(night: &Night, to: u32) -> Question {
    let groups = vec![group(night, "entrants", &[Role::Entrant], 0, to)];
    Question { name: "entrants".into(), example: true, keep_people: true, groups, tried: vec![] }
}

fn asked(night: &Night, question: &Question, effort: Effort) -> Answer {
    answer(night, question, Scope::Smallest, effort, &Unwatched).unwrap_or_else(|wrong| panic!("refused: {wrong:#?}"))
}

/// The smallest number of entrants, which is proven and is what hand arithmetic says.
#[track_caller]
fn smallest(night: &Night, to: u32, least: u32) -> Answer {
    let found = asked(night, &entrants(night, to), EFFORT);
    assert_eq!(found.smallest[0].counts, Some(vec![least]), "{:#?}", found.rows);
    assert!(found.smallest[0].proven(), "{:#?}", found.smallest);
    let hand = found.arithmetic.as_ref().expect("there is presence");
    assert_eq!(hand.least, least, "{hand:#?}");
    found
}

fn helpers(night: &mut Night, donning: usize, doffing: usize) {
    add_people(night, donning, &[Role::DonningObserver]);
    add_people(night, doffing, &[Role::DoffingObserver]);
}

/// S2 "Alder": one inside for 670 minutes, W180 s10 f20 d20 r120 o10 C360.
fn alder() -> Night {
    let mut night = empty_night(10, 20 + 670 + 30, room_ensemble(10, 20, 20, 180), doffing_kit(5, 10, 15, 120));
    night.limits.cumulative_wear = Minutes(360);
    night.limits.overlap = Minutes(10);
    night.roster.presence = vec![presence(20, 690, 1)];
    add_lanes(&mut night, 1);
    helpers(&mut night, 1, 1);
    night
}

#[test]
fn s2_takes_three_entrants() {
    // c = 180-10-20 = 150, P = 150+20+120+20 = 310, net 140: rotation 310/140 -> 3, wear 660/280 -> 3, entries 660/140 -> 5.
    let found = smallest(&alder(), 5, 3);
    let hand = found.arithmetic.expect("reckoned");
    assert_eq!((hand.entrant.stay, hand.net, hand.cycle), (Minutes(150), Minutes(140), Minutes(310)));
    assert_eq!((hand.each, hand.by_wear, hand.one_by_one, hand.all_entries), (Minutes(280), 3, 3, 5));
    assert_eq!(found.loads[0].as_ref().map(|load| load.removals), Some(5));
    // Two cover 2 x 150 each at most, 70 short of 670; with one more there is nothing missing.
    assert!(found.fewer[0].row.uncovered().is_some_and(|minutes| minutes >= 70));
    let binding = found.binding.expect("two are short");
    let closes = |relaxed| binding.effects.iter().any(|e| e.relaxed == relaxed && e.closes());
    assert!(closes(Relaxed::Person(Role::Entrant)));
    // Two are short by wear in the shift (2 x 280 of 660) and by rest (310/140): neither alone is enough.
    assert!(!closes(Relaxed::WearInShift) && !closes(Relaxed::Rest));
    assert!(!closes(Relaxed::Lane) && !closes(Relaxed::Person(Role::DoffingObserver)));
}

#[test]
fn s2_with_standby_takes_four() {
    // 120 < 150: the third is not rested when the next one dons. The arithmetic does not count standby.
    let mut night = alder();
    night.limits.standby = Some(Standby { responders: 1, report: false });
    night.roster.shift.to = t(780);
    night.roster.people.iter_mut().for_each(|person| person.on_duty.to = t(780));
    let found = asked(&night, &entrants(&night, 5), Effort { work: 40_000, seconds: None });
    assert_eq!(found.smallest[0].counts, Some(vec![4]));
    assert_eq!(found.arithmetic.map(|hand| hand.least), Some(3));
}

/// S3 "Rowan": as S2, two inside, so many at most.
fn rowan(max_inside: u32) -> Night {
    let mut night = alder();
    night.limits.min_inside = 2;
    night.roster.rooms[0].max_inside = max_inside;
    night.roster.presence[0].people = 2;
    add_lanes(&mut night, 1);
    helpers(&mut night, 0, 1);
    night
}

#[test]
fn s3_takes_five_one_by_one_and_six_in_pairs_by_hand() {
    // 2 x 660 = 1320 net, 280 each: 4.71 -> 5. Long run: 2 x 310/140 = 4.43 -> 5; in pairs 2 x ceil(310/140) = 6.
    let found = smallest(&rowan(3), 7, 5);
    let hand = found.arithmetic.expect("reckoned");
    assert_eq!((hand.one_by_one, hand.paired, hand.by_wear), (5, 6, 5));
}

#[test]
fn s3_takes_six_in_pairs_and_five_one_by_one_by_search() {
    // Trade page, section 7, S3: "Paired relief: 3 pairs = 6", "one by one: 5". The room holds four either way.
    let mut night = rowan(4);
    for (relief, least) in [(Relief::InPairs, 6), (Relief::OneByOne, 5)] {
        night.limits.relief = relief;
        let hand = smallest(&night, 7, least).arithmetic.expect("reckoned");
        let in_pairs = Some(Bound::RotationInPairs { entrants: 5, needed: 6 });
        assert_eq!((hand.paired, hand.in_pairs, hand.because == in_pairs), (6, 6, relief == Relief::InPairs));
        // The arithmetic left aside, the search itself shows that one fewer is short.
        let one_fewer = entrants(&night, 7).crew(vec![least - 1]).night(&night);
        let planned = cover(&one_fewer, EFFORT, &mut Unwatched);
        let short = planned.levels.iter().find(|l| l.level.is_missed() && l.value > 0).expect("something is missed");
        assert!(short.at_least > 0, "{relief:?}: {short:?}");
    }
}

#[test]
fn relief_styles_are_tried_beside_each_other() {
    // A crew that is enough in one style says nothing of the other, but of both allowed.
    let night = rowan(4);
    let mut question = entrants(&night, 7);
    question.tried = vec![Tried { lever: Lever::Relief, values: vec![0, 1, 2] }];
    let found = asked(&night, &question, EFFORT);
    let counts: Vec<_> = found.smallest.iter().map(|s| (s.settings.clone(), s.counts.clone(), s.proven())).collect();
    let expected = [(vec![0], Some(vec![6]), true), (vec![1], Some(vec![5]), true), (vec![2], Some(vec![5]), true)];
    assert_eq!(counts, expected);
    assert_eq!(found.leading, Some(1));
    // Nothing follows from one style for the other.
    let follows = |row: &&Row| matches!(&row.verdict, Verdict::EnoughAs(smaller) if smaller[1] != row.settings[0]);
    assert!(found.rows.iter().filter(follows).all(|row| row.settings[0] == 2), "{:#?}", found.rows);
    let by_style: Vec<_> = found.by_style.iter().map(|style| (style.relief, style.least)).collect();
    assert_eq!(by_style, [(Relief::InPairs, 6), (Relief::OneByOne, 5), (Relief::Either, 5)]);
}

#[test]
fn s8_takes_twelve_and_two_lanes() {
    // c = 110, net 100, P = 245; wear 290-2x45 = 200: 4 x 590 / 200 = 11.8 -> 12; rotation 4 x 245 / 100 -> 10;
    // lanes 4 x 40 / 100 = 1.6 -> 2; entries 4 x 590/100 -> 24.
    let mut night = empty_night(5, 20 + 50 + 600 + 40, room_ensemble(10, 20, 25, 145), doffing_kit(5, 10, 15, 120));
    night.limits.cumulative_wear = Minutes(290);
    night.limits.rest[F.0][F.0] = Minutes(90);
    night.limits.cleaning = Minutes(15);
    night.limits.min_inside = 2;
    night.limits.overlap = Minutes(10);
    night.limits.min_stay = Minutes(10);
    night.roster.rooms = ["A", "B"].map(|id| Room { id: id.into(), max_inside: 4 }).to_vec();
    let second = Presence { room: RoomIx(1), ..presence(70, 670, 2) };
    night.roster.presence = vec![presence(20, 620, 2), second];
    add_lanes(&mut night, 2);
    helpers(&mut night, 2, 2);
    let question = entrants(&night, 12);
    let hand = Arithmetic::of(&question.crew(vec![12]).night(&night)).expect("reckoned");
    assert_eq!((hand.least, hand.by_wear, hand.one_by_one, hand.lanes, hand.all_entries), (12, 12, 10, 2, 24));
    assert_eq!(hand.because, Some(Bound::Capacity { have: Minutes(2200), need: Minutes(2360) }));
    let found = asked(&night, &question, EFFORT);
    assert_eq!(found.smallest[0].counts, Some(vec![12]));
    assert!(found.smallest[0].proven());
}

#[test]
fn s9_takes_six_and_five_are_sixty_short() {
    // c = 90, 2 x 90 = 180 each: 5 x 180 = 900 of 960.
    let mut night = empty_night(5, 20 + 480 + 40, room_ensemble(10, 20, 20, 120), doffing_kit(5, 10, 15, 120));
    night.limits.cumulative_wear = Minutes(240);
    night.limits.min_inside = 2;
    night.roster.presence = vec![presence(20, 500, 2)];
    add_lanes(&mut night, 2);
    helpers(&mut night, 1, 2);
    let found = smallest(&night, 8, 6);
    assert_eq!(
        found.arithmetic.as_ref().and_then(|h| h.because.clone()),
        Some(Bound::Capacity { have: Minutes(900), need: Minutes(960) })
    );
    assert!(found.fewer[0].row.uncovered().is_some_and(|minutes| minutes >= 60));
}

/// One place around the clock of a shift, 45 minutes inside counted from the door, 20 minutes of recovery: a published
/// limit (Haverkort et al., Emerg Infect Dis 2016;22(2), abstract), with donning and removal as given.
fn forty_five_twenty(grid: i64, length: i64, donning: i64, removal: i64) -> Night {
    let room = room_ensemble(0, donning, removal, 45 + removal);
    let mut night = empty_night(grid, donning + length + removal + grid, room, doffing_kit(5, 10, 15, 120));
    night.limits.wear_from = WearFrom::DoorIn;
    night.limits.rest[F.0][F.0] = Minutes(20);
    night.limits.cleaning = Minutes(0);
    night.roster.presence = vec![presence(donning, donning + length, 1)];
    add_lanes(&mut night, 2);
    helpers(&mut night, 2, 2);
    night
}

#[test]
fn published_cycles_take_two_two_and_three() {
    // sources.md section 4, worked numbers: (D + W + F + R) / W rounded up. D4 F3 (Lim et al. 2015): 72 -> 2;
    // D10 F15: 90 -> 2; D15 F20: 100 -> 3; and 720/45 = 16 entries in 12 hours.
    for (donning, removal, cycle, people) in [(4, 3, 72, 2), (10, 15, 90, 2), (15, 20, 100, 3)] {
        let night = forty_five_twenty(1, 720, donning, removal);
        let hand = Arithmetic::of(&entrants(&night, 3).crew(vec![3]).night(&night)).expect("reckoned");
        assert_eq!((hand.cycle, hand.one_by_one, hand.least), (Minutes(cycle), people, people));
        assert_eq!(hand.all_entries, 16);
    }
}

#[test]
fn the_search_comes_to_the_published_cycles() {
    for (donning, removal, people) in [(10, 15, 2), (15, 20, 3)] {
        smallest(&forty_five_twenty(5, 300, donning, removal), 4, people);
    }
}

#[test]
fn two_groups_are_shrunk_together() {
    // S2 again: three entrants, and one who watches donnings and removals alike is enough for one at a time.
    let mut night = alder();
    night.roster.people.clear();
    let watchers = [Role::DonningObserver, Role::DoffingObserver];
    let groups = vec![group(&night, "entrants", &[Role::Entrant], 0, 4), group(&night, "watchers", &watchers, 0, 2)];
    let question = Question { name: "both".into(), example: true, keep_people: true, groups, tried: vec![] };
    let found = asked(&night, &question, EFFORT);
    assert_eq!(found.smallest[0].counts, Some(vec![3, 1]), "{:#?}", found.rows);
    assert!(found.smallest[0].proven());
    assert_eq!(found.fewer.len(), 2);
    // Nobody to watch: nobody goes in, and all 670 minutes are uncovered.
    assert_eq!(found.fewer[1].row.uncovered(), Some(670));
    assert!(matches!(&found.fewer[1].row.verdict, Verdict::Short(_)));
}

#[test]
fn longer_wear_and_lanes_are_tried_each_with_each() {
    // W 120: c = 90, net 80, P = 250: rotation 250/80 -> 4, wear 360 - 3 x 40 = 240: 660/240 -> 3. W 180 takes three.
    let night = alder();
    let mut question = entrants(&night, 5);
    question.tried = vec![
        Tried { lever: Lever::Lanes, values: vec![0, 1] },
        Tried { lever: Lever::MaxWear(F), values: vec![120, 180] },
    ];
    let found = asked(&night, &question, EFFORT);
    let counts: Vec<_> = found.smallest.iter().map(|s| (s.settings.clone(), s.counts.clone())).collect();
    let expected =
        [(vec![0, 120], None), (vec![0, 180], None), (vec![1, 120], Some(vec![4])), (vec![1, 180], Some(vec![3]))];
    assert_eq!(counts, expected);
    assert_eq!(found.leading, Some(3));
}

#[test]
fn every_crew_of_a_range_has_its_figure_and_more_never_miss_more() {
    let night = alder();
    let found = answer(&night, &entrants(&night, 5), Scope::Table, EFFORT, &Unwatched).expect("every rota is clean");
    let figures: Vec<_> = found.rows.iter().map(|row| row.uncovered().expect("all are planned or follow")).collect();
    assert_eq!(figures.len(), 6);
    assert!(figures.windows(2).all(|pair| pair[0] >= pair[1]), "{figures:?}");
    assert_eq!((figures[0], figures[3], figures[5]), (670, 0, 0));
    // One alone adds 280 and 10 at the end, 670 - 300 are missing at least.
    assert!(found.rows[5].verdict.is_enough() && figures[1] >= 370, "{figures:?}");
}
