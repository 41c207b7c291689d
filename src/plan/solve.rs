//! One mixed-integer solve: a [`Program`] and one sum to minimise, through good_lp to HiGHS.

use std::time::Instant;

use good_lp::solvers::highs::highs;
use good_lp::{Constraint, Expression, ProblemVariables, SolverModel, Variable, constraint, variable};
use highs::{HighsModelStatus, HighsSolutionStatus};

use super::interrupt::{Stop, Stopped, listen};
use super::program::{Col, Program, Row, Sum};
use super::tolerance;

/// How a program is solved.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// In whole numbers, reduced as far as it goes first: right for one long solve, too dear for many short ones.
    AtLength,
    /// In whole numbers, reduced a little first.
    Briefly,
    /// Its relaxation alone: what the sum cannot be below when people may be split.
    Relaxed,
    /// The same through the inside of what is allowed instead of from corner to corner: quicker where there are thousands
    /// of rows, slower where there are few.
    Inside,
}

impl Way {
    const fn is_whole(self) -> bool {
        matches!(self, Self::AtLength | Self::Briefly)
    }
}

/// Steps through the inside of a program that a relaxation takes at most, hardly ever more.
const STEPS: u64 = 50;

/// How far one solve may go.
pub struct Limit<'a> {
    /// Work units: see [`Stop`].
    pub work: u64,
    /// A wall-clock stop.
    pub until: Option<Instant>,
    /// How.
    pub way: Way,
    /// Whether the user wants to stop.
    pub asked: &'a (dyn Fn() -> bool + Sync),
}

impl Limit<'_> {
    /// For programs so small that no limit is needed.
    pub fn none() -> Self {
        Self { work: u64::MAX, until: None, way: Way::AtLength, asked: &|| false }
    }
}

/// What a solve came to; by default nothing.
#[derive(Clone, Debug, Default)]
pub struct Solved {
    /// The best point found, checked in whole numbers against every row.
    pub point: Option<Vec<i64>>,
    /// The sum cannot be below this; `None` when nothing is known.
    pub at_least: Option<i64>,
    /// Why it ended early, if it did.
    pub stopped: Option<Stopped>,
    /// Work units used.
    pub work: u64,
    /// Of a relaxation: the whole numbers between which each column came out, the same twice where it came out whole.
    pub between: Option<Vec<(i64, i64)>>,
}

impl Solved {
    /// Whether the solve ran to its end and yet its point is not as good as its bound.
    fn contradicts_itself(&self, sum: &Sum) -> bool {
        let value = self.point.as_ref().map(|point| sum.value(point));
        self.stopped.is_none() && value.zip(self.at_least).is_none_or(|(value, at_least)| value > at_least)
    }
}

