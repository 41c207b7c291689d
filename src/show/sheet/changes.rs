//! What differs from the sheet before.

use super::Print;
use super::rows::{self, EntryRow};
use crate::night::Minute;

/// The entries of the sheet before, as they were printed.
pub struct Old {
    entries: Vec<(Minute, EntryRow)>,
}

impl Old {
    /// Nothing, where no sheet before was given.
    pub fn of(print: &Print<'_>) -> Option<Self> {
        print.view_before().map(|view| Self { entries: rows::entries(&view) })
    }

    /// Whether this row is not word for word on the sheet before.
    pub fn lacks(&self, row: &EntryRow) -> bool {
        self.entries.iter().all(|(_, old)| old != row)
    }
}

/// Entries of the sheet before through whose door nobody goes in that minute any more.
pub fn gone(print: &Print<'_>) -> Vec<(Minute, String)> {
    let Some(old) = Old::of(print) else { return Vec::new() };
    let now = rows::entries(&print.view);
    let gone =
        old.entries.into_iter().filter(|(at, old)| !now.iter().any(|(now, row)| now == at && row.room == old.room));
    gone.map(|(at, old)| (at, words(&old))).collect()
}

fn words(old: &EntryRow) -> String {
    let ids: Vec<&str> = old.people.iter().map(|person| person.id.as_str()).collect();
    format!(
        "WITHDRAWN: entry {} of the sheet before, room {}, in {}: {}",
        old.number,
        old.room,
        old.door_in,
        ids.join(", ")
    )
}
