//! The smallest crew that covers, by search.
//!
//! The order is that of heads, then of the groups: of two crews with as many heads the one with fewer of the first
//! group comes first. First the whole crew is looked at, then for each group how far it alone can shrink; what is left
//! between these is gone through in order.

use super::cover::Wrong;
use super::known::{Known, Point, Short, Verdict};
use crate::night::{Question, each_with_each};

/// What the search for the smallest crew came to, for one figure of each lever.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Smallest {
    /// The figures of the levers.
    pub settings: Vec<u32>,
    /// The smallest crew found to cover, as counts by group.
    pub counts: Option<Vec<u32>>,
    /// The largest crew asked about, where none covers.
    pub largest: Vec<u32>,
    /// How the crews before it are known to be short.
    pub before: Before,
}

/// How many crews come before an answer, by how they are known to be short.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Before {
    /// By arithmetic.
    pub by_hand: u32,
    /// By a complete search.
    pub by_search: u32,
    /// Since a larger crew is short.
    pub follows: u32,
    /// Found short, and not proven.
    pub open: u32,
}

impl Smallest {
    /// Whether every crew before is proven short.
    #[must_use]
    pub const fn proven(&self) -> bool {
        self.before.open == 0
    }
}

/// How many times the effort the largest crew is worth.
const LONGER: u64 = 8;

/// Finds the smallest crew that covers under given figures of the levers.
///
/// # Errors
/// A rota failed the check.
pub fn smallest(question: &Question, settings: &[u32], known: &mut Known<'_>) -> Result<Smallest, Box<Wrong>> {
    let point = |counts: &[u32]| [counts, settings].concat();
    let most: Vec<u32> = question.groups.iter().map(|group| group.to).collect();
    if !enough(&point(&most), known)? && known.verdict(&point(&most)) == Some(Verdict::Open) {
        // Nothing more is looked at where this one does not cover: it is worth a longer look.
        known.look_longer(&point(&most), LONGER)?;
    }
    let found = if enough(&point(&most), known)? {
        let floors = floors(question, settings, known)?;
        first(&candidates(question, &floors), &point, known)?
    } else {
        None
    };
    let all = candidates(question, &question.groups.iter().map(|group| group.from).collect::<Vec<_>>());
    let before = all.iter().take_while(|counts| Some(*counts) != found.as_ref());
    let mut tally = Before::default();
    for counts in before {
        tally.add(known.verdict(&point(counts)).as_ref());
    }
    Ok(Smallest { settings: settings.to_vec(), counts: found, largest: most, before: tally })
}

impl Before {
    fn add(&mut self, verdict: Option<&Verdict>) {
        *match verdict {
            Some(Verdict::Short(Short::ByHand(_))) => &mut self.by_hand,
            Some(Verdict::Short(Short::BySearch)) => &mut self.by_search,
            Some(Verdict::Short(Short::Follows(_))) => &mut self.follows,
            // A crew before the answer is not known to be enough, or it would be the answer.
            Some(Verdict::Open | Verdict::Enough | Verdict::EnoughAs(_)) | None => &mut self.open,
        } += 1;
    }
}

fn enough(point: &Point, known: &mut Known<'_>) -> Result<bool, Box<Wrong>> {
    known.ask(std::slice::from_ref(point))?;
    Ok(known.verdict(point).is_some_and(|verdict| verdict.is_enough()))
}

/// For each group the fewest with which everything is covered while there are as many of the others as may be: fewer
/// are short in every crew. By halving, all groups at once.
fn floors(question: &Question, settings: &[u32], known: &mut Known<'_>) -> Result<Vec<u32>, Box<Wrong>> {
    let most: Vec<u32> = question.groups.iter().map(|group| group.to).collect();
    let with = |group: usize, count: u32| {
        let mut counts = most.clone();
        counts[group] = count;
        [counts.as_slice(), settings].concat()
    };
    let mut bounds: Vec<(u32, u32)> = question.groups.iter().map(|group| (group.from, group.to)).collect();
    loop {
        let open = bounds.iter().enumerate().filter(|(_, (low, high))| low < high);
        let halves: Vec<(usize, u32)> = open.map(|(ix, (low, high))| (ix, low + (high - low) / 2)).collect();
        if halves.is_empty() {
            return Ok(bounds.into_iter().map(|(low, _)| low).collect());
        }
        let points: Vec<Point> = halves.iter().map(|&(ix, half)| with(ix, half)).collect();
        known.ask(&points)?;
        for (&(ix, half), point) in halves.iter().zip(&points) {
            if known.verdict(point).is_some_and(|verdict| verdict.is_enough()) {
                bounds[ix].1 = half;
            } else {
                bounds[ix].0 = half + 1;
            }
        }
    }
}

/// Every crew with no fewer of a group than `least`, smallest first.
pub fn candidates(question: &Question, least: &[u32]) -> Vec<Vec<u32>> {
    let mut all = each_with_each(question.groups.iter().zip(least).map(|(group, &least)| least..=group.to));
    all.sort_by_cached_key(|crew| (crew.iter().map(|&n| u64::from(n)).sum::<u64>(), crew.clone()));
    all
}

/// The first of some crews that covers; two are planned at once.
fn first(
    crews: &[Vec<u32>],
    point: &dyn Fn(&[u32]) -> Point,
    known: &mut Known<'_>,
) -> Result<Option<Vec<u32>>, Box<Wrong>> {
    for (place, counts) in crews.iter().enumerate() {
        if known.verdict(&point(counts)).is_none() {
            let unknown = crews[place..].iter().map(|counts| point(counts));
            let next: Vec<Point> = unknown.filter(|p| known.verdict(p).is_none()).take(2).collect();
            known.ask(&next)?;
        }
        if known.verdict(&point(counts)).is_some_and(|verdict| verdict.is_enough()) {
            return Ok(Some(counts.clone()));
        }
    }
    Ok(None)
}
