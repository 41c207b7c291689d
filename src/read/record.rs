//! A file as it was written: values of the right type, each with its place.
//!
//! Getters return `None` for what is absent or was already told of as a mistake.

use std::collections::BTreeMap;

use chrono::{NaiveDate, NaiveTime};
use chrono_tz::Tz;

use crate::night::{Minute, Minutes};

use super::source::{At, Spot};

/// One value.
#[derive(Clone, Debug)]
pub(super) enum Datum {
    Text(String),
    Whole(i64),
    Minutes(Minutes),
    Flag(bool),
    Word(&'static str),
    Day(NaiveDate),
    Instant(Minute),
    TimeOfDay(NaiveTime),
    Zone(Tz),
    /// The word `none`.
    Nothing,
    List(Vec<At<Datum>>),
    /// Keys that the user chose, with texts.
    Sizes(Vec<(At<String>, At<String>)>),
    One(Record),
    Many(Vec<Record>),
}

/// One table: the values of its known keys.
#[derive(Clone, Debug)]
pub(super) struct Record {
    /// The head of the table, or the whole of an inline one.
    pub(super) spot: Spot,
    pub(super) values: BTreeMap<&'static str, At<Datum>>,
    /// Known keys that are written, even if their values are wrong.
    pub(super) written: Vec<(&'static str, Spot)>,
}

/// What was written where a value or the word `none` may stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Maybe<T> {
    Nothing,
    Some(T),
}

impl<T> Maybe<T> {
    pub(super) fn some(self) -> Option<T> {
        match self {
            Self::Nothing => None,
            Self::Some(value) => Some(value),
        }
    }
}

impl Record {
    fn pick<'a, T>(&'a self, key: &str, take: impl FnOnce(&'a Datum) -> Option<T>) -> Option<At<T>> {
        let at = self.values.get(key)?;
        Some(At { value: take(&at.value)?, spot: at.spot })
    }

    /// Whether the key is written, rightly or wrongly.
    pub(super) fn has(&self, key: &str) -> bool {
        self.written.iter().any(|(known, _)| *known == key)
    }

    /// The place of a value, or of the table when the key is absent.
    pub(super) fn spot_of(&self, key: &str) -> Spot {
        self.values.get(key).map_or(self.spot, |at| at.spot)
    }

    pub(super) fn text(&self, key: &str) -> Option<At<&str>> {
        self.pick(key, Datum::text)
    }

    /// A text whose place does not matter any more.
    pub(super) fn name(&self, key: &str) -> Option<String> {
        self.text(key).map(|at| at.value.to_owned())
    }

    pub(super) fn whole(&self, key: &str) -> Option<At<i64>> {
        self.pick(key, Datum::whole)
    }

    /// A whole number that the list of keys keeps inside `u32`.
    pub(super) fn count(&self, key: &str) -> Option<u32> {
        self.whole(key).and_then(|at| u32::try_from(at.value).ok())
    }

    /// The same, or the word `none`.
    pub(super) fn count_or_none(&self, key: &str) -> Option<Maybe<u32>> {
        let count = |datum: &Datum| u32::try_from(datum.whole()?).ok();
        self.pick(key, |datum| or_none(datum, count)).map(|at| at.value)
    }

    pub(super) fn minutes(&self, key: &str) -> Option<Minutes> {
        self.pick(key, |datum| if let Datum::Minutes(minutes) = datum { Some(*minutes) } else { None })
            .map(|at| at.value)
    }

    /// The same, or the word `none`.
    pub(super) fn minutes_or_none(&self, key: &str) -> Option<Maybe<Minutes>> {
        let minutes = |datum: &Datum| if let Datum::Minutes(minutes) = datum { Some(*minutes) } else { None };
        self.pick(key, |datum| or_none(datum, minutes)).map(|at| at.value)
    }

    pub(super) fn flag(&self, key: &str) -> Option<bool> {
        self.pick(key, |datum| if let Datum::Flag(flag) = datum { Some(*flag) } else { None }).map(|at| at.value)
    }

    pub(super) fn word(&self, key: &str) -> Option<&'static str> {
        self.pick(key, Datum::word).map(|at| at.value)
    }

