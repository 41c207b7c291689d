//! A night made by hand for the tests of what is shown: unit, people and figures are invented.

use std::collections::BTreeMap;

use anteroom::check::{By, Fault, Measures, NotChecked, Review, Shortage, TaskOutcome};
use anteroom::explain::{Explained, Gap, Severity};
use anteroom::night::{
    Approval, BreakTaken, Breaks, CleanDuty, CleanedBy, Clock, ConstraintSet, Ensemble, EnsembleIx, Entry, KitSize,
    KitStock, Lane, LaneIx, Minute, Minutes, Need, Night, Person, PersonIx, PersonalLimits, Post, PostRole, Presence,
    Relief, Room, RoomIx, Roster, Rota, Rule, Span, Task, TaskDone, TaskIx, Watching, WearFrom, WornIn,
};
use anteroom::plan::{Ended, Level, LevelResult};
use anteroom::show::{Search, View};
use chrono::NaiveDate;

/// 2031-03-04T19:00Z, which is 19:00 in London.
pub const START: Minute = Minute(32_173_620);

const F: EnsembleIx = EnsembleIx(0);
const D: EnsembleIx = EnsembleIx(1);

/// Minutes after midnight of 4 March 2031; hours go past 24.
pub fn at(hours: i64, minutes: i64) -> Minute {
    Minute(START.0 + (hours - 19) * 60 + minutes)
}

pub fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a day of the calendar")
}

/// Everything a [`View`] looks at.
pub struct Larch {
    pub night: Night,
    pub rota: Rota,
    pub review: Review,
    pub out_by: Vec<Minute>,
    pub explained: Explained,
    pub levels: Vec<LevelResult>,
    pub ended: Ended,
}

impl Larch {
    pub fn new() -> Self {
        let night = Night { roster: roster(), limits: limits() };
        Self {
            rota: rota(&night),
            night,
            review: review(),
            out_by: vec![at(22, 20), at(22, 40), at(25, 0), at(25, 0)],
            explained: explained(),
            levels: levels(),
            ended: Ended::ByItself,
        }
    }

    /// The same night at another time.
    pub fn move_by(&mut self, by: Minutes) {
        let move_span = |span: &mut Span| *span = Span::new(span.from + by, span.to + by);
        let roster = &mut self.night.roster;
        move_span(&mut roster.shift);
        roster.people.iter_mut().for_each(|p| move_span(&mut p.on_duty));
        self.explained.gaps.iter_mut().for_each(|g| move_span(&mut g.span));
        self.rota.breaks.iter_mut().for_each(|b| move_span(&mut b.span));
        self.rota.tasks.iter_mut().for_each(|t| t.start = t.start + by);
        for e in &mut self.rota.entries {
            for time in [&mut e.don, &mut e.door_in, &mut e.door_out, &mut e.removal, &mut e.off] {
                *time = *time + by;
            }
        }
        for p in &mut self.rota.posts {
            (p.don, p.removal, p.off) = (p.don + by, p.removal + by, p.off + by);
        }
        self.out_by.iter_mut().for_each(|at| *at = *at + by);
    }

    pub fn view(&self) -> View<'_> {
        View {
            night: &self.night,
            rota: &self.rota,
            review: &self.review,
            out_by: &self.out_by,
            explained: &self.explained,
            search: Some(Search { levels: &self.levels, ended: self.ended }),
            today: day(2031, 3, 4),
        }
    }
}

