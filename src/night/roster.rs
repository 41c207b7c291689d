//! Tonight: who is here, what the patient needs, what is on the shelf.

use std::collections::BTreeSet;
use std::fmt;

use chrono::NaiveDate;

use super::clock::{Clock, Minute, Minutes, Span};
use super::constraint_set::EnsembleIx;
use super::duty_log::LoggedDuty;
use super::pin::{Forbidden, Pin, PinTo};
use super::rolling::LoggedWear;

/// Which person, as an index into [`Roster::people`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct PersonIx(pub usize);
/// Which room, as an index into [`Roster::rooms`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct RoomIx(pub usize);
/// Which lane, as an index into [`Roster::lanes`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LaneIx(pub usize);
/// Which timed task, as an index into [`Roster::tasks`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct TaskIx(pub usize);

/// What an id is taken for at two metres, on a third photocopy: two ids with the same look are not told apart (J6).
#[must_use]
pub fn looks(id: &str) -> String {
    id.chars().map(look).collect()
}

const fn look(c: char) -> char {
    match c {
        'O' | 'Q' => '0',
        'I' | 'L' => '1',
        'Z' => '2',
        'S' => '5',
        'B' => '8',
        other => other,
    }
}

/// A competency. Each has its own sign-off and date (A1).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Role {
    /// Goes into the room.
    Entrant,
    /// Watches donnings.
    DonningObserver,
    /// Watches removals.
    DoffingObserver,
    /// Helps removals, in a kit of their own.
    Assistant,
    /// Goes into the room only beside a preceptor (A5).
    SupervisedEntrant,
    /// An entrant beside whom a supervised one may be inside (A5).
    Preceptor,
    /// Leads the shift from the clean side while anyone is inside (F7).
    Coordinator,
}

impl Role {
    /// Every role, in the order of the trade page.
    pub const ALL: [Self; 7] = [
        Self::Entrant,
        Self::DonningObserver,
        Self::DoffingObserver,
        Self::Assistant,
        Self::SupervisedEntrant,
        Self::Preceptor,
        Self::Coordinator,
    ];

    /// The word used in files, e.g. `donning-observer`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Entrant => "entrant",
            Self::DonningObserver => "donning-observer",
            Self::DoffingObserver => "doffing-observer",
            Self::Assistant => "assistant",
            Self::SupervisedEntrant => "supervised-entrant",
            Self::Preceptor => "preceptor",
            Self::Coordinator => "coordinator",
        }
    }
}

/// One role signed off until the end of a day.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct SignOff {
    /// The competency.
    pub role: Role,
    /// The last day it is good for, to 24:00 local time.
    pub valid_through: NaiveDate,
    /// The day on which the role was last done or drilled, if it is known (A9).
    pub last_done: Option<NaiveDate>,
}

/// One respirator model and size that sits on this face, until the end of a day (A2).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FitTest {
    /// Model, as the constraint set names it.
    pub respirator: String,
    /// Size of the facepiece.
    pub size: String,
    /// The last day it is good for, to 24:00 local time.
    pub valid_through: NaiveDate,
}

/// The size in which a person is signed off to wear an ensemble.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KitSize {
    /// The ensemble.
    pub ensemble: EnsembleIx,
    /// The person's size in it.
    pub size: String,
}

/// The end of the last wear before this shift (section 9, row 12).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LastRemoval {
    /// Last item off.
    pub off: Minute,
    /// What was worn.
    pub ensemble: EnsembleIx,
}

/// Stricter limits of one person, from the private file (A8).
///
/// They are enforced and never shown: this type has no `Display`, and its
/// `Debug` says nothing.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
pub struct PersonalLimits {
    /// Continuous wear, at most the unit's for every ensemble.
    pub max_wear: Option<Minutes>,
    /// Cumulative wear, at most the unit's.
    pub cumulative_wear: Option<Minutes>,
    /// Rest before any next wear, at least the unit's.
    pub rest: Option<Minutes>,
}

impl fmt::Debug for PersonalLimits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("PersonalLimits(not shown)")
    }
}

/// One person on tonight's roster.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Person {
    /// Two or three capitals or digits, unique and not confusable (J6).
    pub id: String,
    /// On duty (A3).
    pub on_duty: Span,
    /// The end of the shift before, if the roster gives one (F4).
    pub last_off_duty: Option<Minute>,
    /// The last removal before this shift; `None` when the roster says "none".
    pub last_removal: Option<LastRemoval>,
    /// Wear carried in from the same duty period (B6).
    pub worn_before: Minutes,
    /// Flag of the day, without a reason (A4).
    pub enter_today: bool,
    /// Flag of the day for assisting and watching removals, without a reason (A4).
    pub doffing_area_today: bool,
    /// Signed-off roles.
    pub sign_offs: Vec<SignOff>,
    /// Fit tests.
    pub fit_tests: Vec<FitTest>,
    /// Ensembles and sizes signed off for.
    pub kits: Vec<KitSize>,
    /// Skills that tasks may ask for.
    pub skills: Vec<String>,
    /// From the private file.
    pub own: PersonalLimits,
}

