//! Words for the file of sign-offs and fit tests.

use super::super::draw::quoted;
use super::super::keys;
use super::super::mistake::{SheetMistake, SignOffAdvice, SignOffMistake};
use super::{Lines, Words, both, did_you_mean, words};

pub(super) fn sheet_words(mistake: &SheetMistake) -> Words {
    match mistake {
        SheetMistake::Empty => words(
            "no-sign-offs",
            "this file has no row below its headings.".to_owned(),
            "Nothing would be taken from it, and nobody would notice.",
            "Give the file that was meant, or leave out --sign-offs.",
        ),
        SheetMistake::NotClosed => words(
            "quote-not-closed",
            "a field opens with a quote here and does not end.".to_owned(),
            "Everything after it would be one field.",
            "Close the quote; a quote inside is written twice.",
        ),
        SheetMistake::AfterQuote => words(
            "after-quote",
            "something follows the quote that closes this field.".to_owned(),
            "Where the field ends is not guessed.",
            "A quote inside a field is written twice.",
        ),
        SheetMistake::NoColumn { heading } => words(
            "no-column",
            format!("there is no column \"{heading}\"."),
            "No row could be read.",
            format!("The first line names the columns: {}.", headings()),
        ),
        SheetMistake::UnknownColumn { heading, nearest } => words(
            "unknown-column",
            format!("unknown column {}.{}", quoted(heading), did_you_mean(*nearest)),
            "Unknown columns are never ignored.",
            format!("Correct it or take it out. There are: {}.", headings()),
        ),
        SheetMistake::ColumnTwice { heading } => words(
            "column-twice",
            format!("the column \"{heading}\" is there twice."),
            "Which counts is not guessed.",
            "Take one out.",
        ),
        SheetMistake::NoHeading => words(
            "more-fields",
            "this field has no heading.".to_owned(),
            "The fields of this row are not where they should be.",
            "Put a field with a comma or semicolon in it into quotes.",
        ),
        SheetMistake::NoPerson => words(
            "no-person",
            "this row has no id.".to_owned(),
            "Whose it is is not known.",
            "Write the ID, or take the row out.",
        ),
        SheetMistake::Kind { text, nearest } => words(
            "kind",
            if text.is_empty() {
                "this row has no kind.".to_owned()
            } else {
                format!("{} is no kind of row.{}", quoted(text), did_you_mean(*nearest))
            },
            "What it is about is not guessed.",
            "Write \"sign-off\" or \"fit-test\".",
        ),
    }
}

pub(super) fn sign_off_words(mistake: &SignOffMistake, lines: Lines) -> Words {
    match mistake {
        SignOffMistake::NoRole { person } => words(
            "sign-off-without-role",
            format!("sign-off for {} has no role.", quoted(person)),
            "Donning and doffing observer are separate.",
            "Write one role in the column \"role\", a row to a role.",
        ),
        SignOffMistake::UnknownRole { text, nearest } => words(
            "unknown-role",
            format!("{} is no role.{}", quoted(text), did_you_mean(*nearest)),
            "What it allows is not guessed.",
            format!("There are: {}.", crate::night::Role::ALL.map(crate::night::Role::word).join(", ")),
        ),
        SignOffMistake::FitTestWithout { person, missing } => words(
            "fit-test-without",
            format!("fit test for {} has no {missing}.", quoted(person)),
            "A fit test is good for one model and one size.",
            format!("Write it in the column \"{missing}\"."),
        ),
        SignOffMistake::NotOfThisKind { kind, heading } => words(
            "not-of-this-kind",
            format!("a {kind} has no {heading}."),
            "Which of the two this row is is not guessed.",
            "Leave the field empty, or correct the kind.",
        ),
        SignOffMistake::Twice { person, what } => words(
            "sign-off-twice",
            format!("{}: {} is there twice{}.", quoted(person), quoted(what), both(lines)),
            "Which day counts is not guessed.",
            "Keep one row.",
        ),
    }
}

fn headings() -> String {
    keys::SIGN_OFFS.keys.iter().map(|key| key.name).collect::<Vec<_>>().join(", ")
}

pub(super) fn advice_words(advice: &SignOffAdvice) -> Words {
    match advice {
        SignOffAdvice::UnknownDay { person, what } => words(
            "day-unknown",
            format!("{}: {what} has no last day.", quoted(person)),
            "Unknown is not in date: it counts as not held.",
            "Write the day in \"valid_through\" once it is known.",
        ),
        SignOffAdvice::OtherRespirator { model, nearest } => words(
            "other-respirator",
            format!("no ensemble of these limits is worn with {}.{}", quoted(model), did_you_mean(nearest.as_deref())),
            "This fit test allows nothing tonight.",
            "",
        ),
        SignOffAdvice::NotOnRoster { ids, count } => words(
            "not-on-roster",
            format!("{count} in this file are not on this roster: {}.", listed(ids, *count)),
            "Nothing is taken for them. A slip in an ID would look the same.",
            "",
        ),
        SignOffAdvice::Taken { signed, fitted, left } => words(
            "sign-offs-taken",
            format!("sign-offs of {signed} and fit tests of {fitted} on this roster are taken from this file."),
            "What the roster says of these is not looked at.",
            if left.is_empty() {
                String::new()
            } else {
                format!("Not in the file, so as the roster says: {}.", listed(left, left.len()))
            },
        ),
    }
}

/// IDs with commas between; `...` where there are more than are named.
fn listed(ids: &[String], count: usize) -> String {
    let named: Vec<String> = ids.iter().map(|id| quoted(id).trim_matches('"').to_owned()).collect();
    named.join(", ") + if count > ids.len() { ", ..." } else { "" }
}