pub fn limits() -> ConstraintSet {
    ConstraintSet {
        name: "temperate v1".into(),
        example: true,
        sources: vec!["invented for the example rosters".into()],
        approval: Approval { by: "EXAMPLE, nobody".into(), on: day(2031, 1, 10), review_by: day(2032, 1, 10) },
        grid: Minutes(5),
        wear_from: WearFrom::Sealed,
        cumulative_wear: Minutes(360),
        changeover: Minutes(5),
        shower: Minutes(15),
        shift_gap: Minutes(660),
        nights_in_a_row: None,
        week_max: None,
        recency: vec![],
        entries_max: Some(2),
        inside_rest: vec![CleanDuty::DonningObserver],
        min_inside: 2,
        relief: Relief::Either,
        overlap: Minutes(10),
        min_stay: Minutes(15),
        donning_capacity: 2,
        waiting_places: 2,
        observer_ready: Minutes(5),
        observer_reset: Minutes(5),
        observer_kit: None,
        assistant_kit: Some(D),
        cleaning: Minutes(10),
        spare: Minutes(0),
        coordinator: false,
        standby: None,
        early_exit: None,
        respirators: vec![],
        rolling_wear: vec![],
        low_hours: None,
        cleaned_by: CleanedBy::Other,
        watching: Some(Watching { max: Minutes(120), pause: Minutes(15) }),
        breaks: Some(Breaks { length: Minutes(30), work_max: Minutes(360), recovery_counts: false }),
        ensembles: vec![full_kit(), doffing_kit()],
        rest: vec![vec![Minutes(120), Minutes(60)], vec![Minutes(30), Minutes(15)]],
    }
}

fn full_kit() -> Ensemble {
    Ensemble {
        id: "F".into(),
        worn_in: WornIn::Room,
        respirators: vec!["RA".into()],
        fit_test: true,
        donning: Minutes(20),
        sealed: Minutes(10),
        donning_watched: true,
        removal: Minutes(25),
        removal_watched: true,
        assistant: true,
        max_wear: Minutes(180),
        margin: Minutes(5),
        recovery: Minutes(30),
        cumulative_percent: 100,
    }
}

fn doffing_kit() -> Ensemble {
    Ensemble {
        id: "D".into(),
        worn_in: WornIn::DoffingArea,
        respirators: vec![],
        fit_test: false,
        donning: Minutes(10),
        sealed: Minutes(5),
        donning_watched: false,
        removal: Minutes(10),
        assistant: false,
        max_wear: Minutes(120),
        margin: Minutes(0),
        recovery: Minutes(15),
        cumulative_percent: 50,
        ..full_kit()
    }
}

fn person(id: &str, enters: bool) -> Person {
    let size = |ensemble| KitSize { ensemble, size: "M".into() };
    Person {
        id: id.into(),
        on_duty: Span::new(at(19, 0), at(31, 30)),
        last_off_duty: None,
        last_removal: None,
        worn_before: Minutes(0),
        enter_today: enters,
        doffing_area_today: true,
        sign_offs: vec![],
        fit_tests: vec![],
        kits: if enters { vec![size(F), size(D)] } else { vec![size(D)] },
        skills: vec![],
        own: PersonalLimits::default(),
    }
}

/// KB and MR, then FN and RO go in; AL watches, JT assists, PS watches donnings, CH has no duty.
pub fn roster() -> Roster {
    let people = [("KB", true), ("MR", true), ("FN", true), ("RO", true), ("AL", false), ("JT", false)];
    let mut people: Vec<_> = people.iter().map(|&(id, enters)| person(id, enters)).collect();
    people.extend([person("PS", false), person("CH", false)]);
    people[3].own.rest = Some(Minutes(137));
    Roster {
        name: "Larch, night of 4 March 2031".into(),
        example: true,
        constraint_set: "temperate v1".into(),
        unit: "Larch".into(),
        clock: Clock::new(chrono_tz::Europe::London),
        shift: Span::new(at(19, 0), at(31, 30)),
        people,
        rooms: vec![Room { id: "1".into(), max_inside: 4 }],
        presence: vec![Presence { room: RoomIx(0), span: Span::new(at(20, 0), at(26, 0)), people: 2, class: 1 }],
        skill_cover: vec![],
        tasks: vec![line_change(), Task { id: "turning".into(), need: Need::Wanted, ..line_change() }],
        lanes: vec![Lane { id: "1".into(), closures: vec![] }, Lane { id: "2".into(), closures: vec![] }],
        kits: vec![stock(F, 14, 2), stock(D, 6, 0)],
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
    }
}

