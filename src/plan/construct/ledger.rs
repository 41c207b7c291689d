//! What every row of a program comes to, kept up to date event by event.
//!
//! An event raises all later totals of its curve, so it changes few rows for
//! good: what it does to each is worked out once and remembered. Rows say
//! whether a step may be taken, so a rule that is a row is kept here without
//! being told again.

use std::sync::Arc;

use crate::night::Rule;

use super::super::grid::Slot;
use super::super::program::{Col, Column, Place, Program, Row};
use super::lists::Lists;

/// How often columns may be set to make rows hold again before it is given up.
const JUMPS: usize = 200;

/// How many columns after one another may be set to find somebody for a rescue: a start, a helper for it, and the slots
/// in which that helper is free.
const DEPTH: usize = 5;

/// How many columns are tried for one row,
const WAYS: usize = 24;

/// and how many in all.
const TRIES: usize = 150;

/// What a row that forbids a step weighs beside one that waits for somebody.
const HARD: i64 = 1_000;

/// What a row that does not hold means.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Kind {
    /// The step is not allowed.
    Hard,
    /// Somebody has still to be found: an observer, an assistant, a shower, a break.
    Owed,
    /// Nobody coordinates, stands by or could see to an early exit. Somebody who is free may be set to it.
    Rescue,
    /// Somebody has still to go in as well.
    Joint,
}

impl Kind {
    fn of(row: &Row) -> Self {
        match row.rule {
            Some(Rule::C1 | Rule::C3 | Rule::C4 | Rule::C5 | Rule::C6 | Rule::C10 | Rule::F2 | Rule::F3) => Self::Owed,
            Some(Rule::F7 | Rule::E1 | Rule::C8) if row.least.is_some() => Self::Rescue,
            Some(Rule::D1 | Rule::A5) => Self::Joint,
            // Whoever is alone at the door waits for a partner; whoever is one too many there must not pass.
            Some(Rule::D8) if row.least.is_some() => Self::Joint,
            _ => Self::Hard,
        }
    }
}

/// By how much rows are missed.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Missed {
    /// Rows that forbid a step.
    pub hard: i64,
    /// Rows that wait for a helper.
    pub owed: i64,
    /// Rows that wait for somebody to coordinate, stand by or see to an early exit.
    pub rescue: i64,
    /// Rows that wait for a partner.
    pub joint: i64,
}

/// A row as it stands: small, so that many of them fit in the processor's cache.
#[derive(Clone, Copy, Debug)]
struct State {
    least: i32,
    most: i32,
    activity: i32,
    kind: Kind,
}

/// Sides that a row does not have are out of reach.
const FAR: i32 = i32::MAX / 4;

impl Missed {
    /// Whether a step may not be taken, whoever else may still be found for it.
    pub const fn forbids(self) -> bool {
        self.hard > 0 || self.rescue > 0
    }
}

impl State {
    fn of(row: &Row) -> Self {
        let side = |side: Option<i64>, else_: i32| {
            side.map_or(else_, |side| i32::try_from(side.clamp((-FAR).into(), FAR.into())).expect("just clamped"))
        };
        Self { least: side(row.least, -FAR), most: side(row.most, FAR), activity: 0, kind: Kind::of(row) }
    }

    fn missed_at(self, activity: i32) -> i32 {
        (self.least - activity).max(activity - self.most).max(0)
    }

    fn missed(self) -> i32 {
        self.missed_at(self.activity)
    }

    /// What it is missed by more if its activity changes, weighed.
    fn worse_by(self, by: i32) -> i64 {
        let more = i64::from(self.missed_at(self.activity + by) - self.missed());
        more * if self.kind == Kind::Hard { HARD } else { 1 }
    }
}

/// One change, to be taken back.
#[derive(Clone, Debug)]
enum Change {
    Event(Col, i32),
    Set(Col, i64),
}

/// Rows and by how much something changes each.
type Changes = Arc<[(u32, i32)]>;

