//! What a share of the nights came to, as another run wrote it.

use std::collections::BTreeMap;

use crate::night::Minutes;

use super::finding::Mistakes;
use super::mistake::{Mistake, RowMistake};
use super::rows::{Row, rows};
use super::source::{At, File, Source, Spot};

/// The first field of such a file, and its format.
const TITLE: [&str; 2] = ["anteroom absence results", "1"];

/// The names of the columns of the cases.
const COLUMNS: [&str; 8] = ["case", "how", "certain", "rescue", "uncovered", "must", "skill", "wanted"];

/// A results file, its numbers not yet held against a list of cases.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Results {
    /// What it was made from, by name, in the order of the file.
    pub made_from: Vec<(String, String)>,
    /// Which share, from 1, of how many.
    pub share: (usize, usize),
    /// Every case in it, by number.
    pub cases: BTreeMap<usize, ResultRow>,
}

/// One case.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ResultRow {
    /// It follows from another.
    Follows,
    /// It was planned.
    Planned {
        /// `no`, `gap` or `amount`.
        certain: String,
        /// Minutes missed: rescue, skill.
        minutes: [Minutes; 2],
        /// Tasks missed: must, wanted.
        counts: [u32; 2],
        /// Person-minutes short, by acuity class.
        uncovered: Vec<Minutes>,
    },
}

/// Reads the file.
pub(super) fn read(source: &Source, out: &mut Mistakes) -> Option<Results> {
    let rows = rows(File::Results, source, out);
    let whole = Spot { file: File::Results, from: 0, to: 0 };
    let is = |row: &Row, names: &[&str]| row.iter().map(|field| field.value.as_str()).eq(names.iter().copied());
    if !rows.first().is_some_and(|row| is(row, &TITLE)) {
        out.add(rows.first().map_or(whole, |row| row[0].spot), Mistake::Row(RowMistake::NotResults));
        return None;
    }
    let head = rows.iter().position(|row| is(row, &COLUMNS));
    let (Some(head), Some((last, _))) = (head, rows.split_last()) else {
        out.add(whole, Mistake::Row(RowMistake::CutOff));
        return None;
    };
    let mut made_from = Vec::new();
    let mut share = None;
    for row in &rows[1..head] {
        match &row[..] {
            [name, number, of] if name.value == "share" => share = number_of(number).zip(number_of(of)),
            [name, value] => made_from.push((name.value.clone(), value.value.clone())),
            _ => out.add(row[0].spot, Mistake::Row(RowMistake::BadRow)),
        }
    }
    let body = &rows[head + 1..(rows.len() - 1).max(head + 1)];
    let complete = matches!(&last[..], [word, count] if word.value == "end" && number_of(count) == Some(body.len()));
    if !complete || share.is_none() {
        out.add(last[0].spot, Mistake::Row(RowMistake::CutOff));
        return None;
    }
    let mut cases = BTreeMap::new();
    for row in body {
        let read = case(row).filter(|(number, _)| !cases.contains_key(number));
        match read {
            Some((number, row)) => drop(cases.insert(number, row)),
            None => out.add(row[0].spot, Mistake::Row(RowMistake::BadRow)),
        }
    }
    Some(Results { made_from, share: share?, cases })
}

fn number_of(field: &At<String>) -> Option<usize> {
    field.value.parse().ok()
}

fn case(row: &Row) -> Option<(usize, ResultRow)> {
    let [number, how, certain, rescue, uncovered, must, skill, wanted] = &row[..] else { return None };
    let amount =
        |text: &str| text.parse::<i64>().ok().filter(|&amount| (0..=10_000_000).contains(&amount)).map(Minutes);
    let count = |text: &str| text.parse::<u32>().ok();
    let number = number_of(number)?;
    if how.value == "follows" {
        return Some((number, ResultRow::Follows));
    }
    let known = how.value == "planned" && ["no", "gap", "amount"].contains(&certain.value.as_str());
    let minutes = [amount(&rescue.value)?, amount(&skill.value)?];
    let counts = [count(&must.value)?, count(&wanted.value)?];
    let uncovered = uncovered.value.split_whitespace().map(amount).collect::<Option<Vec<_>>>()?;
    known.then_some((number, ResultRow::Planned { certain: certain.value.clone(), minutes, counts, uncovered }))
}
