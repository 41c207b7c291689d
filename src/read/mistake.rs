//! What can be wrong with the files: facts only. The wording is in `words`.

use chrono::NaiveDate;

use crate::night::{Minutes, Role};

/// Everything that reading can find, whatever its weight.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Mistake {
    /// The file does not have the shape it should have.
    Shape(Shape),
    /// A date or time cannot be understood.
    Time(TimeMistake),
    /// The constraint set contradicts itself.
    Limit(LimitMistake),
    /// The roster contradicts itself or the constraint set.
    Roster(RosterMistake),
    /// The private file. No variant holds a name or a figure from it.
    Private(PrivateMistake),
    /// The rota contradicts itself or the roster.
    Rota(RotaMistake),
    /// Nothing is wrong with the files, but the night will not go as hoped.
    Advice(Advice),
}

/// Text, keys, types and ranges.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Shape {
    Syntax { message: String },
    NotText,
    TooLarge { bytes: usize },
    KeyTwice { key: String },
    UnknownKey { key: String, nearest: Option<&'static str>, belongs: Option<&'static str> },
    WrongUnit { key: String, right: &'static str },
    MissingKey { table: &'static str, key: &'static str, write: String },
    MissingOther { key: &'static str, why: &'static str, write: String },
    WrongType { key: String, wanted: String, found: &'static str },
    Unquoted { key: String, text: String },
    TableForm { key: &'static str, many: bool },
    OutOfRange { key: String, value: String, least: i64, most: i64, unit: &'static str },
    NotAWord { key: String, value: String, choices: Vec<&'static str>, nearest: Option<&'static str> },
    BadText { key: String, most: usize },
    Reserved { key: String },
    Twice { key: String, value: String },
    Format { found: i64 },
    /// The reader did not build its result and gave no reason: a defect of the program.
    Unexplained,
}

/// Dates and times of day.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum TimeMistake {
    NotADate { text: String },
    TwoDates { text: String, readings: Vec<NaiveDate> },
    NotATime { text: String, bare: bool },
    NoDate { text: String },
    YearOutside { text: String },
    HappensTwice { clock: String, day: NaiveDate, zone: &'static str, first: String, second: String },
    NeverHappens { clock: String, day: NaiveDate, zone: &'static str },
    WrongOffset { text: String, zone: &'static str, right: String },
    BareTooLong { text: String },
    UnknownZone { text: String, nearest: Option<&'static str> },
}

/// Contradictions inside the constraint set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum LimitMistake {
    GridNotDivisor { grid: i64 },
    WearTooShort { max: Minutes, sealed: Minutes, removal: Minutes },
    StayTooShort { parts: Vec<(&'static str, Minutes)>, max: Minutes, margin: Minutes, min_stay: Minutes },
    HelperWearTooShort { who: &'static str, parts: Vec<(&'static str, Minutes)>, max: Minutes, margin: Minutes },
    MarginOverWear { margin: Minutes, max: Minutes },
    SealedOverDonning { sealed: Minutes, donning: Minutes },
    OverlapOverStay { overlap: Minutes, min_stay: Minutes },
    CumulativeTooShort { cumulative: Minutes, shortest: Minutes, ensemble: String },
    RestMissing { pairs: Vec<(String, String)> },
    RestTwice { after: String, before: String },
    RecoveryOverRest { after: String, before: String, recovery: Minutes, rest: Minutes },
    RoomNotWatched { key: &'static str },
    FitTestOfNothing,
    AssistantInDoffingArea,
    AssistantWithoutKit { ensembles: Vec<String> },
    KitNotDoffingArea { key: &'static str, ensemble: String },
    UnknownEnsemble { id: String, nearest: Option<String> },
    WatchTooShort { max: Minutes, parts: Vec<(&'static str, Minutes)> },
    ReviewBeforeApproval,
    NoEnsemble,
}

/// Contradictions inside the roster, or between roster and constraint set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum RosterMistake {
    IdTwice { noun: &'static str, id: String },
    LookAlike { one: String, other: String },
    BadId { id: String },
    Unknown { noun: &'static str, id: String, nearest: Option<String>, declared_in: &'static str },
    UnknownInPair { one: String, other: String, missing: String },
    PairOfOne { id: String },
    EndBeforeStart { start_key: &'static str, end_key: &'static str, start: String, end: String, next_day: Option<String> },
    ShiftTooLong { days: i64 },
    ShiftOffGrid { from: String, grid: Minutes },
    OutsideShift { noun: &'static str, shift: String },
    CrewAndOwn { person: String },
    NoDuty { person: String },
    RemovalAfterStart { person: String, removal: String, on_duty: String },
    OffAfterStart { person: String, off: String, on_duty: String },
    LastKitUnsaid { person: String, key: &'static str },
    NothingToFollow { person: String, key: &'static str },
    SignOffWithoutRole { person: String },
    KitWithoutSize { ensemble: String, count: Option<i64> },
    ReserveOverCount { reserve: u32, count: u32 },
    PresenceTwice { room: String, when: String, people: (u32, u32) },
    WindowTooShort { task: String, length: Minutes, window: Minutes },
    WantedOutside { task: String, latest: String, earliest: String },
    ReliefImpossible { room: String, most: u32, people: u32, overlap: Minutes },
    RoomBelowLeast { room: String, most: u32, least: u32 },
    TooManyPeople { count: usize },
}

/// Mistakes in the private file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum PrivateMistake {
    Looser { entry: usize },
    UnknownPerson { entry: usize },
    PersonTwice { entry: usize, first: usize },
    NoLimit { entry: usize },
    /// A mistake in the shape of the file, told without quoting any of it.
    Shape { what: &'static str },
}

/// Mistakes in a rota.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum RotaMistake {
    OutOfOrder { what: String, later_key: &'static str, later: String, earlier_key: &'static str, earlier: String },
    ObserverWithLane,
    OtherSet { named: String, given: String },
    OtherRoster { named: String, given: String },
}

/// Things the user should know before planning.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Advice {
    Example,
    OtherSet { named: String, given: String },
    ReviewOverdue { review_by: NaiveDate },
    SignOffEnds { person: String, role: Role, last: NaiveDate, after: String },
    SignOffOver { person: String, role: Role, last: NaiveDate },
    FitTestOver { person: String, respirator: String, last: NaiveDate },
    NooneWatches,
    NooneAssists,
    OneForBoth { person: String },
    NooneEnters,
    NoLane,
    GapTooShort { person: String, earliest: String },
    MoreThanRoom { noun: String, people: u32, room: String, most: u32 },
}

/// How much a finding weighs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// Nothing is planned or checked until it is put right.
    Error,
    /// The work goes on, and the result is probably not what was meant.
    Warning,
    /// The work goes on, and this is worth knowing.
    Note,
}

impl Mistake {
    pub(super) const fn severity(&self) -> Severity {
        match self {
            Self::Rota(RotaMistake::OtherSet { .. } | RotaMistake::OtherRoster { .. }) => Severity::Warning,
            Self::Advice(advice) => advice.severity(),
            _ => Severity::Error,
        }
    }

    /// Whether this is a fault of the text itself, after which parts of the file may be unseen.
    pub(super) const fn breaks_text(&self) -> bool {
        matches!(
            self,
            Self::Shape(Shape::Syntax { .. } | Shape::NotText | Shape::TooLarge { .. } | Shape::KeyTwice { .. })
        )
    }

    /// Whether this may only be seen because part of a broken file was not.
    pub(super) const fn may_be_fallout(&self) -> bool {
        match self {
            Self::Shape(shape) => matches!(
                shape,
                Shape::MissingKey { .. } | Shape::MissingOther { .. } | Shape::TableForm { .. } | Shape::Unexplained
            ),
            Self::Limit(limit) => matches!(
                limit,
                LimitMistake::RestMissing { .. }
                    | LimitMistake::UnknownEnsemble { .. }
                    | LimitMistake::AssistantWithoutKit { .. }
                    | LimitMistake::NoEnsemble
            ),
            Self::Roster(roster) => matches!(
                roster,
                RosterMistake::Unknown { .. }
                    | RosterMistake::UnknownInPair { .. }
                    | RosterMistake::NoDuty { .. }
                    | RosterMistake::LastKitUnsaid { .. }
                    | RosterMistake::NothingToFollow { .. }
                    | RosterMistake::SignOffWithoutRole { .. }
                    | RosterMistake::KitWithoutSize { .. }
            ),
            Self::Private(private) => {
                matches!(private, PrivateMistake::UnknownPerson { .. } | PrivateMistake::NoLimit { .. })
            }
            Self::Advice(advice) => !matches!(advice, Advice::ReviewOverdue { .. }),
            Self::Time(_) | Self::Rota(_) => false,
        }
    }
}

impl Advice {
    const fn severity(&self) -> Severity {
        match self {
            Self::OtherSet { .. }
            | Self::ReviewOverdue { .. }
            | Self::NooneWatches
            | Self::NooneAssists
            | Self::OneForBoth { .. }
            | Self::NoLane
            | Self::GapTooShort { .. }
            | Self::MoreThanRoom { .. } => Severity::Warning,
            Self::Example
            | Self::SignOffEnds { .. }
            | Self::SignOffOver { .. }
            | Self::FitTestOver { .. }
            | Self::NooneEnters => Severity::Note,
        }
    }
}
