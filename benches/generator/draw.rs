//! Draws that are the same on every machine and in every release of every library.

/// Numbers drawn one after another from a seed (the SplitMix64 sequence).
pub struct Draw {
    state: u64,
}

impl Draw {
    /// The sequence of a seed.
    pub const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    const fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number under `end`, which is not 0. The remainder favours small numbers by less than one in a billion.
    pub fn below(&mut self, end: usize) -> usize {
        let end = u64::try_from(end).expect("counts are small");
        usize::try_from(self.next() % end).expect("under a usize")
    }

    /// A multiple of `step` from `from` up to and including `to`.
    pub fn stepped(&mut self, from: i64, to: i64, step: i64) -> i64 {
        let steps = usize::try_from((to - from).max(0) / step).expect("not negative");
        from + step * i64::try_from(self.below(steps + 1)).expect("counts are small")
    }

    /// True in so many cases of a hundred.
    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// Puts things in a drawn order.
    pub fn shuffle<T>(&mut self, things: &mut [T]) {
        for end in (2..=things.len()).rev() {
            things.swap(end - 1, self.below(end));
        }
    }
}
