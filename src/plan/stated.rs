//! The program of a level in plain figures, for whoever wants to solve it by other means.

use crate::night::{Night, Rota};

use super::bound::keeps_stretch;
use super::encode::point_of;
use super::level::Level;
use super::model::{Grouping, Model};
use super::names;
use super::naming::only_named;
use super::program::{Col, Column, Row};
use super::solve::{Limit, Way, minimise};

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
    Stated {
        columns: model.program.columns.iter().map(stated_column).collect(),
        rows: model.program.rows.iter().map(stated_row).collect(),
        minimise: plain(sum.terms.iter().copied()),
        constant: sum.constant,
    }
}

/// What `level` cannot be below in any rota, by the relaxation that a search of a whole night looks at (`bound.rs`).
#[must_use]
pub fn relaxed_least(night: &Night, level: Level) -> Option<i64> {
    let mut model = Model::build(night, Grouping::Single);
    let sum = model.objective(night, level);
    let limit = Limit { way: Way::Inside, ..Limit::none() };
    minimise(&model.program, &sum, None, &limit).at_least
}

/// Who is counted in a column.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Counted {
    /// Everyone and every lane alone: exact.
    Alone,
    /// People and lanes that are alike together: its values may be out of reach of any rota.
    Alike,
}

/// What a level minimises.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StatedLevel {
    /// Which.
    pub level: Level,
    /// The sum to minimise; each column once. Wear is in hundredths of a minute: see [`Level::reported`].
    pub minimise: Vec<(usize, i64)>,
    /// What is added to that sum.
    pub constant: i64,
}

/// The program of a night with every level that matters, in order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StatedNight {
    /// Columns.
    pub columns: Vec<StatedColumn>,
    /// Rows.
    pub rows: Vec<StatedRow>,
    /// Levels, to be minimised one after another, each held.
    pub levels: Vec<StatedLevel>,
}

/// The levels that matter tonight, in the order in which they are minimised.
#[must_use]
pub fn levels_in_order(night: &Night) -> Vec<Level> {
    Model::levels(night, Grouping::Single)
}

/// The program of a night with the sums of all its levels, none of them held yet.
#[must_use]
pub fn stated_night(night: &Night, counted: Counted) -> StatedNight {
    let grouping = match counted {
        Counted::Alone => Grouping::Single,
        Counted::Alike => Grouping::Alike,
    };
    let (model, levels) = with_levels(night, grouping);
    StatedNight {
        columns: model.program.columns.iter().map(stated_column).collect(),
        rows: model.program.rows.iter().map(stated_row).collect(),
        levels,
    }
}

/// The rotas that points of [`stated_night`] of people counted alone stand for; none for a point that breaks a row.
#[must_use]
pub fn stated_rotas(night: &Night, points: &[Vec<i64>]) -> Vec<Option<Rota>> {
    let (model, _) = with_levels(night, Grouping::Single);
    let fits = |point: &[i64]| point.len() == model.program.columns.len() && model.program.accepts(point);
    points.iter().map(|point| fits(point).then(|| names::rota(night, &model, point))).collect()
}

/// A rota with names for a point of [`stated_night`] of people counted together: names that add up to it or, where
/// some group has none, that come as near as this program finds. None where the point breaks a row.
#[must_use]
pub fn stated_named(night: &Night, point: &[i64]) -> Option<Rota> {
    let (alike, _) = with_levels(night, Grouping::Alike);
    if point.len() != alike.program.columns.len() || !alike.program.accepts(point) {
        return None;
    }
    let single = Model::build(night, Grouping::Single);
    let named = only_named(night, &alike, point, &single);
    Some(names::rota(night, &single, &named))
}

/// Whether a rota keeps every row of the program of people counted together, and, of every stretch of so many slots,
/// every row that says something about that stretch alone; `None` where no point of that program stands for the rota.
#[must_use]
pub fn stated_stretches_hold(night: &Night, rota: &Rota, width: i32) -> Option<bool> {
    let alike = Model::build(night, Grouping::Alike);
    let point = point_of(night, &alike, rota)?;
    let mut stretches = (0..alike.grid.slots).map(|from| from..(from + width).min(alike.grid.slots));
    let holds = alike.program.accepts(&point);
    Some(holds && stretches.all(|slots| keeps_stretch(&alike.program, &point, &slots)))
}

fn with_levels(night: &Night, grouping: Grouping) -> (Model, Vec<StatedLevel>) {
    let mut model = Model::build(night, grouping);
    let mut levels = Vec::new();
    for level in Model::levels(night, grouping) {
        let mut sum = model.objective(night, level);
        sum.tidy();
        levels.push(StatedLevel { level, minimise: plain(sum.terms.iter().copied()), constant: sum.constant });
    }
    (model, levels)
}

fn stated_column(column: &Column) -> StatedColumn {
    StatedColumn { least: column.least, most: column.most, whole: column.integer }
}

fn stated_row(row: &Row) -> StatedRow {
    StatedRow { terms: plain(row.terms()), least: row.least, most: row.most }
}

fn plain(terms: impl Iterator<Item = (Col, i64)>) -> Vec<(usize, i64)> {
    terms.map(|(col, times)| (col.0, times)).collect()
}
