//! Words for text, keys and single values.

use super::super::draw::quoted;
use super::super::mistake::{KeyMistake, TextMistake, ValueMistake};
use super::super::source::{File, MOST_BYTES};
use super::super::value::alternatives;
use super::{Lines, Words, both, did_you_mean, words};

pub(super) fn text_words(text: &TextMistake, lines: Lines) -> Words {
    match text {
        TextMistake::Syntax { message } => {
            let (what, fix) = syntax_words(message);
            words("syntax", what, "What follows may be read wrongly.", fix)
        }
        TextMistake::NotText => words(
            "not-text",
            "from here on this is not text in UTF-8.".to_owned(),
            "Nothing of the file is read.",
            "Save it as UTF-8 text, or give another file.",
        ),
        TextMistake::TooLarge { bytes } => words(
            "too-large",
            format!("the file has {bytes} bytes; at most {MOST_BYTES} are read."),
            "Nothing of the file is read.",
            "Is it the right file?",
        ),
        TextMistake::KeyTwice { key } => words(
            "key-twice",
            format!("{} is written twice{}.", quoted(key), both(lines)),
            "Which one counts is not guessed.",
            "Keep one. Tables of which there may be several have double brackets, e.g. [[person]].",
        ),
        TextMistake::Format { found } => words(
            "format",
            format!("format = {found} is not known."),
            "The file may mean something else than would be read.",
            "This release reads format = 1.",
        ),
        TextMistake::Unexplained => words(
            "not-read",
            "the file could not be read, and no reason is known.".to_owned(),
            "Nothing is planned or checked.",
            "This is a defect of the program: please report it.",
        ),
    }
}

/// What the parser says, in words for someone who writes a roster and not programs.
fn syntax_words(message: &str) -> (String, &'static str) {
    const KNOWN: [(&str, &str, &str); 9] = [
        ("must be quoted", "text has to be in quotes.", "Put quotes around it."),
        ("basic string, expected `\"`", "a closing quote is missing.", "Add it."),
        ("literal string, expected `'`", "a closing quote is missing.", "Add it."),
        ("unclosed array", "a closing bracket ] is missing.", "Add it."),
        ("unclosed table", "a closing bracket ] is missing.", "Add it."),
        ("unclosed inline table", "a closing brace } is missing.", "Add it."),
        ("missing comma", "a comma is missing.", "Add it."),
        ("no value", "the key has no value.", "Write key = value."),
        (
            "expected newline",
            "something follows that does not belong on this line.",
            "Start a new line, or put # before a remark.",
        ),
    ];
    KNOWN.iter().find(|(part, ..)| message.contains(part)).map_or_else(
        || (format!("this is not TOML: {}.", message.replace('\n', " ")), "Put this line right first."),
        |(_, what, fix)| ((*what).to_owned(), fix),
    )
}

pub(super) fn key_words(key: &KeyMistake) -> Words {
    match key {
        KeyMistake::UnknownKey { key, nearest, belongs } => words(
            "unknown-key",
            format!("unknown key {}.", quoted(key)),
            nearest.map_or_else(String::new, |nearest| format!("Nearest: \"{nearest}\".")) + &home_words(*belongs),
            "Unknown keys are never ignored: correct it or remove it.",
        ),
        KeyMistake::WrongUnit { key, right } => words(
            "wrong-unit",
            format!("unknown key {}: the key here is \"{right}\".", quoted(key)),
            "A figure read in the wrong unit could hurt someone.",
            format!("Write the figure in {} as {right}.", if right.ends_with("_h") { "hours" } else { "minutes" }),
        ),
        KeyMistake::MissingKey { file, table, key, write } => words(
            "missing-key",
            if table.is_empty() { format!("\"{key}\" is missing.") } else { format!("{table} has no \"{key}\".") },
            no_default(*file),
            format!("Add {write}."),
        ),
        KeyMistake::MissingOther { key, why, write } => words(
            "missing-key",
            format!("\"{key}\" is missing, though {why}."),
            no_default(File::Roster),
            format!("Add {write}."),
        ),
        KeyMistake::TableForm { key, many } => {
            let right = if *many { format!("[[{key}]]") } else { format!("[{key}]") };
            words(
                "table-form",
                format!("\"{key}\" is not written as {right}."),
                "It cannot be read.",
                if *many {
                    format!("Write one {right} for each, or a list of tables.")
                } else {
                    format!("Write {right} once.")
                },
            )
        }
    }
}

const fn no_default(file: File) -> &'static str {
    match file {
        File::Limits => "No limit has a default: a wrong guess could hurt someone.",
        File::Question => "Nothing in a question is guessed.",
        File::Roster | File::Private => "Nothing on a roster is guessed.",
        File::Rota => "Nothing in a rota is inferred.",
        File::SignOffs => "Unknown is not signed off.",
        File::History | File::Results => "Nothing of it is guessed.",
    }
}

fn home_words(belongs: Option<&str>) -> String {
    match belongs {
        None => String::new(),
        Some("") => "It belongs at the top of the file, before the first [table].".to_owned(),
        Some(table) => format!("It belongs in {table}."),
    }
}

pub(super) fn value_words(value: &ValueMistake, lines: Lines) -> Words {
    match value {
        ValueMistake::WrongType { key, wanted, found } => words(
            "wrong-type",
            format!("\"{key}\" is {found}."),
            "It cannot be read.",
            format!("It has to be {wanted}."),
        ),
        ValueMistake::Unquoted { key, text } => words(
            "unquoted",
            format!("\"{key}\" is a date or time without quotes."),
            "It cannot be read.",
            format!("Put it in quotes: {key} = \"{text}\"."),
        ),
        ValueMistake::OutOfRange { key, value, least, most, unit } => words(
            "out-of-range",
            format!("{key} = {} is not from {least} to {most}{unit}.", value.chars().take(24).collect::<String>()),
            "It cannot be meant.",
            "Correct the figure.",
        ),
        ValueMistake::NotAWord { key, value, choices, nearest } => words(
            "unknown-word",
            format!("{} is not a word for \"{key}\".{}", quoted(value), did_you_mean(*nearest)),
            "It cannot be read.",
            format!("It has to be {}.", alternatives(choices)),
        ),
        ValueMistake::BadText { key, most } => words(
            "bad-text",
            format!("the text of \"{key}\" is empty, begins or ends with a space, cannot be printed, or is too long."),
            "It could not be read on a sheet.",
            format!("Write 1 to {most} printable characters."),
        ),
        ValueMistake::Reserved { key } => words(
            "reserved-word",
            format!("\"{key}\" cannot be \"none\"."),
            "The word means that there is nothing.",
            "Write another name.",
        ),
        ValueMistake::Twice { key, value } => words(
            "twice-in-list",
            format!("{} is twice in \"{key}\"{}.", quoted(value), both(lines)),
            "One of them may be meant to be another.",
            "Remove or correct one.",
        ),
    }
}
