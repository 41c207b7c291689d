//! Rows of a history or of results, each field with its place in the file.

use super::csv_text::{self, Field, Slip};
use super::finding::Mistakes;
use super::mistake::{Mistake, RowMistake};
use super::shape::is_readable;
use super::source::{At, File, Source, Spot};

/// One row: never empty.
pub(super) type Row = Vec<At<String>>;

/// The rows of a file; empty ones are passed over.
pub(super) fn rows(file: File, source: &Source, out: &mut Mistakes) -> Vec<Row> {
    if !is_readable(file, source, out) {
        return vec![];
    }
    let (rows, slips) = csv_text::rows(source.text());
    for slip in slips {
        let (at, mistake) = match slip {
            Slip::NotClosed(at) => (at, RowMistake::OpenQuote),
            Slip::AfterQuote(at) => (at, RowMistake::AfterQuote),
        };
        out.add(Spot { file, from: at, to: at + 1 }, Mistake::Row(mistake));
    }
    let placed = |field: Field| {
        let spot = Spot { file, from: field.from, to: field.to.max(field.from + 1) };
        At { spot, value: field.text }
    };
    rows.into_iter().map(|row| row.into_iter().map(placed).collect()).collect()
}
