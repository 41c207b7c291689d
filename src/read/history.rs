//! A history of absence: how many shifts each person had, and how many they missed.
//!
//! What is in it is about single people: findings name the line and the column, and quote neither figures nor the line.

use std::collections::BTreeMap;

use super::finding::Mistakes;
use super::mistake::{Mistake, RowMistake};
use super::rows::{Row, rows};
use super::source::{At, File, Source, Spot};

/// The most rows that are read.
const MOST_ROWS: usize = 100_000;

/// Times missing and shifts, by id. Shifts are never 0.
pub type History = BTreeMap<String, (u32, u32)>;

/// What a row of the file is about.
#[derive(Clone, Copy)]
enum Form {
    /// `person, shifts, absences`: a row to a person.
    Counted { person: usize, shifts: usize, absences: usize },
    /// `person, date, absent`: a row to a person and shift.
    ShiftByShift { person: usize, date: usize, absent: usize },
}

/// Reads the file. The first row names the columns; others than these are passed over.
pub(super) fn read(source: &Source, out: &mut Mistakes) -> Option<History> {
    let rows = rows(File::History, source, out);
    let whole = Spot { file: File::History, from: 0, to: 0 };
    let Some((head, rest)) = rows.split_first() else {
        out.add(whole, Mistake::Row(RowMistake::Empty));
        return None;
    };
    let form = form(head, out)?;
    if rest.is_empty() {
        out.add(whole, Mistake::Row(RowMistake::Empty));
    }
    if let Some(beyond) = rest.get(MOST_ROWS) {
        out.add(beyond[0].spot, Mistake::Row(RowMistake::TooMany { most: MOST_ROWS }));
        return None;
    }
    Some(match form {
        Form::Counted { person, shifts, absences } => counted(rest, [person, shifts, absences], out),
        Form::ShiftByShift { person, date, absent } => shift_by_shift(rest, [person, date, absent], out),
    })
}

fn form(head: &Row, out: &mut Mistakes) -> Option<Form> {
    let column = |name: &str| head.iter().position(|field| field.value.eq_ignore_ascii_case(name));
    let counted =
        || Some(Form::Counted { person: column("person")?, shifts: column("shifts")?, absences: column("absences")? });
    let single =
        || Some(Form::ShiftByShift { person: column("person")?, date: column("date")?, absent: column("absent")? });
    for (place, field) in head.iter().enumerate().filter(|(_, field)| !field.value.is_empty()) {
        if let Some(first) = head[..place].iter().find(|other| other.value.eq_ignore_ascii_case(&field.value)) {
            out.add_with(field.spot, first.spot, Mistake::Row(RowMistake::ColumnTwice));
            return None;
        }
    }
    let form = counted().or_else(single);
    if form.is_none() {
        let spot = Spot { to: head.last().map_or(0, |field| field.spot.to), ..head[0].spot };
        out.add(
            spot,
            Mistake::Row(RowMistake::Columns { wanted: "person, shifts, absences; or person, date, absent" }),
        );
    }
    form
}

/// The fields of a row in these columns, if it has all of them.
fn fields<'r, const N: usize>(row: &'r Row, columns: [usize; N], out: &mut Mistakes) -> Option<[&'r At<String>; N]> {
    let found = columns.map(|column| row.get(column).filter(|field| !field.value.is_empty()));
    if found.iter().any(Option::is_none) {
        out.add(row[0].spot, Mistake::Row(RowMistake::Missing));
        return None;
    }
    Some(found.map(|field| field.expect("none is missing")))
}

fn counted(rows: &[Row], columns: [usize; 3], out: &mut Mistakes) -> History {
    let mut history = History::new();
    let mut places: BTreeMap<String, Spot> = BTreeMap::new();
    for row in rows {
        let Some([person, shifts, absences]) = fields(row, columns, out) else { continue };
        if let Some(&first) = places.get(&person.value) {
            out.add_with(person.spot, first, Mistake::Row(RowMistake::PersonTwice));
            continue;
        }
        places.insert(person.value.clone(), person.spot);
        let (Some(all), Some(missed)) = (count(shifts, out), count(absences, out)) else { continue };
        if all == 0 || missed > all {
            out.add(absences.spot, Mistake::Row(RowMistake::MoreThanAll));
            continue;
        }
        history.insert(person.value.clone(), (missed, all));
    }
    history
}

fn shift_by_shift(rows: &[Row], columns: [usize; 3], out: &mut Mistakes) -> History {
    let mut history = History::new();
    let mut places: BTreeMap<(String, String), Spot> = BTreeMap::new();
    for row in rows {
        let Some([person, date, absent]) = fields(row, columns, out) else { continue };
        if let Some(&first) = places.get(&(person.value.clone(), date.value.clone())) {
            out.add_with(person.spot, first, Mistake::Row(RowMistake::PersonTwice));
            continue;
        }
        places.insert((person.value.clone(), date.value.clone()), person.spot);
        let missed = match absent.value.to_ascii_lowercase().as_str() {
            "yes" | "true" | "1" => 1,
            "no" | "false" | "0" => 0,
            _ => {
                out.add(absent.spot, Mistake::Row(RowMistake::YesOrNo));
                continue;
            }
        };
        let so_far = history.entry(person.value.clone()).or_insert((0, 0));
        *so_far = (so_far.0 + missed, so_far.1 + 1);
    }
    history
}

fn count(field: &At<String>, out: &mut Mistakes) -> Option<u32> {
    let number = field.value.parse::<u32>().ok().filter(|&number| number <= 1_000_000);
    if number.is_none() {
        out.add(field.spot, Mistake::Row(RowMistake::NotACount));
    }
    number
}
