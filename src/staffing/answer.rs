//! The whole answer to a question about crews.

use super::arithmetic::Arithmetic;
use super::binds::{Effect, Relaxing};
use super::cover::{Load, Wrong, load};
use super::hand::Bound;
use super::known::{Known, Point, Verdict};
use super::smallest::{Smallest, candidates, smallest};
use crate::check::Missed;
use crate::night::{Lever, Night, Question, Relief, each_with_each};
use crate::plan::{Effort, Ended, Watch};

/// How much is looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Scope {
    /// Every crew asked about.
    Table,
    /// Only what the search for the smallest needs.
    Smallest,
}

/// Everything there is to say.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Answer {
    /// The smallest crew for each choice of figures of the levers, in their order.
    pub smallest: Vec<Smallest>,
    /// Of these the one with the fewest heads, the first of several; `None` where no crew covers.
    pub leading: Option<usize>,
    /// What each of the smallest crews takes, where there is one.
    pub loads: Vec<Option<Load>>,
    /// Every crew asked about; with [`Scope::Smallest`] those that were planned.
    pub rows: Vec<Row>,
    /// The leading crew with one person less, group by group; empty where no crew covers.
    pub fewer: Vec<Fewer>,
    /// What binds.
    pub binding: Option<Binding>,
    /// The arithmetic for the leading crew, or for the largest one.
    pub arithmetic: Option<Arithmetic>,
    /// Where relief styles are tried: the fewest entrants that no arithmetic rules out, and why, style by style.
    pub by_style: Vec<StyleBound>,
    /// How many crews were planned and checked.
    pub planned: usize,
    /// Why the searches ended: by themselves, if all did.
    pub ended: Ended,
}

/// What arithmetic says of one relief style.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StyleBound {
    /// The style.
    pub relief: Relief,
    /// The fewest entrants that no arithmetic rules out.
    pub least: u32,
    /// Why one fewer is ruled out.
    pub because: Option<Bound>,
}

/// One crew of the table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// Counts by group.
    pub counts: Vec<u32>,
    /// Figures of the levers.
    pub settings: Vec<u32>,
    /// Whether it is enough.
    pub verdict: Verdict,
    /// What it misses, where a rota of it or of a smaller crew was planned.
    pub missed: Option<Missed>,
    /// Whether that is proven best.
    pub proven: bool,
}

impl Row {
    /// How many people are asked about.
    #[must_use]
    pub fn heads(&self) -> u32 {
        self.counts.iter().sum()
    }

    /// Uncovered person-minutes, the best known; `None` where no rota of it or of a smaller crew was planned.
    #[must_use]
    pub fn uncovered(&self) -> Option<i64> {
        if self.verdict.is_enough() { Some(0) } else { self.missed.as_ref().map(|missed| missed.person_minutes().0) }
    }

    /// Tasks not done, likewise.
    #[must_use]
    pub fn tasks_not_done(&self) -> Option<u32> {
        if self.verdict.is_enough() { Some(0) } else { self.missed.as_ref().map(Missed::tasks) }
    }
}

/// One person less of a group.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fewer {
    /// Which group.
    pub group: usize,
    /// The crew.
    pub row: Row,
}

/// What binds in a crew that is short.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Binding {
    /// The crew.
    pub row: Row,
    /// What each relaxation does.
    pub effects: Vec<Effect>,
}

/// Answers a question about crews on a night.
///
/// # Errors
/// A planned rota failed the check.
pub fn answer(
    night: &Night,
    question: &Question,
    scope: Scope,
    effort: Effort,
    watch: &dyn Watch,
) -> Result<Answer, Box<Wrong>> {
    let mut known = Known::new(night, question, effort, watch);
    let settings = every_setting(question);
    let mut found = Vec::new();
    for setting in &settings {
        found.push(smallest(question, setting, &mut known)?);
    }
    let all: Vec<Point> = settings.iter().flat_map(|setting| points(question, setting)).collect();
    if scope == Scope::Table {
        let short: Vec<Point> =
            all.iter().filter(|point| !known.verdict(point).is_some_and(|v| v.is_enough())).cloned().collect();
        known.plan(&short)?;
    }
    let leading = leading(&found);
    let fewer = fewer(question, leading.map(|ix| &found[ix]), &mut known)?;
    let relaxing = Relaxing { night, effort, all: scope == Scope::Table, watch };
    let binding = binding(relaxing, &found, &fewer, &mut known)?;
    let crew = leading.map_or_else(|| largest(&found), |ix| point_of(&found[ix]));
    Ok(Answer {
        loads: loads(night, &found, &known, effort, watch)?,
        rows: all
            .iter()
            .filter(|point| scope == Scope::Table || known.cover(point).is_some())
            .cloned()
            .collect::<Vec<_>>()
            .iter()
            .filter_map(|point| row(question, point, &mut known))
            .collect(),
        arithmetic: Arithmetic::of(&known.crew(&crew).night(night)),
        by_style: by_style(night, question, &crew, &known),
        planned: known.times_planned(),
        ended: known.ended(),
        smallest: found,
        leading,
        fewer,
        binding,
    })
}

