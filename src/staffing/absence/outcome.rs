//! What one case comes to: planned, checked, counted.

use crate::night::Night;
use crate::plan::{self, Effort, LevelResult, Planned, Unwatched};
use crate::staffing::cover::checked;
use crate::staffing::{Missed, Wrong, short};

/// How much is certain about a night with a gap.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Proof {
    /// The search ended first: there may be a rota without a gap.
    None,
    /// Some gap there is with every rota; it may be smaller.
    Gap,
    /// No rota misses less.
    Amount,
}

/// A case that was planned.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outcome {
    /// What its rota misses.
    pub missed: Missed,
    /// What is certain about that; [`Proof::Amount`] where nothing is missed.
    pub proof: Proof,
}

/// How much more is allowed to the second look at a night of which the first left open whether it can be covered.
const SECOND: u64 = 3;

/// Plans a night as far as it matters whether people are enough, checks the rota and counts what it misses. Where that
/// leaves open whether the night can be covered, it is planned once more like a rota for the wall and with more work:
/// rotas with fewer removals leave helpers free, and so cover nights that the first look does not.
///
/// # Errors
/// The check found a fault in a rota.
pub fn outcome(night: &Night, effort: Effort) -> Result<Outcome, Box<Wrong>> {
    let first = counted(night, &plan::cover(night, effort, &mut Unwatched))?;
    if first.proof > Proof::None {
        return Ok(first);
    }
    if short(night).is_some() {
        return Ok(Outcome { proof: Proof::Gap, ..first });
    }
    let more = Effort { work: effort.work.saturating_mul(SECOND), ..effort };
    let second = counted(night, &plan::plan(night, more, &mut Unwatched))?;
    // Its amounts are the least of rotas with no longer gap and nothing done later, which others might undercut.
    let proof = if second.missed.is_nothing() { Proof::Amount } else { second.proof.min(Proof::Gap) };
    Ok(Outcome { missed: first.missed.min(second.missed), proof })
}

/// What a planned rota misses, by the check.
fn counted(night: &Night, planned: &Planned) -> Result<Outcome, Box<Wrong>> {
    let missed = checked(night, &planned.rota)?.missed();
    let proof = if missed.is_nothing() { Proof::Amount } else { proof(planned) };
    Ok(Outcome { missed, proof })
}

/// What the levels say about a rota that misses something: a level cannot be below `at_least` as long as those before
/// it stay as they are, so the first that is not nothing decides whether there is a gap at all.
fn proof(planned: &Planned) -> Proof {
    let missed = || planned.levels.iter().filter(|result| result.level.is_missed());
    let first = missed().find(|result| result.value > 0);
    if missed().all(LevelResult::proven) {
        Proof::Amount
    } else if first.is_some_and(|first| first.at_least > 0) {
        Proof::Gap
    } else {
        Proof::None
    }
}
