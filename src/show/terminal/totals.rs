//! Counts, kits, and how good the rota is known to be.

use super::table::table;
use crate::check::{Measures, MostInUse, TaskOutcome, most_in_use};
use crate::night::{KitStock, Minutes};
use crate::plan::{Level, LevelResult};
use crate::show::View;
use crate::show::stock::kits_used;
use crate::show::text::{heading, paragraph};
use crate::show::words;

/// What the night takes.
#[must_use]
pub fn totals(view: &View<'_>) -> String {
    heading("TOTALS") + &table(&[], &counts(view)) + "\n" + &kits(view) + "\n" + &respirators(view) + &levels(view)
}

fn counts(view: &View<'_>) -> Vec<Vec<String>> {
    let (rota, tasks) = (view.rota, view.night.roster.tasks.len());
    let done = view.review.tasks.iter().filter(|(_, outcome)| matches!(outcome, TaskOutcome::Done { .. })).count();
    let measures = &view.review.measures;
    let rows = [
        ("entries", view.groups().len().to_string()),
        ("removals of entrants", measures.removals.to_string()),
        ("removals of helpers", measures.helper_removals.to_string()),
        ("tasks done", format!("{done} of {tasks}")),
        ("breaks planned", rota.breaks.len().to_string()),
        ("most wear, one person", wear(measures)),
        ("most helper load, one person", format!("{} min", measures.largest_load)),
    ];
    rows.into_iter().map(|(name, value)| vec![name.to_owned(), value]).collect()
}

/// In whole minutes, rounded up as durations are.
fn wear(measures: &Measures) -> String {
    format!("{} min", Minutes(measures.largest_wear_centi).up_to_grid(Minutes(100)).0 / 100)
}

/// Kits by ensemble and size, used of how many.
fn kits(view: &View<'_>) -> String {
    let used = kits_used(view);
    let row = |stock: &KitStock| {
        let used = used.get(&(stock.ensemble, stock.size.as_str())).copied().unwrap_or(0);
        let left = i64::from(stock.count) - i64::from(used);
        let id = view.night.limits.ensemble(stock.ensemble).id.clone();
        let figures = [i64::from(used), i64::from(stock.count), i64::from(stock.reserve), left];
        let mut row = vec![id, stock.size.clone()];
        row.extend(figures.iter().map(i64::to_string));
        row
    };
    let rows: Vec<_> = view.night.roster.kits.iter().map(row).collect();
    if rows.is_empty() {
        return paragraph("kits: NONE on this roster");
    }
    table(&["kit", "size", "used", "of", "kept back", "left"], &rows)
}

/// Respirators that come back into use: the most at once, when, and how many are ready then.
fn respirators(view: &View<'_>) -> String {
    let row = |most: MostInUse| {
        let size = most.size.unwrap_or_else(|| "any".to_owned());
        vec![most.model, size, most.in_use.to_string(), most.ready.to_string(), view.wall().time(most.at)]
    };
    let rows: Vec<_> = most_in_use(view.night, view.rota).into_iter().map(row).collect();
    if rows.is_empty() {
        return String::new();
    }
    table(&["respirator", "size", "most in use", "ready then", "at"], &rows) + "\n"
}

/// How good each level is known to be; of a hand-made rota, only how good it is.
fn levels(view: &View<'_>) -> String {
    let header = ["in this order", "this rota", "how good"];
    let rows: Vec<_> = match view.search {
        Some(search) => search.levels.iter().map(planned).collect(),
        None => counted(&view.review.measures).into_iter().map(|(l, v)| by_hand(l, v)).collect(),
    };
    table(&header, &rows)
}

fn planned(result: &LevelResult) -> Vec<String> {
    vec![words::level(result.level), words::amount(result.level, result.value), words::proof(result)]
}

fn by_hand(level: Level, value: i64) -> Vec<String> {
    vec![words::level(level), words::amount(level, value), "as counted by the check".to_owned()]
}

/// The check's own figures, level by level.
fn counted(m: &Measures) -> Vec<(Level, i64)> {
    let uncovered = m.uncovered.iter().map(|(&class, minutes)| (Level::Uncovered(class), minutes.0));
    let longest = m.longest.iter().map(|(&class, minutes)| (Level::LongestStretch(class), minutes.0));
    let rest = [
        (Level::MustMissed, i64::from(m.must_missed)),
        (Level::SkillMissing, m.skill_missing.0),
        (Level::MustLate, m.must_late.0),
        (Level::WantedMissed, i64::from(m.wanted_missed)),
    ];
    uncovered.chain(longest).chain(rest).collect()
}
