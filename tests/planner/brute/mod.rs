//! The best rota of a tiny night by trying them all.
//!
//! Every set of entries on the grid is a candidate. They are taken in the order
//! of what they are worth by the levels that entries alone decide; for each the
//! helpers, their spells on post, breaks and showers are searched through until
//! some rota passes the check. The tests here of what fits together only save
//! time: the check has the last word, and a test that were too strict would show
//! as a planner better than the best.

mod breaks;
mod duties;
mod helpers;
mod people;
mod showers;
mod values;
mod visits;

use anteroom::night::{Night, Rota};
use anteroom::plan::Level;

use helpers::{Cost, Helpers};
use people::People;
use visits::{Visit, Visits};

/// What a night can come to at best, level by level, and a rota that shows it.
pub struct Best {
    /// The levels in their order without the last tie-break.
    pub values: Vec<(Level, i64)>,
    pub rota: Rota,
}

/// How many steps a night may take; larger ones are left out.
const STEPS: u64 = 3_000_000;

/// A set of entries and what it is worth by itself.
struct Candidate {
    worth: Vec<i64>,
    visits: Vec<Visit>,
}

/// The best of all rotas, or `None` where there are too many to try.
pub fn best(night: &Night) -> Option<Best> {
    let people = People::new(night);
    let mut candidates: Vec<Candidate> = vec![];
    let visits = Visits::new(night, &people);
    visits.each_set(STEPS, &mut |set| {
        let worth = values::of_entries(night, set);
        candidates.push(Candidate { worth, visits: set.to_vec() });
    })?;
    candidates.sort_by(|a, b| a.worth.cmp(&b.worth));
    let mut helpers = Helpers::new(night, &people, STEPS);
    // Rescue comes before what entries are worth: look on while somebody is inside without it.
    let mut best: Option<(&[i64], Cost, Rota)> = None;
    for equal in candidates.chunk_by(|a, b| a.worth == b.worth) {
        for candidate in equal {
            helpers.look_for_better(&candidate.visits)?;
        }
        let Some((cost, rota)) = helpers.best.take() else { continue };
        if best.as_ref().is_none_or(|(_, least, _)| cost.rescue < least.rescue) {
            best = Some((&equal[0].worth, cost, rota));
        }
        if cost.rescue == 0 {
            break;
        }
    }
    let (worth, cost, rota) = best.expect("the rota without entries is always among them");
    Some(Best { values: values::in_order(night, worth, cost), rota })
}

/// Whether `cost` is worse than, or as bad as, the best so far.
fn no_better(cost: Cost, best: Option<&(Cost, Rota)>) -> bool {
    best.is_some_and(|(least, _)| cost >= *least)
}
