//! Every key of every file: the one list by which files are read and from
//! which the reference page is written, so that the two cannot differ.

mod limits;
mod question;
mod roster;
mod rota;

pub(super) use limits::{ENSEMBLE, LIMITS};
pub(super) use question::QUESTION;
pub(super) use roster::{PERSON_KEYS, PIN, ROSTER};
pub(super) use rota::{PRIVATE, ROTA};

/// What a value looks like.
#[derive(Clone, Copy)]
pub(super) enum Kind {
    /// Text of at most so many characters.
    Text(usize),
    /// The file format: 1.
    Format,
    /// A whole number from the first to the second.
    Whole(i64, i64),
    /// Whole minutes, at least so many, at most a week.
    Minutes(i64),
    /// Whole hours, at most a week.
    Hours,
    /// `true` or `false`.
    Flag,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// A day, `2031-03-04`.
    Day,
    /// A local time, `2031-03-04T19:00`; in a rota also `19:00`.
    Time,
    /// A local time of every day, `03:00`.
    TimeOfDay,
    /// The name of a time zone.
    Zone,
    /// The word `none`, or this.
    OrNone(&'static Kind),
    /// A list of these, each once.
    List(&'static Kind),
    /// A list of these, in which one may be twice: who reads it says so.
    Pair(&'static Kind),
    /// A table from an ensemble's id to a size.
    Sizes,
    /// One table.
    Table(&'static Keys),
    /// Any number of tables.
    Tables(&'static Keys),
}

/// Whether a key has to be there.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    /// It has to.
    Required,
    /// It has to; what is said when it is not depends on the rest of the table.
    Asked,
    /// It may be left out; what that means is in the text.
    Optional,
    /// It has to in the case that the text names.
    When(&'static str),
}

/// One key.
pub(super) struct Key {
    pub(super) name: &'static str,
    pub(super) kind: Kind,
    pub(super) need: Need,
    pub(super) meaning: &'static str,
}

/// The keys of one table.
pub(super) struct Keys {
    /// As the user writes its head: `[wear]`, `[[person]]`; empty for the top of the file.
    pub(super) head: &'static str,
    pub(super) keys: &'static [Key],
}

impl Keys {
    pub(super) fn find(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// The tables directly inside this one.
    pub(super) fn inner(&self) -> impl Iterator<Item = &'static Keys> + use<> {
        self.keys.iter().filter_map(|key| key.kind.table())
    }
}

impl Kind {
    /// The table that a value of this kind is, or is a list of.
    pub(super) const fn table(self) -> Option<&'static Keys> {
        match self {
            Self::Table(keys) | Self::Tables(keys) => Some(keys),
            Self::OrNone(kind) => kind.table(),
            _ => None,
        }
    }
}

const fn key(name: &'static str, kind: Kind, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::Required, meaning }
}

const fn asked(name: &'static str, kind: Kind, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::Asked, meaning }
}

const fn optional(name: &'static str, kind: Kind, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::Optional, meaning }
}

const fn when(name: &'static str, kind: Kind, case: &'static str, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::When(case), meaning }
}

/// The most of any duration: a week, in minutes.
pub(super) const MOST_MINUTES: i64 = 10_080;
/// The most of any duration: a week, in hours.
pub(super) const MOST_HOURS: i64 = 168;
/// The most of any count.
const MOST_COUNT: i64 = 10_000;

const NAME: Kind = Kind::Text(80);
const ID: Kind = Kind::Text(24);
const PERSON: Kind = Kind::Text(24);
const COUNT: Kind = Kind::Whole(0, MOST_COUNT);
const AT_LEAST_ONE: Kind = Kind::Whole(1, MOST_COUNT);
const DUTIES: &[&str] = &["entrant", "donning-observer", "doffing-observer", "assistant"];
const ROLES: &[&str] =
    &["entrant", "donning-observer", "doffing-observer", "assistant", "supervised-entrant", "preceptor", "coordinator"];
