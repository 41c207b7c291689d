//! Nights made in code. Everyone and everything is invented.
//!
//! Times are whole minutes from the start of the shift, 18:00 on 4 March 2031: `t(120)` is 20:00.

use anteroom::check::{measure, review};
use anteroom::night::{
    Apart, Approval, CleanedBy, Clock, ConstraintSet, Ensemble, EnsembleIx, ExcludedPair, KitSize, KitStock, Lane,
    Minute, Minutes, Need, Night, Person, PersonIx, PersonalLimits, Presence, Relief, Role, Room, RoomIx, Roster,
    SignOff, Span, Task, WearFrom, WornIn,
};
use anteroom::plan::{Effort, Level, Planned, Watch, plan};
use chrono::NaiveDate;

use crate::levels::figure;

/// The entrants' ensemble.
pub const F: EnsembleIx = EnsembleIx(0);
/// The doffing-area kit.
pub const D: EnsembleIx = EnsembleIx(1);

/// The start of the shift plus so many minutes.
pub fn t(minutes: i64) -> Minute {
    Minute(32_173_560 + minutes)
}

pub fn span(from: i64, to: i64) -> Span {
    Span::new(t(from), t(to))
}

pub fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2031, month, day).expect("a day of the calendar")
}

/// A room ensemble with no respirator that is removed without an assistant:
/// sealed part, donning, removal and longest wear in minutes.
pub fn room_ensemble(sealed: i64, donning: i64, removal: i64, max_wear: i64) -> Ensemble {
    Ensemble {
        id: "F".into(),
        worn_in: WornIn::Room,
        respirators: vec![],
        fit_test: false,
        donning: Minutes(donning),
        sealed: Minutes(sealed),
        donning_watched: true,
        removal: Minutes(removal),
        removal_watched: true,
        assistant: false,
        max_wear: Minutes(max_wear),
        margin: Minutes(0),
        recovery: Minutes(0),
        cumulative_percent: 100,
    }
}

/// A doffing-area kit whose minutes count nothing in cumulative wear and whose donning nobody watches.
pub fn doffing_kit(sealed: i64, donning: i64, removal: i64, max_wear: i64) -> Ensemble {
    Ensemble {
        id: "D".into(),
        worn_in: WornIn::DoffingArea,
        donning_watched: false,
        removal_watched: false,
        cumulative_percent: 0,
        ..room_ensemble(sealed, donning, removal, max_wear)
    }
}

/// Nobody, one room for ten, no lanes, plenty of kits; rest 120 after the room, 0 after the doffing area.
pub fn empty_night(grid: i64, length: i64, room: Ensemble, doffing: Ensemble) -> Night {
    let limits = ConstraintSet {
        name: "limits of the tests".into(),
        example: true,
        sources: vec![],
        approval: Approval { by: "EXAMPLE, nobody".into(), on: day(1, 1), review_by: day(12, 31) },
        grid: Minutes(grid),
        wear_from: WearFrom::Sealed,
        cumulative_wear: Minutes(10_000),
        changeover: Minutes(0),
        shower: Minutes(0),
        shift_gap: Minutes(0),
        nights_in_a_row: None,
        week_max: None,
        recency: vec![],
        entries_max: None,
        inside_rest: vec![],
        min_inside: 1,
        relief: Relief::Either,
        overlap: Minutes(0),
        min_stay: Minutes(grid),
        donning_capacity: 2,
        waiting_places: 1,
        observer_ready: Minutes(0),
        observer_reset: Minutes(0),
        observer_kit: None,
        assistant_kit: None,
        cleaning: Minutes(10),
        spare: Minutes(0),
        coordinator: false,
        standby: None,
        early_exit: None,
        respirators: vec![],
        rolling_wear: vec![],
        low_hours: None,
        cleaned_by: CleanedBy::Other,
        watching: None,
        breaks: None,
        ensembles: vec![room, doffing],
        rest: vec![vec![Minutes(120), Minutes(0)], vec![Minutes(0), Minutes(0)]],
    };
    let kit = |ensemble| KitStock { ensemble, size: "M".into(), count: 1000, reserve: 0 };
    let roster = Roster {
        name: "roster of the tests".into(),
        example: true,
        constraint_set: "limits of the tests".into(),
        unit: "Larch".into(),
        clock: Clock::new(chrono_tz::UTC),
        shift: span(0, length),
        people: vec![],
        rooms: vec![Room { id: "1".into(), max_inside: 10 }],
        presence: vec![],
        skill_cover: vec![],
        tasks: vec![],
        lanes: vec![],
        kits: vec![kit(F), kit(D)],
        respirators: vec![],
        wear_log: vec![],
        wear_log_from: None,
        duty_log: vec![],
        duty_log_from: None,
        apart: vec![],
        huddles: vec![],
        pins: vec![],
        forbidden: vec![],
        break_windows: vec![],
        preferred_breaks: vec![],
        shower_places: None,
    };
    Night { roster, limits }
}

