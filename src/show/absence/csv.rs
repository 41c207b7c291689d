//! Every night for a spreadsheet: one row to a crew and night.
//!
//! Columns: `crew`, `night` (from 1; the same night is the same draw for every crew), `missing` (people), `covered`
//! (`yes`, `no`, or `not settled` where the best rota found misses something and not every rota is known to),
//! `person_minutes_short` (of the best rota found), `proven_least` (`yes` or `no`).

use super::View;
use crate::show::csv::harmless;
use crate::staffing::absence::answer::{OneNight, State};

/// The names of the columns, in order.
pub const HEADER: [&str; 6] = ["crew", "night", "missing", "covered", "person_minutes_short", "proven_least"];

/// Writes every night.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn write(view: &View<'_>) -> Result<String, ::csv::Error> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    writer.write_record(HEADER)?;
    for (crew, answer) in view.crews.iter().zip(&view.answers.crews) {
        for (place, night) in answer.nights.iter().enumerate() {
            writer.write_record(row(&crew.name, place + 1, night))?;
        }
    }
    let bytes = writer.into_inner().map_err(|e| ::csv::Error::from(e.into_error()))?;
    String::from_utf8(bytes).map_err(|e| ::csv::Error::from(std::io::Error::other(e)))
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
