//! The answer to a question about crews: on the terminal, as CSV, as JSON. The page is in `show/report`.

pub mod csv;
mod hand;
pub mod json;
mod terminal;
mod words;

use chrono::NaiveDate;

use crate::night::{Night, Question};
use crate::show::warnings::is_overdue;
use crate::staffing::Answer;

pub use terminal::render;

pub(in crate::show) use hand::{lines, remarks};
pub(in crate::show) use words::{
    CAUTIONS, amount, answer, crew, effect_proof, how_known, lever, relaxed, settings, short_figure, tasks, then,
    truth, what_binds,
};

/// What is shown.
pub struct CrewsView<'a> {
    /// The night that was asked about, as the roster has it.
    pub night: &'a Night,
    /// The question.
    pub question: &'a Question,
    /// The answer.
    pub answer: &'a Answer,
    /// The day on which it is made.
    pub today: NaiveDate,
}

impl CrewsView<'_> {
    /// Whether everything shown has to be marked for training.
    pub(in crate::show) const fn is_example(&self) -> bool {
        self.question.example || self.night.roster.example || self.night.limits.example
    }

    /// Whether the limits were to be reviewed before.
    pub(in crate::show) fn is_overdue(&self) -> bool {
        is_overdue(self.night, self.today)
    }
}
