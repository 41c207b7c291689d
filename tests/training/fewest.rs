//! The smallest set, against every subset of tiny lists.

use anteroom::plan::{Want, fewest};
use fastrand::Rng;

/// The size of the smallest set that gives every want what can be given, and the fewest dear ones among sets of that
/// size: by looking at every subset.
fn by_looking_at_all(dear: &[bool], wants: &[Want]) -> (usize, usize) {
    let enough = |set: u32| {
        wants.iter().all(|want| {
            let got = want.by.iter().filter(|&&place| set & (1 << place) != 0).count();
            got >= want.missing.min(want.by.len())
        })
    };
    let dear_in = |set: u32| dear.iter().enumerate().filter(|(place, dear)| **dear && set & (1 << place) != 0).count();
    let sets = (0..1_u32 << dear.len()).filter(|&set| enough(set));
    sets.map(|set| (usize::try_from(set.count_ones()).expect("small"), dear_in(set))).min().expect("all is a set")
}

fn random(rng: &mut Rng) -> (Vec<bool>, Vec<Want>) {
    let places = rng.usize(1..=9);
    let dear: Vec<bool> = (0..places).map(|_| rng.bool()).collect();
    let want =
        |rng: &mut Rng| Want { missing: rng.usize(0..=3), by: (0..places).filter(|_| rng.u8(0..3) == 0).collect() };
    let wants = (0..rng.usize(0..=8)).map(|_| want(rng)).collect();
    (dear, wants)
}

#[test]
fn as_small_as_the_smallest_of_all_sets() {
    for seed in 0..1500 {
        let mut rng = Rng::with_seed(seed);
        let (dear, wants) = random(&mut rng);
        let found = fewest(&dear, &wants).expect("proven");
        let costly = found.chosen.iter().filter(|&&place| dear[place]).count();
        assert_eq!((found.chosen.len(), costly), by_looking_at_all(&dear, &wants), "seed {seed}: {dear:?} {wants:?}");
        assert_eq!(found.at_least, found.chosen.len(), "seed {seed}");
        for (want, short) in wants.iter().zip(&found.short) {
            let got = found.chosen.iter().filter(|place| want.by.contains(place)).count();
            assert!(got + short >= want.missing, "seed {seed}: {want:?} gets {got}");
        }
    }
}

#[test]
fn nothing_asked_for_is_nothing_chosen() {
    let found = fewest(&[false, true], &[]).expect("proven");
    assert_eq!((found.chosen.len(), found.at_least), (0, 0));
}

#[test]
fn what_cannot_be_had_is_said() {
    let wants = [Want { missing: 3, by: vec![1] }];
    let found = fewest(&[false, true], &wants).expect("proven");
    assert_eq!((found.chosen, found.short), (vec![1], vec![2]));
}
