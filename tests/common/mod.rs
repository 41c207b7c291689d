//! Small nights and rotas made in code, for tests. Everyone and everything is invented.
//!
//! Times are whole minutes from 19:00 on 4 March 2031, local and universal time alike: `t(60)` is 20:00.

use anteroom::check::{Fault, Review, review};
use anteroom::night::{
    Approval, CleanDuty, CleanedBy, Clock, ConstraintSet, Ensemble, EnsembleIx, Entry, FitTest, KitSize, KitStock,
    Lane, LaneIx, Minute, Minutes, Night, Person, PersonIx, PersonalLimits, Post, PostRole, Presence, Relief,
    RespiratorStock, Role, Room, RoomIx, Roster, Rota, Rule, SignOff, Span, Watching, WearFrom, WornIn,
};
use chrono::NaiveDate;

/// The entrants' ensemble.
pub const F: EnsembleIx = EnsembleIx(0);
/// The doffing-area kit.
pub const D: EnsembleIx = EnsembleIx(1);
/// Entrants.
pub const KB: PersonIx = PersonIx(0);
pub const MR: PersonIx = PersonIx(1);
pub const JT: PersonIx = PersonIx(2);
pub const PS: PersonIx = PersonIx(3);
/// Assistants.
pub const AL: PersonIx = PersonIx(4);
pub const HC: PersonIx = PersonIx(5);
/// Observers of removals.
pub const DW: PersonIx = PersonIx(6);
pub const GH: PersonIx = PersonIx(7);
/// Observer of donnings.
pub const EN: PersonIx = PersonIx(8);
/// A fifth entrant.
pub const VF: PersonIx = PersonIx(9);
pub const IDS: [&str; 10] = ["KB", "MR", "JT", "PS", "AL", "HC", "DW", "GH", "EN", "VF"];

/// 19:00 on the night of the tests plus so many minutes.
pub fn t(minutes: i64) -> Minute {
    Minute(32_173_620 + minutes)
}

pub fn span(from: i64, to: i64) -> Span {
    Span::new(t(from), t(to))
}

pub fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a day of the calendar")
}

/// Someone on duty all night who is signed off for everything.
pub fn person(id: &str) -> Person {
    let far = day(2031, 12, 31);
    Person {
        id: id.to_owned(),
        on_duty: span(0, 750),
        last_off_duty: None,
        last_removal: None,
        worn_before: Minutes(0),
        enter_today: true,
        doffing_area_today: true,
        sign_offs: Role::ALL.iter().map(|&role| SignOff { role, valid_through: far, last_done: None }).collect(),
        fit_tests: vec![FitTest { respirator: "RA".into(), size: "M".into(), valid_through: far }],
        kits: [F, D].map(|ensemble| KitSize { ensemble, size: "M".into() }).to_vec(),
        skills: vec![],
        own: PersonalLimits::default(),
    }
}

/// The ensemble of entrants: donning 20 of which 10 sealed, removal 20, watched, W 180.
pub fn room_ensemble() -> Ensemble {
    Ensemble {
        id: "F".into(),
        worn_in: WornIn::Room,
        respirators: vec!["RA".into()],
        fit_test: true,
        donning: Minutes(20),
        sealed: Minutes(10),
        donning_watched: true,
        removal: Minutes(20),
        removal_watched: true,
        assistant: false,
        max_wear: Minutes(180),
        margin: Minutes(0),
        recovery: Minutes(30),
        cumulative_percent: 100,
    }
}

/// The kit of the doffing area: donning 10 of which 5 sealed, removal 15, W 120, counts half.
pub fn doffing_kit() -> Ensemble {
    Ensemble {
        id: "D".into(),
        worn_in: WornIn::DoffingArea,
        respirators: vec![],
        fit_test: false,
        donning: Minutes(10),
        sealed: Minutes(5),
        donning_watched: false,
        removal: Minutes(15),
        removal_watched: false,
        assistant: false,
        max_wear: Minutes(120),
        margin: Minutes(0),
        recovery: Minutes(15),
        cumulative_percent: 50,
    }
}

