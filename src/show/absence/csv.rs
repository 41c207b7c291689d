//! Every night for a spreadsheet: one row to a crew and night.
//!
//! Columns: `crew`, `night` (from 1; the same night is the same draw for every crew), `missing` (people), `covered`
//! (`yes`, `no`, or `not settled` where the best rota found misses something and not every rota is known to),
//! `person_minutes_short` (of the best rota found), `proven_least` (`yes` or `no`).

use super::View;
use crate::show::csv::{harmless, written};
use crate::staffing::absence::answer::{OneNight, State};

/// The names of the columns, in order.
pub const HEADER: [&str; 6] = ["crew", "night", "missing", "covered", "person_minutes_short", "proven_least"];

/// Writes every night.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn write(view: &View<'_>) -> Result<String, ::csv::Error> {
    let crews = view.crews.iter().zip(&view.answers.crews);
    let rows = crews.flat_map(|(crew, answer)| {
        answer.nights.iter().enumerate().map(|(place, night)| row(&crew.name, place + 1, night))
    });
    written(&HEADER, rows)
}

fn row(crew: &str, number: usize, night: &OneNight) -> [String; 6] {
    let (covered, least) = match night.state {
        State::Covered => ("yes", "yes"),
        State::Unproven => ("not settled", "no"),
        State::Gap => ("no", "no"),
        State::GapProven => ("no", "yes"),
    };
    [
        harmless(crew),
        number.to_string(),
        night.missing.to_string(),
        covered.to_owned(),
        night.minutes.to_string(),
        least.to_owned(),
    ]
}
