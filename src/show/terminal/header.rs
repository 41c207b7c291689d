//! Whose night this is, what must not be overlooked, and the answer in three lines.

use crate::show::View;
use crate::show::text::{hanging, heading};
use crate::show::warnings::{faults_in_words, warnings};
use crate::show::words;

/// The head of every output.
#[must_use]
pub fn header(view: &View<'_>) -> String {
    let warnings: String = warnings(view).iter().map(|w| hanging("", w)).collect();
    let gap = if warnings.is_empty() { "" } else { "\n" };
    let caution = hanging("", words::PLANNING_AID);
    heading("ROOM ENTRIES") + &names(view) + gap + &warnings + "\n" + &answer(view) + "\n" + &caution
}

/// Whose night it is, under which limits.
#[must_use]
pub fn names(view: &View<'_>) -> String {
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
