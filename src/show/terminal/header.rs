//! Whose night this is, what must not be overlooked, and the answer in three lines.

use crate::show::View;
use crate::show::text::{hanging, heading};
use crate::show::words;

/// The head of every output.
#[must_use]
pub fn header(view: &View<'_>) -> String {
    let warnings: String = warnings(view).iter().map(|w| hanging("", w)).collect();
    let gap = if warnings.is_empty() { "" } else { "\n" };
    let caution = hanging("", "PLANNING AID ONLY: your unit's procedures and your own judgement come first.");
    heading("ROOM ENTRIES") + &names(view) + gap + &warnings + "\n" + &answer(view) + "\n" + &caution
}

fn names(view: &View<'_>) -> String {
    let (roster, wall) = (&view.night.roster, view.wall());
    let (from, to) = (wall.day_and_time(roster.shift.from), wall.day_and_time(roster.shift.to));
    hanging("  unit    ", &roster.unit)
        + &hanging("  shift   ", &format!("{from} -> {to}"))
        + &hanging("  clock   ", &clock(view))
        + &hanging("  roster  ", &roster.name)
        + &hanging("  limits  ", &view.night.limits.name)
        + &hanging("  issue   ", &view.rota.issue.to_string())
}

fn clock(view: &View<'_>) -> String {
    let (roster, wall) = (&view.night.roster, view.wall());
    let zone = roster.clock.zone_name();
    let changes = wall.passes(roster.shift.from, roster.shift.to);
    match changes.iter().find(|line| line.contains("CLOCKS")) {
        Some(line) => {
            let line = line.to_lowercase();
            format!("{zone}; {line} in this shift. Where a time happens twice, A is the first and B the second.")
        }
        None => zone.to_owned(),
    }
}

fn warnings(view: &View<'_>) -> Vec<String> {
    let faults = view.review.faults.len();
    let checks = [
        (view.is_training(), training(view)),
        (view.review_is_overdue(), overdue(view)),
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

fn training(view: &View<'_>) -> String {
    let which = match (view.night.roster.example, view.night.limits.example) {
        (true, true) => "the roster and the limits are",
        (true, false) => "the roster is",
        (false, _) => "the constraint set is",
    };
    format!("TRAINING - NOT FOR USE: {which} marked EXAMPLE.")
}

fn overdue(view: &View<'_>) -> String {
    let due = view.night.limits.approval.review_by.format("%-d %b %Y");
    format!("REVIEW OVERDUE: the limits were to be reviewed by {due}.")
}

fn other(what: &str, said: &str, given: &str) -> String {
    format!("OTHER NAME: the rota says {what} \"{said}\"; you gave \"{given}\". Results may mislead.")
}

fn answer(view: &View<'_>) -> String {
    let (groups, people) = (view.groups().len(), view.rota.entries.len());
    let noun = if people == 1 { "person" } else { "people" };
    hanging("  entries  ", &format!("{groups}, {people} {noun} through the door"))
        + &hanging("  gaps     ", &gaps(view))
        + &hanging("  checked  ", &faults_in_words(view.review.faults.len()))
}

fn gaps(view: &View<'_>) -> String {
    let gaps = &view.explained.gaps;
    match gaps.first() {
        Some(worst) => format!("{}, the worst: {} {}", gaps.len(), worst.word(), view.wall().span(worst.span)),
        // The check counts by itself, so that a gap cannot go missing between here and there.
        None if view.has_gaps() => "not explained: see the check".to_owned(),
        None => "NONE".to_owned(),
    }
}

/// `0 faults`, `1 fault`, `2 faults`.
pub fn faults_in_words(count: usize) -> String {
    if count == 1 { "1 fault".to_owned() } else { format!("{count} faults") }
}
