//! D1-D5: the room, relief, presence, tasks, and the measures.

use anteroom::check::{By, Shortage, SkillShortage, TaskOutcome, review};
use anteroom::night::{
    Entry, LaneIx, Minutes, Need, Night, PersonIx, Presence, Room, RoomIx, Rota, Rule, SkillCover, Task, TaskDone,
    TaskIx,
};

use crate::common::*;

/// KB and MR 20:00-21:00, relieved by JT and PS from `relief`, helpers enough.
fn relief(night: &mut Night, relief: i64) -> Rota {
    night.limits.inside_rest.clear();
    rota_of(pair(KB, MR, 40, 120).into_iter().chain(pair(JT, PS, relief - 20, 200)))
}

#[test]
fn d1_nobody_is_left_alone_even_for_one_step() {
    let mut night = plain_night();
    night.limits.waiting_places = 2;
    let mut rota = plain_visit();
    accepted(&night, &rota);
    rota.entries[1].door_out = t(115);
    let faults = refused(&night, &rota, &[Rule::D1]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    assert_eq!(faults[0].what, "Room 1 has 1 inside 20:55-21:00, 1 too few: KB.");
}

#[test]
fn d1_one_may_be_inside_alone_where_the_unit_says_so() {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    accepted(&night, &rota_of([entry(KB, 40, 120)]));
}

#[test]
fn d2_two_and_two_in_overlap_need_room_for_four() {
    let mut night = plain_night();
    let rota = relief(&mut night, 110);
    accepted(&night, &rota);
    night.roster.rooms[0].max_inside = 3;
    let faults = refused(&night, &rota, &[Rule::D2]);
    assert_eq!(faults[0].by, Some(By::Count(1)));
    assert_eq!(faults[0].what, "Room 1 has 4 inside 20:50-21:00, 1 too many: KB, MR, JT, PS.");
}

#[test]
fn d3_relief_is_inside_for_the_overlap() {
    let mut night = plain_night();
    night.roster.presence = vec![presence(60, 200, 2)];
    let rota = relief(&mut night, 110);
    accepted(&night, &rota);
    let rota = relief(&mut night, 115);
    let faults = refused(&night, &rota, &[Rule::D3]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
    assert_eq!(faults[0].what, "KB leaves at 21:00, PS came at 20:55: 5 min of overlap missing.");
}

#[test]
fn d3_nothing_is_asked_at_the_end_of_the_demand_or_before_a_gap() {
    let mut night = plain_night();
    let rota = relief(&mut night, 120);
    night.roster.presence = vec![presence(60, 120, 2)];
    accepted(&night, &rota);
    let rota = relief(&mut night, 140);
    night.roster.presence = vec![presence(60, 200, 2)];
    let found = accepted(&night, &rota);
    assert_eq!(found.measures.uncovered[&1], Minutes(40));
}

#[test]
fn d4_person_minutes_and_stretches() {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    let class_two = Presence { class: 2, ..presence(200, 230, 1) };
    night.roster.presence = vec![presence(50, 150, 2), class_two];
    let mut rota = plain_visit();
    rota.entries[1] = entry_in_lane_two(MR, 40, 110);
    let found = accepted(&night, &rota);
    let short = |from, to, required, present, class| Shortage {
        span: span(from, to),
        room: RoomIx(0),
        class,
        required,
        present,
    };
    // 50-60 both missing, 60-110 nobody missing, 110-120 one missing, 120-150 both missing.
    assert_eq!(
        found.shortages,
        [short(50, 60, 2, 0, 1), short(110, 120, 2, 1, 1), short(120, 150, 2, 0, 1), short(200, 230, 1, 0, 2)]
    );
    assert_eq!(found.measures.uncovered[&1], Minutes(20 + 10 + 60));
    assert_eq!(found.measures.longest[&1], Minutes(40));
    assert_eq!((found.measures.uncovered[&2], found.measures.longest[&2]), (Minutes(30), Minutes(30)));
}

#[test]
fn d4_each_class_has_a_key_and_rooms_are_measured_apart() {
    let mut night = plain_night();
    night.roster.rooms.push(Room { id: "2".into(), max_inside: 4 });
    night.roster.presence = vec![presence(60, 120, 2), Presence { room: RoomIx(1), ..presence(120, 150, 2) }];
    let found = review(&night, &Rota::default());
    // Room 1 is short to 120 and room 2 from then on: two runs, not one.
    assert_eq!(found.measures.longest[&1], Minutes(60));
    assert_eq!(accepted(&night, &plain_visit()).measures.uncovered[&1], Minutes(60));
    night.roster.presence.truncate(1);
    assert_eq!(accepted(&night, &plain_visit()).measures.uncovered[&1], Minutes(0));
}

fn line_change() -> Task {
    Task {
        id: "line change".into(),
        room: RoomIx(0),
        window: span(60, 200),
        wanted: t(70),
        length: Minutes(40),
        people: 2,
        skill: Some("line".into()),
        need: Need::Must,
        same_people: true,
        extra: false,
    }
}

fn task_night() -> Night {
    let mut night = plain_night();
    night.roster.tasks = vec![line_change()];
    for who in [KB, MR] {
        night.roster.people[who.0].skills = vec!["line".into()];
    }
    night
}

fn with_task(start: i64) -> Rota {
    let mut rota = plain_visit();
    rota.tasks = vec![TaskDone { task: TaskIx(0), start: t(start) }];
    rota
}

#[test]
fn d5_a_task_has_its_people_to_its_last_minute() {
    let night = task_night();
    let found = accepted(&night, &with_task(80));
    assert_eq!(found.tasks, [(TaskIx(0), TaskOutcome::Done { late: Minutes(10) })]);
    assert_eq!((found.measures.must_missed, found.measures.must_late), (0, Minutes(10)));
    let faults = refused(&night, &with_task(85), &[Rule::D5]);
    assert_eq!(
        faults[0].what,
        "Task line change is listed 20:25-21:05 but not done: too few are inside for it at 21:00."
    );
    let found = review(&night, &with_task(85));
    assert_eq!(found.tasks, [(TaskIx(0), TaskOutcome::Missed)]);
    assert_eq!((found.measures.must_missed, found.measures.must_late), (1, Minutes(0)));
}

#[test]
fn d5_a_task_lies_in_its_window() {
    let mut night = task_night();
    night.roster.tasks[0].window = span(70, 110);
    accepted(&night, &with_task(70));
    refused(&night, &with_task(65), &[Rule::D5]);
    refused(&night, &with_task(75), &[Rule::D5]);
}

#[test]
fn d5_a_task_has_its_skill() {
    let mut night = task_night();
    night.roster.people[MR.0].skills.clear();
    refused(&night, &with_task(70), &[Rule::D5]);
    night.roster.tasks[0].people = 1;
    accepted(&night, &with_task(70));
    night.roster.tasks[0].skill = None;
    night.roster.tasks[0].people = 2;
    accepted(&night, &with_task(70));
}

#[test]
fn d5_an_extra_task_needs_people_on_top_of_the_presence() {
    let mut night = task_night();
    night.roster.presence = vec![presence(60, 120, 1)];
    night.roster.tasks[0].people = 1;
    night.roster.tasks[0].extra = true;
    accepted(&night, &with_task(80));
    night.roster.presence[0].people = 2;
    refused(&night, &with_task(80), &[Rule::D5]);
    night.roster.tasks[0].extra = false;
    accepted(&night, &with_task(80));
}

#[test]
fn d5_the_same_people_where_the_task_wants_them() {
    let mut night = task_night();
    for who in [JT, PS] {
        night.roster.people[who.0].skills = vec!["line".into()];
    }
    let mut rota = relief(&mut night, 110);
    rota.tasks = vec![TaskDone { task: TaskIx(0), start: t(100) }];
    refused(&night, &rota, &[Rule::D5]);
    night.roster.tasks[0].same_people = false;
    accepted(&night, &rota);
    rota.tasks[0].start = t(110);
    night.roster.tasks[0].same_people = true;
    accepted(&night, &rota);
}

#[test]
fn d5_a_task_is_listed_once_and_one_that_is_not_listed_is_missed() {
    let mut night = task_night();
    night.roster.tasks.push(Task { id: "wash".into(), need: Need::Wanted, skill: None, ..line_change() });
    let mut rota = with_task(70);
    let found = accepted(&night, &rota);
    assert_eq!(found.tasks[1], (TaskIx(1), TaskOutcome::Missed));
    assert_eq!((found.measures.must_missed, found.measures.wanted_missed), (0, 1));
    rota.tasks.push(rota.tasks[0]);
    let faults = refused(&night, &rota, &[Rule::D5]);
    assert_eq!(faults[0].what, "Task line change is listed twice.");
}

#[test]
fn the_load_of_a_helper_is_time_on_post_and_time_watching() {
    let night = assisted_night();
    let found = accepted(&night, &assisted_visit());
    // AL is on post 100-155: 55. DW watches 115-160: 45. EN watches two donnings 40-60: 20.
    assert_eq!(found.measures.largest_load, Minutes(55));
    assert_eq!((found.measures.removals, found.measures.helper_removals), (2, 2));
}

#[test]
fn an_empty_rota_is_no_fault_and_all_care_is_a_gap() {
    let mut night = plain_night();
    night.roster.people.clear();
    night.roster.presence = vec![presence(0, 100, 2)];
    let found = accepted(&night, &Rota::default());
    assert_eq!(found.measures.uncovered[&1], Minutes(200));
    assert!(found.not_checked.iter().any(|n| n.what.starts_with("C8")));
}

#[test]
fn two_rooms_share_the_lanes_and_the_waiting_places() {
    let mut night = plain_night();
    night.limits.min_inside = 1;
    night.roster.rooms.push(Room { id: "2".into(), max_inside: 4 });
    let elsewhere = Entry { room: RoomIx(1), removal: t(150), off: t(170), ..entry(MR, 40, 120) };
    accepted(&night, &rota_of([entry(KB, 40, 120), elsewhere.clone()]));
    let other_lane = Entry { lane: Some(LaneIx(1)), observer: Some(GH), ..elsewhere };
    let rota = rota_of([entry(KB, 40, 120), Entry { removal: t(120), off: t(140), ..other_lane }]);
    accepted(&night, &rota);
}

fn skilled(night: &mut Night, person: PersonIx) {
    night.roster.people[person.0].skills.push("airway".into());
}

#[test]
fn d6_a_skill_is_inside_in_every_minute_asked_for() {
    let mut night = plain_night();
    skilled(&mut night, KB);
    let cover = SkillCover { room: RoomIx(0), span: span(60, 120), skill: "airway".into(), people: 1 };
    night.roster.skill_cover = vec![cover.clone()];
    // KB and MR are inside from minute 60 to minute 120.
    let found = accepted(&night, &plain_visit());
    assert_eq!((found.skill_shortages.len(), found.measures.skill_missing), (0, Minutes(0)));
    let short = |from, to, present| SkillShortage {
        span: span(from, to),
        room: RoomIx(0),
        skill: "airway".into(),
        required: 2,
        present,
    };
    // One person more, and five minutes longer: 60 x 1 and 5 x 2.
    night.roster.skill_cover = vec![SkillCover { span: span(60, 125), people: 2, ..cover }];
    let found = accepted(&night, &plain_visit());
    assert_eq!(found.skill_shortages, [short(60, 120, 1), short(120, 125, 0)]);
    assert_eq!(found.measures.skill_missing, Minutes(70));
}

#[test]
fn d6_another_room_does_not_count_and_one_person_covers_two_skills() {
    let mut night = plain_night();
    skilled(&mut night, KB);
    night.roster.people[KB.0].skills.push("lines".into());
    let cover = |skill: &str| SkillCover { room: RoomIx(0), span: span(60, 120), skill: skill.into(), people: 1 };
    night.roster.skill_cover = vec![cover("airway"), cover("lines")];
    assert_eq!(accepted(&night, &plain_visit()).measures.skill_missing, Minutes(0));
    night.roster.rooms.push(Room { id: "2".into(), max_inside: 4 });
    night.roster.skill_cover[1].room = RoomIx(1);
    assert_eq!(accepted(&night, &plain_visit()).measures.skill_missing, Minutes(60));
}
