//! What one run on one night came to: a line of the record.

use serde::{Deserialize, Serialize};

/// Who planned.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Who {
    /// This program.
    Ours,
    /// HiGHS on the program of people counted alone.
    HighsPlain,
    /// HiGHS on the program of alike people counted together; what has no names is no rota.
    HighsMerged,
    /// CP-SAT on a model of its own.
    CpSat,
}

impl Who {
    /// All opponents.
    pub const OPPONENTS: [Self; 3] = [Self::HighsPlain, Self::HighsMerged, Self::CpSat];

    /// Its word on the command line, in the record and in the table.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ours => "ours",
            Self::HighsPlain => "highs-plain",
            Self::HighsMerged => "highs-merged",
            Self::CpSat => "cp-sat",
        }
    }
}

/// A better rota, when it was known and what it is worth.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Found {
    /// Milliseconds since the start.
    pub ms: u64,
    /// By level of the night.
    pub values: Vec<i64>,
}

/// One run.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Outcome {
    pub night: String,
    pub order: u64,
    pub who: Who,
    /// Wall-clock seconds allowed.
    pub seconds: u64,
    /// Why it takes no part, where it does not.
    pub out: Option<String>,
    /// Names of the levels.
    pub levels: Vec<String>,
    /// Better and better rotas, in order of time.
    pub found: Vec<Found>,
    /// Solutions of people counted together, which are no rotas yet, with what they come to there.
    #[serde(default)]
    pub counted: Vec<Found>,
    /// What each level cannot be below, as far as that is known.
    pub bounds: Vec<Option<i64>>,
    /// Most memory used, in KiB.
    pub peak_kib: u64,
    /// Time of the check of the last rota, where there is one to check.
    pub check_us: Option<u64>,
    /// Disagreements with the check or with another model: each is a mistake in one of them.
    pub disagreements: Vec<String>,
}

impl Outcome {
    /// The best rota known after so many milliseconds.
    pub fn at(&self, ms: u64) -> Option<&Found> {
        best_at(&self.found, ms)
    }

    /// The best solution of people counted together by then.
    pub fn counted_at(&self, ms: u64) -> Option<&Found> {
        best_at(&self.counted, ms)
    }

    /// When a rota at least as good as this was first known.
    pub fn reached(&self, values: &[i64]) -> Option<u64> {
        self.found.iter().filter(|found| found.values.as_slice() <= values).map(|found| found.ms).min()
    }
}

fn best_at(found: &[Found], ms: u64) -> Option<&Found> {
    found.iter().filter(|found| found.ms <= ms).min_by_key(|found| &found.values)
}
