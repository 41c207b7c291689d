//! The exact words on the screen.

mod larch;

use std::collections::BTreeSet;
use std::path::Path;

use anteroom::night::{Minute, Minutes, Span};
use anteroom::plan::Ended;
use anteroom::show::{Section, WIDTH, terminal};
use larch::{Larch, at, day};
use unicode_width::UnicodeWidthStr;

/// Compares with the file; `ANTEROOM_GOLDEN=write` writes it instead.
fn golden(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/show").join(name);
    if std::env::var_os("ANTEROOM_GOLDEN").is_some_and(|v| v == "write") {
        std::fs::write(&path, text).expect("the fixtures folder can be written");
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(text == expected, "{name} differs from:\n{expected}\nnow:\n{text}");
}

fn everything(larch: &Larch) -> String {
    terminal::render(&larch.view(), &BTreeSet::from(Section::ALL))
}

fn assert_fits(text: &str) {
    for line in text.lines() {
        assert!(line.width() <= WIDTH && line.chars().count() <= WIDTH, "too wide: {line}");
        assert!(!line.contains(char::is_control), "steers the terminal: {line:?}");
    }
}

#[test]
fn header() {
    golden("header.txt", &terminal::header(&Larch::new().view()));
}

#[test]
fn limits() {
    golden("limits.txt", &terminal::limits(&Larch::new().view()));
}

#[test]
fn entries() {
    golden("entries.txt", &terminal::entries(&Larch::new().view()));
}

#[test]
fn people() {
    golden("people.txt", &terminal::people(&Larch::new().view()));
}

#[test]
fn timeline() {
    golden("timeline.txt", &terminal::timeline(&Larch::new().view()));
}

#[test]
fn gaps() {
    golden("gaps.txt", &terminal::gaps(&Larch::new().view()));
}

#[test]
fn totals() {
    golden("totals.txt", &terminal::totals(&Larch::new().view()));
}

#[test]
fn caution() {
    golden("caution.txt", &terminal::caution(&Larch::new().view()));
}