impl Person {
    /// The last day on which this person is signed off for `role`, if ever. Whether that is recent enough is another
    /// question: [`Night::good_through`](super::Night::good_through) asks both.
    #[must_use]
    pub fn signed_through(&self, role: Role) -> Option<NaiveDate> {
        self.sign_offs.iter().filter(|s| s.role == role).map(|s| s.valid_through).max()
    }

    /// The person's size in `ensemble`, if signed off for it.
    #[must_use]
    pub fn size_in(&self, ensemble: EnsembleIx) -> Option<&str> {
        self.kits.iter().find(|k| k.ensemble == ensemble).map(|k| k.size.as_str())
    }
}

/// A patient room.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Room {
    /// Its name on the sheet.
    pub id: String,
    /// `M`: the most people inside at once, relief included (D2).
    pub max_inside: u32,
}

/// People that must be inside a room all the time (D4).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Presence {
    /// Where.
    pub room: RoomIx,
    /// When. Stretches of one room never overlap.
    pub span: Span,
    /// How many.
    pub people: u32,
    /// Acuity class set by the unit: 1 is covered before 2, strictly.
    pub class: u32,
}

/// People with a skill that must be inside a room all the time (D6).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SkillCover {
    /// Where.
    pub room: RoomIx,
    /// When. Stretches of one room and skill never overlap.
    pub span: Span,
    /// The skill, as people's skills name it.
    pub skill: String,
    /// How many.
    pub people: u32,
}

/// How much a task matters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Need {
    /// Level 4 of the objective.
    Must,
    /// Level 5.
    Wanted,
}

/// Something to be done inside, at a time or in a window (D5). Never split.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Task {
    /// Its name on the sheet. Never a patient identifier.
    pub id: String,
    /// Where.
    pub room: RoomIx,
    /// It starts and ends inside this.
    pub window: Span,
    /// The wanted start; later ones count as late (section 9, row 38).
    pub wanted: Minute,
    /// How long.
    pub length: Minutes,
    /// How many people, all with `skill`, are inside throughout.
    pub people: u32,
    /// The skill all of them have, if any.
    pub skill: Option<String>,
    /// Must or wanted.
    pub need: Need,
    /// Whether the people who start it must be the ones who end it.
    pub same_people: bool,
    /// Whether its people come on top of the required presence (row 18).
    pub extra: bool,
}

/// One doffing position (C9).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lane {
    /// Its name on the sheet.
    pub id: String,
    /// When it is shut.
    pub closures: Vec<Span>,
}

/// Kits of one ensemble and size on the shelf (G1).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KitStock {
    /// The ensemble.
    pub ensemble: EnsembleIx,
    /// The size.
    pub size: String,
    /// How many there are.
    pub count: u32,
    /// How many are kept back.
    pub reserve: u32,
}

/// Respirators of one model and size on the shelf (A2, G2).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RespiratorStock {
    /// The model.
    pub respirator: String,
    /// The size.
    pub size: String,
    /// How many there are.
    pub count: u32,
    /// When they are ready, where that is later than now: on charge, or being cleaned.
    pub ready_from: Option<Minute>,
}

/// Where two people are kept apart (A6).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Apart {
    /// Never in the same room at the same minute.
    Room,
    /// Neither watches the other's donning or removal.
    Observer,
    /// Neither assists the other's removal.
    Assistant,
}

/// Two people kept apart. No reason exists in any file (A6).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ExcludedPair {
    /// One of them.
    pub one: PersonIx,
    /// The other.
    pub other: PersonIx,
    /// In which ways.
    pub scopes: Vec<Apart>,
}

impl ExcludedPair {
    /// Whether this keeps `a` and `b` apart in the way of `scope`.
    #[must_use]
    pub fn forbids(&self, a: PersonIx, b: PersonIx, scope: Apart) -> bool {
        ((self.one == a && self.other == b) || (self.one == b && self.other == a)) && self.scopes.contains(&scope)
    }
}

/// A crew in the huddle of a handover: none of its people has a duty or a break (F1).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Huddle {
    /// Everyone of the crew.
    pub people: Vec<PersonIx>,
    /// When.
    pub span: Span,
}

