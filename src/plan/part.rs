//! A part of a program: some columns held, the rest free.
//!
//! Holding a curve outside a stretch of time means holding its *events*, not
//! its totals: totals after the stretch follow the last total inside it.

use std::collections::BTreeMap;

use super::grid::Slot;
use super::program::{Col, Column, Place, Program, Sum};

/// What a column may do in a part.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Fate {
    /// It may move within its bounds.
    Free,
    /// It may move, no further than this.
    Within(i64, i64),
    /// It keeps a value.
    Held(i64),
    /// It equals another column plus a constant.
    Follows(Col, i64),
}

/// A smaller program and the way back.
#[derive(Clone, Debug)]
pub struct Part {
    /// The smaller program.
    pub program: Program,
    /// The sum to minimise, over the smaller program.
    pub sum: Sum,
    /// For each column of the whole: its sum in the part.
    back: Vec<(Option<Col>, i64)>,
}

/// Lower and upper side of a row.
type Sides = (Option<i64>, Option<i64>);

impl Part {
    /// Cuts a part out of `whole`. `None` when the held columns alone break a row.
    pub fn cut(whole: &Program, sum: &Sum, fates: &[Fate]) -> Option<Self> {
        let mut program = Program::default();
        let mut back: Vec<(Option<Col>, i64)> = Vec::with_capacity(fates.len());
        for (column, fate) in whole.columns.iter().zip(fates) {
            back.push(match *fate {
                Fate::Free => (Some(program.add(*column)), 0),
                Fate::Within(least, most) => {
                    let (least, most) = (column.least.max(least), column.most.min(most));
                    (Some(program.add(Column { least, most, ..*column })), 0)
                }
                Fate::Held(value) => (None, value),
                Fate::Follows(other, plus) => {
                    let (col, base) = back[other.0];
                    (col, base + plus)
                }
            });
        }
        let mut part = Self { program, sum: Sum::new(), back };
        part.keep_bounds(whole, fates);
        part.sum = part.translated(sum.terms.iter().copied());
        part.sum.constant += sum.constant;
        part.keep_rows(whole).then_some(part)
    }

    /// Bounds of columns that follow others become rows.
    fn keep_bounds(&mut self, whole: &Program, fates: &[Fate]) {
        let mut rows = Vec::new();
        for (place, fate) in fates.iter().enumerate() {
            if let Fate::Follows(..) = fate {
                let Column { least, most, .. } = whole.columns[place];
                let mut sum = Sum::new();
                sum.add(Col(place), 1);
                rows.push((sum, least, most));
            }
        }
        let mut tightest: BTreeMap<Col, (i64, i64)> = BTreeMap::new();
        for (sum, least, most) in rows {
            let translated = self.translated(sum.terms.iter().copied());
            if let [(col, 1)] = translated.terms[..] {
                let side = tightest.entry(col).or_insert((i64::MIN, i64::MAX));
                side.0 = side.0.max(least - translated.constant);
                side.1 = side.1.min(most - translated.constant);
            }
        }
        for (col, (least, most)) in tightest {
            let column = &mut self.program.columns[col.0];
            column.least = column.least.max(least);
            column.most = column.most.min(most);
        }
    }

    /// Adds every row of the whole that still says something; rows that have
    /// become the same are merged. False when one cannot hold.
    fn keep_rows(&mut self, whole: &Program) -> bool {
        let mut kept: BTreeMap<Vec<(Col, i64)>, Sides> = BTreeMap::new();
        for row in &whole.rows {
            let sum = self.translated(row.terms());
            let least = row.least.map(|side| side - sum.constant);
            let most = row.most.map(|side| side - sum.constant);
            if sum.terms.is_empty() {
                if least.is_some_and(|side| side > 0) || most.is_some_and(|side| side < 0) {
                    return false;
                }
                continue;
            }
            let sides = kept.entry(sum.terms).or_default();
            sides.0 = sides.0.max(least);
            sides.1 = [sides.1, most].into_iter().flatten().min();
        }
        for (terms, (least, most)) in kept {
            self.program.row(Sum { terms, constant: 0 }, least, most, None);
        }
        self.program.columns.iter().all(|c| c.least <= c.most)
    }

