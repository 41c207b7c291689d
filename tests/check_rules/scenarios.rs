//! Schedules reckoned by hand, replayed: the arithmetic stands beside each.

use anteroom::check::{By, out_by};
use anteroom::night::{Clock, Entry, LaneIx, Minute, Minutes, Night, PersonIx, Post, Rota, Rule, Span};
use chrono::{TimeZone, Utc};

use crate::common::*;

/// A long night with assistants whose minutes do not count in cumulative wear.
fn long_night() -> Night {
    let mut night = assisted_night();
    for person in &mut night.roster.people {
        person.on_duty = span(0, 900);
    }
    night.limits.ensembles[D.0].cumulative_percent = 0;
    night
}

/// Wear of one person: sealed 10 minutes before the end of a donning of 20.
fn cumulative(rota: &Rota, person: PersonIx) -> i64 {
    rota.entries.iter().filter(|e| e.person == person).map(|e| (e.off - e.don).0 - 10).sum()
}

/// Stays `[from, to)` after 19:50, lanes in turn from lane 1.
fn in_turn(stays: &[(PersonIx, i64, i64)]) -> Rota {
    let mut rota = rota_of([]);
    for (i, &(person, from, to)) in stays.iter().enumerate() {
        let entry = if i % 2 == 0 { entry } else { entry_in_lane_two };
        assisted(&mut rota, entry(person, 50 + from - 20, 50 + to));
    }
    rota.put_in_order();
    rota
}

#[test]
fn s2_one_continuous_presence_with_three_entrants() {
    // W180 s10 f20 d20 r120 o10: c = 180-10-20 = 150, net 140; H 670, door-ins 0, 140, 280, 420, 560.
    let mut night = long_night();
    night.limits.min_inside = 1;
    night.roster.presence = vec![presence(50, 720, 1)];
    let rota = in_turn(&[(KB, 0, 150), (MR, 140, 290), (JT, 280, 430), (KB, 420, 570), (MR, 560, 670)]);
    let found = accepted(&night, &rota);
    assert_eq!(found.measures.uncovered[&1], Minutes(0));
    assert_eq!([KB, MR, JT].map(|p| cumulative(&rota, p)), [360, 320, 180]);
    assert_eq!(found.measures.largest_wear_centi, 36_000);
    // Two alone cannot: after 150 the first is away for 20 + 120 + 20, and 2 x 140 = 280 < 310.
    let two = in_turn(&[(KB, 0, 150), (MR, 140, 290), (KB, 280, 430)]);
    let faults = refused(&night, &two, &[Rule::B4]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(30))));
}

/// Post A and post B of the hand schedule, one by one relief.
fn rowan() -> (Night, Rota) {
    let mut night = long_night();
    night.roster.rooms[0].max_inside = 3;
    night.roster.presence = vec![presence(50, 720, 2)];
    // In order of door-out, so that the lanes take turns.
    let mut rota = in_turn(&[
        (MR, 0, 80),
        (KB, 0, 150),
        (JT, 70, 220),
        (PS, 140, 290),
        (VF, 210, 360),
        (MR, 280, 430),
        (KB, 350, 500),
        (JT, 420, 570),
        (PS, 490, 640),
        (MR, 630, 670),
    ]);
    // AL stays dressed from the exit at 640 for the last one in the same lane, 30 minutes on.
    let stays = rota.posts.iter_mut().find(|p| p.person == AL && p.removal == t(50 + 660)).expect("AL's last post");
    (stays.removal, stays.off) = (t(50 + 690), t(50 + 705));
    rota.entries.push(Entry { assistant: Some(AL), ..entry(VF, 50 + 540, 50 + 670) });
    rota.put_in_order();
    (night, rota)
}

#[test]
fn s3_two_inside_with_five_people_relieved_one_by_one() {
    let (night, rota) = rowan();
    let found = accepted(&night, &rota);
    assert_eq!(found.measures.uncovered[&1], Minutes(0));
    assert_eq!([KB, MR, JT, PS, VF].map(|p| cumulative(&rota, p)), [360, 360, 360, 360, 320]);
    assert_eq!((found.measures.removals, found.measures.helper_removals), (11, 10));
}