/// Tonight's roster, already validated.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Roster {
    /// Its name, by which rotas refer to it.
    pub name: String,
    /// Marked EXAMPLE (L5).
    pub example: bool,
    /// The constraint set it is meant for.
    pub constraint_set: String,
    /// The unit's name on the sheet.
    pub unit: String,
    /// The unit's clock.
    pub clock: Clock,
    /// The stretch that is planned.
    pub shift: Span,
    /// Everyone, in the order of the file.
    pub people: Vec<Person>,
    /// Rooms.
    pub rooms: Vec<Room>,
    /// Continuous presence.
    pub presence: Vec<Presence>,
    /// Skills that must be inside.
    pub skill_cover: Vec<SkillCover>,
    /// Timed tasks.
    pub tasks: Vec<Task>,
    /// Doffing lanes.
    pub lanes: Vec<Lane>,
    /// Kits by size.
    pub kits: Vec<KitStock>,
    /// Respirators by model and size.
    pub respirators: Vec<RespiratorStock>,
    /// Wear before this shift, from a log (B7).
    pub wear_log: Vec<LoggedWear>,
    /// From when on that log is whole; `None` where none was read.
    pub wear_log_from: Option<Minute>,
    /// Shifts before this one, from a log (F8).
    pub duty_log: Vec<LoggedDuty>,
    /// From when on that log is whole; `None` where none was read.
    pub duty_log_from: Option<Minute>,
    /// People kept apart.
    pub apart: Vec<ExcludedPair>,
    /// Huddles of crews at a handover (F1).
    pub huddles: Vec<Huddle>,
    /// What is settled before planning (H6).
    pub pins: Vec<Pin>,
    /// What is forbidden before planning (H6).
    pub forbidden: Vec<Forbidden>,
    /// Where breaks must lie; empty means anywhere on duty (F3).
    pub break_windows: Vec<Span>,
    /// Where breaks are preferred; empty means anywhere (level 9).
    pub preferred_breaks: Vec<Span>,
    /// How many may shower at once, if places are limited (F2).
    pub shower_places: Option<u32>,
}

impl Roster {
    /// The person behind an index.
    #[must_use]
    pub fn person(&self, ix: PersonIx) -> &Person {
        &self.people[ix.0]
    }

    /// Every person's index, in order.
    pub fn person_indices(&self) -> impl Iterator<Item = PersonIx> + use<> {
        (0..self.people.len()).map(PersonIx)
    }

    /// Whether a duty of a person is forbidden in some minute of a stretch (H6).
    #[must_use]
    pub fn forbids(&self, person: PersonIx, duty: Role, span: Span) -> bool {
        self.forbidden.iter().any(|f| f.person == person && f.roles.contains(&duty) && f.span.overlaps(span))
    }

    /// Whether `a` and `b` are kept apart in the way of `scope` (A6).
    #[must_use]
    pub fn kept_apart(&self, a: PersonIx, b: PersonIx, scope: Apart) -> bool {
        self.apart.iter().any(|pair| pair.forbids(a, b, scope))
    }

    /// The acuity classes of presence, the most urgent first.
    #[must_use]
    pub fn classes(&self) -> BTreeSet<u32> {
        self.presence.iter().map(|presence| presence.class).collect()
    }

    /// People required in `room` in the minute at `at`, with the class.
    #[must_use]
    pub fn required(&self, room: RoomIx, at: Minute) -> Option<&Presence> {
        self.presence.iter().find(|p| p.room == room && p.span.contains(at))
    }

    /// Minutes of a break that lie in no preferred window; none where the roster prefers none (level 9).
    #[must_use]
    pub fn outside_preferred(&self, taken: Span) -> Minutes {
        if self.preferred_breaks.is_empty() {
            return Minutes::ZERO;
        }
        let outside = |at: &i64| !self.preferred_breaks.iter().any(|window| window.contains(Minute(*at)));
        Minutes(i64::try_from((taken.from.0..taken.to.0).filter(outside).count()).unwrap_or(i64::MAX))
    }

    /// The room of a pin.
    #[must_use]
    pub fn room_of_pin(&self, pin: Pin) -> RoomIx {
        match pin.to {
            PinTo::Entry { room, .. } => room,
            PinTo::Task(task) => self.tasks[task.0].room,
        }
    }

    /// Kits of `ensemble` and `size` that may be used tonight: count less reserve.
    #[must_use]
    pub fn usable_kits(&self, ensemble: EnsembleIx, size: &str) -> u32 {
        self.kits
            .iter()
            .filter(|k| k.ensemble == ensemble && k.size == size)
            .map(|k| k.count.saturating_sub(k.reserve))
            .sum()
    }

    /// The first instant after a sign-off valid through `day`: local midnight at its end.
    #[must_use]
    pub fn end_of_day(&self, day: NaiveDate) -> Minute {
        super::local_midnight_after(day, self.clock)
    }
}