/// The rows of a program and how far each is from being kept.
#[derive(Clone)]
pub struct Ledger<'p> {
    program: &'p Program,
    /// Rows of each column, those that are measured elsewhere left out.
    rows_of: Arc<Lists>,
    /// Columns of each row that are neither totals nor held.
    others_of: Arc<Lists>,
    rows: Vec<State>,
    /// Values of columns that are not totals.
    values: Vec<i64>,
    /// Rows that do not hold, and where each stands in that list.
    bad: Vec<u32>,
    place_in_bad: Vec<u32>,
    missed: Missed,
    log: Vec<Change>,
    /// What an event in the slot of a total changes, for each total that was asked for.
    net_of: Vec<Option<Changes>>,
    scratch: Vec<i32>,
    /// Row changes made so far: the measure of work.
    pub work: u64,
    /// A slot for which nobody was found who could see to a rescue, where columns were last set in vain.
    pub unrescued: Option<Slot>,
}

const NOT_BAD: u32 = u32::MAX;

impl<'p> Ledger<'p> {
    /// Nothing happens yet. Columns in `held` keep the value 0 unless they are set.
    pub fn new(program: &'p Program, held: &[Col]) -> Self {
        let (columns, rows) = (program.columns.len(), program.rows.len());
        let mut held_here = vec![false; columns];
        held.iter().for_each(|col| held_here[col.0] = true);
        let terms = || {
            let rows = program.rows.iter().enumerate().filter(|(_, row)| !is_measured(row));
            let narrow = |times: i64| i32::try_from(times).expect("coefficients are minutes of a night");
            rows.flat_map(move |(place, row)| row.terms().map(move |(col, times)| (place, col.0, narrow(times))))
        };
        let is_other = |col: usize| !matches!(program.columns[col].place, Place::Total { .. }) && !held_here[col];
        let rows_of = Lists::of(columns, || terms().map(|(row, col, times)| (col, (index(row), times))));
        let others = || terms().filter(|&(_, col, _)| is_other(col));
        let others_of = Lists::of(rows, || others().map(|(row, col, times)| (row, (index(col), times))));
        let mut ledger = Self {
            program,
            rows_of: Arc::new(rows_of),
            others_of: Arc::new(others_of),
            rows: program.rows.iter().map(State::of).collect(),
            values: vec![0; columns],
            bad: vec![],
            place_in_bad: vec![NOT_BAD; rows],
            missed: Missed::default(),
            log: vec![],
            net_of: vec![None; columns],
            scratch: vec![0; rows],
            work: 0,
            unrescued: None,
        };
        for (place, _) in program.rows.iter().enumerate().filter(|(_, row)| !is_measured(row)) {
            let missed = ledger.rows[place].missed();
            ledger.book(place, missed, 0);
        }
        ledger
    }

    /// By how much rows are missed now.
    pub fn missed(&self) -> Missed {
        self.missed
    }

    /// A point to come back to.
    pub fn mark(&self) -> usize {
        self.log.len()
    }

    /// Takes everything back that was done since.
    pub fn back_to(&mut self, mark: usize) {
        while self.log.len() > mark {
            match self.log.pop().expect("the log is longer than the mark") {
                Change::Event(col, times) => self.change(col, -times),
                Change::Set(col, by) => self.shift(col, -by),
            }
        }
    }

    /// Forgets how to go back.
    pub fn forget(&mut self) {
        self.log.clear();
    }

    /// One event more, or one less, in the slot of a total.
    pub fn event(&mut self, total: Col, times: i32) {
        self.log.push(Change::Event(total, times));
        self.change(total, times);
    }

    /// Sets a column that is no total.
    pub fn set(&mut self, col: Col, value: i64) {
        let by = value - self.values[col.0];
        self.log.push(Change::Set(col, by));
        self.shift(col, by);
    }

    /// Sets columns that are no events so that as many rows hold as can be made to, one column after another.
    pub fn settle(&mut self) {
        let (mut jumps, mut next, mut again) = (JUMPS, 0, false);
        while jumps > 0 {
            let Some(&row) = self.bad.get(next) else {
                // What could not be made to hold may hold now.
                if !std::mem::take(&mut again) {
                    return;
                }
                next = 0;
                continue;
            };
            let row = row as usize;
            if let Some((col, by)) = self.best_jump(row) {
                self.set(col, self.values[col.0] + by);
            } else if self.rows[row].kind != Kind::Rescue {
                next += 1;
                continue;
            } else if !self.mended(row, DEPTH, &mut vec![], &mut { TRIES }) {
                // Without rescue nothing else is worth trying.
                self.unrescued = self.slot_of(row);
                return;
            }
            jumps -= 1;
            again = true;
        }
    }

