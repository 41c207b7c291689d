//! The reference page of all keys, written from the list that the reader uses.

use std::fmt::Write as _;

use super::keys::{self, Key, Keys, Kind, Need};
use super::value::alternatives;

const HEAD: &str = "\
# Keys of all files

Files are TOML. Every key stands here; an unknown key is an error, and so is a
missing one that is required: nothing has a default that could hurt anyone.
Durations carry their unit in the name of the key, `_min` or `_h`. Dates and
times are text in quotes: `\"2031-03-04\"`, `\"2031-03-04T19:00\"`, local to the
roster's zone. A time that happens twice on a night when the clocks change
needs its offset: `\"2031-10-26T01:30+01:00\"`.

This page is written by the program itself.
";

/// The reference page, as Markdown.
#[must_use]
pub fn key_reference() -> String {
    let mut page = HEAD.to_owned();
    let files = [
        ("Constraint set", &keys::LIMITS, "The unit's own limits, signed and dated."),
        ("Roster", &keys::ROSTER, "Tonight: who is here, what the patient needs, what is on the shelf."),
        (
            "Private limits",
            &keys::PRIVATE,
            "Stricter limits of single people, kept apart. Nothing of this file is shown.",
        ),
        (
            "Question about crews",
            &keys::QUESTION,
            "Which crews to try on a roster, for `anteroom crews`. A minimum is not an establishment.",
        ),
        (
            "Rota",
            &keys::ROTA,
            "Who does what. A time may be `\"19:30\"`: the first such time at or after the start of the shift.",
        ),
    ];
    for (title, keys, intro) in files {
        // Writing into a String cannot fail.
        let _ = write!(page, "\n## {title}\n\n{intro}\n\n");
        section(keys, &mut page);
    }
    page
}

fn section(keys: &Keys, page: &mut String) {
    page.push_str("| key | value | required | meaning |\n|---|---|---|---|\n");
    for key in keys.keys {
        page.push_str(&row(key));
    }
    for key in keys.keys {
        let Some(inner) = key.kind.table() else { continue };
        let head = if inner.head.starts_with('[') { inner.head } else { key.name };
        let _ = write!(page, "\n### `{head}`\n\n");
        section(inner, page);
    }
}

fn row(key: &Key) -> String {
    format!("| `{}` | {} | {} | {} |\n", key.name, values(key.kind), required(key.need), key.meaning)
}

fn required(need: Need) -> String {
    match need {
        Need::Required | Need::Asked => "yes".to_owned(),
        Need::Optional => "no".to_owned(),
        Need::When(case) => format!("when {case}"),
    }
}

fn values(kind: Kind) -> String {
    match kind {
        Kind::Text(most) => format!("text, at most {most} characters"),
        Kind::Format => "1".to_owned(),
        Kind::Whole(least, most) => format!("{least} to {most}"),
        Kind::Minutes(least) => format!("minutes, {least} to {}", keys::MOST_MINUTES),
        Kind::Hours => format!("hours, 0 to {}", keys::MOST_HOURS),
        Kind::Flag => "`true` or `false`".to_owned(),
        Kind::OneOf(words) => alternatives(words),
        Kind::Day => "day".to_owned(),
        Kind::Time => "time".to_owned(),
        Kind::TimeOfDay => "time of day".to_owned(),
        Kind::Zone => "time zone".to_owned(),
        Kind::OrNone(kind) => format!("{}, or \"none\"", values(*kind)),
        Kind::List(kind) => format!("list of: {}", values(*kind)),
        Kind::Pair(kind) => format!("list of two: {}", values(*kind)),
        Kind::Sizes => "table from ensemble to size".to_owned(),
        Kind::Table(_) => "table".to_owned(),
        Kind::Tables(_) => "tables".to_owned(),
    }
}
