//! From TOML to records: is every key known and there, and every value of the
//! right type? Everything that is not becomes a finding, and reading goes on.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::finding::Mistakes;
use super::keys::{Key, Keys, Kind, Need};
use super::mistake::{KeyMistake, Mistake, TextMistake, ValueMistake};
use super::near;
use super::record::{Datum, Record};
use super::source::{At, File, LineIndex, Source, Spot, Unreadable};
use super::time::Wall;
use super::value;

/// One file on its way to a record.
pub(super) struct Shaper {
    pub(super) file: File,
    pub(super) root: &'static Keys,
    pub(super) wall: Wall,
}

/// Whether a file is text of a size that is looked at; told of when not.
pub(super) fn is_readable(file: File, source: &Source, out: &mut Mistakes) -> bool {
    match source.unreadable() {
        Some(Unreadable::NotText(at)) => {
            out.add(Spot { file, from: at, to: at + 1 }, Mistake::Text(TextMistake::NotText));
        }
        Some(Unreadable::TooLarge(bytes)) => {
            out.add(Spot { file, from: 0, to: 0 }, Mistake::Text(TextMistake::TooLarge { bytes }));
        }
        None => return true,
    }
    false
}

/// Parses a file; what the parser complains of is told, and the rest is read.
pub(super) fn parse<'a>(file: File, source: &'a Source, out: &mut Mistakes) -> DeTable<'a> {
    if !is_readable(file, source, out) {
        return DeTable::new();
    }
    let (table, errors) = DeTable::parse_recoverable(source.text());
    let index = LineIndex::new(source.text());
    let mut lines = BTreeSet::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let line = index.number(span.start);
        // One slip often upsets the parser more than once: the first complaint on a line is the useful one.
        if !lines.insert(line) {
            continue;
        }
        let here = spot(file, &span);
        let Some(key) = key_twice(source.text(), error.message(), &span) else {
            out.add(here, Mistake::Text(TextMistake::Syntax { message: error.message().to_owned() }));
            continue;
        };
        let first = if out.is_flooded() { None } else { earlier(&index, line, &key) };
        let twice = Mistake::Text(TextMistake::KeyTwice { key });
        match first {
            Some(first) => out.add_with(here, spot(file, &first), twice),
            None => out.add(here, twice),
        }
    }
    table.into_inner()
}

/// The key that the parser found a second time.
fn key_twice(text: &str, message: &str, span: &Range<usize>) -> Option<String> {
    let key = text.get(span.clone()).filter(|_| message == "duplicate key")?;
    Some(key.trim_matches(['"', '\'']).to_owned())
}

/// The same key on an earlier line of the table; the parser does not say where it was.
fn earlier(index: &LineIndex<'_>, line: usize, key: &str) -> Option<Range<usize>> {
    const FAR: usize = 200;
    let before = (line.saturating_sub(FAR).max(1)..line).rev();
    let same_table = before.take_while(|&number| !index.line(number).trim_start().starts_with('['));
    let mut starts = same_table.filter_map(|number| {
        let text = index.line(number);
        let rest = text.trim_start().strip_prefix(key)?;
        let from = index.start(number) + (text.len() - text.trim_start().len());
        rest.trim_start().starts_with('=').then(|| from..from + key.len())
    });
    starts.next()
}

fn spot(file: File, span: &Range<usize>) -> Spot {
    Spot { file, from: span.start, to: span.end }
}

impl Shaper {
    /// The whole file as a record.
    pub(super) fn shape(&self, table: &DeTable<'_>, out: &mut Mistakes) -> Record {
        self.record(table, self.root, self.spot(&(0..0)), out)
    }

    pub(super) fn spot(&self, span: &Range<usize>) -> Spot {
        spot(self.file, span)
    }

    fn record(&self, table: &DeTable<'_>, keys: &'static Keys, place: Spot, out: &mut Mistakes) -> Record {
        let mut record = Record { spot: place, values: BTreeMap::new(), written: Vec::new() };
        let mut meant = BTreeSet::new();
        for (name, value) in table {
            let here = self.spot(&name.span());
            let Some(key) = keys.find(name.get_ref()) else {
                meant.extend(self.unknown(name.get_ref(), keys, here, out));
                continue;
            };
            record.written.push((key.name, here));
            if let Some(datum) = self.datum(key.name, key.kind, value, out) {
                record.values.insert(key.name, datum);
            }
        }
        for key in keys.keys {
            if key.need == Need::Required && !record.has(key.name) && !meant.contains(key.name) {
                out.add(place, self.missing(key, keys));
            }
        }
        record
    }

    fn missing(&self, key: &Key, keys: &Keys) -> Mistake {
        let write = value::example(key.name, key.kind);
        Mistake::Key(KeyMistake::MissingKey { file: self.file, table: keys.head, key: key.name, write })
    }