/// Minimises `sum` over `program`. Columns in `free` keep their bounds, the
/// others too: nothing is fixed here. `start` must satisfy every row.
pub fn minimise(program: &Program, sum: &Sum, start: Option<&[i64]>, limit: &Limit<'_>) -> Solved {
    if program.columns.is_empty() {
        return nothing_to_decide(program, sum);
    }
    if limit.work == 0 {
        // Reading and reducing a program takes longer than anything that is left to spend on it.
        let point = start.map(<[i64]>::to_vec);
        return Solved { point, stopped: Some(Stopped::Work), ..Solved::default() };
    }
    let mut variables = ProblemVariables::new();
    let columns = add_columns(&mut variables, program, limit.way);
    let objective = expression(sum.terms.iter().copied(), &columns);
    let mut problem = variables.minimise(objective).using(highs);
    for row in &program.rows {
        for constraint in constraints(row, &columns) {
            problem.add_constraint(constraint);
        }
    }
    let mut model = problem.into_inner();
    set_options(&mut model, limit.way);
    if let Some(start) = start {
        let values: Vec<f64> = start.iter().map(|&v| to_float(v)).collect();
        model.set_solution(Some(&values), None, None, None);
    }
    let Limit { work, until, asked, .. } = *limit;
    if let Some(until) = until {
        // It looks at its own clock where it does not ask: inside a relaxation.
        model.set_option("time_limit", until.saturating_duration_since(Instant::now()).as_secs_f64());
    }
    let mut stop = Stop { work, per_round: overhead(program), until, asked, stopped: None, pivots: 0, rounds: 0 };
    listen(&mut model, &mut stop);
    let solved = model.try_solve();
    if until.is_some_and(|until| Instant::now() >= until) {
        stop.stopped = stop.stopped.or(Some(Stopped::Clock));
    }
    let Ok(solved) = solved else {
        let spent = stop.seen() + overhead(program);
        if start.is_some() && stop.stopped.is_none() && limit.way == Way::AtLength {
            // The start keeps every row, so there is an answer: HiGHS 1.16 can lose it where it reduces fully.
            let again = minimise(program, sum, start, &Limit { way: Way::Briefly, ..*limit });
            return Solved { work: again.work + spent, ..again };
        }
        return Solved { stopped: stop.stopped, work: spent, ..Solved::default() };
    };
    let solved = read(program, (sum, limit.way), &solved, &stop);
    if start.is_some() && solved.contradicts_itself(sum) {
        // HiGHS 1.16 can lose its way between a start and the presolved program: it then reports a better
        // objective and hands back the start. Without a start there is nothing to confuse.
        let again = minimise(program, sum, None, limit);
        return Solved { work: again.work + solved.work, ..again };
    }
    solved
}

fn add_columns(variables: &mut ProblemVariables, program: &Program, way: Way) -> Vec<Variable> {
    let columns = program.columns.iter();
    columns
        .map(|c| {
            let v = variable().min(to_float(c.least)).max(to_float(c.most));
            variables.add(if c.integer && way.is_whole() { v.integer() } else { v })
        })
        .collect()
}

fn expression(terms: impl Iterator<Item = (Col, i64)>, columns: &[Variable]) -> Expression {
    let mut expression = Expression::with_capacity(terms.size_hint().0);
    for (col, times) in terms {
        expression.add_mul(to_float(times), columns[col.0]);
    }
    expression
}

fn constraints(row: &Row, columns: &[Variable]) -> Vec<Constraint> {
    let sum = || expression(row.terms(), columns);
    match (row.least, row.most) {
        (Some(least), Some(most)) if least == most => vec![constraint::eq(sum(), to_float(most))],
        (least, most) => {
            let above = least.map(|side| constraint::geq(sum(), to_float(side)));
            let below = most.map(|side| constraint::leq(sum(), to_float(side)));
            above.into_iter().chain(below).collect()
        }
    }
}

fn set_options(model: &mut highs::Model, way: Way) {
    model.make_quiet();
    model.set_option("threads", 1);
    model.set_option("parallel", "off");
    model.set_option("random_seed", 1);
    match way {
        Way::AtLength | Way::Relaxed => {}
        Way::Briefly => model.set_option("presolve_rule_off", tolerance::REDUCTIONS_LEFT_OUT),
        Way::Inside => model.set_option("solver", "ipx"),
    }
    model.set_option("mip_lp_age_limit", tolerance::ROUNDS_A_CUT_MAY_IDLE);
    model.set_option("mip_allow_restart", false);
    model.set_option("mip_rel_gap", tolerance::RELATIVE_GAP);
    model.set_option("mip_abs_gap", tolerance::ABSOLUTE_GAP);
    model.set_option("mip_feasibility_tolerance", tolerance::WHOLE);
}

