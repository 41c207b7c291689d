//! C3, C5, C6, C11: assistants, observers in a kit, donnings, the length of a watch.

use anteroom::check::By;
use anteroom::night::{Entry, LaneIx, Minutes, Night, Post, PostRole, Rota, Rule, Watching};

use crate::common::*;

#[test]
fn c3_the_assistant_is_dressed_for_the_whole_removal() {
    let night = assisted_night();
    let mut rota = assisted_visit();
    rota.posts[0].don = t(110);
    accepted(&night, &rota);
    rota.posts[0].don = t(115);
    let faults = refused(&night, &rota, &[Rule::C3]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
    assert_eq!(faults[0].what, "AL assists the removal of KB 21:00-21:20 but is on post 21:05-21:20.");
}

#[test]
fn c3_an_assistant_without_a_spell_on_post_is_not_dressed() {
    let night = assisted_night();
    let mut rota = assisted_visit();
    rota.posts.remove(0);
    let faults = refused(&night, &rota, &[Rule::C3]);
    assert_eq!(faults[0].what, "AL assists the removal of KB 21:00-21:20 but is not dressed for it.");
    rota.entries[0].assistant = None;
    refused(&night, &rota, &[Rule::C3, Rule::C7]);
}

#[test]
fn c3_a_spell_too_long_for_the_kit_is_refused_with_the_own_removal() {
    let mut night = assisted_night();
    // Sealed 45, last item off 155: 110.
    let mut rota = assisted_visit();
    rota.posts[0].don = t(40);
    night.limits.ensembles[D.0].max_wear = Minutes(110);
    accepted(&night, &rota);
    rota.posts[0].don = t(35);
    refused(&night, &rota, &[Rule::B2, Rule::B3]);
}

#[test]
fn c3_one_assistant_helps_one_person() {
    let mut night = assisted_night();
    night.limits.changeover = Minutes(0);
    let two = |second: i64| {
        let first = Entry { assistant: Some(AL), ..entry(KB, 40, 120) };
        let second = Entry { removal: t(second), off: t(second + 20), ..entry_in_lane_two(MR, 40, 120) };
        let mut rota = rota_of([first, Entry { assistant: Some(AL), ..second }]);
        rota.posts = vec![post(AL, 100, 180, 0, DW)];
        rota
    };
    accepted(&night, &two(140));
    let faults = refused(&night, &two(135), &[Rule::C3]);
    assert_eq!(faults[0].what, "AL assists KB and MR at the same time, 21:15-21:20.");
    night.limits.changeover = Minutes(5);
    accepted(&night, &two(145));
    refused(&night, &two(140), &[Rule::A7]);
}

#[test]
fn c3_and_c5_nobody_is_on_post_in_a_kit_the_unit_does_not_have() {
    let mut rota = plain_visit();
    rota.posts = vec![post(AL, 100, 180, 0, GH)];
    refused(&plain_night(), &rota, &[Rule::C3]);
    rota.posts = vec![Post { role: PostRole::Observer, lane: None, observer: None, ..post(AL, 100, 180, 0, GH) }];
    refused(&plain_night(), &rota, &[Rule::C5]);
}

/// A night in which observers wear kit D, and DW and GH are on post for the visit.
fn kitted() -> (Night, Rota) {
    let mut night = plain_night();
    night.limits.observer_kit = Some(D);
    let on_post =
        |person| Post { role: PostRole::Observer, lane: None, observer: None, ..post(person, 105, 145, 0, EN) };
    let mut rota = plain_visit();
    rota.posts = vec![on_post(DW), on_post(GH)];
    (night, rota)
}

#[test]
fn c5_ready_and_reset_lie_on_post() {
    let (night, mut rota) = kitted();
    // Dressed at 115, ready 5 before 120; reset 5 after 140, own removal at 145.
    accepted(&night, &rota);
    rota.posts[0].don = t(110);
    let faults = refused(&night, &rota, &[Rule::C5]);
    assert_eq!(faults[0].what, "DW is busy with the removal of KB 20:55-21:25 but is on post 21:00-21:25.");
    let (night, mut rota) = kitted();
    rota.posts[0].removal = t(140);
    rota.posts[0].off = t(155);
    refused(&night, &rota, &[Rule::C5]);
}

#[test]
fn c5_whoever_watches_removals_wears_the_kit() {
    let (night, mut rota) = kitted();
    rota.posts.pop();
    refused(&night, &rota, &[Rule::C5]);
}

#[test]
fn c5_the_observer_is_busy_until_the_own_removal_is_over() {
    let (night, mut rota) = kitted();
    rota.entries.extend(pair(JT, PS, 160, 240));
    rota.posts.push(Post { don: t(225), removal: t(265), off: t(280), ..rota.posts[0].clone() });
    rota.posts.push(Post { don: t(225), removal: t(265), off: t(280), ..rota.posts[1].clone() });
    for e in &mut rota.entries[2..] {
        e.donning_observer = Some(DW);
    }
    // DW's own removal ends at 160; recovery is 15, so the donning comes at 175.
    for e in &mut rota.entries[2..] {
        e.don = t(175);
        e.door_in = t(195);
    }
    accepted(&night, &rota);
    for e in &mut rota.entries[2..] {
        e.don = t(155);
    }
    refused(&night, &rota, &[Rule::A7]);
}

#[test]
fn c5_the_own_removal_is_watched_where_the_unit_says_so_by_someone_who_needs_no_kit() {
    let (mut night, mut rota) = kitted();
    night.limits.ensembles[D.0].removal_watched = true;
    refused(&night, &rota, &[Rule::C5]);
    rota.posts[0].observer = Some(EN);
    rota.posts[1].observer = Some(AL);
    accepted(&night, &rota);
}

#[test]
fn c6_every_donning_has_an_observer() {
    let night = plain_night();
    let mut rota = plain_visit();
    rota.entries[1].donning_observer = None;
    let faults = refused(&night, &rota, &[Rule::C6]);
    assert_eq!(faults[0].what, "The donning of MR at 19:40 has no observer.");
    rota.entries[1].donning_observer = Some(MR);
    refused(&night, &rota, &[Rule::C6]);
}

#[test]
fn c6_capacity_one_dons_a_pair_one_after_the_other() {
    let mut night = plain_night();
    night.limits.donning_capacity = 1;
    let staggered = |first: i64| {
        let [one, other] = pair(KB, MR, 40, 120);
        rota_of([Entry { don: t(first), ..one }, other])
    };
    let review = accepted(&night, &staggered(20));
    // The first one's hold at the door counts as wear: 110 minutes, not 90.
    assert_eq!(review.measures.largest_wear_centi, 11_000);
    let faults = refused(&night, &staggered(25), &[Rule::C6]);
    assert_eq!(faults[0].what, "EN watches 2 donnings at once at 19:40, 1 more than 1.");
    night.limits.donning_capacity = 2;
    accepted(&night, &staggered(25));
}

#[test]
fn c6_a_helpers_donning_is_watched_where_the_unit_says_so() {
    let mut night = assisted_night();
    night.limits.ensembles[D.0].donning_watched = true;
    let mut rota = assisted_visit();
    refused(&night, &rota, &[Rule::C6]);
    for post in &mut rota.posts {
        post.donning_observer = Some(EN);
    }
    accepted(&night, &rota);
}

/// Events of 45 minutes on watch back to back: removal 20, the assistant's own at once 15, reset 10.
fn events(number: usize, pauses: &[i64]) -> (Night, Rota) {
    let mut night = assisted_night();
    night.limits.min_inside = 1;
    night.limits.observer_ready = Minutes(0);
    night.limits.observer_reset = Minutes(10);
    night.limits.watching = Some(Watching { max: Minutes(120), pause: Minutes(15) });
    let mut rota = Rota::default();
    let mut at = 120;
    for i in 0..number {
        let (who, helper) = ([KB, MR, JT, PS][i], [AL, HC, AL, HC][i]);
        let out = at + pauses[..i].iter().sum::<i64>();
        rota.entries.push(Entry { assistant: Some(helper), ..entry(who, out - 80, out) });
        rota.posts.push(post(helper, out - 20, out + 20, 0, DW));
        at += 45;
    }
    rota.entries.iter_mut().step_by(2).for_each(|e| e.donning_observer = Some(GH));
    (night, rota)
}

#[test]
fn c11_two_events_of_45_then_a_break() {
    // V 120, b 15: two events are 90; a third would make 135.
    let (night, rota) = events(2, &[0]);
    accepted(&night, &rota);
    let (night, rota) = events(3, &[0, 15]);
    accepted(&night, &rota);
    let (night, rota) = events(3, &[0, 14]);
    refused(&night, &rota, &[Rule::C11]);
    let (night, rota) = events(3, &[0, 0]);
    let faults = refused(&night, &rota, &[Rule::C11]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(15))));
    assert_eq!(faults[0].what, "DW watches 21:00-23:15, 135 min without a pause of 15: 15 min too long.");
}