#[test]
fn s3_needs_cleaning_of_ten_on_two_lanes() {
    let (mut night, rota) = rowan();
    night.limits.cleaning = Minutes(15);
    let faults = refused(&night, &rota, &[Rule::C9]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
}

/// Every time of the full stays moved by one step: caught, each one.
#[test]
fn s3_is_tight_in_every_time_of_a_full_stay() {
    let (night, rota) = rowan();
    let full: Vec<usize> =
        (0..rota.entries.len()).filter(|&i| (rota.entries[i].off - rota.entries[i].don).0 == 190).collect();
    assert_eq!(full.len(), 8);
    for i in full {
        for field in 0..5 {
            for step in [-5, 5] {
                let mut moved = rota.clone();
                let e = &mut moved.entries[i];
                let at = [&mut e.don, &mut e.door_in, &mut e.door_out, &mut e.removal, &mut e.off];
                let at: &mut Minute = at.into_iter().nth(field).expect("five times");
                *at = *at + Minutes(step);
                let short = anteroom::check::measure(&night, &moved).uncovered[&1] > Minutes(0);
                assert!(
                    short || !anteroom::check::is_clean(&night, &moved),
                    "entry {i} field {field} step {step} was let through"
                );
            }
        }
    }
}

fn sorrel(lanes: usize, cleaning: i64, stay: i64) -> (Night, Rota) {
    let mut night = plain_night();
    night.limits.cleaning = Minutes(cleaning);
    night.limits.ensembles[F.0].max_wear = Minutes(150);
    night.limits.ensembles[F.0].removal = Minutes(25);
    let out = 20 + stay;
    let wait = if lanes == 1 { 25 + cleaning } else { 0 };
    let removed = |e: Entry, from: i64| Entry { removal: t(from), off: t(from + 25), ..e };
    let second = Entry { lane: Some(LaneIx(lanes - 1)), ..entry_in_lane_two(MR, 0, out) };
    (night, rota_of([removed(entry(KB, 0, out), out), removed(second, out + wait)]))
}

#[test]
fn s4_one_lane_and_a_pair_that_leaves_together() {
    // The second waits f + t: 10 + c + 25 + 15 + 25 <= 150, c <= 75. Two lanes: 150 - 35 = 115. No cleaning: 90.
    for (lanes, cleaning, longest) in [(1, 15, 75), (2, 15, 115), (1, 0, 90)] {
        let (night, rota) = sorrel(lanes, cleaning, longest);
        accepted(&night, &rota);
        let (night, rota) = sorrel(lanes, cleaning, longest + 5);
        refused(&night, &rota, &[Rule::B2, Rule::B3]);
    }
}

fn bracken(events: usize) -> (Night, Rota) {
    let mut night = assisted_night();
    night.limits.min_inside = 1;
    night.limits.observer_ready = Minutes(0);
    night.limits.observer_reset = Minutes(10);
    night.limits.ensembles[F.0].removal = Minutes(20);
    let extra = ["XA", "XC", "XD", "XE", "XF", "XH"].map(person);
    night.roster.people.extend(extra);
    for person in &mut night.roster.people {
        person.on_duty = span(0, 900);
    }
    night.roster.people[DW.0].on_duty = span(100, 580);
    let entrants = [KB, MR, JT, PS].into_iter().chain((10..16).map(PersonIx));
    let mut rota = rota_of([]);
    let mut at = 100;
    for (i, who) in entrants.take(events).enumerate() {
        // AL and HC take turns; both remove in the one lane.
        let helper = [AL, HC][i % 2];
        rota.entries.push(Entry { assistant: Some(helper), ..entry(who, at - 80, at) });
        rota.posts.push(post(helper, at - 20, at + 20, 0, DW));
        at += if i % 2 == 0 { 45 } else { 60 };
    }
    rota.put_in_order();
    (night, rota)
}

#[test]
fn s5_one_observer_watches_nine_removals_in_480_minutes() {
    // 45n + 15 x floor((n-1)/2): n = 9 is 405 + 60 = 465 <= 480; n = 10 is 450 + 60 = 510.
    let (mut night, rota) = bracken(9);
    accepted(&night, &rota);
    night.roster.people[DW.0].on_duty = span(100, 565);
    accepted(&night, &rota);
    let (night, rota) = bracken(10);
    let faults = refused(&night, &rota, &[Rule::A3, Rule::B3]);
    let late = faults.iter().filter(|f| f.rule == Rule::A3).map(|f| f.by).max();
    assert_eq!(late, Some(Some(By::Minutes(Minutes(30)))));
}

/// Pairs inside for 90 from these door-ins, two inside wanted 0-480.
fn yarrow(door_ins: [i64; 4]) -> (Night, Rota) {
    let mut night = long_night();
    night.limits.ensembles[F.0].max_wear = Minutes(120);
    night.limits.cumulative_wear = Minutes(240);
    night.limits.overlap = Minutes(0);
    night.roster.presence = vec![presence(50, 530, 2)];
    let pairs = [(KB, MR), (JT, PS), (KB, MR), (JT, PS)];
    let stays = door_ins.iter().zip(pairs).flat_map(|(&at, (a, b))| [(a, at, at + 90), (b, at, at + 90)]);
    (night, in_turn(&stays.collect::<Vec<_>>()))
}

#[test]
fn s9_four_entrants_leave_240_person_minutes_whichever_way() {
    // c = 90, twice each: 4 x 180 = 720 of 960.
    let (night, rota) = yarrow([0, 90, 250, 340]);
    let found = accepted(&night, &rota);
    let gaps: Vec<Span> = found.shortages.iter().map(|s| s.span).collect();
    assert_eq!(gaps, [span(50 + 180, 50 + 250), span(50 + 430, 50 + 480)]);
    assert_eq!((found.measures.uncovered[&1], found.measures.longest[&1]), (Minutes(240), Minutes(70)));
    let (night, rota) = yarrow([0, 125, 250, 375]);
    let found = accepted(&night, &rota);
    let lengths: Vec<i64> = found.shortages.iter().map(|s| s.span.length().0).collect();
    assert_eq!(lengths, [35, 35, 35, 15]);
    assert_eq!((found.measures.uncovered[&1], found.measures.longest[&1]), (Minutes(240), Minutes(35)));
    // P = 90 + 20 + 120 + 20 = 250: five minutes sooner is short of rest.
    let (night, rota) = yarrow([0, 125, 245, 375]);
    refused(&night, &rota, &[Rule::B4]);
}

/// 01:20 is minute 380. E and F (KB, MR) went in then, watched by H (DW); A, B and G (JT, PS, VF) follow at 02:30.
fn teasel(changeover: i64, watching_the_three: [PersonIx; 3]) -> Vec<String> {
    let mut night = plain_night();
    night.limits.observer_ready = Minutes(0);
    night.limits.observer_reset = Minutes(0);
    night.limits.changeover = Minutes(changeover);
    let [a, b, g] = watching_the_three.map(Some);
    let rota = rota_of([
        entry(KB, 360, 480),
        Entry { observer: Some(DW), ..entry_in_lane_two(MR, 360, 505) },
        Entry { observer: a, ..entry(JT, 430, 530) },
        Entry { observer: b, ..entry_in_lane_two(PS, 430, 555) },
        Entry { observer: g, ..entry(VF, 430, 580) },
    ]);
    out_by(&night, &rota).into_iter().map(|at| night.roster.clock.hhmm(at)).collect()
}

#[test]
fn s10_out_by_with_one_observer() {
    // E, F: sealed 01:10 + 180 - 20 = 03:50, the first a removal of 20 before. A, B, G: sealed 02:20, so 05:00.
    assert_eq!(teasel(0, [DW; 3]), ["03:30", "03:50", "04:20", "04:40", "05:00"]);
    // A changeover of 5 to the other lane: 03:25.
    assert_eq!(teasel(5, [GH, EN, AL]), ["03:25", "03:50", "04:30", "05:00", "05:00"]);
    // The same observer for all five passes each changeover on to the one before.
    assert_eq!(teasel(5, [DW; 3]), ["03:20", "03:45", "04:10", "04:35", "05:00"]);
}

#[test]
fn wear_on_the_night_the_clocks_go_back_is_elapsed_time() {
    // Europe/London, Sunday 26 October 2031: 02:00 summer time is 01:00 again. Sealed 23:30 universal time
    // (00:30 on the wall), last item off 02:30 (02:30 on the wall): 180 minutes, though the wall says 120.
    let midnight = Utc.with_ymd_and_hms(2031, 10, 26, 0, 0, 0).single().expect("one midnight");
    let zero = Minute(midnight.timestamp() / 60);
    let mut night = plain_night();
    night.roster.clock = Clock::new(chrono_tz::Europe::London);
    let on_duty = Span::new(zero - Minutes(300), zero + Minutes(480));
    night.roster.shift = on_duty;
    night.roster.people.iter_mut().for_each(|p| p.on_duty = on_duty);
    let visit = |last: i64| {
        let mut rota = rota_of(pair(KB, MR, -40, 130));
        let by = zero - t(0);
        rota = later(rota, by.0);
        for e in &mut rota.entries {
            e.off = zero + Minutes(last);
        }
        rota
    };
    accepted(&night, &visit(150));
    let faults = refused(&night, &visit(151), &[Rule::B2]);
    assert_eq!(faults[0].what, "KB wears F 00:30-02:31, 181 min: 1 min over the longest wear of 180.");
}

#[test]
fn an_own_removal_in_the_same_lane_at_once_is_the_assistants_only() {
    // HC was not the assistant of KB: the lane is cleaned first.
    let mut night = assisted_night();
    night.limits.min_inside = 1;
    let mut rota = rota_of([Entry { assistant: Some(AL), ..entry(KB, 40, 120) }]);
    rota.posts = vec![post(AL, 100, 170, 1, GH), post(HC, 100, 140, 0, GH)];
    refused(&night, &rota, &[Rule::C9]);
    rota.posts[1] = Post { removal: t(145), off: t(160), ..rota.posts[1].clone() };
    refused(&night, &rota, &[Rule::C9]);
    rota.posts = vec![post(AL, 100, 175, 1, GH), post(HC, 100, 150, 0, GH)];
    accepted(&night, &rota);
}
