//! What must not be overlooked, on the screen and on paper.

use chrono::NaiveDate;

use super::{View, words};
use crate::night::{ConstraintSet, Night};

/// For training only (L5).
pub const TRAINING: &str = "TRAINING - NOT FOR USE";
/// Past the review (L2).
pub const OVERDUE: &str = "REVIEW OVERDUE";

/// What must not be overlooked, the worst kinds first.
pub fn warnings(view: &View<'_>) -> Vec<String> {
    let faults = view.review.faults.len();
    let checks = [
        (view.is_training(), format!("{TRAINING}: {}", training(view))),
        (view.review_is_overdue(), format!("{OVERDUE}: {}", overdue(view))),
        (faults > 0, format!("DO NOT USE: the check found {}.", faults_in_words(faults))),
        (view.rota.roster != view.night.roster.name, other("roster", &view.rota.roster, &view.night.roster.name)),
        (
            view.rota.constraint_set != view.night.limits.name,
            other("constraint set", &view.rota.constraint_set, &view.night.limits.name),
        ),
    ];
    let stopped = view.search.and_then(|search| words::ended(search.ended)).map(str::to_owned);
    checks.into_iter().filter_map(|(is_so, words)| is_so.then_some(words)).chain(stopped).collect()
}

/// Why it is for training only.
pub fn training(view: &View<'_>) -> String {
    let which = match (view.night.roster.example, view.night.limits.example) {
        (true, true) => "the roster and the limits are",
        (true, false) => "the roster is",
        (false, _) => "the constraint set is",
    };
    format!("{which} marked EXAMPLE.")
}

/// Since when the limits are past their review.
pub fn overdue(view: &View<'_>) -> String {
    due(&view.night.limits)
}

fn due(limits: &ConstraintSet) -> String {
    format!("the limits were to be reviewed by {}.", words::date(limits.approval.review_by))
}

/// Whether the limits are past their review, today or when a night begins (L2).
pub fn is_overdue(night: &Night, today: NaiveDate) -> bool {
    today.max(night.roster.clock.date(night.roster.shift.from)) > night.limits.approval.review_by
}

/// What must not be overlooked of an answer that is no rota: each a word and what it means.
pub fn of_answer(example: bool, night: &Night, today: NaiveDate) -> Vec<(&'static str, String)> {
    let all = [
        (example || night.limits.example, TRAINING, "made from files marked EXAMPLE.".to_owned()),
        (is_overdue(night, today), OVERDUE, due(&night.limits)),
    ];
    all.into_iter().filter(|(is_so, ..)| *is_so).map(|(_, word, text)| (word, text)).collect()
}

fn other(what: &str, said: &str, given: &str) -> String {
    format!("OTHER NAME: the rota says {what} \"{said}\"; you gave \"{given}\". Results may mislead.")
}

/// `0 faults`, `1 fault`, `2 faults`.
pub fn faults_in_words(count: usize) -> String {
    if count == 1 { "1 fault".to_owned() } else { format!("{count} faults") }
}
