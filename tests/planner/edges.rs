//! Nights at the edge of sense: there is always a clean rota, and never a panic.

use anteroom::check::review;
use anteroom::explain::explain;
use anteroom::night::{
    BreakTaken, EarlyExit, LoggedDuty, LowHours, Minutes, Night, PersonIx, Recency, Role, RoomIx, SkillCover, Span,
    Standby,
};
use anteroom::plan::{Effort, Level, Planned};

use crate::nights::*;

const ENOUGH: Effort = Effort { work: 20_000, seconds: None };

/// Presence of one for an hour, two entrants, one lane, one observer of each sort; donning and removal 20.
fn simple() -> Night {
    let mut night = empty_night(10, 160, room_ensemble(10, 20, 20, 120), doffing_kit(5, 10, 10, 120));
    night.roster.presence = vec![presence(20, 80, 1)];
    add_lanes(&mut night, 1);
    add_people(&mut night, 2, &[Role::Entrant]);
    add_people(&mut night, 1, &[Role::DonningObserver]);
    add_people(&mut night, 1, &[Role::DoffingObserver]);
    night
}

/// The night changed in one way, planned.
fn with(change: impl FnOnce(&mut Night)) -> Planned {
    let mut night = simple();
    change(&mut night);
    planned(&night, ENOUGH)
}

#[track_caller]
fn nobody_enters(found: &Planned) {
    assert!(found.rota.entries.is_empty() && found.rota.posts.is_empty(), "{:#?}", found.rota);
    proven(found, Level::Uncovered(1), 60);
    proven(found, Level::LongestStretch(1), 60);
}

#[test]
fn the_simple_night_is_covered() {
    let found = with(|_| {});
    proven(&found, Level::Uncovered(1), 0);
    proven(&found, Level::Removals, 1);
}

#[test]
fn zero_staff() {
    nobody_enters(&with(|night| night.roster.people.clear()));
}

#[test]
fn zero_demand() {
    let found = with(|night| night.roster.presence.clear());
    assert!(found.rota.entries.is_empty());
    proven(&found, Level::Removals, 0);
}

#[test]
fn one_entrant_where_two_go_in() {
    nobody_enters(&with(|night| {
        night.limits.min_inside = 2;
        night.roster.people.remove(0);
    }));
}

#[test]
fn no_observer_of_removals() {
    nobody_enters(&with(|night| night.roster.people.truncate(3)));
}

#[test]
fn no_observer_of_donnings() {
    nobody_enters(&with(|night| {
        night.roster.people.remove(2);
    }));
}

#[test]
fn no_lanes() {
    nobody_enters(&with(|night| night.roster.lanes.clear()));
}

#[test]
fn no_rooms() {
    let found = with(|night| {
        night.roster.rooms.clear();
        night.roster.presence.clear();
    });
    assert!(found.rota.entries.is_empty());
}

#[test]
fn no_kits() {
    nobody_enters(&with(|night| night.roster.kits.clear()));
}

#[test]
fn all_kits_in_reserve() {
    nobody_enters(&with(|night| night.roster.kits[F.0].reserve = 5_000));
}

#[test]
fn removal_as_long_as_the_longest_wear() {
    nobody_enters(&with(|night| night.limits.ensembles[F.0].removal = Minutes(120)));
    nobody_enters(&with(|night| night.limits.ensembles[F.0].removal = Minutes(200)));
}

#[test]
fn margin_larger_than_the_longest_wear() {
    nobody_enters(&with(|night| night.limits.ensembles[F.0].margin = Minutes(130)));
}

#[test]
fn shift_shorter_than_a_donning() {
    let found = with(|night| {
        night.roster.shift = span(0, 10);
        night.roster.presence = vec![presence(0, 10, 1)];
    });
    assert!(found.rota.entries.is_empty());
    proven(&found, Level::Uncovered(1), 10);
}

#[test]
fn shift_of_no_length() {
    let found = with(|night| {
        night.roster.shift = span(0, 0);
        night.roster.presence.clear();
    });
    assert!(found.rota.entries.is_empty());
}

