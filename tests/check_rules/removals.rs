//! C1-C4, C7, C9, C10: removals, lanes, the way out.

use anteroom::check::By;
use anteroom::night::{CleanedBy, Entry, LaneIx, Minutes, Night, Rota, Rule};

use crate::common::*;

/// KB and MR leave one after the other through lane 1 with DW, cleaning 10 between.
fn one_after_the_other(second_removal: i64) -> Rota {
    let second = Entry { removal: t(second_removal), off: t(second_removal + 20), ..entry(MR, 40, 120) };
    rota_of([entry(KB, 40, 120), second])
}

#[test]
fn c1_every_removal_has_an_observer() {
    let mut rota = plain_visit();
    rota.entries[0].observer = None;
    let faults = refused(&plain_night(), &rota, &[Rule::C1, Rule::C7]);
    let said: Vec<&str> = faults.iter().map(|f| f.what.as_str()).collect();
    assert!(said.contains(&"The removal of KB at 21:00 has no observer."), "{said:?}");
    assert!(said.contains(&"KB goes in at 20:00 without an observer for the removal."), "{said:?}");
}

#[test]
fn c1_one_observer_watches_one_person() {
    // Two lanes in the same minute, one observer.
    let mut night = plain_night();
    night.limits.observer_ready = Minutes(0);
    night.limits.observer_reset = Minutes(0);
    night.limits.changeover = Minutes(0);
    let staggered = |second: i64| {
        let second = Entry { lane: Some(LaneIx(1)), removal: t(second), off: t(second + 20), ..entry(MR, 40, 120) };
        rota_of([entry(KB, 40, 120), second])
    };
    accepted(&night, &staggered(140));
    let faults = refused(&night, &staggered(135), &[Rule::C1]);
    assert_eq!(faults[0].what, "DW watches the removals of KB and MR at the same time, 21:15-21:20.");
}

#[test]
fn c1_ready_reset_and_changeover_lie_between_two_removals_of_one_observer() {
    let mut night = plain_night();
    night.limits.cleaning = Minutes(0);
    // The same lane: reset 5, ready 5.
    accepted(&night, &one_after_the_other(150));
    refused(&night, &one_after_the_other(145), &[Rule::A7]);
    // Another lane: changeover 10 in place of the reset, ready 5.
    night.limits.changeover = Minutes(10);
    let mut rota = one_after_the_other(155);
    rota.entries[1].lane = Some(LaneIx(1));
    accepted(&night, &rota);
    let mut rota = one_after_the_other(150);
    rota.entries[1].lane = Some(LaneIx(1));
    refused(&night, &rota, &[Rule::A7]);
}

#[test]
fn c2_wearer_observer_and_assistant_are_three_people() {
    let night = assisted_night();
    let changes: [fn(&mut Entry); 3] =
        [|e| e.observer = Some(KB), |e| e.assistant = Some(KB), |e| e.observer = Some(AL)];
    for change in changes {
        let mut rota = assisted_visit();
        change(&mut rota.entries[0]);
        let faults = anteroom::check::review(&night, &rota).faults;
        assert!(faults.iter().any(|f| f.rule == Rule::C2), "{}", found(&faults));
    }
    let mut rota = plain_visit();
    rota.entries[0].observer = Some(KB);
    refused(&plain_night(), &rota, &[Rule::C2]);
}

#[test]
fn c4_the_assistants_own_removal_is_watched() {
    let night = assisted_night();
    let mut rota = assisted_visit();
    rota.posts[0].observer = None;
    let faults = refused(&night, &rota, &[Rule::C4]);
    assert_eq!(faults[0].what, "The removal of AL at 21:20 has no observer.");
}

#[test]
fn c4_three_exits_one_kit_one_watched_own_removal() {
    let mut night = assisted_night();
    night.limits.min_inside = 1;
    night.limits.watching = None;
    // AL stays dressed for three removals 30 minutes apart in one lane, own removal at once after the last.
    let people = [KB, MR, JT];
    let entries =
        people.iter().zip([120, 150, 180]).map(|(&p, out)| Entry { assistant: Some(AL), ..entry(p, 40, out) });
    let mut rota = rota_of(entries.map(|e| Entry { donning_observer: Some(EN), ..e }));
    rota.entries[2].donning_observer = Some(GH);
    rota.posts = vec![post(AL, 100, 200, 0, DW)];
    let review = accepted(&night, &rota);
    assert_eq!((review.measures.removals, review.measures.helper_removals), (3, 1));
}