    /// The first slot that a row is about.
    fn slot_of(&self, row: usize) -> Option<Slot> {
        let slot = |(col, _): (Col, i64)| match self.program.columns[col.0].place {
            Place::Slot(slot) => Some(slot),
            Place::Total { .. } | Place::Night => None,
        };
        self.program.rows[row].terms().filter_map(slot).min()
    }

    /// Sets columns so that a row holds, and every row that this breaks, and so on; or leaves all as it was.
    fn mended(&mut self, row: usize, depth: usize, on_the_way: &mut Vec<u32>, tries: &mut usize) -> bool {
        if self.rows[row].missed() == 0 {
            return true;
        }
        if depth == 0 {
            return false;
        }
        for (_, col, by) in self.ways(row, on_the_way) {
            if *tries == 0 {
                return false;
            }
            *tries -= 1;
            let (mark, broken) = (self.mark(), self.broken_by(col, by));
            on_the_way.push(col);
            self.set(Col(col as usize), self.values[col as usize] + i64::from(by));
            let done = self.rows[row].missed() == 0
                && broken.into_iter().all(|broken| self.mended(broken, depth - 1, on_the_way, tries));
            on_the_way.pop();
            if done {
                return true;
            }
            self.back_to(mark);
        }
        false
    }

    /// The columns whose change would make a row hold, those first that break least elsewhere.
    fn ways(&mut self, row: usize, but: &[u32]) -> Vec<(i64, u32, i32)> {
        let others = self.others_of.at(row).iter().filter(|(col, _)| !but.contains(col));
        let jumps = others.map(|&(col, times)| (col, self.jump(row, col as usize, times)));
        let mut ways: Vec<(i64, u32, i32)> =
            jumps.filter(|&(_, by)| by != 0).map(|(col, by)| (self.worse_by(col as usize, by), col, by)).collect();
        self.work += 10 * ways.len() as u64;
        ways.sort_unstable();
        ways.truncate(WAYS);
        ways
    }

    /// Rows that a column breaks, or breaks further, if it moves.
    fn broken_by(&self, col: u32, by: i32) -> Vec<usize> {
        let worse = |&&(row, times): &&(u32, i32)| {
            let row = self.rows[row as usize];
            row.missed_at(row.activity + by * times) > row.missed()
        };
        let mut broken: Vec<usize> =
            self.rows_of.at(col as usize).iter().filter(worse).map(|&(row, _)| row as usize).collect();
        // Whoever can be found among the fewest is looked for first.
        broken.sort_by_key(|&row| self.others_of.at(row).len());
        broken
    }

    /// The column whose change makes a row hold, and breaks least elsewhere.
    fn best_jump(&self, row: usize) -> Option<(Col, i64)> {
        let mut best: Option<(i64, Col, i64)> = None;
        for &(col, times) in self.others_of.at(row) {
            let by = self.jump(row, col as usize, times);
            if by == 0 {
                continue;
            }
            if let Some(worse) = self.no_worse_by(col as usize, by)
                && best.is_none_or(|(least, ..)| worse < least)
            {
                best = Some((worse, Col(col as usize), by.into()));
            }
        }
        best.map(|(_, col, by)| (col, by))
    }

    /// By how much a column has to move for a row to hold, as far as its bounds go.
    fn jump(&self, row: usize, col: usize, times: i32) -> i32 {
        let State { least, most, activity, .. } = self.rows[row];
        let wanted = (least - activity).max(0) - (activity - most).max(0);
        let steps = (wanted.abs() + times.abs() - 1) / times.abs() * wanted.signum() * times.signum();
        let (column, value) = (&self.program.columns[col], self.values[col]);
        let reached = (value + i64::from(steps)).clamp(column.least, column.most);
        i32::try_from(reached - value).unwrap_or(0)
    }