#[test]
fn nobody_on_duty_in_the_shift() {
    nobody_enters(&with(|night| {
        for person in &mut night.roster.people {
            person.on_duty = span(1_000, 2_000);
        }
    }));
}

#[test]
fn off_duty_inside_a_removal() {
    // Off duty at 90: the last item is off by 90, so the door-out is at 70 and 10 minutes are short.
    let off = |night: &mut Night| night.roster.people[..2].iter_mut().for_each(|p| p.on_duty = span(0, 90));
    proven(&with(off), Level::Uncovered(1), 10);
    // With a shower of 15 the last item is off by 75: on the grid by 70, out by 50.
    let found = with(|night| {
        off(night);
        night.limits.shower = Minutes(15);
    });
    proven(&found, Level::Uncovered(1), 30);
}

/// The simple night at the end of 4 March: minute 100 of the shift is midnight.
fn before_midnight(role: Role, change: impl FnOnce(&mut Night)) -> Planned {
    with(|night| {
        let by = Minutes(260);
        let later = |span: &mut Span| *span = Span::new(span.from + by, span.to + by);
        later(&mut night.roster.shift);
        night.roster.people.iter_mut().for_each(|p| later(&mut p.on_duty));
        night.roster.presence.iter_mut().for_each(|p| later(&mut p.span));
        for sign_off in night.roster.people.iter_mut().flat_map(|p| &mut p.sign_offs) {
            if sign_off.role == role {
                sign_off.valid_through = day(3, 4);
            }
        }
        change(night);
    })
}

#[test]
fn sign_off_that_ends_at_midnight() {
    for role in [Role::Entrant, Role::DoffingObserver] {
        // Out at minute 80, last item off at 100: exactly midnight, which is in date.
        proven(&before_midnight(role, |_| {}), Level::Uncovered(1), 0);
        // Ten minutes later than that it is not: everything moves ten earlier and ten minutes are short.
        let found = before_midnight(role, |night| night.roster.presence[0].span.to = t(350));
        proven(&found, Level::Uncovered(1), 10);
    }
}

/// 1 March less 28 days of February: done on 2 February with 30 days it is good through 4 March.
#[test]
fn what_was_last_done_ends_at_midnight() {
    let lately = |role, done, to| {
        before_midnight(Role::Coordinator, |night| {
            night.limits.recency = vec![Recency { role, days: 30 }];
            let all = night.roster.people.iter_mut().flat_map(|p| &mut p.sign_offs);
            all.for_each(|s| s.last_done = done);
            night.roster.presence[0].span.to = t(to);
        })
    };
    for role in [Role::Entrant, Role::DoffingObserver] {
        let done = Some(day(2, 2));
        proven(&lately(role, done, 340), Level::Uncovered(1), 0);
        proven(&lately(role, done, 350), Level::Uncovered(1), 10);
        proven(&lately(role, Some(day(2, 3)), 350), Level::Uncovered(1), 0);
        // A day before, and a day that nobody knows: nobody goes in.
        for done in [Some(day(2, 1)), None] {
            proven(&lately(role, done, 340), Level::Uncovered(1), 60);
        }
    }
}

/// The only two observers come out of tonight with a full week: nobody is let in who could not be got out.
#[test]
fn a_week_that_is_full() {
    let full = |log: i64| {
        with(|night| {
            night.limits.week_max = Some(Minutes(40 * 60));
            // Tonight is 160 minutes; a log of 37 h 20 min makes 40 h of it.
            for (person, days) in [(2, 1), (3, 2)] {
                let span = span(-days * 1440 - log, -days * 1440);
                night.roster.duty_log.push(LoggedDuty { person: PersonIx(person), span });
            }
        })
    };
    proven(&full(37 * 60 + 20), Level::Uncovered(1), 0);
    nobody_enters(&full(37 * 60 + 21));
}

