//! The crews as CSV for spreadsheets: one row to a crew.
//!
//! Columns: one to each lever, one to each group, `heads`, `covers` (`yes`, `no`, `open`), `uncovered_person_min`,
//! `tasks_not_done`, `proven_best`, `known_how`. Where a crew was not planned, the figures say `NONE`.

use super::CrewsView;
use super::words;
use crate::show::csv::{harmless, written};
use crate::show::view::NONE;
use crate::staffing::{Row, Verdict};

/// Writes every crew that something is known of.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn write(view: &CrewsView<'_>) -> Result<String, ::csv::Error> {
    let levers = view.question.tried.iter().map(|tried| words::lever(view, &tried.lever));
    let groups = view.question.groups.iter().map(|group| group.id.clone());
    let more = ["heads", "covers", "uncovered_person_min", "tasks_not_done", "proven_best", "known_how"];
    let names = levers.chain(groups).chain(more.map(str::to_owned));
    let header: Vec<String> = names.map(|name| harmless(&name)).collect();
    written(&header, view.answer.rows.iter().map(|row| cells(view, row)))
}

fn cells(view: &CrewsView<'_>, row: &Row) -> Vec<String> {
    let none = || NONE.to_owned();
    let counts = row.counts.iter().map(u32::to_string);
    let mut cells: Vec<String> = words::settings(view, &row.settings).chain(counts).collect();
    cells.extend([
        row.counts.iter().sum::<u32>().to_string(),
        covers(&row.verdict).to_owned(),
        row.uncovered().map_or_else(none, |minutes| minutes.to_string()),
        row.tasks_not_done().map_or_else(none, |tasks| tasks.to_string()),
        if row.proven { "yes" } else { "no" }.to_owned(),
        harmless(&words::truth(view, &row.verdict)),
    ]);
    cells
}

/// Whether a crew covers, in one word.
pub(super) const fn covers(verdict: &Verdict) -> &'static str {
    match verdict {
        Verdict::Enough | Verdict::EnoughAs(_) => "yes",
        Verdict::Short(_) => "no",
        Verdict::Open => "open",
    }
}
