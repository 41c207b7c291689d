//! Figures over several runs and several nights.

use crate::outcome::{Outcome, Who};

/// The runs of one night.
pub struct OfNight<'a> {
    pub runs: Vec<&'a Outcome>,
}

impl<'a> OfNight<'a> {
    /// The runs of a night in a record. A run that was made again counts once, the last time.
    pub fn of(record: &'a [Outcome], night: &str) -> Self {
        let mut runs: Vec<&Outcome> = Vec::new();
        for run in record.iter().filter(|run| run.night == night) {
            runs.retain(|earlier| (earlier.who, earlier.order) != (run.who, run.order));
            runs.push(run);
        }
        Self { runs }
    }

    /// Whoever planned, in order.
    pub fn everybody(&self) -> Vec<Who> {
        let mut all: Vec<Who> = self.runs.iter().map(|run| run.who).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The runs of one planner.
    pub fn by(&self, who: Who) -> impl Iterator<Item = &'a Outcome> {
        self.runs.iter().copied().filter(move |run| run.who == who)
    }

    /// The middle of what one planner's runs came to after so long: of an even number, the worse one.
    pub fn at(&self, who: Who, ms: u64) -> Option<Vec<i64>> {
        // A run that has nothing yet is worse than any that has something.
        let reached = self.by(who).map(|run| run.at(ms).map_or((true, vec![]), |found| (false, found.values.clone())));
        middle(reached.collect()).filter(|(nothing, _)| !nothing).map(|(_, values)| values)
    }

    /// The best that any opponent came to after so long, and when that one first had it.
    pub fn best_of_opponents(&self, ms: u64) -> Option<(Who, Vec<i64>, u64)> {
        let others = self.everybody().into_iter().filter(|&who| who != Who::Ours);
        let reached = others.filter_map(|who| {
            let values = self.at(who, ms)?;
            let when = self.reached(who, &values)?;
            Some((values, when, who))
        });
        reached.min().map(|(values, when, who)| (who, values, when))
    }

    /// When one planner first had something at least as good, in the middle of its runs; none if half of them never had.
    pub fn reached(&self, who: Who, values: &[i64]) -> Option<u64> {
        middle(self.by(who).map(|run| run.reached(values).unwrap_or(u64::MAX)).collect()).filter(|&ms| ms < u64::MAX)
    }

    /// When one planner first had a complete rota, in the middle of its runs.
    pub fn first(&self, who: Who) -> Option<u64> {
        middle(self.by(who).map(|run| run.found.iter().map(|found| found.ms).min().unwrap_or(u64::MAX)).collect())
            .filter(|&ms| ms < u64::MAX)
    }
}

/// The middle of several; of an even number, the greater one.
pub fn middle<T: Ord>(mut all: Vec<T>) -> Option<T> {
    all.sort_unstable();
    let place = all.len() / 2;
    all.into_iter().nth(place)
}

/// How many times sooner this program had what the best opponent had at the end: its time over ours. Where ours never
/// had it, the time allowed counts for ours, so that the true figure is below this one.
pub fn times_sooner(night: &OfNight, ms: u64) -> Option<(f64, bool)> {
    let (_, values, theirs) = night.best_of_opponents(ms)?;
    let ours = night.reached(Who::Ours, &values);
    Some((as_float(theirs) / as_float(ours.unwrap_or(ms)), ours.is_some()))
}

/// The geometric mean.
pub fn geometric_mean(figures: &[f64]) -> Option<f64> {
    let count = u32::try_from(figures.len()).ok().filter(|&count| count > 0)?;
    let logs: f64 = figures.iter().map(|figure| figure.ln()).sum();
    Some((logs / f64::from(count)).exp())
}

/// Milliseconds as a figure to reckon with; nothing is sooner than one.
pub fn as_float(ms: u64) -> f64 {
    f64::from(u32::try_from(ms.max(1)).unwrap_or(u32::MAX))
}
