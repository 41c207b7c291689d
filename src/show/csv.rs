//! The rota as CSV for spreadsheets: one row to a duty.
//!
//! Columns: `person`, `duty`, `room`, `lane`, `from`, `to` (ISO 8601, local time
//! with offset), `minutes`, `entry`, `with` (ids, blanks between), `out_by` (on
//! the row in the room). Where there is none, the cell says `NONE`.
//! Duties: `donning`, `at door`, `in room`, `waiting for lane`, `removal`,
//! `on post as assistant`, `on post as observer`, `assisting`,
//! `watching donning`, `watching removal`, `coordinating`, `standing by`, `break`, `shower`.

use super::View;
use super::duties::{Doing, Stretch, stretches};
use super::view::NONE;

/// The names of the columns, in order.
pub const HEADER: [&str; 10] = ["person", "duty", "room", "lane", "from", "to", "minutes", "entry", "with", "out_by"];

/// Writes every duty of everybody, by person, then in order of time.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub fn write(view: &View<'_>) -> Result<String, ::csv::Error> {
    written(&HEADER, stretches(view.night, view.rota).iter().map(|stretch| row(view, stretch)))
}

/// A table as text: the names of its columns, then its rows.
///
/// # Errors
/// When the CSV writer refuses a row, which it does for no text.
pub(super) fn written<C: AsRef<[u8]>, R: IntoIterator<Item = C>>(
    header: &[impl AsRef<[u8]>],
    rows: impl IntoIterator<Item = R>,
) -> Result<String, ::csv::Error> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    writer.write_record(header)?;
    for row in rows {
        writer.write_record(row)?;
    }
    let bytes = writer.into_inner().map_err(|e| ::csv::Error::from(e.into_error()))?;
    String::from_utf8(bytes).map_err(|e| ::csv::Error::from(std::io::Error::other(e)))
}

fn row(view: &View<'_>, s: &Stretch) -> [String; 10] {
    let (roster, wall) = (&view.night.roster, view.wall());
    let none = || NONE.to_owned();
    let id = |ix| roster.person(ix).id.as_str();
    let with: Vec<_> = s.with.iter().map(|&ix| id(ix)).collect();
    let out_by = s.own_entry.filter(|_| s.doing == Doing::InRoom).and_then(|ix| view.out_by(ix));
    [
        harmless(id(s.person)),
        word(s.doing).to_owned(),
        s.room.map_or_else(none, |ix| harmless(&roster.rooms[ix.0].id)),
        s.lane.map_or_else(none, |ix| harmless(&roster.lanes[ix.0].id)),
        wall.iso(s.span.from),
        wall.iso(s.span.to),
        s.span.length().to_string(),
        s.entry.map_or_else(none, |number| number.to_string()),
        if with.is_empty() { none() } else { harmless(&with.join(" ")) },
        out_by.map_or_else(none, |at| wall.iso(at)),
    ]
}

/// The word of a duty in files.
#[must_use]
pub const fn word(doing: Doing) -> &'static str {
    match doing {
        Doing::Donning => "donning",
        Doing::AtDoor => "at door",
        Doing::InRoom => "in room",
        Doing::WaitingForLane => "waiting for lane",
        Doing::Removal => "removal",
        Doing::PostAssistant => "on post as assistant",
        Doing::PostObserver => "on post as observer",
        Doing::Assisting => "assisting",
        Doing::WatchingDonning => "watching donning",
        Doing::WatchingRemoval => "watching removal",
        Doing::Coordinating => "coordinating",
        Doing::StandingBy => "standing by",
        Doing::WouldWatchExit => "early exit observer",
        Doing::WouldAssistExit => "early exit assistant",
        Doing::Break => "break",
        Doing::Shower => "shower",
    }
}

/// `text` with an apostrophe in front where a spreadsheet would run it as a formula.
pub(super) fn harmless(text: &str) -> String {
    let runs = |c: char| matches!(c, '=' | '+' | '-' | '@' | '\u{ff1d}' | '\u{ff0b}' | '\u{ff0d}' | '\u{ff20}');
    let first = text.trim_start_matches(|c: char| c.is_whitespace() || c.is_control()).chars().next();
    let blank = text.starts_with(['\t', '\r', '\n']);
    if blank || first.is_some_and(runs) { format!("'{text}") } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::harmless;

    #[test]
    fn formulas_are_held_down() {
        for text in ["=cmd|' /C calc'!A0", "+1", "-1", "@SUM(A1)", "\t=1", " =1", "\u{ff1d}1"] {
            assert_eq!(harmless(text), format!("'{text}"));
        }
        assert_eq!(harmless("KB MR"), "KB MR");
    }
}
