//! Words for files of rows: a history of absence, results of a share.

use super::super::mistake::RowMistake;
use super::{Lines, Words, both, words};

/// What wrong rows of a history would do.
const SKEWED: &str = "How often people are missing would come out wrong.";

pub(super) fn row_words(row: &RowMistake, lines: Lines) -> Words {
    match row {
        RowMistake::OpenQuote => words(
            "open-quote",
            "a closing quote is missing.".to_owned(),
            "The rest of the file is not read.",
            "Add it.",
        ),
        RowMistake::AfterQuote => words(
            "after-quote",
            "something follows a quote inside its field.".to_owned(),
            "It would be lost.",
            "Put the whole field into quotes, and double those inside.",
        ),
        RowMistake::Empty => words(
            "no-rows",
            "the file has no rows.".to_owned(),
            "Nothing is known of anybody.",
            "Give a row with the names of the columns, and a row to each person.",
        ),
        RowMistake::TooMany { most } => words(
            "too-many-rows",
            format!("there are more than {most} rows."),
            "No more are read.",
            "Give a shorter stretch of time.",
        ),
        RowMistake::Columns { wanted } => words(
            "columns",
            "the first row does not name the columns.".to_owned(),
            "What stands in which is not guessed.",
            format!("Name them in the first row: {wanted}."),
        ),
        RowMistake::ColumnTwice => words(
            "column-twice",
            "two columns have the same name.".to_owned(),
            "Which one counts is not guessed.",
            "Rename or remove one.",
        ),
        RowMistake::Missing => words("row-short", "a field of this row is missing.".to_owned(), SKEWED, "Fill it in."),
        RowMistake::NotACount => words(
            "not-a-count",
            "this is not a whole number up to 1000000.".to_owned(),
            SKEWED,
            "Write how many shifts, in figures.",
        ),
        RowMistake::MoreThanAll => words(
            "absences-over-shifts",
            "there are more absences than shifts, or no shifts.".to_owned(),
            SKEWED,
            "Shifts are all that were planned, those missed included.",
        ),
        RowMistake::YesOrNo => {
            words("yes-or-no", "this is neither yes nor no.".to_owned(), SKEWED, "Write yes for absent, no for there.")
        }
        RowMistake::PersonTwice => words(
            "row-twice",
            format!("the same person stands here twice{}.", both(lines)),
            SKEWED,
            "Give one row to a person, or one to a person and date.",
        ),
        RowMistake::NotResults => words(
            "not-results",
            "this is no results file of \"anteroom absence\", or one of another format.".to_owned(),
            "It cannot be gathered.",
            "Give files that were written with --results.",
        ),
        RowMistake::CutOff => words(
            "cut-off",
            "the file is not whole: its head or its last row is missing.".to_owned(),
            "Nights would be missing from the answer.",
            "Copy it again, or run this share again.",
        ),
        RowMistake::BadRow => words(
            "bad-row",
            "this row cannot be read, or its case stands there twice.".to_owned(),
            "The answer would be wrong.",
            "Results are not edited: run this share again.",
        ),
    }
}
