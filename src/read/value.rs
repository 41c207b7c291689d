//! Single values: text, numbers, dates, words.

use toml::de::DeValue;

use crate::night::Minutes;

use super::keys::{Kind, MOST_HOURS, MOST_MINUTES};
use super::mistake::{Mistake, TextMistake, TimeMistake, ValueMistake};
use super::near;
use super::record::Datum;
use super::time::{self, Wall};

/// Reads a value that is neither a list nor a table.
pub(super) fn scalar(key: &str, kind: Kind, value: &DeValue<'_>, wall: Wall) -> Result<Datum, Mistake> {
    match kind {
        Kind::Text(most) => text(key, kind, value, most).map(|text| Datum::Text(text.to_owned())),
        Kind::Format => format(key, value),
        Kind::Whole(least, most) => whole(key, kind, value, least, most, "").map(Datum::Whole),
        Kind::Minutes(least) => {
            whole(key, kind, value, least, MOST_MINUTES, " minutes").map(|number| Datum::Minutes(Minutes(number)))
        }
        Kind::Hours => {
            whole(key, kind, value, 0, MOST_HOURS, " hours").map(|hours| Datum::Minutes(Minutes(hours * 60)))
        }
        Kind::Flag => value.as_bool().map(Datum::Flag).ok_or_else(|| wrong_type(key, kind, value)),
        Kind::OneOf(choices) => word(key, kind, value, choices),
        Kind::Day => time::date(text(key, kind, value, 80)?).map(Datum::Day).map_err(Mistake::Time),
        Kind::Time => time::instant(text(key, kind, value, 80)?, wall).map(Datum::Instant).map_err(Mistake::Time),
        Kind::TimeOfDay => time::of_day(text(key, kind, value, 80)?).map(Datum::TimeOfDay).map_err(Mistake::Time),
        Kind::Zone => zone(text(key, kind, value, 80)?),
        Kind::OrNone(_) | Kind::List(_) | Kind::Pair(_) | Kind::Sizes | Kind::Table(_) | Kind::Tables(_) => {
            Err(wrong_type(key, kind, value))
        }
    }
}

fn text<'v>(key: &str, kind: Kind, value: &'v DeValue<'_>, most: usize) -> Result<&'v str, Mistake> {
    let text = value.as_str().ok_or_else(|| wrong_type(key, kind, value))?;
    if text.trim().is_empty() || text.trim() != text || text.chars().any(unprintable) || text.chars().count() > most {
        return Err(Mistake::Value(ValueMistake::BadText { key: key.to_owned(), most }));
    }
    if text == "none" {
        return Err(Mistake::Value(ValueMistake::Reserved { key: key.to_owned() }));
    }
    Ok(text)
}

/// Characters that no sheet can show, or that would turn the text around them.
fn unprintable(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

fn whole(
    key: &str,
    kind: Kind,
    value: &DeValue<'_>,
    least: i64,
    most: i64,
    unit: &'static str,
) -> Result<i64, Mistake> {
    let written = value.as_integer().ok_or_else(|| wrong_type(key, kind, value))?;
    let number = i64::from_str_radix(written.as_str(), written.radix()).ok();
    number.filter(|number| (least..=most).contains(number)).ok_or_else(|| {
        let value = number.map_or_else(|| written.as_str().to_owned(), |number| number.to_string());
        Mistake::Value(ValueMistake::OutOfRange { key: key.to_owned(), value, least, most, unit })
    })
}

fn format(key: &str, value: &DeValue<'_>) -> Result<Datum, Mistake> {
    match whole(key, Kind::Format, value, i64::MIN, i64::MAX, "")? {
        1 => Ok(Datum::Whole(1)),
        found => Err(Mistake::Text(TextMistake::Format { found })),
    }
}

fn word(key: &str, kind: Kind, value: &DeValue<'_>, choices: &'static [&'static str]) -> Result<Datum, Mistake> {
    let text = value.as_str().ok_or_else(|| wrong_type(key, kind, value))?;
    let found = choices.iter().find(|choice| **choice == text);
    found.map(|choice| Datum::Word(choice)).ok_or_else(|| {
        Mistake::Value(ValueMistake::NotAWord {
            key: key.to_owned(),
            value: text.to_owned(),
            choices: choices.to_vec(),
            nearest: near::word(text, choices.iter().copied()),
        })
    })
}

fn zone(text: &str) -> Result<Datum, Mistake> {
    text.parse().map(Datum::Zone).map_err(|_unknown| {
        let nearest = near::word(text, chrono_tz::TZ_VARIANTS.iter().map(|zone| zone.name()));
        Mistake::Time(TimeMistake::UnknownZone { text: text.to_owned(), nearest })
    })
}

/// A value of the wrong type. Dates without quotes are a case of their own.
pub(super) fn wrong_type(key: &str, kind: Kind, value: &DeValue<'_>) -> Mistake {
    let key = key.to_owned();
    if let (Kind::Day | Kind::Time, DeValue::Datetime(found)) = (kind, value) {
        return Mistake::Value(ValueMistake::Unquoted { key, text: found.to_string() });
    }
    Mistake::Value(ValueMistake::WrongType { key, wanted: wanted(kind), found: found(value) })
}

const fn found(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number with a point",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time without quotes",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// What a value of this kind is, in words: `a whole number of minutes`.
pub(super) fn wanted(kind: Kind) -> String {
    match kind {
        Kind::Text(_) => "text in quotes".to_owned(),
        Kind::Format | Kind::Whole(..) => "a whole number".to_owned(),
        Kind::Minutes(_) => "a whole number of minutes".to_owned(),
        Kind::Hours => "a whole number of hours".to_owned(),
        Kind::Flag => "true or false, without quotes".to_owned(),
        Kind::OneOf(words) => format!("one of {}", alternatives(words)),
        Kind::Day => "a day in quotes, \"2031-03-04\"".to_owned(),
        Kind::Time => "a time in quotes, \"2031-03-04T19:00\"".to_owned(),
        Kind::TimeOfDay => "a time of day in quotes, \"03:00\"".to_owned(),
        Kind::Zone => "a time zone in quotes, \"Europe/London\"".to_owned(),
        Kind::OrNone(kind) => format!("{}, or \"none\"", wanted(*kind)),
        Kind::List(kind) => format!("a list [..] of {}", wanted(*kind)),
        Kind::Pair(kind) => format!("a list [..] of two: {}", wanted(*kind)),
        Kind::Sizes => "a table { ensemble = \"size\" }".to_owned(),
        Kind::Table(_) => "a table".to_owned(),
        Kind::Tables(_) => "tables".to_owned(),
    }
}

/// `"a", "b" or "c"`.
pub(super) fn alternatives(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => quoted.join(""),
    }
}

/// What to write for a key that is missing.
pub(super) fn example(key: &str, kind: Kind) -> String {
    match kind {
        Kind::Table(keys) => format!("the table {}", keys.head),
        Kind::Tables(keys) if keys.head.starts_with('[') => format!("at least one {}", keys.head),
        Kind::Tables(_) => format!("{key} = [{{ .. }}], or [] for none"),
        Kind::OrNone(Kind::Table(keys)) => format!("the table {}, or {key} = \"none\" at the top", keys.head),
        kind => format!("{key} = <{}>", wanted(kind)),
    }
}
