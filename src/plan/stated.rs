//! The program of a level in plain figures, for whoever wants to solve it by other means.

use crate::night::Night;

use super::level::Level;
use super::model::{Grouping, Model};

/// A column: its bounds, and whether it has to be whole.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct StatedColumn {
    /// Least value.
    pub least: i64,
    /// Greatest value.
    pub most: i64,
    /// Whether it has to be whole.
    pub whole: bool,
}

/// `least <= sum of coefficient x column <= most`, each side if given.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StatedRow {
    /// Columns, by place, with their coefficients; each column once.
    pub terms: Vec<(usize, i64)>,
    /// Lower side.
    pub least: Option<i64>,
    /// Upper side.
    pub most: Option<i64>,
}

/// A program with what is to be minimised.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stated {
    /// Columns.
    pub columns: Vec<StatedColumn>,
    /// Rows.
    pub rows: Vec<StatedRow>,
    /// The sum to minimise; each column once.
    pub minimise: Vec<(usize, i64)>,
    /// What is added to that sum.
    pub constant: i64,
}

/// The exact program of a night at `level`, with the levels `settled` before held at their values, in the units of
/// [`super::LevelResult`]. Levels of one person's wear cannot be held this way: they are rounded.
#[must_use]
pub fn stated(night: &Night, settled: &[(Level, i64)], level: Level) -> Stated {
    let mut model = Model::build(night, Grouping::Single);
    for &(before, value) in settled {
        let sum = model.objective(night, before);
        model.program.at_most(sum, value, None);
    }
    let mut sum = model.objective(night, level);
    sum.tidy();
    let columns = model.program.columns.iter();
    let rows = model.program.rows.iter();
    Stated {
        columns: columns.map(|c| StatedColumn { least: c.least, most: c.most, whole: c.integer }).collect(),
        rows: rows.map(|r| StatedRow { terms: plain(&r.terms), least: r.least, most: r.most }).collect(),
        minimise: plain(&sum.terms),
        constant: sum.constant,
    }
}

fn plain(terms: &[(super::program::Col, i64)]) -> Vec<(usize, i64)> {
    terms.iter().map(|&(col, times)| (col.0, times)).collect()
}
