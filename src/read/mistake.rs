//! What can be wrong with the files: facts only. The wording is in `words`.

use chrono::NaiveDate;

use crate::night::{Minutes, Role};

use super::source::File;

/// Everything that reading can find, whatever its weight.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Mistake {
    /// The text of the file.
    Text(TextMistake),
    /// Keys and tables.
    Key(KeyMistake),
    /// Types and ranges of single values.
    Value(ValueMistake),
    /// Dates and times that cannot be understood.
    Time(TimeMistake),
    /// Lengths in the constraint set that leave no room for what they bound.
    Length(LengthMistake),
    /// Other contradictions inside the constraint set.
    Limit(LimitMistake),
    /// Names that are given twice, or to nothing.
    Name(NameMistake),
    /// Stretches of time on the roster.
    Stretch(StretchMistake),
    /// People on the roster.
    Person(PersonMistake),
    /// Rooms and stock on the roster.
    Room(RoomMistake),
    /// Pins and what is forbidden.
    Pin(PinMistake),
    /// The private file. No variant holds a name or a figure from it.
    Private(PrivateMistake),
    /// The rota.
    Rota(RotaMistake),
    /// A question about crews.
    Crew(CrewMistake),
    /// Rows and columns of the file of sign-offs.
    Sheet(SheetMistake),
    /// A sign-off or fit test in it.
    SignOff(SignOffMistake),
    /// What to know of the file of sign-offs.
    SignOffAdvice(SignOffAdvice),
    /// Rows of a history or of results. No variant holds anything of a history.
    Row(RowMistake),
    /// Nothing is wrong with the files, but the night will not go as hoped.
    Advice(Advice),
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum TextMistake {
    Syntax {
        message: String,
    },
    NotText,
    TooLarge {
        bytes: usize,
    },
    KeyTwice {
        key: String,
    },
    Format {
        found: i64,
    },
    /// The reader did not build its result and gave no reason: a defect of the program.
    Unexplained,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum KeyMistake {
    UnknownKey { key: String, nearest: Option<&'static str>, belongs: Option<&'static str> },
    WrongUnit { key: String, right: &'static str },
    MissingKey { file: File, table: &'static str, key: &'static str, write: String },
    MissingOther { key: &'static str, why: &'static str, write: String },
    TableForm { key: &'static str, many: bool },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum ValueMistake {
    WrongType { key: String, wanted: String, found: &'static str },
    Unquoted { key: String, text: String },
    OutOfRange { key: String, value: String, least: i64, most: i64, unit: &'static str },
    NotAWord { key: String, value: String, choices: Vec<&'static str>, nearest: Option<&'static str> },
    BadText { key: String, most: usize },
    Reserved { key: String },
    Twice { key: String, value: String },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum TimeMistake {
    NotADate { text: String },
    TwoDates { text: String, readings: Vec<NaiveDate> },
    NotATime { text: String, bare: bool },
    NotATimeOfDay { text: String },
    NoDate { text: String },
    YearOutside { text: String },
    HappensTwice { clock: String, day: NaiveDate, zone: &'static str, first: String, second: String },
    NeverHappens { clock: String, day: NaiveDate, zone: &'static str },
    WrongOffset { text: String, zone: &'static str, right: String },
    BareTooLong { text: String },
    UnknownZone { text: String, nearest: Option<&'static str> },
}

/// Minutes with the name of what takes them, in the order in which they are added up.
pub(super) type Parts = Vec<(&'static str, Minutes)>;

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum LengthMistake {
    WearTooShort { max: Minutes, parts: Parts },
    StayTooShort { parts: Parts, max: Minutes, margin: Minutes, longest: Minutes },
    HelperWearTooShort { who: &'static str, parts: Parts, max: Minutes, margin: Minutes },
    MarginOverWear { margin: Minutes, max: Minutes },
    LowOverWear { low: Minutes, max: Minutes },
    SealedOverDonning { sealed: Minutes, donning: Minutes },
    OverlapOverStay { overlap: Minutes, min_stay: Minutes },
    CumulativeTooShort { cumulative: Minutes, shortest: Minutes, ensemble: String },
    RecoveryOverRest { after: String, before: String, recovery: Minutes, rest: Minutes },
    WatchTooShort { max: Minutes, parts: Parts },
    RunTooShort { model: String, run: Minutes, margin: Minutes, parts: Parts },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum LimitMistake {
    GridNotDivisor { grid: Minutes },
    RestMissing { pairs: Vec<(String, String)> },
    RestTwice { after: String, before: String },
    RoomNotWatched { key: &'static str },
    FitTestOfNothing,
    AssistantInDoffingArea,
    AssistantWithoutKit { ensembles: Vec<String> },
    KitNotDoffingArea { key: &'static str, ensemble: String },
    ReviewBeforeApproval,
    LowWatchWithoutWatching,
    WindowUnderADay { hours: i64 },
    RespiratorTwice { model: String },
    RespiratorNotWorn { model: String, nearest: Option<String> },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum NameMistake {
    IdTwice { noun: &'static str, id: String },
    LookAlike { one: String, other: String },
    BadId { id: String },
    Unknown { noun: &'static str, id: String, nearest: Option<String>, declared_in: &'static str },
    UnknownInPair { pair: Vec<String>, missing: String },
    NotAPair { count: usize },
    NeverWhat,
    TooMany { what: String, most: usize },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum StretchMistake {
    LoggedInShift {
        off: String,
    },
    LoggedInDuty {
        off: String,
        start: String,
    },
    LoggedTwice {
        person: String,
    },
    LogDisagrees {
        person: String,
        last: String,
        logged: String,
    },
    EndBeforeStart {
        start: (&'static str, String),
        end: (&'static str, String),
        same_day: bool,
        next_day: Option<String>,
    },
    ShiftTooLong,
    DutyTooLong {
        person_or_crew: String,
    },
    ShiftOffGrid {
        from: String,
        grid: Minutes,
    },
    OutsideShift {
        noun: &'static str,
        shift: String,
    },
    PresenceTwice {
        room: String,
        when: String,
        people: (u32, u32),
    },
    SkillTwice {
        room: String,
        skill: String,
        when: String,
        people: (u32, u32),
    },
    WindowTooShort {
        task: String,
        length: Minutes,
        window: Minutes,
    },
    WantedOutside {
        task: String,
        earliest: String,
        latest: String,
    },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum PersonMistake {
    CrewAndOwn { person: String },
    NoDuty { person: String },
    AfterStart { person: String, key: &'static str, at: String, start: String },
    NothingToFollow { person: String, key: &'static str },
    SignOffWithoutRole { person: String },
    PreceptorNotEntrant { person: String },
    DoneToCome { done: NaiveDate, night: NaiveDate },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum PinMistake {
    /// Both an entry and a task.
    Both,
    OffGrid {
        at: String,
        grid: Minutes,
    },
    /// `duties` is empty.
    Nothing,
    /// A hard rule stands against it: the pin in words, the rule, the arithmetic.
    Refused {
        pin: String,
        rule: &'static str,
        why: String,
    },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum RoomMistake {
    ReliefImpossible { room: String, most: u32, people: u32, overlap: Minutes, together: u32 },
    NoPair { room: String, most: u32 },
    BelowLeast { room: String, most: u32, least: u32 },
    KitWithoutSize { ensemble: String, count: Option<i64> },
    ReserveOverCount { reserve: u32, count: u32 },
    StockTwice { what: String },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum PrivateMistake {
    Looser {
        entry: usize,
    },
    UnknownPerson {
        entry: usize,
    },
    PersonTwice {
        entry: usize,
        first: usize,
    },
    NoLimit {
        entry: usize,
    },
    /// A mistake in the shape of the file, told without quoting any of it.
    Shape {
        what: &'static str,
    },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum RotaMistake {
    OutOfOrder { whose: String, later: (&'static str, String), earlier: (&'static str, String) },
    ObserverWithLane,
    OtherSet { named: String, given: String },
    OtherRoster { named: String, given: String },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum CrewMistake {
    HeadCount { staff: i64 },
    NoGroup,
    NoRoles { group: String },
    PreceptorNotEntrant { group: String },
    HowMany { group: String },
    Backwards { group: String, from: u32, to: u32 },
    LikeWithoutRole { group: String, like: String, role: Role },
    HalfDuty { group: String },
    NothingToTry { key: &'static str },
    WearTooShort { max: Minutes, least: Minutes },
    TooMany { combinations: u64, most: u64 },
    TooManyPeople { people: u64, most: usize },
}

/// What is wrong with the rows and columns of a file of sign-offs and fit tests.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum SheetMistake {
    Empty,
    NotClosed,
    AfterQuote,
    NoColumn { heading: &'static str },
    UnknownColumn { heading: String, nearest: Option<&'static str> },
    ColumnTwice { heading: &'static str },
    NoHeading,
    NoPerson,
    Kind { text: String, nearest: Option<&'static str> },
}

/// What is wrong with what one row of it says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum SignOffMistake {
    NoRole { person: String },
    UnknownRole { text: String, nearest: Option<&'static str> },
    FitTestWithout { person: String, missing: &'static str },
    NotOfThisKind { kind: &'static str, heading: &'static str },
    Twice { person: String, what: String },
}

/// What to know of a file of sign-offs that can be used.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum SignOffAdvice {
    UnknownDay { person: String, what: String },
    OtherRespirator { model: String, nearest: Option<String> },
    NotOnRoster { ids: Vec<String>, count: usize },
    Taken { signed: usize, fitted: usize, left: Vec<String> },
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum RowMistake {
    OpenQuote,
    AfterQuote,
    Empty,
    TooMany { most: usize },
    Columns { wanted: &'static str },
    ColumnTwice,
    Missing,
    NotACount,
    MoreThanAll,
    YesOrNo,
    PersonTwice,
    NotResults,
    CutOff,
    BadRow,
}

/// Things the user should know before planning.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Advice {
    Example { noun: &'static str },
    OtherSet { named: String, given: String },
    ReviewOverdue { review_by: NaiveDate },
    SignOffEnds { person: String, role: Role, last: NaiveDate },
    SignOffOver { person: String, role: Role, last: NaiveDate },
    FitTestOver { person: String, respirator: String, last: NaiveDate },
    NooneHolds { role: Role },
    NoPreceptor { person: String },
    OneForBoth { person: String },
    NooneEnters,
    NoLane,
    GapTooShort { person: String, earliest: String },
    Days(DaysAdvice),
    MoreThanRoom { noun: String, people: u32, room: String, most: u32 },
    NoSkill { skill: String },
    NoSkillCover { skill: String },
}

/// What the days before tonight leave of it (A9, F8).
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum DaysAdvice {
    RecencyEnds { person: String, role: Role, done: NaiveDate, days: u32, last: NaiveDate },
    RecencyOver { person: String, role: Role, done: NaiveDate, days: u32, last: NaiveDate },
    RecencyUnknown { person: String, role: Role, days: u32 },
    TooManyNights { person: String, nights: u32, most: u32 },
    TooManyHours { person: String, week: Minutes, most: Minutes },
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
            Self::Rota(RotaMistake::OtherSet { .. } | RotaMistake::OtherRoster { .. })
            | Self::Room(RoomMistake::ReliefImpossible { .. }) => Severity::Warning,
            Self::Advice(advice) => advice.severity(),
            Self::SignOffAdvice(SignOffAdvice::UnknownDay { .. } | SignOffAdvice::OtherRespirator { .. }) => {
                Severity::Warning
            }
            Self::SignOffAdvice(SignOffAdvice::NotOnRoster { .. } | SignOffAdvice::Taken { .. }) => Severity::Note,
            _ => Severity::Error,
        }
    }

    /// Whether this is a fault of the text itself, after which parts of the file may be unseen.
    pub(super) const fn breaks_text(&self) -> bool {
        match self {
            Self::Text(text) => !matches!(text, TextMistake::Format { .. } | TextMistake::Unexplained),
            _ => false,
        }
    }

    /// Whether this may only be seen because part of a broken file was not.
    pub(super) const fn may_be_fallout(&self) -> bool {
        match self {
            Self::Text(text) => matches!(text, TextMistake::Unexplained),
            Self::Key(key) => !matches!(key, KeyMistake::UnknownKey { .. } | KeyMistake::WrongUnit { .. }),
            Self::Limit(limit) => {
                matches!(limit, LimitMistake::RestMissing { .. } | LimitMistake::AssistantWithoutKit { .. })
            }
            Self::Name(name) => matches!(name, NameMistake::Unknown { .. } | NameMistake::UnknownInPair { .. }),
            Self::Person(_) | Self::Crew(_) => true,
            Self::Room(room) => matches!(room, RoomMistake::KitWithoutSize { .. }),
            Self::Private(private) => {
                matches!(private, PrivateMistake::UnknownPerson { .. } | PrivateMistake::NoLimit { .. })
            }
            Self::Advice(advice) => !matches!(advice, Advice::ReviewOverdue { .. }),
            Self::Row(_)
            | Self::Value(_)
            | Self::Time(_)
            | Self::Length(_)
            | Self::Stretch(_)
            | Self::Pin(_)
            | Self::Rota(_)
            | Self::Sheet(_)
            | Self::SignOff(_)
            | Self::SignOffAdvice(_) => false,
        }
    }
}

impl Advice {
    const fn severity(&self) -> Severity {
        match self {
            Self::OtherSet { .. }
            | Self::ReviewOverdue { .. }
            | Self::NooneHolds { .. }
            | Self::NoPreceptor { .. }
            | Self::OneForBoth { .. }
            | Self::NoLane
            | Self::GapTooShort { .. }
            | Self::Days(
                DaysAdvice::RecencyUnknown { .. } | DaysAdvice::TooManyNights { .. } | DaysAdvice::TooManyHours { .. },
            )
            | Self::NoSkill { .. }
            | Self::NoSkillCover { .. }
            | Self::MoreThanRoom { .. } => Severity::Warning,
            Self::Example { .. }
            | Self::SignOffEnds { .. }
            | Self::SignOffOver { .. }
            | Self::Days(DaysAdvice::RecencyEnds { .. } | DaysAdvice::RecencyOver { .. })
            | Self::FitTestOver { .. }
            | Self::NooneEnters => Severity::Note,
        }
    }
}
