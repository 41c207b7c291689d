//! Many short lists in one piece of memory.

/// Pairs of figures, list after list. What they are is told where they are used.
pub struct Lists {
    /// Where each list begins, and where the last one ends.
    borders: Vec<usize>,
    pairs: Vec<(u32, i32)>,
}

impl Lists {
    /// So many lists, from pairs with the place of their list; asked for them twice.
    pub fn of<I: Iterator<Item = (usize, (u32, i32))>>(count: usize, pairs: impl Fn() -> I) -> Self {
        let mut borders = vec![0; count + 1];
        pairs().for_each(|(list, _)| borders[list + 1] += 1);
        for list in 0..count {
            borders[list + 1] += borders[list];
        }
        let mut next = borders.clone();
        let mut placed = vec![(0, 0); borders[count]];
        for (list, pair) in pairs() {
            placed[next[list]] = pair;
            next[list] += 1;
        }
        Self { borders, pairs: placed }
    }

    /// One list, its pairs in the order they came in.
    pub fn at(&self, list: usize) -> &[(u32, i32)] {
        &self.pairs[self.borders[list]..self.borders[list + 1]]
    }
}
