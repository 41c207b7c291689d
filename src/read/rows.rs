//! Rows of fields, as spreadsheets write them (RFC 4180), each field with its place.
//!
//! Commas, semicolons or tabs between fields, whichever the first row has most of; a byte-order mark, quotes, quotes
//! doubled inside quotes, and either kind of line end.

use super::finding::Mistakes;
use super::mistake::{Mistake, RowMistake, TextMistake};
use super::source::{At, File, Source, Spot, Unreadable};

/// One row: never empty.
pub(super) type Row = Vec<At<String>>;

/// The rows of a file; empty ones are passed over.
pub(super) fn rows(file: File, source: &Source, out: &mut Mistakes) -> Vec<Row> {
    let whole = Spot { file, from: 0, to: 0 };
    match source.unreadable() {
        Some(Unreadable::NotText(at)) => {
            out.add(Spot { file, from: at, to: at + 1 }, Mistake::Text(TextMistake::NotText));
            return vec![];
        }
        Some(Unreadable::TooLarge(bytes)) => {
            out.add(whole, Mistake::Text(TextMistake::TooLarge { bytes }));
            return vec![];
        }
        None => {}
    }
    let text = source.text();
    let mut reader = Reader { file, text, at: if text.starts_with('\u{feff}') { 3 } else { 0 }, between: ',' };
    reader.between = reader.mark();
    let mut rows = Vec::new();
    while reader.at < text.len() {
        let row = reader.row(out);
        if row.len() > 1 || row.iter().any(|field| !field.value.is_empty()) {
            rows.push(row);
        }
    }
    rows
}

struct Reader<'a> {
    file: File,
    text: &'a str,
    at: usize,
    between: char,
}

impl Reader<'_> {
    /// What stands between fields: that of which the first row has most.
    fn mark(&self) -> char {
        let first = self.text[self.at..].lines().next().unwrap_or("");
        let count = |mark: char| first.matches(mark).count();
        // Of two that stand there as often the first.
        [',', ';', '\t'].into_iter().rev().max_by_key(|&mark| count(mark)).unwrap_or(',')
    }

    fn row(&mut self, out: &mut Mistakes) -> Row {
        let mut row = vec![self.field(out)];
        while self.text[self.at..].starts_with(self.between) {
            self.at += 1;
            row.push(self.field(out));
        }
        let rest = &self.text[self.at..];
        let end = ["\r\n", "\n", "\r"].into_iter().find(|end| rest.starts_with(end));
        self.at += end.map_or(0, str::len);
        row
    }

    fn field(&mut self, out: &mut Mistakes) -> At<String> {
        self.skip_blanks();
        let from = self.at;
        let value = if self.text[from..].starts_with('"') { self.in_quotes(out) } else { String::new() };
        let rest = &self.text[self.at..];
        let length = rest.find([self.between, '\n', '\r']).unwrap_or(rest.len());
        let bare = rest[..length].trim();
        self.at += length;
        if !value.is_empty() && !bare.is_empty() {
            out.add(self.spot(from), Mistake::Row(RowMistake::AfterQuote));
        }
        At { spot: self.spot(from), value: if value.is_empty() { bare.to_owned() } else { value } }
    }

    fn skip_blanks(&mut self) {
        let blank = |c: char| c.is_whitespace() && c != self.between && !matches!(c, '\n' | '\r');
        self.at += self.text[self.at..].find(|c| !blank(c)).unwrap_or(self.text.len() - self.at);
    }

    /// A field in quotes; two of them inside stand for one.
    fn in_quotes(&mut self, out: &mut Mistakes) -> String {
        let from = self.at;
        let mut value = String::new();
        self.at += 1;
        loop {
            let rest = &self.text[self.at..];
            let Some(quote) = rest.find('"') else {
                out.add(Spot { file: self.file, from, to: from + 1 }, Mistake::Row(RowMistake::OpenQuote));
                self.at = self.text.len();
                return value;
            };
            value.push_str(&rest[..quote]);
            self.at += quote + 1;
            if !self.text[self.at..].starts_with('"') {
                return value.trim().to_owned();
            }
            value.push('"');
            self.at += 1;
        }
    }

    /// From a place up to here, one byte at least.
    fn spot(&self, from: usize) -> Spot {
        Spot { file: self.file, from, to: self.at.max(from + 1) }
    }
}
