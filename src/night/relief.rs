//! How people relieve each other at the door of a room (D8).

/// The unit's relief style.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Relief {
    /// Nobody passes the door alone.
    InPairs,
    /// One person at a time while others stay inside.
    OneByOne,
    /// Either: the unit forces none.
    Either,
}

impl Relief {
    /// Every style; what allows the most comes last.
    pub const ALL: [Self; 3] = [Self::InPairs, Self::OneByOne, Self::Either];

    /// Their words in the files, in the same order.
    pub const WORDS: [&'static str; 3] = ["in-pairs", "one-by-one", "either"];

    /// The word for it in the files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        Self::WORDS[self as usize]
    }

    /// The style of a word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|relief| relief.word() == word)
    }

    /// The style at a place of [`Self::ALL`].
    #[must_use]
    pub fn at(place: u32) -> Self {
        usize::try_from(place).ok().and_then(|place| Self::ALL.get(place).copied()).unwrap_or(Self::Either)
    }

    /// Whether the unit forces a style.
    #[must_use]
    pub const fn is_forced(self) -> bool {
        !matches!(self, Self::Either)
    }

    /// How many pass the door together at least.
    #[must_use]
    pub const fn together(self) -> u32 {
        match self {
            Self::InPairs => 2,
            Self::OneByOne | Self::Either => 1,
        }
    }
}
