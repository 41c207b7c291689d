//! The program of a night as text for a general solver, and its solutions read back.

use std::fmt::Write as _;

use anteroom::night::{Night, Rota};
use anteroom::plan::{Counted, StatedNight, stated_named, stated_night, stated_rotas};

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
    let (times, points): (Vec<u64>, Vec<Vec<i64>>) = timed(text)?.into_iter().unzip();
    for (ms, rota) in times.into_iter().zip(stated_rotas(night, &points)) {
        match rota {
            Some(rota) => note(night, ms, &rota, outcome),
            None => outcome.disagreements.push(format!("the point of {ms} ms breaks a row when it is rounded")),
        }
    }
    Ok(())
}

/// Finds names for the solutions of people counted together that were the best at each mark: names that add up to
/// them, or the nearest that this program finds. Looking for names takes none of the opponent's time.
///
/// # Errors
/// A line that is no point.
pub fn name_points(night: &Night, text: &str, marks: &[u32], outcome: &mut Outcome) -> Result<(), String> {
    let points = timed(text)?;
    let best = |mark: &u32| outcome.counted_at(u64::from(*mark) * 1000).map(|found| found.ms);
    let mut best: Vec<u64> = marks.iter().filter_map(best).collect();
    best.dedup();
    for (ms, point) in points.iter().filter(|(ms, _)| best.contains(ms)) {
        if let Some(rota) = stated_named(night, point) {
            note(night, *ms, &rota, outcome);
        }
    }
    Ok(())
}

/// Points with their milliseconds.
fn timed(text: &str) -> Result<Vec<(u64, Vec<i64>)>, String> {
    let point = |line: &str| {
        let mut figures = line.split(' ').map(str::parse::<i64>);
        let ms = figures.next().and_then(Result::ok).and_then(|ms| u64::try_from(ms).ok()).ok_or("no time")?;
        Ok((ms, figures.collect::<Result<Vec<_>, _>>().map_err(|error| error.to_string())?))
    };
    text.lines().map(point).collect()
}

/// Checks a rota and notes what it is worth.
fn note(night: &Night, ms: u64, rota: &Rota, outcome: &mut Outcome) {
    match checked(night, &levels::of(night), rota) {
        Ok(values) => outcome.found.push(Found { ms, values }),
        Err(faults) => outcome.disagreements.push(format!("the point of {ms} ms: {faults}")),
    }
    outcome.check_us = Some(check_micros(night, rota));
}