#[test]
fn a_stay_exactly_as_long_as_can_be() {
    // 120 - 10 sealed - 20 removal = 90.
    let stay = |length| {
        with(|night| {
            night.roster.shift = span(0, 300);
            night.roster.people.iter_mut().for_each(|p| p.on_duty = span(0, 300));
            night.roster.presence.clear();
            night.roster.tasks = vec![task("T", (20, 250), length, 1)];
        })
    };
    proven(&stay(90), Level::MustMissed, 0);
    proven(&stay(100), Level::MustMissed, 1);
}

#[test]
fn people_who_are_alike_are_planned_alike_every_time() {
    let mut night = simple();
    night.roster.presence[0].people = 2;
    night.limits.waiting_places = 2;
    let found = planned(&night, ENOUGH);
    assert!(found == planned(&night, ENOUGH));
    // The two entrants are the same person but for the name: swapping the names swaps nothing else.
    night.roster.people.swap(0, 1);
    assert!(found == planned(&night, ENOUGH));
    let both: Vec<PersonIx> = found.rota.entries.iter().map(|e| e.person).collect();
    assert_eq!(both.len(), 2);
}

#[test]
fn breaks_that_nobody_can_have() {
    nobody_enters(&with(|night| {
        let (length, work_max) = (Minutes(200), Minutes(30));
        night.limits.breaks = Some(anteroom::night::Breaks { length, work_max, recovery_counts: false });
    }));
}

#[test]
fn figures_as_large_as_a_day() {
    nobody_enters(&with(|night| {
        night.limits.ensembles[F.0].donning = Minutes(1_440);
        night.limits.rest[F.0][F.0] = Minutes(100_000);
        night.limits.changeover = Minutes(1_440);
        night.limits.cleaning = Minutes(1_440);
        night.limits.observer_ready = Minutes(1_440);
    }));
}

#[test]
fn a_skill_that_is_missing_is_a_gap_with_who_is_short_and_what_closes_it() {
    let mut night = empty_night(10, 200, room_ensemble(10, 20, 20, 150), doffing_kit(5, 10, 15, 120));
    night.roster.presence = vec![presence(40, 100, 1)];
    let cover = SkillCover { room: RoomIx(0), span: span(50, 90), skill: "airway".into(), people: 1 };
    night.roster.skill_cover = vec![cover];
    add_lanes(&mut night, 2);
    add_people(&mut night, 1, &[Role::Entrant]);
    add_people(&mut night, 1, &[Role::DonningObserver]);
    add_people(&mut night, 2, &[Role::DoffingObserver]);
    let found = planned(&night, AMPLE);
    proven(&found, Level::Uncovered(1), 0);
    proven(&found, Level::SkillMissing, 40);
    let gaps = explain(&night, &found.rota, &review(&night, &found.rota)).gaps;
    assert_eq!(gaps.len(), 1);
    assert_eq!((gaps[0].word(), gaps[0].span, gaps[0].short), ("SKILL MISSING", span(50, 90), Some((1, 0))));
    assert_eq!(gaps[0].what, "Nobody free may go in. Not: P00 (not the skill).");
    let fix = gaps[0].fix.as_deref().expect("a fix was looked for");
    assert!(fix.starts_with("one more entrant ") && fix.ends_with(": closes it, tried"), "{fix}");
    // Whoever has it goes in.
    night.roster.people[0].skills.push("airway".into());
    proven(&planned(&night, AMPLE), Level::SkillMissing, 0);
}

#[test]
fn a_supervised_entrant_without_a_preceptor_stays_out_and_the_gap_says_so() {
    let mut night = simple();
    for person in 0..2 {
        night.roster.people[person].sign_offs[0].role = Role::SupervisedEntrant;
    }
    let found = planned(&night, AMPLE);
    assert!(found.rota.entries.is_empty());
    let told = explain(&night, &found.rota, &review(&night, &found.rota));
    let what = "Nobody may go in alone then. Supervised, and without a preceptor free for each: P00 and P01.";
    assert_eq!(told.gaps[0].what, what);
    let fix = told.gaps[0].fix.as_deref().expect("a fix was looked for");
    assert!(fix.starts_with("one more preceptor ") && fix.ends_with(": closes it, tried"), "{fix}");
    let may = "may do no duty; not enter beside a preceptor (A5 supervised only beside a preceptor)";
    assert_eq!(told.eligibility[0].1, may);
}

