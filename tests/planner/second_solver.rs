//! The programs of tiny nights solved by another general-purpose solver.

use anteroom::night::Night;
use anteroom::plan::{Level, LevelResult, Stated, plan, relaxed_least, stated};
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome, Variable};

use crate::brute_force::night;
use crate::nights::{AMPLE, Unwatched};
use crate::random::FAMILIES;

/// How many levels of each night are solved a second time.
const LEVELS: usize = 4;

/// The least value of the sum, by the other solver.
fn least(program: &Stated) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "a sum of minutes of one night")]
    let value = optimum(program).round() as i64;
    value + program.constant
}

/// The same, its constant left out.
fn optimum(program: &Stated) -> f64 {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut price = vec![0; program.columns.len()];
    program.minimise.iter().for_each(|&(column, times)| price[column] += times);
    let columns: Vec<Variable> = program
        .columns
        .iter()
        .zip(price)
        .map(|(column, price)| {
            let (least, most) = (small(column.least), small(column.most));
            if column.whole {
                problem.add_integer_var(f64::from(small(price)), (least, most))
            } else {
                problem.add_var(f64::from(small(price)), (least.into(), most.into()))
            }
        })
        .collect();
    for row in &program.rows {
        let terms: Vec<(Variable, f64)> =
            row.terms.iter().map(|&(c, times)| (columns[c], small(times).into())).collect();
        if let Some(side) = row.least {
            problem.add_constraint(terms.clone(), ComparisonOp::Ge, small(side).into());
        }
        if let Some(side) = row.most {
            problem.add_constraint(terms, ComparisonOp::Le, small(side).into());
        }
    }
    let outcome = problem.solve().expect("the rota without entries is a solution");
    let SolveOutcome::Solution(solution) = outcome else { panic!("no limit was set") };
    solution.objective()
}

fn small(figure: i64) -> i32 {
    i32::try_from(figure).expect("figures of tiny nights are small")
}

fn agree(name: &str, seed: u64, night: &Night) {
    let planned = plan(night, AMPLE, &mut Unwatched);
    // Wear is reported in rounded minutes, which cannot be held as they are.
    let levels = planned.levels.iter().map(|r| (r.level, r.value));
    let levels: Vec<(Level, i64)> = levels.take_while(|&(level, _)| level != Level::LargestWear).collect();
    for (place, &(level, value)) in levels.iter().enumerate().take(LEVELS) {
        let program = stated(night, &levels[..place], level);
        assert_eq!(least(&program), value, "{name}, seed {seed}, {level:?}");
    }
}

#[test]
fn another_solver_comes_to_the_same_values() {
    for (seed, family) in (5_000..).zip(FAMILIES.iter().cycle()).take(FAMILIES.len() * 2) {
        agree(family.name, seed, &night(family, seed));
    }
}

#[test]
fn another_solver_comes_to_the_same_relaxation() {
    let mut weaker = 0;
    for (seed, family) in (6_000..).zip(FAMILIES.iter().cycle()).take(FAMILIES.len() * 2) {
        let night = night(family, seed);
        let planned = plan(&night, AMPLE, &mut Unwatched);
        let uncovered = planned.levels.iter().find(|result| matches!(result.level, Level::Uncovered(_)));
        let Some(&LevelResult { level, value, .. }) = uncovered else { continue };
        let mut program = stated(&night, &[], level);
        program.columns.iter_mut().for_each(|column| column.whole = false);
        let (relaxed, least) = (optimum(&program), relaxed_least(&night, level).expect("no limit was set"));
        // It is taken up to the next figure that whole people can come to.
        let step = program.minimise.iter().map(|&(_, times)| times).max().unwrap_or(1).max(1);
        #[expect(clippy::cast_precision_loss, reason = "minutes of one night")]
        let beyond = (least - program.constant) as f64 - relaxed;
        #[expect(clippy::cast_precision_loss, reason = "minutes of one night")]
        let step = step as f64;
        assert!((-1e-3..step).contains(&beyond), "{}, seed {seed}: {relaxed} or {least}", family.name);
        assert!(least <= value, "{}, seed {seed}: {value} is below {least}", family.name);
        weaker += i32::from(least < value);
    }
    assert!(weaker > 0, "a relaxation that is never weaker than the best rota is none");
}
