//! All wording of findings: what is wrong, what it would cause, how to put it right.
//!
//! Codes are stable: people and scripts quote them.

mod limits;
mod question;
mod roster;
mod rota;
mod rows;
mod shape;
mod sign_offs;
mod time;

use super::mistake::Mistake;

/// The lines, from 1, of the place and of the place it is compared with.
#[derive(Clone, Copy)]
pub(super) struct Lines {
    pub(super) here: usize,
    pub(super) there: Option<usize>,
}

/// A finding in words.
pub(super) struct Words {
    pub(super) code: &'static str,
    pub(super) what: String,
    pub(super) effect: String,
    pub(super) fix: String,
}

/// The words for a mistake.
pub(super) fn of(mistake: &Mistake, lines: Lines) -> Words {
    match mistake {
        Mistake::Text(text) => shape::text_words(text, lines),
        Mistake::Key(key) => shape::key_words(key),
        Mistake::Value(value) => shape::value_words(value, lines),
        Mistake::Time(time) => time::time_words(time),
        Mistake::Length(length) => limits::length_words(length),
        Mistake::Limit(limit) => limits::limit_words(limit, lines),
        Mistake::Name(name) => roster::name_words(name, lines),
        Mistake::Stretch(stretch) => time::stretch_words(stretch, lines),
        Mistake::Person(person) => roster::person_words(person),
        Mistake::Room(room) => roster::room_words(room, lines),
        Mistake::Pin(pin) => roster::pin_words(pin),
        Mistake::Private(private) => rota::private_words(private),
        Mistake::Rota(rota) => rota::rota_words(rota),
        Mistake::Crew(crew) => question::crew_words(crew),
        Mistake::Row(row) => rows::row_words(row, lines),
        Mistake::Advice(advice) => rota::advice_words(advice),
        Mistake::Sheet(mistake) => sign_offs::sheet_words(mistake),
        Mistake::SignOff(mistake) => sign_offs::sign_off_words(mistake, lines),
        Mistake::SignOffAdvice(advice) => sign_offs::advice_words(advice),
    }
}

fn words(code: &'static str, what: String, effect: impl Into<String>, fix: impl Into<String>) -> Words {
    Words { code, what, effect: effect.into(), fix: fix.into() }
}

/// ` (lines 12 and 41)` when the two are on different lines.
fn both(lines: Lines) -> String {
    match lines.there {
        Some(there) if there != lines.here => {
            format!(" (lines {} and {})", there.min(lines.here), there.max(lines.here))
        }
        _ => String::new(),
    }
}

/// ` Did you mean "x"?`, or nothing.
fn did_you_mean(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |nearest| format!(" Did you mean \"{nearest}\"?"))
}

/// `10 + 25 = 35`.
fn sum_words(parts: &[(&'static str, crate::night::Minutes)]) -> String {
    let named: Vec<String> = parts.iter().map(|(name, minutes)| format!("{name} {minutes}")).collect();
    let total: crate::night::Minutes = parts.iter().map(|(_, minutes)| *minutes).sum();
    format!("{} = {total}", named.join(" + "))
}
