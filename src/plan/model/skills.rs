//! Rows about skills that are to be inside a room (D6).

use crate::night::{Night, Rule};

use super::super::program::Place;
use super::Model;

impl Model {
    /// `short >= people - inside with the skill`, in every slot that a stretch of skill cover touches.
    pub(super) fn add_skill_rows(&mut self, night: &Night) {
        for cover in night.roster.skill_cover.iter().filter(|c| c.people > 0) {
            let people = i64::from(cover.people);
            for slot in 0..self.grid.slots {
                let minutes = self.slot_span(slot).intersection(cover.span).length().0;
                if minutes <= 0 {
                    continue;
                }
                let short = self.program.implied(people, Place::Slot(slot));
                let mut sum = self.inside(cover.room, slot, Some(&cover.skill));
                sum.add(short, 1);
                self.program.at_least(sum, people, Rule::D6);
                self.skills.push((short, minutes));
            }
        }
    }
}