fn line_change() -> Task {
    Task {
        id: "line change".into(),
        room: RoomIx(0),
        window: Span::new(at(22, 0), at(25, 0)),
        wanted: at(23, 0),
        length: Minutes(60),
        people: 2,
        skill: None,
        need: Need::Must,
        same_people: true,
        extra: false,
    }
}

fn stock(ensemble: EnsembleIx, count: u32, reserve: u32) -> KitStock {
    KitStock { ensemble, size: "M".into(), count, reserve }
}

fn entry(number: u32, person: usize, don: Minute, door: [Minute; 2], removal: Minute, lane: usize) -> Entry {
    Entry {
        number,
        person: PersonIx(person),
        room: RoomIx(0),
        don,
        door_in: door[0],
        door_out: door[1],
        removal,
        off: removal + Minutes(25),
        lane: Some(LaneIx(lane)),
        donning_observer: Some(PersonIx(6)),
        observer: Some(PersonIx(4)),
        assistant: Some(PersonIx(5)),
        respirator: None,
    }
}

pub fn rota(night: &Night) -> Rota {
    let post = |don, removal: Minute| Post {
        person: PersonIx(5),
        role: PostRole::Assistant,
        don,
        removal,
        off: removal + Minutes(10),
        lane: Some(LaneIx(1)),
        donning_observer: None,
        observer: Some(PersonIx(4)),
        respirator: None,
    };
    Rota {
        roster: night.roster.name.clone(),
        constraint_set: night.limits.name.clone(),
        issue: 1,
        entries: vec![
            entry(1, 0, at(19, 40), [at(20, 0), at(22, 0)], at(22, 0), 0),
            entry(1, 1, at(19, 40), [at(20, 0), at(22, 0)], at(22, 35), 1),
            entry(2, 2, at(21, 30), [at(21, 50), at(24, 30)], at(24, 30), 0),
            entry(2, 3, at(21, 30), [at(21, 50), at(24, 30)], at(25, 5), 1),
        ],
        posts: vec![post(at(21, 45), at(23, 0)), post(at(24, 15), at(25, 30))],
        breaks: vec![BreakTaken { person: PersonIx(4), span: Span::new(at(23, 30), at(24, 0)) }],
        tasks: vec![TaskDone { task: TaskIx(0), start: at(23, 0) }],
        coordinators: vec![],
        standby: vec![],
        exit_observers: vec![],
        exit_assistants: vec![],
        showers: vec![],
    }
}

fn review() -> Review {
    let short = Shortage { span: Span::new(at(24, 30), at(26, 0)), room: RoomIx(0), class: 1, required: 2, present: 0 };
    Review {
        faults: vec![],
        shortages: vec![short],
        skill_shortages: vec![],
        tasks: vec![(TaskIx(0), TaskOutcome::Done { late: Minutes(0) }), (TaskIx(1), TaskOutcome::Missed)],
        rescue: vec![],
        exits: vec![],
        pins: vec![],
        measures: Measures {
            pins_missed: 0,
            rescue_missing: Minutes(0),
            uncovered: BTreeMap::from([(1, Minutes(180))]),
            longest: BTreeMap::from([(1, Minutes(90))]),
            must_missed: 0,
            skill_missing: Minutes(0),
            must_late: Minutes(0),
            wanted_missed: 1,
            removals: 4,
            helper_removals: 2,
            spare_short: Minutes(0),
            waits: Minutes(0),
            low_hours: 0,
            breaks_outside: Minutes(0),
            largest_wear_centi: 22_050,
            largest_load: Minutes(160),
        },
        not_checked: vec![NotChecked {
            what: "E1 standby responders".into(),
            why: "the unit's constraint set says none".into(),
        }],
    }
}

