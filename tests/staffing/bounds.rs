//! What arithmetic calls short is short in every rota there is: tiny nights, enumerated.

use anteroom::night::Night;
use anteroom::staffing::{Bound, short};

use crate::brute::best;
use crate::random::{FAMILIES, Tiny};

/// Seeds of each family.
const SEEDS: u64 = 10;

/// Whether the best of all rotas misses something that was asked for.
fn misses(night: &Night) -> Option<bool> {
    let best = best(night)?;
    Some(best.values.iter().any(|(level, value)| level.is_missed() && *value > 0))
}

/// The night, the same with fewer and fewer who may enter, and the same with fewer and fewer who may help, from the
/// last on.
fn with_fewer(night: &Night) -> Vec<Night> {
    let mut all = vec![night.clone()];
    for ix in (0..night.roster.people.len()).rev() {
        let mut fewer = all.last().expect("there is one").clone();
        fewer.roster.people[ix].enter_today = false;
        all.push(fewer);
    }
    let mut fewer = night.clone();
    for ix in (0..night.roster.people.len()).rev() {
        fewer.roster.people[ix].doffing_area_today = false;
        all.push(fewer.clone());
    }
    all
}

#[test]
fn no_bound_is_above_the_true_need() {
    let (mut looked_at, mut fired, mut by_amount) = (0, 0, 0);
    for family in FAMILIES {
        for seed in 0..SEEDS {
            let mut tiny = Tiny::new(seed);
            (family.make)(&mut tiny);
            for night in with_fewer(&tiny.night) {
                looked_at += 1;
                let Some(bound) = short(&night) else { continue };
                let Some(misses) = misses(&night) else { continue };
                fired += 1;
                by_amount += u32::from(matches!(bound, Bound::Capacity { .. } | Bound::Rotation { .. }));
                assert!(misses, "{} seed {seed}: {bound:?}, and a rota covers everything: {night:#?}", family.name);
            }
        }
    }
    assert!(fired > 100 && by_amount > 10, "{looked_at} nights, {fired} short by hand, {by_amount} by amounts");
}