/// One entrant and one observer of each sort; presence of one for an hour, with time to spare around it.
fn one_to_go_in() -> Night {
    let mut night = empty_night(10, 200, room_ensemble(10, 20, 20, 180), doffing_kit(5, 10, 15, 120));
    night.roster.presence = vec![presence(30, 90, 1)];
    add_lanes(&mut night, 1);
    add_people(&mut night, 1, &[Role::Entrant]);
    add_people(&mut night, 1, &[Role::DonningObserver]);
    add_people(&mut night, 1, &[Role::DoffingObserver]);
    night
}

#[test]
fn no_rescue_is_said_where_the_unit_reports_it() {
    // One entrant, and nobody who could go in for them: the unit reports that instead of keeping the room empty.
    let mut night = one_to_go_in();
    night.limits.standby = Some(Standby { responders: 1, report: true });
    let found = planned(&night, AMPLE);
    // Level 1 comes before presence: nobody goes in at all.
    proven(&found, Level::RescueMissing, 0);
    proven(&found, Level::Uncovered(1), 60);
    // A rota made by hand that goes in all the same is told so.
    night.limits.standby = None;
    let went_in = planned(&night, AMPLE).rota;
    night.limits.standby = Some(Standby { responders: 1, report: true });
    let review = review(&night, &went_in);
    let explained = explain(&night, &went_in, &review);
    let words: Vec<&str> = explained.gaps.iter().map(anteroom::explain::Gap::word).collect();
    assert_eq!(words, ["NO RESCUE"]);
    assert_eq!(explained.gaps[0].span, span(30, 90));
}

#[test]
fn no_rescue_is_said_where_nobody_could_see_to_an_early_exit() {
    // The only observer of removals has a break of 30 minutes while two are inside.
    let mut night = one_to_go_in();
    night.limits.early_exit = Some(EarlyExit { within: Minutes(10), report: true });
    let mut found = planned(&night, AMPLE);
    proven(&found, Level::RescueMissing, 0);
    proven(&found, Level::Uncovered(1), 0);
    found.rota.breaks.push(BreakTaken { person: PersonIx(2), span: span(40, 70) });
    let review = review(&night, &found.rota);
    let explained = explain(&night, &found.rota, &review);
    let gap = &explained.gaps[0];
    assert_eq!((gap.word(), gap.span), ("NO RESCUE", span(40, 60)));
    assert_eq!(gap.what, "Whoever comes out early is not seen to within 10 min: no lane and observer free together.");
}

#[test]
fn whoever_would_dress_for_an_early_exit_keeps_to_the_wear_of_low_hours() {
    // Dressed just before: sealed 5 + removal 20 + own 15 = 40. Where low hours, 40 to 70, allow 35,
    // nobody can wear the kit in them: to dress from 70 is the soonest, for a removal at 80, in time for whoever is in
    // the room from 80 - 20 = 60. So 30 to 60 stays uncovered.
    let within = |low: i64| {
        let mut night = one_to_go_in();
        night.limits.ensembles[F.0].assistant = true;
        night.limits.assistant_kit = Some(D);
        night.limits.early_exit = Some(EarlyExit { within: Minutes(20), report: false });
        add_people(&mut night, 3, &[Role::Assistant, Role::DoffingObserver]);
        add_lanes(&mut night, 1);
        let clock = night.roster.clock;
        night.limits.low_hours = Some(LowHours {
            from: clock.local(t(40)).time(),
            to: clock.local(t(70)).time(),
            watch_max: Minutes(200),
            max_wear: vec![Minutes(180), Minutes(low)],
        });
        night
    };
    proven(&planned(&within(60), AMPLE), Level::Uncovered(1), 0);
    proven(&planned(&within(35), AMPLE), Level::Uncovered(1), 30);
}
