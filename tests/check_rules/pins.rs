//! H6: pins and what is forbidden.

use anteroom::check::review;
use anteroom::night::{Forbidden, Need, Night, Pin, PinTo, Role, RoomIx, Rota, Rule, Task, TaskDone, TaskIx};

use crate::common::*;

fn night() -> Night {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night
}

/// KB dressed 19:40-21:20, watched by DW to 21:25, reset included; EN watches the donning to 20:00.
fn alone() -> Rota {
    rota_of([entry(KB, 40, 120)])
}

fn forbidding(person: anteroom::night::PersonIx, role: Role, from: i64, to: i64) -> Night {
    let mut night = night();
    night.roster.forbidden.push(Forbidden { person, roles: vec![role], span: span(from, to) });
    night
}

#[test]
fn h6_a_forbidden_duty_may_touch_the_time_and_not_share_a_minute() {
    for (person, role, from, to) in
        [(KB, Role::Entrant, 40, 140), (EN, Role::DonningObserver, 40, 60), (DW, Role::DoffingObserver, 115, 145)]
    {
        accepted(&forbidding(person, role, from - 60, from), &alone());
        accepted(&forbidding(person, role, to, to + 60), &alone());
        refused(&forbidding(person, role, from - 60, from + 1), &alone(), &[Rule::H6]);
        let faults = refused(&forbidding(person, role, to - 1, to + 60), &alone(), &[Rule::H6]);
        assert_eq!(faults[0].people, [person]);
    }
}

#[test]
fn h6_other_duties_stay_allowed() {
    accepted(&forbidding(KB, Role::DoffingObserver, 0, 700), &alone());
    accepted(&forbidding(DW, Role::DonningObserver, 0, 700), &alone());
}

#[test]
fn h6_an_assistant_is_forbidden_the_whole_post() {
    let mut night = assisted_night();
    night.roster.forbidden.push(Forbidden { person: AL, roles: vec![Role::Assistant], span: span(0, 60) });
    let rota = assisted_visit();
    let post = &rota.posts[0];
    let forbid = |night: &mut Night, to| night.roster.forbidden[0].span = anteroom::night::Span::new(t(0), to);
    night.roster.forbidden[0].person = post.person;
    forbid(&mut night, post.don);
    accepted(&night, &rota);
    forbid(&mut night, post.don + anteroom::night::Minutes(1));
    refused(&night, &rota, &[Rule::H6]);
}

/// A task from 20:00 on.
fn line_change(length: i64) -> Task {
    Task {
        id: "line change".into(),
        room: RoomIx(0),
        window: span(60, 200),
        wanted: t(60),
        length: anteroom::night::Minutes(length),
        people: 1,
        skill: None,
        need: Need::Must,
        same_people: false,
        extra: false,
    }
}

fn pinned(to: PinTo) -> u32 {
    let mut night = night();
    night.roster.tasks.push(line_change(60));
    night.roster.pins.push(Pin { person: KB, to });
    let mut rota = alone();
    rota.tasks.push(TaskDone { task: TaskIx(0), start: t(60) });
    review(&night, &rota).measures.pins_missed
}

#[test]
fn h6_a_pin_is_kept_to_the_minute() {
    for (at, missed) in [(55, 1), (60, 0), (65, 1)] {
        assert_eq!(pinned(PinTo::Entry { room: RoomIx(0), door_in: t(at) }), missed, "{at}");
    }
}

#[test]
fn h6_a_pin_to_a_task_is_kept_by_being_inside_throughout() {
    assert_eq!(pinned(PinTo::Task(TaskIx(0))), 0);
}

#[test]
fn h6_a_pin_to_a_task_is_missed_by_coming_out_before_its_end() {
    let mut night = night();
    night.roster.tasks.push(line_change(65));
    night.roster.pins.push(Pin { person: KB, to: PinTo::Task(TaskIx(0)) });
    // MR relieves KB a grid step before the task ends: the task is done, and not by KB throughout.
    let mut rota = rota_of([entry(KB, 40, 120), entry_in_lane_two(MR, 60, 180)]);
    rota.tasks.push(TaskDone { task: TaskIx(0), start: t(60) });
    let found = review(&night, &rota);
    assert_eq!((found.measures.must_missed, found.measures.pins_missed), (0, 1));
}
