//! What one crew leaves uncovered: planned only as far as that, then checked.

use crate::check::{Measures, Missed, review};
use crate::night::{Minutes, Night, Rota};
use crate::plan::{self, Asked, Effort, Ended, LevelResult, Watch};

/// What one crew came to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cover {
    /// What its best rota misses, as the check counts it.
    pub missed: Missed,
    /// Whether some of what is missed is proven: no rota of this crew misses nothing.
    pub proven_short: bool,
    /// Whether the figures are proven best, each as long as those before it stay as they are.
    pub proven_best: bool,
    /// Why the search ended.
    pub ended: Ended,
}

/// A planned rota that failed the check: a mistake of the planner, and nothing of the answer can be used.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wrong {
    /// The night it was planned for.
    pub night: Night,
    /// The rota.
    pub rota: Rota,
}

/// Plans a night as far as cover goes, and checks the rota.
///
/// # Errors
/// The rota failed the check.
pub fn cover(night: &Night, effort: Effort, watch: &dyn Watch) -> Result<Cover, Box<Wrong>> {
    let planned = plan::cover(night, effort, &mut Asked(watch));
    let measures = checked(night, &planned.rota)?;
    let levels = || planned.levels.iter().filter(|result| result.level.is_missed());
    Ok(Cover {
        missed: measures.missed(),
        // A level holds the ones before it where they are or better, so that a bound above nothing on any of them
        // is a bound on all rotas that might miss nothing.
        proven_short: levels().any(|result| result.at_least > 0),
        proven_best: levels().all(LevelResult::proven),
        ended: planned.ended,
    })
}

/// A whole rota of a crew: what it takes beside cover.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Load {
    /// What it misses.
    pub missed: Missed,
    /// Removals of entrants.
    pub removals: u32,
    /// Removals of helpers.
    pub helper_removals: u32,
    /// The largest cumulative wear of anybody, minutes, rounded up.
    pub largest_wear: Minutes,
}

/// Plans a night at every level, and checks the rota.
///
/// # Errors
/// The rota failed the check.
pub fn load(night: &Night, effort: Effort, watch: &dyn Watch) -> Result<Load, Box<Wrong>> {
    let planned = plan::plan(night, effort, &mut Asked(watch));
    let measures = checked(night, &planned.rota)?;
    let centi = measures.largest_wear_centi;
    Ok(Load {
        missed: measures.missed(),
        removals: measures.removals,
        helper_removals: measures.helper_removals,
        largest_wear: Minutes(centi.div_euclid(100) + i64::from(centi.rem_euclid(100) > 0)),
    })
}

/// What the check counts in a planned rota, which has to be without a fault.
pub(super) fn checked(night: &Night, rota: &Rota) -> Result<Measures, Box<Wrong>> {
    let review = review(night, rota);
    if review.faults.is_empty() {
        Ok(review.measures)
    } else {
        Err(Box::new(Wrong { night: night.clone(), rota: rota.clone() }))
    }
}
