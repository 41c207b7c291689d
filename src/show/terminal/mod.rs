//! Plain text for a terminal: 80 columns, no colour needed, a screenful to a section.

mod caution;
mod entries;
mod gaps;
mod header;
mod limits;
mod people;
pub(super) mod table;
mod timeline;
mod totals;
mod verdict;

use std::collections::BTreeSet;

use super::View;

pub use caution::{bands, caution, caution_of_answer};
pub use entries::entries;
pub use gaps::gaps;
pub use header::{header, names};
pub use limits::limits;
pub use people::people;
pub use timeline::timeline;
pub use totals::totals;
pub use verdict::{line as fault_line, not_checked, unchecked, verdict};

/// A part of the output, in the order in which they are shown. The header is always shown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Section {
    /// The unit's limits and who approved them.
    Limits,
    /// Entries, tasks and gaps in order of time.
    Entries,
    /// Everybody's duties.
    People,
    /// Everybody's night in one line.
    Timeline,
    /// Gaps, worst first.
    Gaps,
    /// Counts, kits and how good the rota is.
    Totals,
    /// Faults, and what was not checked.
    Check,
    /// The caution.
    Caution,
}

impl Section {
    /// Every section, in order.
    pub const ALL: [Self; 8] = [
        Self::Limits,
        Self::Entries,
        Self::People,
        Self::Timeline,
        Self::Gaps,
        Self::Totals,
        Self::Check,
        Self::Caution,
    ];

    /// The word by which it is asked for.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Limits => "limits",
            Self::Entries => "entries",
            Self::People => "people",
            Self::Timeline => "timeline",
            Self::Gaps => "gaps",
            Self::Totals => "totals",
            Self::Check => "check",
            Self::Caution => "caution",
        }
    }

    fn render(self, view: &View<'_>) -> String {
        match self {
            Self::Limits => limits(view),
            Self::Entries => entries(view),
            Self::People => people(view),
            Self::Timeline => timeline(view),
            Self::Gaps => gaps(view),
            Self::Totals => totals(view),
            Self::Check => verdict(view) + "\n" + &not_checked(view),
            Self::Caution => caution(view),
        }
    }
}

/// The header and the sections asked for, in their fixed order.
#[must_use]
pub fn render(view: &View<'_>, sections: &BTreeSet<Section>) -> String {
    let mut parts = vec![header(view)];
    parts.extend(sections.iter().map(|section| section.render(view)));
    parts.join("\n")
}

/// `text` with the lines that matter most in bold, for a terminal.
#[must_use]
pub fn emboldened(text: &str) -> String {
    let bold = |line: &str| {
        if stands_out(line) { format!("\u{1b}[1m{line}\u{1b}[0m\n") } else { format!("{line}\n") }
    };
    text.lines().map(bold).collect()
}

fn stands_out(line: &str) -> bool {
    ["== ", "ENTRY ", "GAP ", "TRAINING", "REVIEW OVERDUE", "STOPPED BY", "DO NOT USE"]
        .iter()
        .any(|start| line.starts_with(start))
}
