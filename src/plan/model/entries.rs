//! Rows about the number of entries (B8).

use crate::night::{Night, Rule};

use super::super::program::Sum;
use super::Model;

impl Model {
    /// A group makes at most as many entries as each of its people may.
    pub(super) fn add_entries_rows(&mut self, night: &Night) {
        let Some(most) = night.limits.entries_max else { return };
        for place in 0..self.groups.len() {
            let Some(entering) = &self.duties[place].entering else { continue };
            let mut entries = Sum::new();
            entering.rooms.iter().for_each(|visits| visits.don.add_all(&mut entries, 1));
            self.program.at_most(entries, i64::from(most) * self.groups[place].count(), Rule::B8);
        }
    }
}
