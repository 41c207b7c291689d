//! Rows about who passes a door together, where the unit forces a relief style (D8).
//!
//! They count people, whoever they are, so they hold for people counted together as for single people.

use crate::night::{Night, Relief, RoomIx, Rule};

use super::super::grid::Slot;
use super::super::program::{Col, Place, Sum};
use super::{Entering, Model};

/// Which way a door is passed.
#[derive(Clone, Copy)]
enum Way {
    In,
    Out,
}

impl Model {
    /// Adds the rows of one slot of a room. `open` are the columns by slot that are 1 where somebody is inside.
    pub(super) fn add_door_rows(&mut self, night: &Night, room: RoomIx, slot: Slot, open: &[Col]) {
        let most = i64::from(night.roster.rooms[room.0].max_inside);
        match night.limits.relief {
            Relief::InPairs => [Way::In, Way::Out].into_iter().for_each(|way| self.add_pairs(room, slot, way, most)),
            Relief::OneByOne => {
                let now = open.last().copied();
                let before = open.len().checked_sub(2).map(|before| open[before]);
                self.add_one_by_one(self.passing(room, slot, Way::In), before, most);
                self.add_one_by_one(self.passing(room, slot, Way::Out), now, most);
            }
            Relief::Either => {}
        }
    }

    fn passing(&self, room: RoomIx, slot: Slot, way: Way) -> Sum {
        let mut sum = Sum::new();
        for visits in self.duties.iter().filter_map(|d| d.entering.as_ref()).map(|e: &Entering| &e.rooms[room.0]) {
            match way {
                Way::In => visits.door_in.add_at(&mut sum, slot, 1),
                Way::Out => visits.door_out.add_at(&mut sum, slot, 1),
            }
        }
        sum
    }

    /// Nobody, or two at least.
    fn add_pairs(&mut self, room: RoomIx, slot: Slot, way: Way, most: i64) {
        let mut some = self.passing(room, slot, way);
        if some.terms.is_empty() {
            return;
        }
        let any = self.program.whole(0, 1, Place::Slot(slot));
        let mut two = some.clone();
        some.add(any, -most);
        two.add(any, -i64::from(Relief::InPairs.together()));
        self.program.at_most(some, 0, Rule::D8);
        self.program.at_least(two, 0, Rule::D8);
    }

    /// One at most while somebody is inside besides; any number else.
    fn add_one_by_one(&mut self, mut sum: Sum, inside: Option<Col>, most: i64) {
        let Some(inside) = inside.filter(|_| !sum.terms.is_empty()) else { return };
        sum.add(inside, most - 1);
        self.program.at_most(sum, most, Rule::D8);
    }
}
