//! The ids of the rules, as the trade page numbers them.

/// A rule of the trade that anteroom knows. The id is what people quote.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Rule {
    /// Sign-off held and in date at the end of the duty.
    A1,
    /// Fit test, ensemble and size.
    A2,
    /// Inside the on-duty interval, shower included.
    A3,
    /// The flags of the day.
    A4,
    /// People kept apart.
    A6,
    /// One duty at a time, changeover included.
    A7,
    /// Personal limits.
    A8,
    /// Wear runs from the unit's start point to last item off; the times of an entry are in order and long enough.
    B1,
    /// Continuous wear.
    B2,
    /// OUT-BY: planned out is not after it.
    B3,
    /// Rest before the next wear.
    B4,
    /// Recovery and duties inside rest.
    B5,
    /// Cumulative wear.
    B6,
    /// The shortest useful stay.
    B9,
    /// Every removal watched, one observer to one person.
    C1,
    /// Observer, assistant and wearer are three people.
    C2,
    /// The assistant is there, dressed, for the whole removal.
    C3,
    /// The assistant's own removal is watched.
    C4,
    /// The observer's own kit and removal.
    C5,
    /// Every donning watched.
    C6,
    /// No entry without its exit.
    C7,
    /// Lanes, cleaning, closures, waiting places.
    C9,
    /// One-way flow.
    C10,
    /// Continuous watching.
    C11,
    /// The two-person rule.
    D1,
    /// Maximum inside.
    D2,
    /// Relief overlap.
    D3,
    /// Continuous presence.
    D4,
    /// Timed tasks.
    D5,
    /// Breaks.
    F3,
    /// The gap between shifts.
    F4,
    /// Kits.
    G1,
}

impl Rule {
    /// Every rule, in order.
    pub const ALL: [Self; 32] = [
        Self::A1,
        Self::A2,
        Self::A3,
        Self::A4,
        Self::A6,
        Self::A7,
        Self::A8,
        Self::B1,
        Self::B2,
        Self::B3,
        Self::B4,
        Self::B5,
        Self::B6,
        Self::B9,
        Self::C1,
        Self::C2,
        Self::C3,
        Self::C4,
        Self::C5,
        Self::C6,
        Self::C7,
        Self::C9,
        Self::C10,
        Self::C11,
        Self::D1,
        Self::D2,
        Self::D3,
        Self::D4,
        Self::D5,
        Self::F3,
        Self::F4,
        Self::G1,
    ];

    /// The id, e.g. `B4`.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::A1 => "A1",
            Self::A2 => "A2",
            Self::A3 => "A3",
            Self::A4 => "A4",
            Self::A6 => "A6",
            Self::A7 => "A7",
            Self::A8 => "A8",
            Self::B1 => "B1",
            Self::B2 => "B2",
            Self::B3 => "B3",
            Self::B4 => "B4",
            Self::B5 => "B5",
            Self::B6 => "B6",
            Self::B9 => "B9",
            Self::C1 => "C1",
            Self::C2 => "C2",
            Self::C3 => "C3",
            Self::C4 => "C4",
            Self::C5 => "C5",
            Self::C6 => "C6",
            Self::C7 => "C7",
            Self::C9 => "C9",
            Self::C10 => "C10",
            Self::C11 => "C11",
            Self::D1 => "D1",
            Self::D2 => "D2",
            Self::D3 => "D3",
            Self::D4 => "D4",
            Self::D5 => "D5",
            Self::F3 => "F3",
            Self::F4 => "F4",
            Self::G1 => "G1",
        }
    }

    /// The rule in the trade's words, for a line beside a fault.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::A1 => "signed off, in date at the end of the duty",
            Self::A2 => "fit test, kit and size",
            Self::A3 => "on duty, shower included",
            Self::A4 => "not available for this today",
            Self::A6 => "kept apart",
            Self::A7 => "one duty at a time",
            Self::A8 => "not available then",
            Self::B1 => "times of an entry in order and long enough",
            Self::B2 => "longest wear",
            Self::B3 => "out by OUT-BY",
            Self::B4 => "rest before the next wear",
            Self::B5 => "recovery after removal",
            Self::B6 => "wear in the shift",
            Self::B9 => "shortest useful stay",
            Self::C1 => "every removal watched, one to one",
            Self::C2 => "wearer, observer and assistant are three people",
            Self::C3 => "assistant there, dressed, for the whole removal",
            Self::C4 => "assistant's own removal watched",
            Self::C5 => "observer's own kit and removal",
            Self::C6 => "every donning watched",
            Self::C7 => "no entry without its exit",
            Self::C9 => "one person to a lane, cleaned between",
            Self::C10 => "one way: room, lane, clean side",
            Self::C11 => "longest watch",
            Self::D1 => "nobody alone in the room",
            Self::D2 => "most people in the room",
            Self::D3 => "relief overlap",
            Self::D4 => "continuous presence",
            Self::D5 => "timed tasks",
            Self::F3 => "breaks",
            Self::F4 => "gap between shifts",
            Self::G1 => "kits on the shelf",
        }
    }
}
