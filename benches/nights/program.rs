//! The program of a night as text for a general solver, and its solutions read back.

use std::fmt::Write as _;

use anteroom::night::Night;
use anteroom::plan::{Counted, StatedNight, stated_night, stated_rotas};

use crate::levels;
use crate::ours::{check_micros, checked};
use crate::outcome::{Found, Outcome};

/// Columns, rows and levels, one a line:
///
/// ```text
/// columns rows levels
/// least most whole
/// least|- most|- terms column coefficient ...
/// constant terms column coefficient ... name of the level
/// ```
pub fn text(night: &Night, counted: Counted) -> String {
    let StatedNight { columns, rows, levels } = stated_night(night, counted);
    let mut out = format!("{} {} {}\n", columns.len(), rows.len(), levels.len());
    for column in &columns {
        let _ = writeln!(out, "{} {} {}", column.least, column.most, u8::from(column.whole));
    }
    let side = |side: Option<i64>| side.map_or_else(|| "-".to_owned(), |side| side.to_string());
    for row in &rows {
        let _ = writeln!(out, "{} {}{}", side(row.least), side(row.most), terms(&row.terms));
    }
    for level in &levels {
        let _ = writeln!(out, "{}{} {}", level.constant, terms(&level.minimise), levels::name(level.level));
    }
    out
}

fn terms(terms: &[(usize, i64)]) -> String {
    let mut out = format!(" {}", terms.len());
    for (column, times) in terms {
        let _ = write!(out, " {column} {times}");
    }
    out
}

/// Turns points, each a line with its milliseconds first, into rotas, checks them and notes what they are worth.
///
/// # Errors
/// A line that is no point.
pub fn read_points(night: &Night, text: &str, outcome: &mut Outcome) -> Result<(), String> {
    let levels = levels::of(night);
    let mut points = Vec::new();
    let mut times = Vec::new();
    for line in text.lines() {
        let mut figures = line.split(' ').map(str::parse::<i64>);
        let ms = figures.next().and_then(Result::ok).and_then(|ms| u64::try_from(ms).ok()).ok_or("no time")?;
        times.push(ms);
        points.push(figures.collect::<Result<Vec<_>, _>>().map_err(|error| error.to_string())?);
    }
    for (ms, rota) in times.into_iter().zip(stated_rotas(night, &points)) {
        let Some(rota) = rota else {
            outcome.disagreements.push(format!("the point of {ms} ms breaks a row when it is rounded"));
            continue;
        };
        match checked(night, &levels, &rota) {
            Ok(values) => outcome.found.push(Found { ms, values }),
            Err(faults) => outcome.disagreements.push(format!("the point of {ms} ms: {faults}")),
        }
        outcome.check_us = Some(check_micros(night, &rota));
    }
    Ok(())
}