/// Every choice of figures, the first lever slowest.
fn every_setting(question: &Question) -> Vec<Vec<u32>> {
    each_with_each(question.tried.iter().map(|tried| tried.values.iter().copied()))
}

/// Every crew of a choice of figures, smallest first.
fn points(question: &Question, setting: &[u32]) -> Vec<Point> {
    let least: Vec<u32> = question.groups.iter().map(|group| group.from).collect();
    candidates(question, &least).into_iter().map(|counts| [&counts[..], setting].concat()).collect()
}

/// The crew of a point in each of the styles that are tried.
fn by_style(night: &Night, question: &Question, point: &Point, known: &Known<'_>) -> Vec<StyleBound> {
    let Some(lever) = question.tried.iter().position(|tried| tried.lever == Lever::Relief) else { return vec![] };
    let one = |&value: &u32| {
        let mut point = point.clone();
        point[question.groups.len() + lever] = value;
        let hand = Arithmetic::of(&known.crew(&point).night(night))?;
        Some(StyleBound { relief: hand.relief, least: hand.least, because: hand.because })
    };
    question.tried[lever].values.iter().filter_map(one).collect()
}

fn leading(found: &[Smallest]) -> Option<usize> {
    let heads = |s: &Smallest| s.counts.as_ref().map(|counts| counts.iter().sum::<u32>());
    let all = found.iter().enumerate().filter_map(|(ix, smallest)| Some((heads(smallest)?, ix)));
    all.min().map(|(_, ix)| ix)
}

/// The answer as a point; the largest crew where there is none.
fn point_of(found: &Smallest) -> Point {
    [found.counts.as_ref().unwrap_or(&found.largest).as_slice(), &found.settings].concat()
}

/// The largest crew under the last choice of figures, which allows the most.
fn largest(found: &[Smallest]) -> Point {
    found.last().map(point_of).unwrap_or_default()
}

fn row(question: &Question, point: &Point, known: &mut Known<'_>) -> Option<Row> {
    let verdict = known.verdict(point)?;
    let (counts, settings) = point.split_at(question.groups.len());
    let missed = known.missed(point).cloned();
    // A figure taken from a smaller crew may not be the best of this one.
    let own = known.cover(point).filter(|cover| Some(&cover.missed) == missed.as_ref());
    let proven = verdict.is_enough() || own.is_some_and(|cover| cover.proven_best);
    Some(Row { counts: counts.to_vec(), settings: settings.to_vec(), verdict, missed, proven })
}

/// One person less of each group that has any, whether or not the question asks about so few.
fn fewer(question: &Question, leading: Option<&Smallest>, known: &mut Known<'_>) -> Result<Vec<Fewer>, Box<Wrong>> {
    let Some(leading) = leading else { return Ok(vec![]) };
    let point = point_of(leading);
    let less = |group: usize| {
        let mut point = point.clone();
        point[group] -= 1;
        point
    };
    let groups: Vec<usize> = (0..question.groups.len()).filter(|&group| point[group] > 0).collect();
    let points: Vec<Point> = groups.iter().map(|&group| less(group)).collect();
    known.plan(&points)?;
    let rows = groups.iter().zip(&points);
    Ok(rows.filter_map(|(&group, point)| Some(Fewer { group, row: row(question, point, known)? })).collect())
}

/// What binds in the crew with one person less that misses the most; in the largest crew where none covers.
fn binding(
    relaxing: Relaxing<'_>,
    found: &[Smallest],
    fewer: &[Fewer],
    known: &mut Known<'_>,
) -> Result<Option<Binding>, Box<Wrong>> {
    let most = fewer.iter().rev().max_by_key(|fewer| fewer.row.missed.clone());
    let base = match most {
        Some(most) => [&most.row.counts[..], &most.row.settings].concat(),
        None => largest(found),
    };
    known.plan(std::slice::from_ref(&base))?;
    let crew = known.crew(&base);
    let Some(row) = row(crew.question, &base, known).filter(|row| !row.verdict.is_enough()) else { return Ok(None) };
    let effects = relaxing.effects(&crew, &row.missed.clone().unwrap_or_default())?;
    Ok(Some(Binding { row, effects }))
}

fn loads(
    night: &Night,
    found: &[Smallest],
    known: &Known<'_>,
    effort: Effort,
    watch: &dyn Watch,
) -> Result<Vec<Option<Load>>, Box<Wrong>> {
    let one = |smallest: &Smallest| {
        smallest.counts.as_ref()?;
        Some(load(&known.crew(&point_of(smallest)).night(night), effort, watch))
    };
    found.iter().map(|smallest| one(smallest).transpose()).collect()
}
