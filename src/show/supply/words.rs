//! The words of the answer, the same on the screen and on paper.

use super::View;
use crate::show::words::date;
use crate::staffing::supply::{Reached, Shelf};

/// The question.
pub const QUESTION: &str = "How long do the kits last?";

/// What has to be kept in mind with the answer.
pub const CAUTIONS: [&str; 4] = [
    "Coming nights are taken to be like this one. Another patient, a worse night or training takes more.",
    "What is on the shelf is as the roster says. Count it by size before you rely on it.",
    "Nobody knows who goes in when nobody planned it: every size is counted as if all such entries took it.",
    "What is kept back is no stock to plan with.",
];

/// When only what is kept back is left.
#[must_use]
pub fn reached(view: &View<'_>, shelf: &Shelf) -> String {
    match shelf.reached() {
        Reached::AtStart => "at the start".to_owned(),
        Reached::At(at) => view.wall().time(at),
        Reached::Not => "not tonight".to_owned(),
    }
}

/// When it runs out.
#[must_use]
pub fn runs_out(view: &View<'_>, shelf: &Shelf) -> String {
    shelf.runs_out().map_or_else(|| "no".to_owned(), |at| view.wall().time(at))
}

/// Every shelf that runs out, as the charge nurse needs it.
#[must_use]
pub fn run_out(view: &View<'_>) -> Vec<String> {
    let line = |shelf: &Shelf| {
        let at = view.wall().time(shelf.runs_out()?);
        Some(format!(
            "Kit {}: {} there, {} kept back; the rota needs {} ({} for entrants, {} for helpers). Runs out at {at}.",
            view.name(shelf),
            shelf.count,
            shelf.reserve.min(shelf.count),
            shelf.used(),
            shelf.entrants.len(),
            shelf.helpers.len()
        ))
    };
    view.supply.shelves.iter().filter_map(line).collect()
}

/// `(12 - 2) / 4 = 2 nights, 2 left over`.
#[must_use]
pub fn sum(shelf: &Shelf, unplanned: u32) -> String {
    let a_night = shelf.a_night(unplanned);
    let more = shelf.each_unplanned * unplanned;
    let per = if more == 0 { a_night.to_string() } else { format!("({} + {more})", shelf.used()) };
    match shelf.nights(unplanned) {
        None => "none used".to_owned(),
        Some(nights) => {
            let over = shelf.usable() - nights * a_night;
            let noun = if nights == 1 { "night" } else { "nights" };
            let over = if over == 0 { String::new() } else { format!(", {over} left over") };
            format!("({} - {}) / {per} = {nights} {noun}{over}", shelf.count, shelf.reserve)
        }
    }
}

/// The first night for which it is not enough.
#[must_use]
pub fn short_on(view: &View<'_>, shelf: &Shelf, unplanned: u32) -> String {
    match (view.short_on(shelf, unplanned), shelf.nights(unplanned)) {
        (Some(day), _) => date(day),
        (None, Some(_)) => format!("after {} nights or later", view.coming),
        (None, None) => "never".to_owned(),
    }
}

/// The answer in a line or two.
#[must_use]
pub fn answer(view: &View<'_>) -> String {
    let out = run_out(view);
    if !out.is_empty() {
        return out.join(" ");
    }
    let first = |unplanned: u32| {
        let shelves = view.supply.shelves.iter();
        let least = shelves.filter_map(|shelf| Some((shelf.nights(unplanned)?, shelf)));
        least.min_by_key(|(nights, _)| *nights)
    };
    let said = |unplanned: u32| match first(unplanned) {
        None => "no kit is used".to_owned(),
        Some((nights, shelf)) => {
            let day = short_on(view, shelf, unplanned);
            let noun = if nights == 1 { "night" } else { "nights" };
            format!("{nights} {noun} like this one, tonight included; kit {} is short first ({day})", view.name(shelf))
        }
    };
    let planned = format!("Without touching what is kept back: {}.", said(0));
    if view.unplanned == 0 {
        return planned;
    }
    format!("{planned} With {} more entries a night: {}.", view.unplanned, said(view.unplanned))
}

/// What is said of respirators that are not counted.
#[must_use]
pub fn not_counted(view: &View<'_>) -> Option<String> {
    let row = |(model, size, count): &(String, String, u32)| format!("{model} {size} ({count} there)");
    let all: Vec<String> = view.supply.not_counted.iter().map(row).collect();
    (!all.is_empty()).then(|| {
        format!(
            "NOT COUNTED: respirators {}: the limits do not say how long a unit takes to come back.",
            all.join(", ")
        )
    })
}

/// Whether some kits are on no shelf, or the check found faults.
#[must_use]
pub fn notes(view: &View<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    if view.faults > 0 {
        let faults = crate::show::warnings::faults_in_words(view.faults);
        notes.push(format!("DO NOT USE: the check found {faults} in this rota. Look with: anteroom check"));
    }
    if view.supply.no_size > 0 {
        notes.push(format!(
            "{} kits are not counted: no size of them is known of who is to wear them.",
            view.supply.no_size
        ));
    }
    notes.extend(not_counted(view));
    notes
}
