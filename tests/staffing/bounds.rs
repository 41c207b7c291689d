//! What arithmetic calls short is short in every rota there is: tiny nights, enumerated.

use anteroom::night::{Minutes, Night, Relief, Role, Rule};
use anteroom::staffing::{Bound, short};

use crate::brute::best;
use crate::nights::{add_lanes, add_people, doffing_kit, empty_night, presence, room_ensemble};
use crate::random::{Dice, FAMILIES, Tiny};

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

/// Three who may enter in pairs, presence of two for some slots; every length at random.
fn in_pairs(seed: u64) -> Night {
    let mut dice = Dice::new(seed);
    let grid = 30;
    let (wear, sealed, to) = (dice.roll(3, 5), dice.roll(0, 1), dice.roll(4, 7));
    let room = room_ensemble(sealed * grid, grid, grid, (sealed + wear) * grid);
    let mut night = empty_night(grid, (to + 1) * grid, room, doffing_kit(0, grid, grid, 6 * grid));
    night.limits.relief = Relief::InPairs;
    night.limits.overlap = Minutes(dice.roll(0, 1) * grid);
    night.limits.min_stay = Minutes(2 * grid);
    night.limits.min_inside = dice.count(1, 2);
    night.limits.cleaning = Minutes(0);
    night.limits.donning_capacity = 2;
    night.limits.waiting_places = 0;
    night.limits.rest = vec![vec![Minutes(0); 2]; 2];
    night.roster.presence = vec![presence(grid, to * grid, 2)];
    add_lanes(&mut night, 2);
    add_people(&mut night, 3, &[Role::Entrant]);
    add_people(&mut night, 1, &[Role::DonningObserver]);
    add_people(&mut night, 2, &[Role::DoffingObserver]);
    night
}

/// The bound for relief in pairs (D8), which fires only where no other one does.
#[test]
fn the_bound_for_pairs_is_not_above_the_true_need() {
    let (mut fired, mut by_style) = (0, 0);
    for seed in 0..200 {
        let night = in_pairs(seed);
        let Some(bound @ Bound::RotationInPairs { .. }) = short(&night) else { continue };
        let Some(is_short) = misses(&night) else { continue };
        fired += 1;
        assert!(is_short, "seed {seed}: {bound:?}, and a rota covers everything: {night:#?}");
        let without = night.without(Rule::D8).expect("it can be turned off");
        by_style += u32::from(misses(&without) == Some(false));
    }
    // On some of them it is the style alone that is in the way.
    assert!(fired > 50 && by_style > 0, "fired {fired} times, {by_style} by the style alone");
}
