//! Rows about supervised entrants and their preceptors (A5).

use crate::night::{Night, RoomIx, Rule};

use super::super::grid::Slot;
use super::super::program::{Place, Sum};
use super::Model;

impl Model {
    /// In every room and slot as many preceptors as supervised entrants, and one supervised to an entry.
    pub(super) fn add_preceptor_rows(&mut self, night: &Night) {
        if !self.staffed().any(|(group, duties)| group.ability.supervised && duties.entering.is_some()) {
            return;
        }
        for room in (0..night.roster.rooms.len()).map(RoomIx) {
            for slot in 0..self.grid.slots {
                let (mut short, mut together) = (Sum::new(), Sum::new());
                for place in 0..self.groups.len() {
                    self.add_supervised(place, room, slot, &mut short, &mut together);
                    self.add_preceptors(place, room, slot, &mut short);
                }
                self.program.at_most(short, 0, Rule::A5);
                self.program.at_most(together, 1, Rule::A5);
            }
        }
    }

    fn add_supervised(&self, place: usize, room: RoomIx, slot: Slot, inside: &mut Sum, together: &mut Sum) {
        let entering = self.duties[place].entering.as_ref().filter(|_| self.groups[place].ability.supervised);
        let Some(visits) = entering.map(|e| &e.rooms[room.0]) else { return };
        visits.door_in.add_upto(inside, slot, 1);
        visits.door_out.add_upto(inside, slot, -1);
        visits.door_in.add_at(together, slot, 1);
    }

    /// Takes the preceptors inside off `short`. One whose date ends before their
    /// last possible entry counts only in an entry that is over by then.
    fn add_preceptors(&mut self, place: usize, room: RoomIx, slot: Slot, short: &mut Sum) {
        let (group, duties) = (&self.groups[place], &self.duties[place]);
        let (Some(until), Some(entering)) = (group.ability.preceptor_until, duties.entering.as_ref()) else { return };
        let visits = entering.rooms[room.0].clone();
        let mut inside = Sum::new();
        visits.door_in.add_upto(&mut inside, slot, 1);
        visits.door_out.add_upto(&mut inside, slot, -1);
        if until >= entering.wearing.window.end {
            short.add_sum(&inside, -1);
            return;
        }
        let last_removal = until - entering.wearing.removal;
        if slot > last_removal {
            return;
        }
        let people = group.count();
        let in_date = self.program.whole(0, people, Place::Slot(slot));
        short.add(in_date, -1);
        let mut present = Sum::new();
        present.add(in_date, 1);
        present.add_sum(&inside, -1);
        self.program.at_most(present, 0, Rule::A5);
        // One person alone: whoever is inside is the one removed by then if those
        // removed by then are more than those out. At most one is out and not yet
        // removed, so that a preceptor who is not inside is asked for nothing.
        if people == 1 {
            let mut over_by_then = Sum::new();
            over_by_then.add(in_date, 2);
            visits.door_out.add_upto(&mut over_by_then, slot, 1);
            visits.removal.iter().for_each(|curve| curve.add_upto(&mut over_by_then, last_removal, -1));
            self.program.at_most(over_by_then, 1, Rule::A5);
        }
    }
}
