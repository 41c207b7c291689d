//! The ids of the rules, as the trade page numbers them.

/// Declares the rules: one line each, with what it says in the code and the
/// words beside a fault.
macro_rules! rules {
    ($($(#[doc = $doc:expr])+ $id:ident: $words:expr,)+) => {
        /// A rule of the trade that anteroom knows. The id is what people quote.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub enum Rule {
            $($(#[doc = $doc])+ $id,)+
        }

        impl Rule {
            /// Every rule, in order.
            pub const ALL: &[Self] = &[$(Self::$id),+];

            /// The id, e.g. `B4`.
            #[must_use]
            pub const fn id(self) -> &'static str {
                match self {
                    $(Self::$id => stringify!($id),)+
                }
            }

            /// The rule in the trade's words, for a line beside a fault.
            #[must_use]
            pub const fn words(self) -> &'static str {
                match self {
                    $(Self::$id => $words,)+
                }
            }
        }
    };
}

rules! {
    /// Sign-off held and in date at the end of the duty.
    A1: "signed off, in date at the end of the duty",
    /// Fit test, ensemble and size.
    A2: "fit test, kit and size",
    /// Inside the on-duty interval, shower included.
    A3: "on duty, shower included",
    /// The flags of the day.
    A4: "not available for this today",
    /// Supervised entrants beside a preceptor.
    A5: "supervised only beside a preceptor",
    /// People kept apart.
    A6: "kept apart",
    /// One duty at a time, changeover included.
    A7: "one duty at a time",
    /// Personal limits.
    A8: "not available then",
    /// Last done or drilled lately enough.
    A9: "done or drilled lately enough",
    /// Wear runs from the unit's start point to last item off; the times of an entry are in order and long enough.
    B1: "times of an entry in order and long enough",
    /// Continuous wear.
    B2: "longest wear",
    /// OUT-BY: planned out is not after it.
    B3: "out by OUT-BY",
    /// Rest before the next wear.
    B4: "rest before the next wear",
    /// Recovery and duties inside rest.
    B5: "recovery after removal",
    /// Cumulative wear.
    B6: "wear in the shift",
    /// Wear over the days before.
    B7: "wear over the days before",
    /// Entries of one person in a shift.
    B8: "entries in the shift",
    /// The shortest useful stay.
    B9: "shortest useful stay",
    /// Low hours: shorter wear and shorter watch.
    B10: "shorter wear and watch in low hours",
    /// Every removal watched, one observer to one person.
    C1: "every removal watched, one to one",
    /// Observer, assistant and wearer are three people.
    C2: "wearer, observer and assistant are three people",
    /// The assistant is there, dressed, for the whole removal.
    C3: "assistant there, dressed, for the whole removal",
    /// The assistant's own removal is watched.
    C4: "assistant's own removal watched",
    /// The observer's own kit and removal.
    C5: "observer's own kit and removal",
    /// Every donning watched.
    C6: "every donning watched",
    /// No entry without its exit.
    C7: "no entry without its exit",
    /// Cover for an early exit.
    C8: "somebody who comes out early is seen to",
    /// Lanes, cleaning, closures, waiting places.
    C9: "one person to a lane, cleaned between",
    /// One-way flow.
    C10: "one way: room, lane, clean side",
    /// Continuous watching.
    C11: "longest watch",
    /// The two-person rule.
    D1: "nobody alone in the room",
    /// Maximum inside.
    D2: "most people in the room",
    /// Relief overlap.
    D3: "relief overlap",
    /// Continuous presence.
    D4: "continuous presence",
    /// Timed tasks.
    D5: "timed tasks",
    /// Skill cover.
    D6: "skill cover",
    /// Relief forced one by one or in pairs.
    D8: "relief in pairs or one by one, as the unit says",
    /// Standby responders.
    E1: "someone rested stands by",
    /// Two crews across a handover.
    F1: "in the huddle of the handover",
    /// Shower places.
    F2: "a shower place after the last removal",
    /// Breaks.
    F3: "breaks",
    /// The gap between shifts.
    F4: "gap between shifts",
    /// The clean-side coordinator.
    F7: "a coordinator on the clean side",
    /// Nights in a row and hours in a week.
    F8: "nights in a row, hours in a week",
    /// Kits.
    G1: "kits on the shelf",
    /// Respirators in turn.
    G2: "respirators in turn, run time",
    /// Pins and what is forbidden.
    H6: "pinned, or forbidden, for tonight",
}
