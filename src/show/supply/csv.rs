//! What is left of each kit hour by hour, for a spreadsheet.
//!
//! Columns: `kit`, `size`, `at` (ISO 8601, local time with offset), `left`, `kept_back`.

use super::View;
use crate::show::csv::{harmless, written};
use crate::staffing::supply::Shelf;

/// The names of the columns, in order.
pub const HEADER: [&str; 5] = ["kit", "size", "at", "left", "kept_back"];

/// Writes a row to a kit and hour.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn write(view: &View<'_>) -> Result<String, ::csv::Error> {
    let row = |shelf: &Shelf, at| {
        let kit = harmless(&view.night.limits.ensemble(shelf.ensemble).id);
        let [left, reserve] = [shelf.left_at(at).to_string(), shelf.reserve.to_string()];
        [kit, harmless(&shelf.size), view.wall().iso(at), left, reserve]
    };
    let hours = view.hours();
    let rows = view.supply.shelves.iter().flat_map(|shelf| hours.iter().map(move |&at| row(shelf, at)));
    written(&HEADER, rows)
}
