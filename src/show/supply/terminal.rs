//! The answer for a terminal, 80 columns.

use super::{View, words};
use crate::check::MostInUse;
use crate::show::terminal::table::table;
use crate::show::terminal::{bands, caution_of_answer};
use crate::show::text::{hanging, heading, paragraph};

/// Columns of kits in one table of hours.
const SHELVES: usize = 7;

/// Everything there is to say.
#[must_use]
pub fn render(view: &View<'_>) -> String {
    let mut parts = vec![head(view), tonight(view), by_hour(view)];
    if !view.supply.respirators.is_empty() {
        parts.push(respirators(view));
    }
    parts.extend([coming(view), caution_of_answer(&words::CAUTIONS, &view.night.limits)]);
    parts.join("\n")
}

fn head(view: &View<'_>) -> String {
    let roster = &view.night.roster;
    heading("HOW LONG THE KITS LAST")
        + &hanging("  unit    ", &roster.unit)
        + &hanging("  roster  ", &roster.name)
        + &hanging("  limits  ", &view.night.limits.name)
        + "\n"
        + &bands(roster.example, view.night, view.today)
        + &hanging("", &words::answer(view))
        + &words::notes(view).iter().map(|note| hanging("", note)).collect::<String>()
}

fn tonight(view: &View<'_>) -> String {
    let rows: Vec<_> = view
        .supply
        .shelves
        .iter()
        .map(|shelf| {
            let figures = [i64::from(shelf.count), i64::from(shelf.reserve), i64::from(shelf.used()), shelf.left()];
            let words = [words::reached(view, shelf), words::runs_out(view, shelf)];
            std::iter::once(view.name(shelf)).chain(figures.map(|figure| figure.to_string())).chain(words).collect()
        })
        .collect();
    let columns = ["kit", "there", "kept back", "used", "left", "reserve reached", "runs out"];
    heading("TONIGHT") + &table(&columns, &rows)
}

fn by_hour(view: &View<'_>) -> String {
    let mut text = heading("LEFT, HOUR BY HOUR");
    for some in view.supply.shelves.chunks(SHELVES) {
        let names: Vec<String> = some.iter().map(|shelf| view.name(shelf)).collect();
        let columns: Vec<&str> = std::iter::once("at").chain(names.iter().map(String::as_str)).collect();
        let rows: Vec<Vec<String>> = view
            .hours()
            .into_iter()
            .map(|at| {
                std::iter::once(view.wall().time(at)).chain(some.iter().map(|s| s.left_at(at).to_string())).collect()
            })
            .collect();
        text += &table(&columns, &rows);
    }
    text + &paragraph("A kit is taken when its donning starts. Those taken at the hour itself are still there.")
}

fn respirators(view: &View<'_>) -> String {
    let row = |most: &MostInUse| {
        let size = most.size.clone().unwrap_or_else(|| "any".to_owned());
        let left = i64::from(most.ready) - i64::from(most.in_use);
        vec![
            format!("{} {size}", most.model),
            most.in_use.to_string(),
            most.ready.to_string(),
            left.to_string(),
            view.wall().time(most.at),
        ]
    };
    let rows: Vec<_> = view.supply.respirators.iter().map(row).collect();
    heading("RESPIRATORS") + &table(&["respirator", "most in use", "of", "left then", "first at"], &rows)
}

fn coming(view: &View<'_>) -> String {
    let mut rows = Vec::new();
    for shelf in &view.supply.shelves {
        let plans = if view.unplanned == 0 { vec![0] } else { vec![0, view.unplanned] };
        for unplanned in plans {
            let plan = if unplanned == 0 { "as planned".to_owned() } else { format!("{unplanned} more entries") };
            rows.push(vec![
                view.name(shelf),
                plan,
                words::sum(shelf, unplanned),
                words::short_on(view, shelf, unplanned),
            ]);
        }
    }
    heading("COMING NIGHTS, EACH LIKE THIS ONE")
        + &table(&["kit", "each night", "(there - kept back) / used", "short from the night of"], &rows)
        + &paragraph("Nights count tonight. New kits have to be there before the night of that date.")
}