#[test]
fn c7_an_entry_without_its_exit_is_not_made() {
    let night = assisted_night();
    let mut rota = assisted_visit();
    rota.entries[1].lane = None;
    rota.entries[1].observer = None;
    rota.entries[1].assistant = None;
    rota.posts.pop();
    let faults = refused(&night, &rota, &[Rule::C1, Rule::C3, Rule::C7, Rule::C9]);
    assert_eq!(faults.len(), 4);
    let whole = faults.iter().find(|f| f.rule == Rule::C7).expect("C7 was named");
    assert_eq!(whole.by, Some(By::Count(3)));
    assert_eq!(whole.what, "MR goes in at 20:00 without a lane and an observer and an assistant for the removal.");
}

#[test]
fn c9_a_lane_is_cleaned_between_people() {
    // f 25, t 15: the next removal 40 later.
    let mut night = plain_night();
    night.limits.ensembles[F.0].removal = Minutes(25);
    night.limits.cleaning = Minutes(15);
    let queue = |second: i64| {
        let first = Entry { off: t(145), ..entry(KB, 40, 120) };
        let second = Entry { observer: Some(GH), removal: t(second), off: t(second + 25), ..entry(MR, 40, 120) };
        rota_of([first, second])
    };
    accepted(&night, &queue(160));
    let faults = refused(&night, &queue(155), &[Rule::C9]);
    assert_eq!(faults[0].what, "Lane 1 is not free for MR at 21:35: after KB and cleaning at 21:40, 5 min short.");
}

#[test]
fn c9_no_cleaning_before_the_assistants_own_removal_at_once() {
    let night = assisted_night();
    accepted(&night, &assisted_visit());
    // Five minutes later it is no longer at once: cleaning 10 first, and the observer gets ready again.
    let mut rota = assisted_visit();
    rota.posts[0].removal = t(145);
    rota.posts[0].off = t(160);
    refused(&night, &rota, &[Rule::A7, Rule::C9]);
    rota.posts[0].removal = t(150);
    rota.posts[0].off = t(165);
    accepted(&night, &rota);
}

#[test]
fn c9_a_lane_is_not_used_while_it_is_shut() {
    let mut night = plain_night();
    night.roster.lanes[0].closures = vec![span(60, 120), span(140, 200)];
    accepted(&night, &plain_visit());
    night.roster.lanes[0].closures[1] = span(135, 200);
    let faults = refused(&night, &plain_visit(), &[Rule::B3, Rule::C9]);
    let shut = faults.iter().find(|f| f.rule == Rule::C9).expect("C9 was named");
    assert_eq!(shut.what, "Lane 1 is shut 21:15-22:20, during the removal of KB 21:00-21:20.");
}

#[test]
fn c9_waiting_places() {
    let mut night = plain_night();
    accepted(&night, &one_after_the_other(150));
    night.limits.waiting_places = 0;
    let faults = refused(&night, &one_after_the_other(150), &[Rule::C9]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    accepted(&night, &plain_visit());
}

#[test]
fn c9_an_assistant_who_cleans_is_busy_with_it() {
    let mut night = assisted_night();
    night.limits.cleaned_by = CleanedBy::Assistant;
    accepted(&night, &assisted_visit());
    // Own removal in the other lane is not at once: cleaning, 10, comes first.
    let apart = |own: i64| {
        let mut rota = rota_of([Entry { assistant: Some(AL), ..entry(KB, 40, 120) }]);
        rota.posts = vec![post(AL, 100, own, 1, GH)];
        rota
    };
    night.limits.min_inside = 1;
    accepted(&night, &apart(150));
    let faults = refused(&night, &apart(145), &[Rule::A7]);
    assert_eq!(faults[0].what, "AL is still cleaning the lane at 21:25, when the own removal starts: 5 min short.");
    night.limits.cleaned_by = CleanedBy::Other;
    accepted(&night, &apart(145));
}

fn no_rest(night: &mut Night) {
    night.limits.rest = vec![vec![Minutes(0); 2]; 2];
    night.limits.ensembles[F.0].recovery = Minutes(0);
}

#[test]
fn c10_nobody_goes_back_in_before_the_last_item_is_off() {
    let mut night = plain_night();
    no_rest(&mut night);
    night.limits.min_inside = 1;
    let twice = |don| rota_of([entry(KB, 40, 120), entry_in_lane_two(KB, don, don + 80)]);
    accepted(&night, &twice(140));
    let faults = refused(&night, &twice(135), &[Rule::C10]);
    assert_eq!(faults[0].what, "KB starts donning at 21:15 before the last item is off at 21:20.");
}
