//! Names that are declared once and referred to elsewhere.

use std::collections::BTreeMap;

use crate::night::looks;

use super::finding::Mistakes;
use super::mistake::{Mistake, NameMistake};
use super::near;
use super::record::Record;
use super::source::{At, Spot};

/// The names of one kind, each with its position in the file.
pub(super) struct Names {
    noun: &'static str,
    declared_in: &'static str,
    positions: BTreeMap<String, usize>,
    /// False when a name could not be read or is there twice: then an unknown one may be that one.
    complete: bool,
}

impl Names {
    /// The ids of the tables `[[noun]]` of a file; ids given twice are told of.
    pub(super) fn of(file: &Record, noun: &'static str, declared_in: &'static str, out: &mut Mistakes) -> Self {
        let records = file.tables(noun);
        // Tables in a form that could not be read may hold any name.
        let complete = !file.has(noun) || file.values.contains_key(noun);
        let mut names = Self { noun, declared_in, positions: BTreeMap::new(), complete };
        let mut first: BTreeMap<&str, Spot> = BTreeMap::new();
        for (position, record) in records.iter().enumerate() {
            let Some(id) = record.text("id") else {
                names.complete = false;
                continue;
            };
            if let Some(&earlier) = first.get(id.value) {
                let twice = NameMistake::IdTwice { noun, id: id.value.to_owned() };
                out.add_with(id.spot, earlier, Mistake::Name(twice));
                names.complete = false;
            } else {
                first.insert(id.value, id.spot);
                names.positions.insert(id.value.to_owned(), position);
            }
        }
        names
    }

    /// Names that are already known to be right.
    pub(super) fn known<'a>(
        noun: &'static str,
        declared_in: &'static str,
        names: impl Iterator<Item = &'a str>,
    ) -> Self {
        let mut positions = BTreeMap::new();
        for (position, name) in names.enumerate() {
            positions.entry(name.to_owned()).or_insert(position);
        }
        Self { noun, declared_in, positions, complete: true }
    }

    /// The position of a name.
    pub(super) fn find(&self, name: &str) -> Option<usize> {
        self.positions.get(name).copied()
    }

    /// Whether a name that is not found is surely a mistake.
    pub(super) const fn is_complete(&self) -> bool {
        self.complete
    }

    /// The position of a name that has to be there; told of when it is not.
    pub(super) fn require(&self, name: At<&str>, out: &mut Mistakes) -> Option<usize> {
        let found = self.find(name.value);
        if found.is_none() && self.complete {
            let known = self.positions.keys().map(String::as_str);
            let nearest = if out.is_flooded() { None } else { near::word(name.value, known).map(str::to_owned) };
            let id = name.value.to_owned();
            let unknown = NameMistake::Unknown { noun: self.noun, id, nearest, declared_in: self.declared_in };
            out.add(name.spot, Mistake::Name(unknown));
        }
        found
    }

    /// The same for a text that may be absent.
    pub(super) fn require_in(&self, record: &Record, key: &str, out: &mut Mistakes) -> Option<usize> {
        self.require(record.text(key)?, out)
    }
}

/// Checks that people's ids can be read on a sheet and told apart (J6).
pub(super) fn check_ids(people: &[Record], out: &mut Mistakes) {
    let mut seen: BTreeMap<String, At<&str>> = BTreeMap::new();
    for id in people.iter().filter_map(|person| person.text("id")) {
        if !is_id(id.value) {
            out.add(id.spot, Mistake::Name(NameMistake::BadId { id: id.value.to_owned() }));
            continue;
        }
        let first = *seen.entry(looks(id.value)).or_insert(id);
        if first.value != id.value {
            let alike = NameMistake::LookAlike { one: first.value.to_owned(), other: id.value.to_owned() };
            out.add_with(id.spot, first.spot, Mistake::Name(alike));
        }
    }
}

fn is_id(id: &str) -> bool {
    (2..=3).contains(&id.len()) && id.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_two_or_three_capitals_or_digits() {
        for good in ["KB", "K7", "ABC"] {
            assert!(is_id(good), "{good}");
        }
        for bad in ["", "K", "ABCD", "kb", "K-", "ÄB"] {
            assert!(!is_id(bad), "{bad}");
        }
    }
}