    fn translated(&self, terms: impl Iterator<Item = (Col, i64)>) -> Sum {
        let mut sum = Sum::new();
        for (col, times) in terms {
            let (inside, constant) = self.back[col.0];
            sum.constant += times * constant;
            if let Some(inside) = inside {
                sum.add(inside, times);
            }
        }
        sum.tidy();
        sum
    }

    /// A point of the whole from a point of the part.
    pub fn whole_point(&self, point: &[i64]) -> Vec<i64> {
        self.back.iter().map(|&(col, plus)| col.map_or(0, |c| point[c.0]) + plus).collect()
    }
}

/// Holds what is free and has nothing to do with the sum: no chain of rows and
/// free columns leads from one to the other.
pub fn hold_unrelated(program: &Program, sum: &Sum, point: &[i64], fates: &mut [Fate]) {
    let is_free = |col: Col, fates: &[Fate]| matches!(fates[col.0], Fate::Free);
    let mut rows_of: Vec<Vec<usize>> = vec![vec![]; fates.len()];
    for (place, row) in program.rows.iter().enumerate() {
        for (col, _) in row.terms().filter(|&(col, _)| is_free(col, fates)) {
            rows_of[col.0].push(place);
        }
    }
    let mut related = vec![false; fates.len()];
    let mut seen = vec![false; program.rows.len()];
    let mut next: Vec<Col> = sum.terms.iter().map(|&(col, _)| col).filter(|&col| is_free(col, fates)).collect();
    while let Some(col) = next.pop() {
        if std::mem::replace(&mut related[col.0], true) {
            continue;
        }
        for &row in &rows_of[col.0] {
            if !std::mem::replace(&mut seen[row], true) {
                next.extend(program.rows[row].terms().map(|(other, _)| other).filter(|&c| is_free(c, fates)));
            }
        }
    }
    for (place, fate) in fates.iter_mut().enumerate().filter(|(place, _)| !related[*place]) {
        if *fate == Fate::Free {
            *fate = Fate::Held(point[place]);
        }
    }
}

/// Slots beside a window whose facts may change with it; events there stay.
const BESIDE: Slot = 12;

/// Frees the events in `from..to`, holds all others as in `point`. With
/// `allowed`, events are also held where it says no.
pub fn window(program: &Program, point: &[i64], (from, to): (Slot, Slot), allowed: Option<&[bool]>) -> Vec<Fate> {
    let may_move = |place: usize| allowed.is_none_or(|allowed| allowed.get(place).copied().unwrap_or(true));
    let fate = |(place, column): (usize, &Column)| match column.place {
        Place::Total { slot, .. } if slot < from => Fate::Held(point[place]),
        Place::Total { first, slot } if slot < to => {
            let before = if slot == first { 0 } else { point[place - 1] };
            match (point[place] != before || may_move(place), slot == first || slot == from) {
                (true, _) => Fate::Free,
                (false, true) => Fate::Held(before),
                (false, false) => Fate::Follows(Col(place - 1), 0),
            }
        }
        Place::Total { first, .. } if first >= to => Fate::Held(point[place]),
        Place::Total { slot, .. } => {
            let back = usize::try_from(slot - (to - 1)).expect("this slot is past the window");
            Fate::Follows(Col(place - back), point[place] - point[place - back])
        }
        Place::Slot(slot) if slot < from - BESIDE || slot >= to + BESIDE => Fate::Held(point[place]),
        Place::Slot(_) | Place::Night => Fate::Free,
    };
    program.columns.iter().enumerate().map(fate).collect()
}

/// Every event may come up to `near` slots earlier or later than in `point`, anywhere in the night.
pub fn nearby(program: &Program, point: &[i64], near: Slot) -> Vec<Fate> {
    let fate = |(place, column): (usize, &Column)| {
        let Place::Total { first, slot } = column.place else { return Fate::Free };
        // The totals of a curve are consecutive, so a column so far along is
        // the same curve's if it stands for the slot so much later.
        let total = |by: Slot| {
            let there = place.checked_add_signed(isize::try_from(by).ok()?)?;
            let same = program.columns.get(there)?.place == Place::Total { first, slot: slot + by };
            same.then(|| point[there])
        };
        let least = if slot - near < first { 0 } else { total(-near).unwrap_or(0) };
        let most = (0..=near).rev().find_map(total).unwrap_or(point[place]);
        if least == most { Fate::Held(least) } else { Fate::Within(least, most) }
    };
    program.columns.iter().enumerate().map(fate).collect()
}
