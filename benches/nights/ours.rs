//! This program on a night, in a process of its own so that its memory is its own.

use std::fs;
use std::time::Instant;

use anteroom::check::review;
use anteroom::night::{Night, Rota};
use anteroom::plan::{Effort, Level, LevelResult, Planned, Watch, plan};

use crate::levels;
use crate::outcome::{Found, Outcome, Who};

/// Every complete rota that was known while the planner looked, and when. Nothing is checked before it has ended, so
/// that checking takes none of its time.
struct Marks {
    start: Instant,
    found: Vec<(u64, Rota)>,
}

impl Watch for Marks {
    fn progress(&mut self, _uncovered: i64, _at_least: i64) {}

    fn found(&mut self, rota: &Rota) {
        let ms = u64::try_from(self.start.elapsed().as_millis()).unwrap_or(u64::MAX);
        self.found.push((ms, rota.clone()));
    }

    fn stop(&self) -> bool {
        false
    }
}

/// Plans, checks every rota there was, and says what came of it.
///
/// # Errors
/// A planned rota with a fault, or a level reported otherwise than the check measures it.
pub fn run(night: &Night, marks: &[u32], work: u64) -> Result<(Outcome, Rota), String> {
    let seconds = *marks.last().ok_or("no time was given")?;
    let mut known = Marks { start: Instant::now(), found: vec![] };
    let planned = plan(night, Effort { work, seconds: Some(seconds) }, &mut known);
    known.found(&planned.rota);
    let peak_kib = peak_kib()?;
    let levels = levels::of(night);
    let worth = |(ms, rota): &(u64, Rota)| Ok(Found { ms: *ms, values: checked(night, &levels, rota)? });
    let found = known.found.iter().map(worth).collect::<Result<Vec<Found>, String>>()?;
    agreed(&levels, &checked(night, &levels, &planned.rota)?, &planned)?;
    let outcome = Outcome {
        night: String::new(),
        order: 0,
        who: Who::Ours,
        seconds: seconds.into(),
        out: None,
        levels: levels.iter().map(|&level| levels::name(level)).collect(),
        bounds: levels.iter().map(|&level| bound(&planned.levels, level)).collect(),
        found,
        counted: vec![],
        peak_kib,
        check_us: Some(check_micros(night, &planned.rota)),
        disagreements: vec![],
    };
    Ok((outcome, planned.rota))
}

/// The check's figures for a rota that has to be without a fault.
///
/// # Errors
/// The faults.
pub fn checked(night: &Night, levels: &[Level], rota: &Rota) -> Result<Vec<i64>, String> {
    let review = review(night, rota);
    if review.faults.is_empty() {
        return Ok(levels::measured(levels, &review.measures));
    }
    let faults: Vec<String> = review.faults.iter().map(|f| format!("{} {}", f.rule.id(), f.what)).collect();
    Err(format!("{} faults: {}", faults.len(), faults.join(" | ")))
}

/// Microseconds that the check takes.
pub fn check_micros(night: &Night, rota: &Rota) -> u64 {
    let start = Instant::now();
    std::hint::black_box(review(night, rota));
    u64::try_from(start.elapsed().as_micros()).unwrap_or(u64::MAX)
}

/// The planner reports what the check measures.
fn agreed(levels: &[Level], measured: &[i64], planned: &Planned) -> Result<(), String> {
    for (&level, &value) in levels.iter().zip(measured) {
        let reported = planned.levels.iter().find(|result| result.level == level);
        if reported.is_none_or(|result| result.value != value || result.at_least > value) {
            return Err(format!("{level:?}: the check measures {value}, the planner reports {reported:?}"));
        }
    }
    Ok(())
}

fn bound(results: &[LevelResult], level: Level) -> Option<i64> {
    results.iter().find(|result| result.level == level).map(|result| result.at_least)
}

/// The most memory this process ever held.
fn peak_kib() -> Result<u64, String> {
    let status = fs::read_to_string("/proc/self/status").map_err(|error| format!("/proc/self/status: {error}"))?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let figure = line.and_then(|line| line.trim().strip_suffix("kB")).and_then(|figure| figure.trim().parse().ok());
    figure.ok_or_else(|| "/proc/self/status: no VmHWM".to_owned())
}