/// Adds so many people who are alike, on duty for the whole shift.
pub fn add_people(night: &mut Night, how_many: usize, roles: &[Role]) {
    for _ in 0..how_many {
        let id = format!("P{:02}", night.roster.people.len());
        let sign_offs =
            roles.iter().map(|&role| SignOff { role, valid_through: day(12, 31), last_done: None }).collect();
        night.roster.people.push(Person {
            id,
            on_duty: night.roster.shift,
            last_off_duty: None,
            last_removal: None,
            worn_before: Minutes(0),
            enter_today: true,
            doffing_area_today: true,
            sign_offs,
            fit_tests: vec![],
            kits: [F, D].map(|ensemble| KitSize { ensemble, size: "M".into() }).to_vec(),
            skills: vec![],
            own: PersonalLimits::default(),
        });
    }
}

pub fn add_lanes(night: &mut Night, how_many: usize) {
    for _ in 0..how_many {
        let id = (night.roster.lanes.len() + 1).to_string();
        night.roster.lanes.push(Lane { id, closures: vec![] });
    }
}

/// The person of that name.
#[track_caller]
pub fn person_called(night: &Night, id: &str) -> PersonIx {
    PersonIx(night.roster.people.iter().position(|p| p.id == id).expect("somebody has that name"))
}

/// Keeps two people apart in these ways.
#[track_caller]
pub fn keep_apart(night: &mut Night, one: &str, other: &str, scopes: &[Apart]) {
    let (one, other) = (person_called(night, one), person_called(night, other));
    night.roster.apart.push(ExcludedPair { one, other, scopes: scopes.to_vec() });
}

/// So many people are to be inside room 1 all the time.
pub fn presence(from: i64, to: i64, people: u32) -> Presence {
    Presence { room: RoomIx(0), span: span(from, to), people, class: 1 }
}

/// A must-do task of so many minutes for so many people, the same ones throughout, wanted as early as may be.
pub fn task(id: &str, window: (i64, i64), length: i64, people: u32) -> Task {
    Task {
        id: id.into(),
        room: RoomIx(0),
        window: span(window.0, window.1),
        wanted: t(window.0),
        length: Minutes(length),
        people,
        skill: None,
        need: Need::Must,
        same_people: true,
        extra: false,
    }
}

/// Follows nothing and never stops.
pub struct Unwatched;

impl Watch for Unwatched {
    fn progress(&mut self, _: i64, _: i64) {}
    fn stop(&self) -> bool {
        false
    }
}

/// Work enough for any night in these tests.
pub const AMPLE: Effort = Effort { work: 200_000, seconds: None };

/// Plans, and checks that the rota is clean and that the values reported are the ones the check measures.
#[track_caller]
pub fn planned(night: &Night, effort: Effort) -> Planned {
    let planned = plan(night, effort, &mut Unwatched);
    trusted(night, &planned);
    planned
}

/// The rota is clean, and every level's value is what the check measures and not below its bound.
#[track_caller]
pub fn trusted(night: &Night, planned: &Planned) {
    let review = review(night, &planned.rota);
    let faults: Vec<String> = review.faults.iter().map(|f| format!("{} {:?} {}", f.rule.id(), f.by, f.what)).collect();
    assert!(faults.is_empty(), "refused:\n{}\n{:#?}", faults.join("\n"), planned.rota);
    for result in &planned.levels {
        assert!(result.at_least <= result.value, "a bound above the value: {result:?}");
        if let Some(measured) = measured(night, planned, result.level) {
            assert_eq!(result.value, measured, "{:?} of {:#?}", result.level, planned.rota);
        }
    }
}

/// What the check measures at a level; the last tie-break is nobody's business but the planner's.
pub fn measured(night: &Night, planned: &Planned, level: Level) -> Option<i64> {
    figure(level, &measure(night, &planned.rota))
}

/// The value of a level.
#[track_caller]
pub fn value(planned: &Planned, level: Level) -> i64 {
    planned.levels.iter().find(|r| r.level == level).expect("the level matters tonight").value
}

/// Checks that a level came out at a figure and is proven best.
#[track_caller]
pub fn proven(planned: &Planned, level: Level, value: i64) {
    let result = planned.levels.iter().find(|r| r.level == level).expect("the level matters tonight");
    assert_eq!(result.value, value, "{:?} in {:#?}", level, planned.levels);
    assert!(result.proven(), "not proven: {:#?}", planned.levels);
}

/// Minutes in the entrants' ensemble of one person, from sealing.
pub fn wear_of(night: &Night, planned: &Planned, person: PersonIx) -> i64 {
    let before = night.limits.donning_before_wear(F).expect("wear counts from sealing");
    let own = planned.rota.entries.iter().filter(|e| e.person == person);
    own.map(|e| (e.off - (e.don + before)).0).sum()
}
