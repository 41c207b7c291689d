//! The answer as JSON for scripts.
//!
//! The shape is stable: keys are added, never renamed, while `format` stays 1. `null` says that there is none.
//!
//! - `format`, `caution`, `training`, `review_overdue`, `question`, `roster`, `constraint_set`, `answer`
//! - `levers`, `groups`: their names, in the order of `settings` and `counts` below; a setting is a number, of relief
//!   styles the word
//! - `smallest`: `settings`, `counts`, `proven`, `smaller_short` (words), `removals`, `helper_removals`, `most_wear_min`
//! - `crews`: `settings`, `counts`, `covers` (`yes`, `no`, `open`), `uncovered_person_min`, `tasks_not_done`,
//!   `proven_best`, `known_how`
//! - `one_fewer`: `group`, and as in `crews`
//! - `binds`: `counts`, `settings`, `changes`: `change`, `uncovered_person_min`, `tasks_not_done`, `closes`, `proven_best`,
//!   `then` (words)
//! - `by_hand`: `what`, `sum`, `is`

use serde::Serialize;

use super::CrewsView;
use super::csv::covers;
use super::hand::lines;
use super::words;
use crate::night::{Lever, Relief, Tried};
use crate::staffing::{Load, Row, Smallest};

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    caution: &'a [&'a str],
    training: bool,
    review_overdue: bool,
    question: &'a str,
    roster: &'a str,
    constraint_set: &'a str,
    answer: String,
    levers: Vec<String>,
    groups: Vec<&'a str>,
    smallest: Vec<SmallestShape<'a>>,
    crews: Vec<CrewShape<'a>>,
    one_fewer: Vec<FewerShape<'a>>,
    binds: Option<BindsShape<'a>>,
    by_hand: Vec<LineShape>,
}

/// A number; of relief styles the word.
#[derive(Serialize)]
#[serde(untagged)]
enum SettingShape {
    Number(u32),
    Word(&'static str),
}

#[derive(Serialize)]
struct SmallestShape<'a> {
    settings: Vec<SettingShape>,
    counts: Option<&'a [u32]>,
    proven: bool,
    smaller_short: String,
    removals: Option<u32>,
    helper_removals: Option<u32>,
    most_wear_min: Option<i64>,
}

#[derive(Serialize)]
struct CrewShape<'a> {
    settings: Vec<SettingShape>,
    counts: &'a [u32],
    covers: &'static str,
    uncovered_person_min: Option<i64>,
    tasks_not_done: Option<u32>,
    proven_best: bool,
    known_how: String,
}

#[derive(Serialize)]
struct FewerShape<'a> {
    group: &'a str,
    #[serde(flatten)]
    crew: CrewShape<'a>,
}

#[derive(Serialize)]
struct BindsShape<'a> {
    counts: &'a [u32],
    settings: Vec<SettingShape>,
    changes: Vec<ChangeShape>,
}

#[derive(Serialize)]
struct ChangeShape {
    change: String,
    uncovered_person_min: Option<i64>,
    tasks_not_done: Option<u32>,
    closes: bool,
    proven_best: bool,
    then: String,
}

#[derive(Serialize)]
struct LineShape {
    what: String,
    sum: String,
    is: String,
}

/// Writes everything there is to say, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn write(view: &CrewsView<'_>) -> Result<String, serde_json::Error> {
    crate::show::json::indented(&document(view))
}

fn document<'a>(view: &'a CrewsView<'_>) -> Document<'a> {
    let (question, answer) = (view.question, view.answer);
    Document {
        format: crate::show::json::FORMAT,
        caution: &words::CAUTIONS,
        training: view.is_example(),
        review_overdue: view.is_overdue(),
        question: &question.name,
        roster: &view.night.roster.name,
        constraint_set: &view.night.limits.name,
        answer: words::answer(view),
        levers: question.tried.iter().map(|tried| words::lever(view, &tried.lever)).collect(),
        groups: question.groups.iter().map(|group| group.id.as_str()).collect(),
        smallest: answer.smallest.iter().zip(&answer.loads).map(|(s, load)| smallest(view, s, load.as_ref())).collect(),
        crews: answer.rows.iter().map(|row| crew(view, row)).collect(),
        one_fewer: answer
            .fewer
            .iter()
            .map(|fewer| FewerShape { group: &question.groups[fewer.group].id, crew: crew(view, &fewer.row) })
            .collect(),
        binds: binds(view),
        by_hand: lines(view)
            .into_iter()
            .map(|line| LineShape { what: line.what, sum: line.sum, is: line.is })
            .collect(),
    }
}

fn settings(view: &CrewsView<'_>, values: &[u32]) -> Vec<SettingShape> {
    let one = |(tried, &value): (&Tried, &u32)| match tried.lever {
        Lever::Relief => SettingShape::Word(Relief::at(value).word()),
        Lever::Lanes | Lever::MaxInside | Lever::MaxWear(_) | Lever::Respirators { .. } => SettingShape::Number(value),
    };
    view.question.tried.iter().zip(values).map(one).collect()
}

fn smallest<'a>(view: &CrewsView<'_>, found: &'a Smallest, load: Option<&Load>) -> SmallestShape<'a> {
    SmallestShape {
        settings: settings(view, &found.settings),
        counts: found.counts.as_deref(),
        proven: found.proven(),
        smaller_short: words::how_known(found),
        removals: load.map(|load| load.removals),
        helper_removals: load.map(|load| load.helper_removals),
        most_wear_min: load.map(|load| load.largest_wear.0),
    }
}

fn crew<'a>(view: &CrewsView<'_>, row: &'a Row) -> CrewShape<'a> {
    CrewShape {
        settings: settings(view, &row.settings),
        counts: &row.counts,
        covers: covers(&row.verdict),
        uncovered_person_min: row.uncovered(),
        tasks_not_done: row.tasks_not_done(),
        proven_best: row.proven,
        known_how: words::truth(view, &row.verdict),
    }
}

fn binds<'a>(view: &'a CrewsView<'_>) -> Option<BindsShape<'a>> {
    let binding = view.answer.binding.as_ref()?;
    let changes = binding.effects.iter().map(|effect| ChangeShape {
        change: words::relaxed(effect.relaxed),
        uncovered_person_min: effect.cover.as_ref().map(|cover| cover.missed.person_minutes().0),
        tasks_not_done: effect.cover.as_ref().map(|cover| cover.missed.tasks()),
        closes: effect.closes(),
        proven_best: effect.cover.as_ref().is_some_and(|cover| cover.proven_best),
        then: words::then(view, effect),
    });
    Some(BindsShape {
        counts: &binding.row.counts,
        settings: settings(view, &binding.row.settings),
        changes: changes.collect(),
    })
}