#[test]
fn c11_donnings_and_removals_count_together() {
    let mut night = plain_night();
    night.limits.watching = Some(Watching { max: Minutes(105), pause: Minutes(60) });
    // DW watches a donning 40-60 and a removal from 115 to 145: 105 with a pause of 55.
    let mut rota = plain_visit();
    rota.entries[0].donning_observer = Some(DW);
    accepted(&night, &rota);
    night.limits.watching = Some(Watching { max: Minutes(100), pause: Minutes(60) });
    refused(&night, &rota, &[Rule::C11]);
    night.limits.watching = Some(Watching { max: Minutes(100), pause: Minutes(55) });
    accepted(&night, &rota);
}

#[test]
fn a_removal_in_lane_two_is_another_place() {
    // AL assists in lane 1 and 5 minutes later in lane 2, own removal there at once.
    let night = assisted_night();
    let first = Entry { assistant: Some(AL), ..entry(KB, 40, 120) };
    let second = Entry { assistant: Some(AL), removal: t(145), off: t(165), ..entry_in_lane_two(MR, 40, 120) };
    let mut rota = rota_of([first, second]);
    rota.posts = vec![Post { lane: Some(LaneIx(1)), ..post(AL, 100, 165, 1, GH) }];
    accepted(&night, &rota);
}
