//! The smallest set that gives everybody who asks enough: a small program of its own, solved to proof.

use super::program::{Place, Program, Sum};
use super::solve::{Limit, minimise};

/// Something that has to have enough of what can be chosen.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Want {
    /// How many of those that serve are to be chosen, at least.
    pub missing: usize,
    /// What serves it, as places in the list of what can be chosen; sorted, each once.
    pub by: Vec<usize>,
}

/// What to choose.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fewest {
    /// The places chosen, in order.
    pub chosen: Vec<usize>,
    /// How many could not do with fewer: the length of `chosen`, proven.
    pub at_least: usize,
    /// For each want, in order, by how many it stays short even if everything is chosen.
    pub short: Vec<usize>,
}

/// The fewest places that give every want what it misses, as far as there are places for it; among sets equally
/// small one with the fewest that are `dear`, which has a mark for every place.
///
/// `None` only if the solver fails or does not prove its answer, which is a mistake of this program.
#[must_use]
pub fn fewest(dear: &[bool], wants: &[Want]) -> Option<Fewest> {
    let mut program = Program::default();
    let columns: Vec<_> = dear.iter().map(|_| program.whole(0, 1, Place::Night)).collect();
    for want in wants {
        let mut sum = Sum::new();
        want.by.iter().for_each(|&place| sum.add(columns[place], 1));
        program.at_least(sum, to_whole(want.missing.min(want.by.len())), None);
    }
    let mut count = Sum::new();
    columns.iter().for_each(|&col| count.add(col, 1));
    let (_, least) = proven(&program, &count)?;
    program.at_most(count, least, None);
    let mut costly = Sum::new();
    columns.iter().zip(dear).filter(|(_, dear)| **dear).for_each(|(&col, _)| costly.add(col, 1));
    let (point, _) = proven(&program, &costly)?;
    let chosen: Vec<usize> = (0..dear.len()).filter(|&place| point[columns[place].0] == 1).collect();
    let short = wants.iter().map(|want| want.missing.saturating_sub(want.by.len())).collect();
    Some(Fewest { chosen, at_least: usize::try_from(least).ok()?, short })
}

/// The best point of a sum and its value, if it is known that none is better.
fn proven(program: &Program, sum: &Sum) -> Option<(Vec<i64>, i64)> {
    let solved = minimise(program, sum, None, &Limit::none());
    let point = solved.point?;
    let value = sum.value(&point);
    (solved.at_least == Some(value)).then_some((point, value))
}

fn to_whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