fn read(program: &Program, (sum, way): (&Sum, Way), solved: &highs::SolvedModel, stop: &Stop<'_>) -> Solved {
    let found = solved.primal_solution_status() == HighsSolutionStatus::Feasible;
    let point = found.then(|| rounded(solved.get_solution().columns())).filter(|point| program.accepts(point));
    let above = if way.is_whole() { 0.0 } else { may_be_above(sum) };
    let bound = bound(program, way, solved).filter(|b| b.is_finite()).map(|bound| bound - above);
    let at_least = bound.and_then(up_to_whole).map(|b| up_to_step(program, sum, b) + sum.constant);
    let pivots = u64::try_from(solved.simplex_iteration_count()).unwrap_or(0).max(stop.pivots);
    let inside = u64::try_from(solved.ipm_iteration_count()).unwrap_or(0) * step_inside(program);
    let work = pivots + stop.rounds * stop.per_round + inside + overhead(program);
    let relaxed = !way.is_whole() && solved.status() == HighsModelStatus::Optimal;
    let between = relaxed.then(|| between(solved.get_solution().columns()));
    Solved { point, at_least, stopped: stop.stopped, work, between }
}

/// What reading and reducing a program costs before the first pivot, and about
/// what one round of the search for cuts costs, in pivots' worth of time.
fn overhead(program: &Program) -> u64 {
    u64::try_from((program.columns.len() + program.rows.len()) / 40).unwrap_or(u64::MAX)
}

/// About what one step through the inside of a program costs.
fn step_inside(program: &Program) -> u64 {
    overhead(program) / 4
}

/// About the most that a relaxation solved through its inside costs.
pub fn most_inside(program: &Program) -> u64 {
    STEPS * step_inside(program)
}

/// What the sum cannot be below. Without whole-number columns there is no tree
/// and no bound but the optimum itself.
fn bound(program: &Program, way: Way, solved: &highs::SolvedModel) -> Option<f64> {
    if way.is_whole() && program.columns.iter().any(|c| c.integer) {
        return solved.double_info_value(c"mip_dual_bound").ok();
    }
    (solved.status() == HighsModelStatus::Optimal).then(|| solved.objective_value())
}

/// By how much a relaxation may be too high.
fn may_be_above(sum: &Sum) -> f64 {
    let largest = sum.terms.iter().map(|&(_, times)| times.abs()).max().unwrap_or(0);
    to_float(largest) * tolerance::RELAXED
}

/// A program without columns: HiGHS has no answer to it.
fn nothing_to_decide(program: &Program, sum: &Sum) -> Solved {
    let point = program.accepts(&[]).then(Vec::new);
    Solved { point, at_least: Some(sum.constant), ..Solved::default() }
}

fn rounded(values: &[f64]) -> Vec<i64> {
    #[expect(clippy::cast_possible_truncation, reason = "columns are bounded far inside i64")]
    values.iter().map(|v| v.round() as i64).collect()
}

fn between(values: &[f64]) -> Vec<(i64, i64)> {
    #[expect(clippy::cast_possible_truncation, reason = "columns are bounded far inside i64")]
    let side = |value: f64| value as i64;
    values.iter().map(|v| (side((v + tolerance::BOUND).floor()), side((v - tolerance::BOUND).ceil()))).collect()
}

/// The least whole number that a bound allows.
fn up_to_whole(bound: f64) -> Option<i64> {
    #[expect(clippy::cast_possible_truncation, reason = "the range was just checked")]
    (bound.abs() < 1e15).then(|| (bound - tolerance::BOUND).ceil() as i64)
}

/// The least multiple of what all terms of a sum are multiples of.
fn up_to_step(program: &Program, sum: &Sum, bound: i64) -> i64 {
    let whole = sum.terms.iter().all(|&(col, _)| program.columns[col.0].integer);
    let step = sum.terms.iter().fold(0, |step, &(_, times)| common(step, times.abs()));
    if whole && step > 1 { bound + (-bound).rem_euclid(step) } else { bound }
}

/// The greatest common divisor.
fn common(one: i64, other: i64) -> i64 {
    if other == 0 { one } else { common(other, one % other) }
}

fn to_float(whole: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "every figure is far below 2^53")]
    let float = whole as f64;
    float
}
