//! A mixed-integer linear program in whole numbers, before any solver sees it.

use crate::night::Rule;

use super::grid::Slot;

/// Programs of up to this many columns are solved whole at every level.
pub const SMALL: usize = 1_500;

/// A column (decision variable) of a [`Program`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Col(pub usize);

/// Bounds of a column, and whether it has to be whole.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Column {
    /// Least value.
    pub least: i64,
    /// Greatest value.
    pub most: i64,
    /// Whether the solver must make it whole. Columns that are whole whenever
    /// the others are, are left to the solver as continuous.
    pub integer: bool,
    /// Where in the night it belongs.
    pub place: Place,
}

/// Where in the night a column belongs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Place {
    /// The running total at `slot` of a curve that begins at `first`. The
    /// totals of one curve are consecutive columns.
    Total {
        /// First slot of the curve.
        first: Slot,
        /// This total's slot.
        slot: Slot,
    },
    /// A fact about one slot.
    Slot(Slot),
    /// A fact about the whole night.
    Night,
}

/// The column of a slot among columns by slot, where there is one.
pub fn in_slot(cols: &[Option<Col>], slot: Slot) -> Option<Col> {
    usize::try_from(slot).ok().and_then(|slot| cols.get(slot).copied().flatten())
}

/// `sum of coefficient x column + constant`.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Sum {
    /// Coefficients; a column may appear more than once until [`Sum::tidy`].
    pub terms: Vec<(Col, i64)>,
    /// The constant part.
    pub constant: i64,
}

impl Sum {
    /// Nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds `times x col`.
    pub fn add(&mut self, col: Col, times: i64) {
        self.terms.push((col, times));
    }

    /// Adds `times x other`.
    pub fn add_sum(&mut self, other: &Self, times: i64) {
        self.terms.extend(other.terms.iter().map(|&(col, c)| (col, c * times)));
        self.constant += other.constant * times;
    }

    /// Merges repeated columns and drops zeros, in column order.
    pub fn tidy(&mut self) {
        self.terms.sort_unstable_by_key(|&(col, _)| col);
        self.terms.dedup_by(|later, kept| {
            let same = later.0 == kept.0;
            if same {
                kept.1 += later.1;
            }
            same
        });
        self.terms.retain(|&(_, c)| c != 0);
    }

    /// Its value at a point.
    #[must_use]
    pub fn value(&self, point: &[i64]) -> i64 {
        self.constant + self.terms.iter().map(|&(col, c)| c * point[col.0]).sum::<i64>()
    }
}

/// `least <= sum <= most`; the sum's constant is already moved into the bounds.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// Tidy terms, small since a large night has millions of them: see [`Row::terms`].
    terms: Box<[(u32, i32)]>,
    /// Lower side, if any.
    pub least: Option<i64>,
    /// Upper side, if any.
    pub most: Option<i64>,
    /// The rule it stands for; `None` for bookkeeping such as running totals.
    pub rule: Option<Rule>,
}

impl Row {
    /// Its columns, in order, and how many times each counts.
    pub fn terms(&self) -> impl Iterator<Item = (Col, i64)> + Clone {
        self.terms.iter().map(|&(col, times)| (Col(col as usize), i64::from(times)))
    }
}

/// Columns and rows.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Program {
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Row>,
}

impl Program {
    /// A new whole-number column.
    pub fn whole(&mut self, least: i64, most: i64, place: Place) -> Col {
        self.column(Column { least, most, integer: true, place })
    }

    /// A new column that is whole whenever the others are.
    pub fn implied(&mut self, most: i64, place: Place) -> Col {
        self.column(Column { least: 0, most, integer: false, place })
    }

    fn column(&mut self, column: Column) -> Col {
        self.add(column)
    }

    /// A new column, as described.
    pub fn add(&mut self, column: Column) -> Col {
        self.columns.push(column);
        Col(self.columns.len() - 1)
    }

    /// Demands `sum <= most`.
    pub fn at_most(&mut self, sum: Sum, most: i64, rule: impl Into<Option<Rule>>) {
        self.row(sum, None, Some(most), rule.into());
    }

    /// Demands `sum >= least`.
    pub fn at_least(&mut self, sum: Sum, least: i64, rule: impl Into<Option<Rule>>) {
        self.row(sum, Some(least), None, rule.into());
    }

    /// Demands `sum = value`.
    pub fn equal(&mut self, sum: Sum, value: i64, rule: impl Into<Option<Rule>>) {
        self.row(sum, Some(value), Some(value), rule.into());
    }

    /// Demands `least <= sum <= most`.
    pub fn between(&mut self, sum: Sum, least: i64, most: i64, rule: impl Into<Option<Rule>>) {
        self.row(sum, Some(least), Some(most), rule.into());
    }

    /// Demands `least <= sum <= most`, each side if given.
    pub fn row(&mut self, mut sum: Sum, least: Option<i64>, most: Option<i64>, rule: Option<Rule>) {
        sum.tidy();
        let shift = sum.constant;
        let terms = sum.terms.iter().map(|&(col, times)| {
            let col = u32::try_from(col.0).expect("a night has fewer columns than 2^32");
            (col, i32::try_from(times).expect("coefficients are minutes of a night"))
        });
        let row = Row { terms: terms.collect(), least: least.map(|v| v - shift), most: most.map(|v| v - shift), rule };
        if !self.holds_always(&row) {
            self.rows.push(row);
        }
    }

    /// Whether the columns' own bounds already imply the row.
    fn holds_always(&self, row: &Row) -> bool {
        let mut least = 0;
        let mut most = 0;
        for (col, c) in row.terms() {
            let Column { least: low, most: high, .. } = self.columns[col.0];
            least += (c * low).min(c * high);
            most += (c * low).max(c * high);
        }
        row.least.is_none_or(|side| side <= least) && row.most.is_none_or(|side| most <= side)
    }

    /// What a sum cannot be below, by the columns' bounds alone.
    #[must_use]
    pub fn least(&self, sum: &Sum) -> i64 {
        let mut tidy = sum.clone();
        tidy.tidy();
        let part = |&(col, c): &(Col, i64)| (c * self.columns[col.0].least).min(c * self.columns[col.0].most);
        tidy.constant + tidy.terms.iter().map(part).sum::<i64>()
    }

    /// What a sum cannot be above, by the columns' bounds alone.
    #[must_use]
    pub fn most(&self, sum: &Sum) -> i64 {
        let mut less = Sum::new();
        less.add_sum(sum, -1);
        -self.least(&less)
    }

    /// Columns per slot that may move, on average over the night; with
    /// `allowed`, those it allows.
    #[must_use]
    pub fn free_per_slot(&self, allowed: Option<&[bool]>) -> usize {
        let may_move = |place: usize| allowed.is_none_or(|allowed| allowed.get(place).copied().unwrap_or(true));
        let mut last = 1;
        let mut free = 0;
        for (place, column) in self.columns.iter().enumerate() {
            if let Place::Total { slot, .. } | Place::Slot(slot) = column.place {
                last = last.max(usize::try_from(slot).unwrap_or(0) + 1);
                free += usize::from(may_move(place));
            }
        }
        free / last
    }

    /// Whether every bound and row holds at a whole-number point.
    #[must_use]
    pub fn accepts(&self, point: &[i64]) -> bool {
        let inside = self.columns.iter().zip(point).all(|(c, &v)| c.least <= v && v <= c.most);
        inside
            && self.rows.iter().all(|row| {
                let value: i64 = row.terms().map(|(col, c)| c * point[col.0]).sum();
                row.least.is_none_or(|side| side <= value) && row.most.is_none_or(|side| value <= side)
            })
    }
}
