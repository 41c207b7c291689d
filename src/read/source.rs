//! The files as the user gave them, and places in them.

use std::borrow::Cow;
use std::fmt;

/// The largest file that is read, in bytes. A roster of 500 people takes less
/// than a tenth of it; a larger file is the wrong file.
pub const MOST_BYTES: usize = 1 << 20;

/// One file: its name as the user typed it, and its text.
///
/// `Debug` shows the name only: the text may be that of the private file.
#[derive(Clone, PartialEq, Eq)]
pub struct Source {
    name: String,
    text: String,
    unreadable: Option<Unreadable>,
}

/// Why a file is not even looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Unreadable {
    /// Not UTF-8 from this byte on.
    NotText(usize),
    /// More than [`MOST_BYTES`].
    TooLarge(usize),
}

impl Source {
    /// Takes the bytes of a file. Any bytes will do: what is wrong with them
    /// becomes a finding when the file is read.
    #[must_use]
    pub fn new(name: &str, bytes: &[u8]) -> Self {
        let unreadable = match std::str::from_utf8(bytes) {
            _ if bytes.len() > MOST_BYTES => Some(Unreadable::TooLarge(bytes.len())),
            Err(error) => Some(Unreadable::NotText(error.valid_up_to())),
            Ok(_) => None,
        };
        // Bytes before the first bad one keep their places in the lossy text.
        let text = match unreadable {
            Some(Unreadable::TooLarge(_)) => Cow::Borrowed(""),
            _ => String::from_utf8_lossy(bytes),
        };
        Self { name: name.to_owned(), text: text.into_owned(), unreadable }
    }

    /// The name as the user typed it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The text. Empty when the file is too large.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    pub(super) const fn unreadable(&self) -> Option<Unreadable> {
        self.unreadable
    }
}

impl fmt::Debug for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Source").field("name", &self.name).finish_non_exhaustive()
    }
}

/// The kinds of file, in the order in which findings about them are listed.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum File {
    /// Tonight: people, rooms, stock.
    Roster,
    /// The unit's limits.
    Limits,
    /// Personal limits. Nothing from it is ever quoted.
    Private,
    /// Who does what.
    Rota,
    /// Which crews to try.
    Question,
    /// Sign-offs and fit tests from a spreadsheet.
    SignOffs,
    /// How often people were missing. Nothing from it is ever quoted.
    History,
    /// What a share of many nights came to.
    Results,
}

/// A place in a file: bytes `[from, to)`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub(super) struct Spot {
    pub(super) file: File,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// A value with the place it was read from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct At<T> {
    pub(super) value: T,
    pub(super) spot: Spot,
}

/// Where the lines of a text start, so that a place is found without a search from the top.
pub(super) struct LineIndex<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> LineIndex<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { text, starts }
    }

    /// The line that holds a byte, counted from 1.
    pub(super) fn number(&self, byte: usize) -> usize {
        self.starts.partition_point(|&start| start <= byte).max(1)
    }

    /// The byte at which a line, counted from 1, starts.
    pub(super) fn start(&self, number: usize) -> usize {
        self.starts.get(number.wrapping_sub(1)).copied().unwrap_or(self.text.len())
    }

    /// The character of its line at which a byte stands, counted from 1. A mark of byte order is none.
    pub(super) fn column(&self, byte: usize) -> usize {
        let before = self.text.get(self.start(self.number(byte))..byte).unwrap_or("");
        before.trim_start_matches('\u{feff}').chars().count() + 1
    }

    /// A line, counted from 1, without its end.
    pub(super) fn line(&self, number: usize) -> &'a str {
        let from = self.start(number);
        let to = self.start(number + 1);
        self.text.get(from..to).unwrap_or("").trim_end_matches(['\n', '\r'])
    }
}
