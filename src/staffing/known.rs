//! What is known of crews: planned, reckoned by hand, or following from another crew.
//!
//! More people of a kind never cover less: whoever is too many has no duty. The same is true of every lever, whose
//! figures rise; of relief styles, only of one against both allowed. So a crew is enough where a smaller one is, and
//! short where a larger one is shown to be.

use std::collections::BTreeMap;

use super::cover::{Cover, Wrong, cover};
use super::hand::{self, Bound};
use crate::check::Missed;
use crate::night::{Crew, Night, Question};
use crate::plan::{Effort, Ended, Watch, side_by_side};

/// A crew as one list of figures: how many of each group, then a figure for each lever.
pub type Point = Vec<u32>;

/// How it is known that no rota of a crew covers everything.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Short {
    /// By arithmetic.
    ByHand(Bound),
    /// By a complete search.
    BySearch,
    /// A larger crew is short.
    Follows(Point),
}

/// Whether a crew is enough.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Verdict {
    /// A rota was planned and checked that misses nothing.
    Enough,
    /// A smaller crew is enough.
    EnoughAs(Point),
    /// No rota covers everything: proven.
    Short(Short),
    /// No rota that covers everything was found, and none is ruled out.
    Open,
}

impl Verdict {
    /// Whether everything is covered.
    #[must_use]
    pub const fn is_enough(&self) -> bool {
        matches!(self, Self::Enough | Self::EnoughAs(_))
    }

    /// Whether something is missed whatever the rota.
    #[must_use]
    pub const fn is_short(&self) -> bool {
        matches!(self, Self::Short(_))
    }
}

/// What is known of the crews of a question on a night.
pub struct Known<'a> {
    night: &'a Night,
    question: &'a Question,
    effort: Effort,
    watch: &'a dyn Watch,
    planned: BTreeMap<Point, Cover>,
    by_hand: BTreeMap<Point, Option<Bound>>,
}

impl<'a> Known<'a> {
    /// Nothing is known yet.
    pub fn new(night: &'a Night, question: &'a Question, effort: Effort, watch: &'a dyn Watch) -> Self {
        Self { night, question, effort, watch, planned: BTreeMap::new(), by_hand: BTreeMap::new() }
    }

    /// The crew of a point.
    pub fn crew(&self, point: &[u32]) -> Crew<'a> {
        let (counts, settings) = point.split_at(self.question.groups.len());
        Crew { question: self.question, counts: counts.to_vec(), settings: settings.to_vec() }
    }

    /// How many crews were planned.
    pub fn times_planned(&self) -> usize {
        self.planned.len()
    }

    /// Why the searches ended: by themselves, if all did.
    pub fn ended(&self) -> Ended {
        let cut_short = self.planned.values().map(|cover| cover.ended).find(|&ended| ended != Ended::ByItself);
        cut_short.unwrap_or(Ended::ByItself)
    }

    /// What is known of a crew without planning it; `None` where that is nothing.
    pub fn verdict(&mut self, point: &[u32]) -> Option<Verdict> {
        let planned = self.planned.get(point);
        if planned.is_some_and(|cover| cover.missed.is_nothing()) {
            return Some(Verdict::Enough);
        }
        let proven_short = planned.is_some_and(|cover| cover.proven_short);
        if let Some((smaller, _)) = self.planned.iter().find(|(p, c)| self.at_most(p, point) && c.missed.is_nothing()) {
            return Some(Verdict::EnoughAs(smaller.clone()));
        }
        // Arithmetic comes first: it can be followed with a pencil.
        if let Some(bound) = self.bound(point) {
            return Some(Verdict::Short(Short::ByHand(bound)));
        }
        if proven_short {
            return Some(Verdict::Short(Short::BySearch));
        }
        if let Some((larger, _)) = self.planned.iter().find(|(p, c)| self.at_most(point, p) && c.proven_short) {
            return Some(Verdict::Short(Short::Follows(larger.clone())));
        }
        // A larger crew for which nothing was found rules nothing out, and looking at a smaller one would not either.
        let in_vain = self.planned.iter().any(|(p, c)| self.at_most(point, p) && !c.missed.is_nothing());
        in_vain.then_some(Verdict::Open)
    }

    fn bound(&mut self, point: &[u32]) -> Option<Bound> {
        if let Some(known) = self.by_hand.get(point) {
            return known.clone();
        }
        let bound = hand::short(&self.crew(point).night(self.night));
        self.by_hand.insert(point.to_vec(), bound.clone());
        bound
    }

    /// Plans every crew of these of which nothing is known, two at a time.
    ///
    /// # Errors
    /// A rota failed the check.
    pub fn ask(&mut self, points: &[Point]) -> Result<(), Box<Wrong>> {
        let unknown: Vec<Point> = points.iter().filter(|p| self.verdict(p).is_none()).cloned().collect();
        self.plan(&unknown)
    }

    /// Plans every crew of these that was not planned yet, two at a time.
    ///
    /// # Errors
    /// A rota failed the check.
    pub fn plan(&mut self, points: &[Point]) -> Result<(), Box<Wrong>> {
        let mut new: Vec<&Point> = points.iter().filter(|p| !self.planned.contains_key(*p)).collect();
        new.dedup();
        for pair in new.chunks(2) {
            let nights: Vec<Night> = pair.iter().map(|p| self.crew(p).night(self.night)).collect();
            let (effort, watch) = (self.effort, self.watch);
            let covers = side_by_side(nights.iter().map(|night| move || cover(night, effort, watch)));
            for (point, cover) in pair.iter().zip(covers) {
                self.planned.insert((*point).clone(), cover?);
            }
        }
        Ok(())
    }

    /// Plans a crew again with so many times the effort, and keeps what says more.
    ///
    /// # Errors
    /// A rota failed the check.
    pub fn look_longer(&mut self, point: &Point, times: u64) -> Result<(), Box<Wrong>> {
        let effort = Effort { work: self.effort.work.saturating_mul(times), ..self.effort };
        let again = cover(&self.crew(point).night(self.night), effort, self.watch)?;
        let says_more = self
            .planned
            .get(point)
            .is_none_or(|before| again.missed < before.missed || (again.missed == before.missed && again.proven_short));
        if says_more {
            self.planned.insert(point.clone(), again);
        }
        Ok(())
    }

    /// What a planned crew misses at most: its own best rota, or that of a smaller crew with the rest idle.
    pub fn missed(&self, point: &[u32]) -> Option<&Missed> {
        let here = self.planned.iter().filter(|(p, _)| self.at_most(p, point));
        here.map(|(_, cover)| &cover.missed).min()
    }

    /// Whether a crew may do everything that another may: it has as many of each group, and no lever allows less.
    fn at_most(&self, one: &[u32], other: &[u32]) -> bool {
        let groups = self.question.groups.len();
        let counts = one[..groups].iter().zip(&other[..groups]).all(|(a, b)| a <= b);
        let levers = one[groups..].iter().zip(&other[groups..]).zip(&self.question.tried);
        counts && levers.into_iter().all(|((&a, &b), tried)| tried.lever.allows_no_less(a, b))
    }

    /// What was planned for a crew itself.
    pub fn cover(&self, point: &[u32]) -> Option<&Cover> {
        self.planned.get(point)
    }
}