/// Limits without assistants, without breaks.
pub fn limits() -> ConstraintSet {
    ConstraintSet {
        name: "limits of the tests".into(),
        example: true,
        sources: vec![],
        approval: Approval { by: "EXAMPLE, nobody".into(), on: day(2031, 1, 1), review_by: day(2032, 1, 1) },
        grid: Minutes(5),
        wear_from: WearFrom::Sealed,
        cumulative_wear: Minutes(360),
        changeover: Minutes(5),
        shower: Minutes(15),
        shift_gap: Minutes(11 * 60),
        nights_in_a_row: None,
        week_max: None,
        recency: vec![],
        entries_max: None,
        inside_rest: vec![CleanDuty::DonningObserver],
        min_inside: 2,
        relief: Relief::Either,
        overlap: Minutes(10),
        min_stay: Minutes(15),
        donning_capacity: 2,
        waiting_places: 1,
        observer_ready: Minutes(5),
        observer_reset: Minutes(5),
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
        watching: Some(Watching { max: Minutes(120), pause: Minutes(15) }),
        breaks: None,
        ensembles: vec![room_ensemble(), doffing_kit()],
        rest: vec![vec![Minutes(120), Minutes(60)], vec![Minutes(30), Minutes(15)]],
    }
}

/// Ten people, one room for four, two lanes, nothing asked for.
pub fn roster() -> Roster {
    let kit = |ensemble| KitStock { ensemble, size: "M".into(), count: 40, reserve: 0 };
    let lane = |id: &str| Lane { id: id.into(), closures: vec![] };
    Roster {
        name: "roster of the tests".into(),
        example: true,
        constraint_set: "limits of the tests".into(),
        unit: "Larch".into(),
        clock: Clock::new(chrono_tz::Europe::London),
        shift: span(0, 750),
        people: IDS.map(person).to_vec(),
        rooms: vec![Room { id: "1".into(), max_inside: 4 }],
        presence: vec![],
        skill_cover: vec![],
        tasks: vec![],
        lanes: vec![lane("1"), lane("2")],
        kits: vec![kit(F), kit(D)],
        respirators: vec![RespiratorStock { respirator: "RA".into(), size: "M".into(), count: 10, ready_from: None }],
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

/// So many people are to be inside from one minute to another.
pub fn presence(from: i64, to: i64, people: u32) -> Presence {
    Presence { room: RoomIx(0), span: span(from, to), people, class: 1 }
}

/// A night in which removal needs no assistant.
pub fn plain_night() -> Night {
    Night { roster: roster(), limits: limits() }
}

/// A night in which removal needs an assistant in kit D.
pub fn assisted_night() -> Night {
    let mut night = plain_night();
    night.limits.ensembles[F.0].assistant = true;
    night.limits.assistant_kit = Some(D);
    night
}

/// An entry with donning 20 from `don` and removal 20 at the door-out `out`, in lane 1.
pub fn entry(person: PersonIx, don: i64, out: i64) -> Entry {
    Entry {
        number: 0,
        person,
        room: RoomIx(0),
        don: t(don),
        door_in: t(don + 20),
        door_out: t(out),
        removal: t(out),
        off: t(out + 20),
        lane: Some(LaneIx(0)),
        donning_observer: Some(EN),
        observer: Some(DW),
        assistant: None,
        respirator: None,
    }
}

/// The same, in lane 2 with the other observer.
pub fn entry_in_lane_two(person: PersonIx, don: i64, out: i64) -> Entry {
    Entry { lane: Some(LaneIx(1)), observer: Some(GH), ..entry(person, don, out) }
}

/// A visit of two who leave together, one to a lane, without assistants.
pub fn pair(one: PersonIx, other: PersonIx, don: i64, out: i64) -> [Entry; 2] {
    [entry(one, don, out), entry_in_lane_two(other, don, out)]
}

/// A spell on post from the donning at `don` to the own removal, 15 minutes, at `removal`.
pub fn post(person: PersonIx, don: i64, removal: i64, lane: usize, observer: PersonIx) -> Post {
    Post {
        person,
        role: PostRole::Assistant,
        don: t(don),
        removal: t(removal),
        off: t(removal + 15),
        lane: Some(LaneIx(lane)),
        donning_observer: None,
        observer: Some(observer),
        respirator: None,
    }
}

/// A rota of these entries.
pub fn rota_of(entries: impl IntoIterator<Item = Entry>) -> Rota {
    let mut rota = Rota {
        roster: "roster of the tests".into(),
        constraint_set: "limits of the tests".into(),
        issue: 1,
        entries: entries.into_iter().collect(),
        ..Rota::default()
    };
    rota.put_in_order();
    rota
}

/// KB and MR inside 20:00-21:00, wear 19:50-21:20, no assistants.
pub fn plain_visit() -> Rota {
    rota_of(pair(KB, MR, 40, 120))
}

/// KB and MR inside 20:00-21:00 with AL and HC to assist, whose own removals follow at once.
pub fn assisted_visit() -> Rota {
    let mut rota = plain_visit();
    rota.entries[0].assistant = Some(AL);
    rota.entries[1].assistant = Some(HC);
    rota.posts = vec![post(AL, 100, 140, 0, DW), post(HC, 100, 140, 1, GH)];
    rota
}

/// A stay with its assistant on post for this one removal, own removal at once after it.
pub fn assisted(rota: &mut Rota, mut entry: Entry) {
    let (helper, lane) = if entry.lane == Some(LaneIx(0)) { (AL, 0) } else { (HC, 1) };
    let observer = entry.observer.expect("an observer was named");
    let own = entry.off;
    rota.posts.push(Post {
        removal: own,
        off: own + Minutes(15),
        don: entry.removal - Minutes(20),
        ..post(helper, 0, 0, lane, observer)
    });
    entry.assistant = Some(helper);
    rota.entries.push(entry);
}

/// Every time of the rota later by so many minutes.
pub fn later(mut rota: Rota, by: i64) -> Rota {
    let by = Minutes(by);
    for e in &mut rota.entries {
        for at in [&mut e.don, &mut e.door_in, &mut e.door_out, &mut e.removal, &mut e.off] {
            *at = *at + by;
        }
    }
    for p in &mut rota.posts {
        for at in [&mut p.don, &mut p.removal, &mut p.off] {
            *at = *at + by;
        }
    }
    for b in &mut rota.breaks {
        b.span = Span::new(b.span.from + by, b.span.to + by);
    }
    for task in &mut rota.tasks {
        task.start = task.start + by;
    }
    rota
}

/// What was found, one line each, for the message of a failed test.
pub fn found(faults: &[Fault]) -> String {
    let lines: Vec<String> = faults.iter().map(|f| format!("{} {:?} {}", f.rule.id(), f.by, f.what)).collect();
    lines.join("\n")
}

/// Checks that the rota has no fault, and returns the review.
#[track_caller]
pub fn accepted(night: &Night, rota: &Rota) -> Review {
    let review = review(night, rota);
    assert!(review.faults.is_empty(), "refused:\n{}", found(&review.faults));
    assert!(anteroom::check::is_clean(night, rota));
    review
}

/// Checks that exactly these rules are broken, and returns the faults.
#[track_caller]
pub fn refused(night: &Night, rota: &Rota, rules: &[Rule]) -> Vec<Fault> {
    let faults = review(night, rota).faults;
    let mut broken: Vec<Rule> = faults.iter().map(|f| f.rule).collect();
    broken.sort_unstable();
    broken.dedup();
    assert_eq!(broken, rules, "found:\n{}", found(&faults));
    assert!(!anteroom::check::is_clean(night, rota));
    for &rule in rules.iter().filter(|rule| OFF_AS_A_WHOLE.contains(rule)) {
        let without = night.without(rule).expect("a rule that can be turned off");
        let left = review(&without, rota).faults;
        assert!(left.iter().all(|f| f.rule != rule), "{} is turned off:\n{}", rule.id(), found(&left));
    }
    faults
}

/// Rules that refuse nothing once they are turned off. Of others only the unit's figure can be.
const OFF_AS_A_WHOLE: [Rule; 26] = [
    Rule::D8,
    Rule::A9,
    Rule::F8,
    Rule::B7,
    Rule::G2,
    Rule::C8,
    Rule::F1,
    Rule::E1,
    Rule::F7,
    Rule::A4,
    Rule::A5,
    Rule::B8,
    Rule::A6,
    Rule::A8,
    Rule::B2,
    Rule::B4,
    Rule::B6,
    Rule::B9,
    Rule::B10,
    Rule::C11,
    Rule::D1,
    Rule::D2,
    Rule::D3,
    Rule::F4,
    Rule::G1,
    Rule::H6,
];
