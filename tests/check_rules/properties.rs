//! What holds of any rota whatever.

use anteroom::check::{is_clean, measure, out_by, out_by_together, review};
use anteroom::night::{
    BreakTaken, Breaks, CleanedBy, Entry, LaneIx, Minute, Minutes, Night, PersonIx, PersonalLimits, Post, PostRole,
    Relief, RoomIx, Rota, Rule, Span, TaskDone, TaskIx,
};
use proptest::prelude::*;

use crate::common::*;

/// A night in which every rule has something to say.
fn full_night() -> Night {
    let mut night = assisted_night();
    night.limits.observer_kit = Some(D);
    night.limits.cleaned_by = CleanedBy::Assistant;
    night.limits.breaks = Some(Breaks { length: Minutes(30), work_max: Minutes(360), recovery_counts: false });
    night.limits.ensembles[D.0].donning_watched = true;
    night.limits.ensembles[D.0].removal_watched = true;
    night.roster.presence = vec![presence(60, 300, 2), presence(300, 400, 1)];
    night.roster.lanes[0].closures = vec![span(100, 130)];
    let own = &mut night.roster.people[KB.0].own;
    (own.max_wear, own.cumulative_wear, own.rest) = (Some(Minutes(77)), Some(Minutes(100)), Some(Minutes(133)));
    night
}

fn near() -> impl Strategy<Value = Minute> {
    (-60_i64..160).prop_map(|step| t(step * 5))
}

/// Near the shift, or anywhere at all.
fn any_time() -> impl Strategy<Value = Minute> {
    let ends = prop_oneof![Just(i64::MIN), Just(i64::MAX), any::<i64>()];
    prop_oneof![8 => near(), 2 => ends.prop_map(Minute)]
}

fn who() -> impl Strategy<Value = PersonIx> {
    (0..IDS.len()).prop_map(PersonIx)
}

fn perhaps_who() -> impl Strategy<Value = Option<PersonIx>> {
    proptest::option::weighted(0.8, who())
}

fn lane() -> impl Strategy<Value = Option<LaneIx>> {
    proptest::option::weighted(0.8, (0..2_usize).prop_map(LaneIx))
}

prop_compose! {
    fn any_entry()(
        person in who(), times in proptest::array::uniform5(any_time()), lane in lane(),
        donning_observer in perhaps_who(), observer in perhaps_who(), assistant in perhaps_who(),
    ) -> Entry {
        let [don, door_in, door_out, removal, off] = times;
        Entry {
            number: 1,
            person,
            room: RoomIx(0),
            don,
            door_in,
            door_out,
            removal,
            off,
            lane,
            donning_observer,
            observer,
            assistant,
            respirator: None,
        }
    }
}

prop_compose! {
    fn any_post()(
        person in who(), assists in any::<bool>(), times in proptest::array::uniform3(any_time()), lane in lane(),
        donning_observer in perhaps_who(), observer in perhaps_who(),
    ) -> Post {
        let role = if assists { PostRole::Assistant } else { PostRole::Observer };
        let [don, removal, off] = times;
        Post { person, role, don, removal, off, lane, donning_observer, observer, respirator: None }
    }
}

prop_compose! {
    fn any_rota()(
        entries in proptest::collection::vec(any_entry(), 0..8), posts in proptest::collection::vec(any_post(), 0..5),
        breaks in proptest::collection::vec((who(), any_time(), any_time()), 0..4),
        tasks in proptest::collection::vec(any_time(), 0..3),
    ) -> Rota {
        Rota {
            entries,
            posts,
            breaks: breaks.into_iter().map(|(who, from, to)| taken(who, from, to)).collect(),
            tasks: tasks.into_iter().map(|start| TaskDone { task: TaskIx(0), start }).collect(),
            ..Rota::default()
        }
    }
}

fn taken(person: PersonIx, from: Minute, to: Minute) -> BreakTaken {
    BreakTaken { person, span: Span::new(from, to) }
}

fn night_with_task() -> Night {
    use anteroom::night::{Need, Task};
    let mut night = full_night();
    night.roster.tasks = vec![Task {
        id: "line change".into(),
        room: RoomIx(0),
        window: span(60, 300),
        wanted: t(60),
        length: Minutes(30),
        people: 1,
        skill: None,
        need: Need::Must,
        same_people: true,
        extra: true,
    }];
    night
}

/// Whether the number inside breaks D1 or D2 in any minute near the shift, counted one by one.
fn wrong_number_minute_by_minute(night: &Night, rota: &Rota) -> [bool; 2] {
    let mut wrong = [false; 2];
    for at in t(-400).0..t(900).0 {
        let inside = rota.entries.iter().filter(|e| e.door_in.0 <= at && at < e.door_out.0).count();
        wrong[0] |= inside > 0 && inside < night.limits.min_inside as usize;
        wrong[1] |= inside > night.roster.rooms[0].max_inside as usize;
    }
    wrong
}

