//! The replay itself.

use super::Review;
use crate::night::{Minute, Night, Rota};

/// Checks `rota` against the night's roster and constraint set.
#[must_use]
pub fn review(night: &Night, rota: &Rota) -> Review {
    let _ = (night, rota);
    todo!("the replay")
}

/// OUT-BY of each entry of `rota`, in exact minutes, parallel to `rota.entries` (B3).
#[must_use]
pub fn out_by(night: &Night, rota: &Rota) -> Vec<Minute> {
    let _ = (night, rota);
    todo!("OUT-BY")
}