    /// Tells of an unknown key; returns the known one that was probably meant.
    fn unknown(&self, name: &str, keys: &'static Keys, here: Spot, out: &mut Mistakes) -> Option<&'static str> {
        let key = name.to_owned();
        if let Some(right) = near::other_unit(name, keys) {
            out.add(here, Mistake::Key(KeyMistake::WrongUnit { key, right }));
            return Some(right);
        }
        let belongs = near::home_of(name, self.root);
        let nearest = if belongs.is_some() || out.is_flooded() { None } else { near::key(name, keys) };
        out.add(here, Mistake::Key(KeyMistake::UnknownKey { key, nearest, belongs }));
        nearest
    }

    /// One value under a known key.
    fn datum(
        &self,
        key: &'static str,
        kind: Kind,
        value: &Spanned<DeValue<'_>>,
        out: &mut Mistakes,
    ) -> Option<At<Datum>> {
        let here = self.spot(&value.span());
        let datum = match kind {
            Kind::OrNone(_) if value.get_ref().as_str() == Some("none") => Datum::Nothing,
            Kind::OrNone(kind) => return self.datum(key, *kind, value, out),
            Kind::Table(keys) => self.one(key, keys, value, out)?,
            Kind::Tables(keys) => self.many(key, keys, value, out)?,
            Kind::List(member) | Kind::Pair(member) => self.list(key, kind, *member, value, out)?,
            Kind::Sizes => self.sizes(key, value, out)?,
            _ => match value::scalar(key, kind, value.get_ref(), self.wall) {
                Ok(datum) => datum,
                Err(mistake) => {
                    out.add(here, mistake);
                    return None;
                }
            },
        };
        Some(At { value: datum, spot: here })
    }

    fn one(
        &self,
        key: &'static str,
        keys: &'static Keys,
        value: &Spanned<DeValue<'_>>,
        out: &mut Mistakes,
    ) -> Option<Datum> {
        let here = self.spot(&value.span());
        let DeValue::Table(table) = value.get_ref() else {
            out.add(here, Mistake::Key(KeyMistake::TableForm { key, many: false }));
            return None;
        };
        Some(Datum::One(self.record(table, keys, here, out)))
    }

    fn many(
        &self,
        key: &'static str,
        keys: &'static Keys,
        value: &Spanned<DeValue<'_>>,
        out: &mut Mistakes,
    ) -> Option<Datum> {
        let here = self.spot(&value.span());
        let wrong = Mistake::Key(KeyMistake::TableForm { key, many: true });
        let DeValue::Array(members) = value.get_ref() else {
            out.add(here, wrong);
            return None;
        };
        let mut records = Vec::new();
        for member in members {
            let place = self.spot(&member.span());
            match member.get_ref() {
                DeValue::Table(table) => records.push(self.record(table, keys, place, out)),
                _ => out.add(place, wrong.clone()),
            }
        }
        Some(Datum::Many(records))
    }

    fn list(
        &self,
        key: &'static str,
        kind: Kind,
        member_kind: Kind,
        value: &Spanned<DeValue<'_>>,
        out: &mut Mistakes,
    ) -> Option<Datum> {
        let here = self.spot(&value.span());
        let DeValue::Array(members) = value.get_ref() else {
            out.add(here, value::wrong_type(key, kind, value.get_ref()));
            return None;
        };
        let mut data: Vec<At<Datum>> = Vec::new();
        let mut seen = BTreeMap::new();
        for member in members {
            let Some(datum) = self.datum(key, member_kind, member, out) else { continue };
            let number = member.get_ref().as_integer().map(toml::de::DeInteger::as_str);
            let text = member.get_ref().as_str().or(number).unwrap_or("").to_owned();
            match seen.insert(text.clone(), datum.spot) {
                Some(first) if matches!(kind, Kind::List(_)) => {
                    let twice = ValueMistake::Twice { key: key.to_owned(), value: text };
                    out.add_with(datum.spot, first, Mistake::Value(twice));
                }
                _ => data.push(datum),
            }
        }
        // A list of which nothing is right is not an empty one: what is wrong with it was told.
        (members.is_empty() || !data.is_empty()).then_some(Datum::List(data))
    }

    fn sizes(&self, key: &'static str, value: &Spanned<DeValue<'_>>, out: &mut Mistakes) -> Option<Datum> {
        let DeValue::Table(table) = value.get_ref() else {
            out.add(self.spot(&value.span()), value::wrong_type(key, Kind::Sizes, value.get_ref()));
            return None;
        };
        let mut sizes = Vec::new();
        for (ensemble, size) in table {
            let place = self.spot(&size.span());
            match value::scalar(key, Kind::Text(24), size.get_ref(), self.wall) {
                Ok(Datum::Text(text)) => {
                    let ensemble = At { value: ensemble.get_ref().to_string(), spot: self.spot(&ensemble.span()) };
                    sizes.push((ensemble, At { value: text, spot: place }));
                }
                Ok(_) => {}
                Err(mistake) => out.add(place, mistake),
            }
        }
        // The parser sorts by name; the order of the file is the unit's order of choice.
        sizes.sort_by_key(|(ensemble, _)| ensemble.spot.from);
        Some(Datum::Sizes(sizes))
    }
}

/// A key that has to be there in this case and is not.
pub(super) fn missing_when(record: &Record, keys: &Keys, name: &str, out: &mut Mistakes) {
    let Some(key) = keys.find(name) else { return };
    if let (Need::When(why), false) = (key.need, record.has(name)) {
        let write = value::example(key.name, key.kind);
        out.add(record.spot, Mistake::Key(KeyMistake::MissingOther { key: key.name, why, write }));
    }
}