pub fn explained() -> Explained {
    let alone = Gap {
        severity: Severity::PatientAlone,
        span: Span::new(at(24, 30), at(26, 0)),
        room: RoomIx(0),
        class: Some(1),
        skill: None,
        task: None,
        what: "nobody can go in: KB and MR are at rest until 00:25 and 01:00, and nobody else may enter".into(),
        posted: "too few entrants".into(),
        short: Some((2, 0)),
        fix: Some("two more entrants 00:20-02:25".into()),
    };
    let task = Gap {
        severity: Severity::TaskNotCovered,
        span: Span::new(at(22, 0), at(25, 0)),
        class: None,
        task: Some(TaskIx(1)),
        what: "turning needs two more people inside for 60 min".into(),
        short: None,
        fix: None,
        ..alone.clone()
    };
    Explained {
        gaps: vec![alone, task],
        eligibility: vec![
            (PersonIx(0), "may enter, assist; not observe: not signed off".into()),
            (PersonIx(4), "may observe; not enter: no kit size in F".into()),
        ],
        fixes: vec!["Two more entrants 22:00-02:25 close gaps 1 and 2.".into()],
    }
}

fn levels() -> Vec<LevelResult> {
    let level = |level, value, at_least| LevelResult { level, value, at_least };
    vec![
        level(Level::Uncovered(1), 180, 120),
        level(Level::LongestStretch(1), 90, 90),
        level(Level::MustMissed, 0, 0),
        level(Level::MustLate, 0, 0),
        level(Level::WantedMissed, 1, 0),
        level(Level::Removals, 4, 4),
        level(Level::HelperRemovals, 2, 2),
        level(Level::LargestWear, 221, 221),
        level(Level::LargestLoad, 160, 100),
        level(Level::MinutesDressed, 930, 930),
    ]
}

/// One of each way to be missed: by minutes, by a count, by nothing that can be said.
pub fn faults() -> Vec<Fault> {
    let fault = |rule, people: &[usize], by, what: &str| Fault {
        span: Span::new(at(24, 10), at(24, 25)),
        rule,
        people: people.iter().map(|&ix| PersonIx(ix)).collect(),
        by,
        what: what.into(),
    };
    vec![
        fault(Rule::B4, &[0], Some(By::Minutes(Minutes(15))), "KB dons at 00:10, at rest until 00:25."),
        fault(Rule::D1, &[0, 1], Some(By::Count(1)), "MR is alone in room 1 from 00:10 to 00:25."),
        fault(Rule::C1, &[0], None, "Nobody watches the removal of KB at 00:10."),
    ]
}

/// Names that look like formulas, markup, codes and worse.
pub const HOSTILE: [&str; 6] = [
    "=cmd|' /C calc'!A0",
    "\"quoted\\\" <script>alert(1)</script>",
    "\u{1f9d1}\u{200d}\u{1f52c}\u{1f642}\u{1f642}",
    "line\nbreak\u{1b}[2J\u{202e}",
    "@SUM(A1), '''\t",
    LONG,
];

/// 200 characters without a place to break.
const LONG: &str = concat!(
    "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx",
    "yyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyy"
);

/// The night with every name hostile.
pub fn hostile() -> Larch {
    let mut larch = Larch::new();
    let roster = &mut larch.night.roster;
    for (person, name) in roster.people.iter_mut().zip(HOSTILE) {
        person.id = name.into();
    }
    (roster.name, roster.unit) = (HOSTILE[1].into(), LONG.into());
    (roster.rooms[0].id, roster.lanes[0].id) = (HOSTILE[3].into(), LONG.into());
    (roster.lanes[1].id, roster.tasks[0].id) = (HOSTILE[0].into(), HOSTILE[4].into());
    larch.night.limits.name = HOSTILE[1].into();
    larch.night.limits.approval.by = LONG.into();
    larch.night.limits.ensembles[0].id = HOSTILE[2].into();
    larch.night.limits.ensembles[1].id = LONG.into();
    larch.rota.roster = larch.night.roster.name.clone();
    larch.rota.constraint_set = larch.night.limits.name.clone();
    larch.explained.gaps[0].what = HOSTILE.join(" ");
    larch.explained.gaps[0].fix = Some(LONG.into());
    larch.explained.fixes = vec![HOSTILE[3].into()];
    larch.explained.eligibility = vec![(PersonIx(0), HOSTILE[3].into()), (PersonIx(1), LONG.into())];
    larch.review.faults = faults();
    larch.review.faults[0].what = HOSTILE.concat();
    larch
}