    /// What all rows are missed by more if a column moves.
    fn worse_by(&self, col: usize, by: i32) -> i64 {
        self.rows_of.at(col).iter().map(|&(row, times)| self.rows[row as usize].worse_by(by * times)).sum()
    }

    /// The same where it is nothing or less.
    fn no_worse_by(&self, col: usize, by: i32) -> Option<i64> {
        // More than all that is missed now cannot be made good.
        let Missed { hard, owed, rescue, joint } = self.missed;
        let most = HARD * hard + owed + rescue + joint;
        let mut worse = 0;
        for &(row, times) in self.rows_of.at(col) {
            worse += self.rows[row as usize].worse_by(by * times);
            if worse > most {
                return None;
            }
        }
        Some(worse).filter(|&worse| worse <= 0)
    }

    fn change(&mut self, total: Col, times: i32) {
        let net = self.net(total);
        self.work += net.len() as u64;
        for &(row, by) in net.iter() {
            self.update(row as usize, by * times);
        }
    }

    fn shift(&mut self, col: Col, by: i64) {
        self.values[col.0] += by;
        let step = i32::try_from(by).expect("columns that are no totals are small");
        for place in 0..self.rows_of.at(col.0).len() {
            let (row, times) = self.rows_of.at(col.0)[place];
            self.update(row as usize, step * times);
        }
        self.work += self.rows_of.at(col.0).len() as u64;
    }

    fn update(&mut self, row: usize, by: i32) {
        let state = &mut self.rows[row];
        let before = state.missed();
        state.activity += by;
        let after = state.missed();
        if before != after {
            self.book(row, after, before);
        }
    }

    fn book(&mut self, row: usize, after: i32, before: i32) {
        let side = match self.rows[row].kind {
            Kind::Hard => &mut self.missed.hard,
            Kind::Owed => &mut self.missed.owed,
            Kind::Rescue => &mut self.missed.rescue,
            Kind::Joint => &mut self.missed.joint,
        };
        *side += i64::from(after - before);
        let place = self.place_in_bad[row];
        if after > 0 && place == NOT_BAD {
            self.place_in_bad[row] = index(self.bad.len());
            self.bad.push(index(row));
        } else if after == 0 && place != NOT_BAD {
            self.place_in_bad[row] = NOT_BAD;
            let moved = self.bad.pop().expect("the row stands in the list");
            if moved as usize != row {
                self.bad[place as usize] = moved;
                self.place_in_bad[moved as usize] = place;
            }
        }
    }

    /// What one event in the slot of a total changes: it raises that total and all later ones.
    fn net(&mut self, total: Col) -> Changes {
        if let Some(known) = &self.net_of[total.0] {
            return Arc::clone(known);
        }
        let mut touched: Vec<u32> = vec![];
        for col in total.0..self.end_of_curve(total.0) {
            for &(row, times) in self.rows_of.at(col) {
                if self.scratch[row as usize] == 0 {
                    touched.push(row);
                }
                self.scratch[row as usize] += times;
            }
        }
        touched.sort_unstable();
        touched.dedup();
        let scratch = &mut self.scratch;
        let changes = touched.into_iter().map(|row| (row, std::mem::take(&mut scratch[row as usize])));
        let net: Changes = changes.filter(|&(_, by)| by != 0).collect();
        self.net_of[total.0] = Some(Arc::clone(&net));
        net
    }

    /// The column after the last total of a curve.
    fn end_of_curve(&self, total: usize) -> usize {
        let same = |column: &&Column| matches!(column.place, Place::Total { first, slot } if slot > first);
        total + 1 + self.program.columns[total + 1..].iter().take_while(same).count()
    }
}

/// Rows that say what is missed are counted by whoever builds, not held. Nor is what whoever stands by has left of kits
/// and wear: who stands by is settled once a rota is built.
fn is_measured(row: &Row) -> bool {
    match row.rule {
        Some(Rule::D4 | Rule::D6) => true,
        Some(Rule::E1) => row.most.is_some(),
        _ => false,
    }
}

fn index(place: usize) -> u32 {
    u32::try_from(place).expect("a program has fewer rows and columns")
}