    pub(super) fn day(&self, key: &str) -> Option<At<NaiveDate>> {
        self.pick(key, |datum| if let Datum::Day(day) = datum { Some(*day) } else { None })
    }

    pub(super) fn time_of_day(&self, key: &str) -> Option<NaiveTime> {
        self.pick(key, |datum| if let Datum::TimeOfDay(at) = datum { Some(*at) } else { None }).map(|at| at.value)
    }

    pub(super) fn zone(&self, key: &str) -> Option<Tz> {
        self.pick(key, |datum| if let Datum::Zone(zone) = datum { Some(*zone) } else { None }).map(|at| at.value)
    }

    pub(super) fn instant(&self, key: &str) -> Option<At<Minute>> {
        self.pick(key, Datum::instant)
    }

    pub(super) fn instant_or_none(&self, key: &str) -> Option<Maybe<At<Minute>>> {
        let at = self.pick(key, |datum| or_none(datum, Datum::instant))?;
        Some(with_spot(at))
    }

    pub(super) fn text_or_none(&self, key: &str) -> Option<Maybe<At<&str>>> {
        let at = self.pick(key, |datum| or_none(datum, Datum::text))?;
        Some(with_spot(at))
    }

    /// A list; members that were wrong are left out, and told of.
    pub(super) fn texts(&self, key: &str) -> Option<Vec<At<&str>>> {
        self.list(key, Datum::text)
    }

    pub(super) fn wholes(&self, key: &str) -> Option<Vec<At<i64>>> {
        self.list(key, Datum::whole)
    }

    pub(super) fn words(&self, key: &str) -> Option<Vec<At<&'static str>>> {
        self.list(key, Datum::word)
    }

    fn list<'a, T>(&'a self, key: &str, take: impl Fn(&'a Datum) -> Option<T>) -> Option<Vec<At<T>>> {
        let Datum::List(members) = &self.values.get(key)?.value else { return None };
        Some(members.iter().filter_map(|at| Some(At { value: take(&at.value)?, spot: at.spot })).collect())
    }

    pub(super) fn sizes(&self, key: &str) -> Option<&[(At<String>, At<String>)]> {
        if let Datum::Sizes(sizes) = &self.values.get(key)?.value { Some(sizes) } else { None }
    }

    pub(super) fn table(&self, key: &str) -> Option<&Record> {
        if let Datum::One(record) = &self.values.get(key)?.value { Some(record) } else { None }
    }

    /// A table, or the word `none` in its place.
    pub(super) fn table_or_none(&self, key: &str) -> Option<Maybe<&Record>> {
        match &self.values.get(key)?.value {
            Datum::One(record) => Some(Maybe::Some(record)),
            Datum::Nothing => Some(Maybe::Nothing),
            _ => None,
        }
    }

    /// All tables under a key; none when it is absent.
    pub(super) fn tables(&self, key: &str) -> &[Record] {
        match self.values.get(key).map(|at| &at.value) {
            Some(Datum::Many(records)) => records,
            _ => &[],
        }
    }
}

impl Datum {
    fn text(&self) -> Option<&str> {
        if let Self::Text(text) = self { Some(text) } else { None }
    }

    fn whole(&self) -> Option<i64> {
        if let Self::Whole(number) = self { Some(*number) } else { None }
    }

    fn word(&self) -> Option<&'static str> {
        if let Self::Word(word) = self { Some(word) } else { None }
    }

    fn instant(&self) -> Option<Minute> {
        if let Self::Instant(at) = self { Some(*at) } else { None }
    }
}

fn or_none<'a, T>(datum: &'a Datum, take: impl FnOnce(&'a Datum) -> Option<T>) -> Option<Maybe<T>> {
    if let Datum::Nothing = datum { Some(Maybe::Nothing) } else { take(datum).map(Maybe::Some) }
}

fn with_spot<T>(at: At<Maybe<T>>) -> Maybe<At<T>> {
    match at.value {
        Maybe::Nothing => Maybe::Nothing,
        Maybe::Some(value) => Maybe::Some(At { value, spot: at.spot }),
    }
}
