//! What is left of each kit hour by hour, for a spreadsheet.
//!
//! Columns: `kit`, `size`, `at` (ISO 8601, local time with offset), `left`, `kept_back`.

use super::View;
use crate::show::csv::harmless;

/// The names of the columns, in order.
pub const HEADER: [&str; 5] = ["kit", "size", "at", "left", "kept_back"];

/// Writes a row to a kit and hour.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn write(view: &View<'_>) -> Result<String, ::csv::Error> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    writer.write_record(HEADER)?;
    for shelf in &view.supply.shelves {
        for at in view.hours() {
            let kit = harmless(&view.night.limits.ensemble(shelf.ensemble).id);
            let figures = [shelf.left_at(at).to_string(), shelf.reserve.to_string()];
            let [left, reserve] = figures;
            writer.write_record([kit, harmless(&shelf.size), view.wall().iso(at), left, reserve])?;
        }
    }
    let bytes = writer.into_inner().map_err(|e| ::csv::Error::from(e.into_error()))?;
    String::from_utf8(bytes).map_err(|e| ::csv::Error::from(std::io::Error::other(e)))
}
