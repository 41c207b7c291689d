//! Why there are gaps, and what would close them.

use crate::night::{PersonIx, RoomIx, Span, TaskIx};

/// How bad a gap is, worst first (trade page 5.4).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// Levels 2 and 3: fewer people inside than required.
    PatientAlone,
    /// Levels 4 and 5: a task without its people.
    TaskNotCovered,
    /// Levels 7 to 9: covered, with too little to spare.
    Tight,
}

/// One gap, ready to be shown.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Gap {
    /// How bad it is.
    pub severity: Severity,
    /// When.
    pub span: Span,
    /// Where.
    pub room: RoomIx,
    /// Acuity class of the presence that is short, if presence is.
    pub class: Option<u32>,
    /// The task that is not covered, if one is.
    pub task: Option<TaskIx>,
    /// Who or what is short, in plain words.
    pub what: String,
    /// People required and people present.
    pub short: Option<(u32, u32)>,
    /// The smallest change that closes it, tried before it is claimed.
    pub fix: Option<String>,
}

impl Gap {
    /// The severity word. A patient with somebody inside, only too few, is not called alone.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match (self.severity, self.short) {
            (Severity::PatientAlone, Some((_, 1..))) => "SHORT INSIDE",
            (Severity::PatientAlone, _) => "PATIENT ALONE",
            (Severity::TaskNotCovered, _) => "TASK NOT COVERED",
            (Severity::Tight, _) => "TIGHT",
        }
    }
}

/// Everything there is to say about a rota besides the rota.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Explained {
    /// Gaps, worst first.
    pub gaps: Vec<Gap>,
    /// What each person may do tonight and the plain reason where not:
    /// "may enter, observe; not assist: no kit size".
    pub eligibility: Vec<(PersonIx, String)>,
    /// Changes that close several gaps: "One more doffing observer 02:00-05:00 closes gaps 1 and 2."
    pub fixes: Vec<String>,
}


/// Explains a rota.
#[must_use]
pub fn explain(night: &crate::night::Night, rota: &crate::night::Rota, review: &crate::check::Review) -> Explained {
    let _ = (night, rota, review);
    Explained::default()
}