/// Whether the number who pass the door breaks D8 in any minute near the shift, counted one by one.
fn wrong_at_the_door_minute_by_minute(night: &Night, rota: &Rota) -> bool {
    let entries = || rota.entries.iter().filter(|e| e.door_in < e.door_out);
    let inside = |at: i64| entries().any(|e| e.door_in.0 <= at && at < e.door_out.0);
    (t(-400).0..t(900).0).any(|at| {
        let (coming, going) =
            (entries().filter(|e| e.door_in.0 == at).count(), entries().filter(|e| e.door_out.0 == at).count());
        match night.limits.relief {
            Relief::InPairs => coming == 1 || going == 1,
            Relief::OneByOne => (coming > 1 && inside(at - 1)) || (going > 1 && inside(at)),
            Relief::Either => false,
        }
    })
}

/// People short in every minute of the required presence, counted one by one.
fn short_minute_by_minute(night: &Night, rota: &Rota) -> i64 {
    let mut short = 0;
    for presence in &night.roster.presence {
        for at in presence.span.from.0..presence.span.to.0 {
            let inside = rota.entries.iter().filter(|e| e.door_in.0 <= at && at < e.door_out.0).count();
            short += (i64::from(presence.people) - i64::try_from(inside).expect("few people")).max(0);
        }
    }
    short
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_rota_is_reviewed_without_panic_and_the_quick_answers_agree(rota in any_rota()) {
        let night = night_with_task();
        let found = review(&night, &rota);
        prop_assert_eq!(found.faults.is_empty(), is_clean(&night, &rota));
        prop_assert_eq!(&found.measures, &measure(&night, &rota));
        prop_assert_eq!(found.measures.uncovered[&1], Minutes(short_minute_by_minute(&night, &rota)));
        let broken = [Rule::D1, Rule::D2].map(|rule| found.faults.iter().any(|f| f.rule == rule));
        prop_assert_eq!(broken, wrong_number_minute_by_minute(&night, &rota));
        prop_assert_eq!(out_by(&night, &rota).len(), rota.entries.len());
        let together = out_by_together(&night, &rota);
        prop_assert!(out_by(&night, &rota).iter().zip(&together).all(|(own, shared)| shared <= own));
    }

    #[test]
    fn the_relief_style_is_broken_where_counting_by_the_minute_says_so(rota in any_rota()) {
        // Times out of reach are taken as the nearest minute within: another test looks at those.
        let mut rota = rota;
        rota.entries.retain(|e| span(-400, 900).contains(e.door_in) && span(-400, 900).contains(e.door_out));
        for relief in Relief::ALL {
            let mut night = night_with_task();
            night.limits.relief = relief;
            let broken = review(&night, &rota).faults.iter().any(|f| f.rule == Rule::D8);
            prop_assert_eq!(broken, wrong_at_the_door_minute_by_minute(&night, &rota));
        }
    }

    /// Stricter personal limits add faults of A8, without a figure, and change nothing else that is said.
    #[test]
    fn no_sentence_gives_a_personal_limit_away(rota in any_rota()) {
        let night = night_with_task();
        let mut without = night.clone();
        for person in &mut without.roster.people {
            person.own = PersonalLimits::default();
        }
        let faults = review(&night, &rota).faults;
        let (own, others): (Vec<_>, Vec<_>) = faults.into_iter().partition(|f| f.rule == Rule::A8);
        prop_assert_eq!(others, review(&without, &rota).faults);
        prop_assert!(own.iter().all(|f| f.by.is_none() && f.what.contains("is not available then, planned")));
    }

    /// Of the plain visit with one time moved: still clean means that OUT-BY is not before the planned out.
    #[test]
    fn a_clean_rota_is_out_by_out_by(which in 0..2_usize, field in 0..5_usize, step in -6_i64..=6) {
        let night = plain_night();
        let mut rota = plain_visit();
        let e = &mut rota.entries[which];
        let times = [&mut e.don, &mut e.door_in, &mut e.door_out, &mut e.removal, &mut e.off];
        let at: &mut Minute = times.into_iter().nth(field).expect("five times");
        *at = *at + Minutes(step * 5);
        if is_clean(&night, &rota) {
            for (e, latest) in rota.entries.iter().zip(out_by(&night, &rota)) {
                prop_assert!(e.door_out <= latest);
            }
        }
    }
}

#[test]
#[ignore = "prints how long a check takes; run it with --nocapture"]
#[expect(clippy::print_stdout, reason = "printing is what it is for")]
fn how_long_a_check_takes() {
    let night = assisted_night();
    let rota = assisted_visit();
    let start = std::time::Instant::now();
    for _ in 0..20_000 {
        assert!(is_clean(&night, &rota));
    }
    println!("two entries, two posts: {:?} each", start.elapsed() / 20_000);

    let mut big = assisted_night();
    let mut many = Rota::default();
    big.roster.people.clear();
    for i in 0..100_usize {
        big.roster.people.push(person(&format!("P{i}")));
        big.roster.people[i].on_duty = span(0, 100_000);
    }
    for i in 0..200_i64 {
        let who = |n: i64| PersonIx(usize::try_from((i * 5 + n) % 100).expect("below 100"));
        let mut e = Entry { observer: Some(who(1)), ..entry(who(0), i * 60, i * 60 + 80) };
        e.donning_observer = Some(who(3));
        e.assistant = Some(who(2));
        many.posts.push(post(who(2), i * 60 + 60, i * 60 + 100, 0, who(1)));
        many.entries.push(e);
    }
    let start = std::time::Instant::now();
    let found = review(&big, &many);
    println!("200 entries: {:?}, {} faults", start.elapsed(), found.faults.len());
}
