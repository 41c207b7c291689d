//! `anteroom cost`: what a rule costs tonight.

use chrono::NaiveDate;

use super::args::CostArgs;
use super::console::Console;
use super::parts::Parts;
use super::plan::{checked, night, today};
use super::progress::Progress;
use super::reference::rule;
use super::status::{Failure, Status};
use crate::night::Night;
use crate::plan::{LevelResult, Planned};
use crate::show::cost;

/// Plans the night with the rule and without it, checks both, and shows what differs. No rota is shown.
pub fn cost(args: &CostArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let rule = rule(&args.rule)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let Some(without) = night.without(rule) else {
        return Err(Failure::refused(format!(
            "Rule {} ({}) cannot be turned off: without it there is no night to plan. Nothing was planned.",
            rule.id(),
            rule.words()
        )));
    };
    let mut progress = Progress::start(console);
    let with = planned(&night, args, today, parts, &mut progress)?;
    let mut free = planned(&without, args, today, parts, &mut progress)?;
    drop(progress);
    // What keeps a rule is there without it too: a search that was less lucky must not say that a rule helps.
    if is_better(&with.levels, &free.levels) && parts.review(&without, &with.rota).faults.is_empty() {
        free.levels.clone_from(&with.levels);
    }
    console.answer(&cost::table(rule, &with.levels, &free.levels))?;
    Ok(Status::Covered)
}

/// Whether the first level that both have and that differs is smaller in `one`.
fn is_better(one: &[LevelResult], other: &[LevelResult]) -> bool {
    let both = one.iter().filter_map(|a| Some((a.value, other.iter().find(|b| b.level == a.level)?.value)));
    both.filter(|(a, b)| a != b).map(|(a, b)| a < b).next().unwrap_or(false)
}

/// A night planned, its rota checked under the night's own rules.
fn planned(
    night: &Night,
    args: &CostArgs,
    today: NaiveDate,
    parts: &dyn Parts,
    progress: &mut Progress,
) -> Result<Planned, Failure> {
    let planned = parts.plan(night, args.effort(), progress);
    checked(night, &planned.rota, today, parts).map(|_review| planned)
}
