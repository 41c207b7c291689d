//! Who is missing on which night: chance that depends on nothing but seed, night and person.
//!
//! Each draw is worked out by itself and not taken from a row of draws. So the same person is missing on the same
//! nights whoever else is on the roster, in whatever order, and whichever part of the nights is looked at; and with a
//! greater chance of being missing somebody is missing on those nights and some more. Crews that are compared meet the
//! same nights.

/// How often somebody is missing: `times` out of `of` shifts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Chance {
    times: u32,
    of: u32,
}

impl Chance {
    /// `times` out of `of`; `None` where `of` is 0 or less than `times`.
    #[must_use]
    pub const fn new(times: u32, of: u32) -> Option<Self> {
        if of == 0 || times > of { None } else { Some(Self { times, of }) }
    }

    /// Times missing.
    #[must_use]
    pub const fn times(self) -> u32 {
        self.times
    }

    /// Of so many shifts.
    #[must_use]
    pub const fn of(self) -> u32 {
        self.of
    }

    /// Whether somebody with this draw is missing: each draw stands for the same share of all nights.
    fn takes(self, draw: u64) -> bool {
        ((u128::from(draw) * u128::from(self.of)) >> 64) < u128::from(self.times)
    }
}

/// The draws of one seed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Draws {
    seed: u64,
}

impl Draws {
    /// Those of this seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self { seed }
    }

    /// Whether the person of this id is missing on this night.
    #[must_use]
    pub fn is_missing(self, night: u32, id: &str, chance: Chance) -> bool {
        let of_night = word(word(self.seed) ^ u64::from(night));
        chance.takes(word(of_night ^ number(id)))
    }
}

/// An id as a number: each byte mixed into what was before.
fn number(id: &str) -> u64 {
    id.bytes().fold(word(id.len() as u64), |sum, byte| word(sum ^ u64::from(byte)))
}

/// The word that `SplitMix64` gives in the state `state`: an even mixing of all 64 bits.
///
/// Source: G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014; the constants
/// as in S. Vigna's public-domain `splitmix64.c`.
pub(super) const fn word(state: u64) -> u64 {
    let z = state.wrapping_add(STEP);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// From one state to the next.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

#[cfg(test)]
mod tests {
    use super::*;

    /// Published first outputs for the seed 1234567: Rosetta Code, "Pseudo-random numbers/Splitmix64", as several
    /// public test files quote them.
    #[test]
    fn the_mixer_gives_the_published_words() {
        let words: Vec<u64> = (0..5).map(|step| word(1_234_567_u64.wrapping_add(STEP.wrapping_mul(step)))).collect();
        let published = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(words, published);
    }

    #[test]
    fn never_and_always_are_never_and_always() {
        let (never, always) = (Chance::new(0, 7).expect("a chance"), Chance::new(7, 7).expect("a chance"));
        for draw in [0, 1, u64::MAX / 2, u64::MAX] {
            assert!(!never.takes(draw) && always.takes(draw));
        }
        assert_eq!((Chance::new(1, 0), Chance::new(3, 2)), (None, None));
    }

    #[test]
    fn a_chance_is_met_to_the_draw() {
        let quarter = Chance::new(25, 100).expect("a chance");
        assert!(quarter.takes(u64::MAX / 4) && !quarter.takes(u64::MAX / 4 + 1));
    }

    /// Over 100 000 nights the count lies within five standard deviations of the mean, which a wrong draw would miss:
    /// 6 of 100 is 6000 with a deviation of 75 (binomial). Two people are missing together as often as 6 of 100 times
    /// 6 of 100: 360, deviation 19.
    #[test]
    fn people_are_missing_as_often_as_they_should_and_apart() {
        let chance = Chance::new(6, 100).expect("a chance");
        for seed in 0..4 {
            let draws = Draws::new(seed);
            let one = |night: &u32| draws.is_missing(*night, "KB", chance);
            let other = |night: &u32| draws.is_missing(*night, "BK", chance);
            let count = |is: &dyn Fn(&u32) -> bool| (0..100_000).filter(is).count();
            assert!((5_625..=6_375).contains(&count(&one)) && (5_625..=6_375).contains(&count(&other)));
            assert!((265..=455).contains(&count(&|night: &u32| one(night) && other(night))));
        }
    }
}
