//! Rows about what the roster settles: pins, what is forbidden (H6), huddles (F1).

use crate::night::{Forbidden, LaneIx, Minute, Night, PersonIx, Pin, PinTo, Role, RoomIx, Rule, TaskIx};

use super::super::grid::Slot;
use super::super::program::{Col, Place, Sum};
use super::people::Part;
use super::{Grouping, Model};

impl Model {
    /// Adds what the roster settles. A person of whom it settles something is a group alone.
    pub(super) fn add_settled(&mut self, night: &Night) {
        for &pin in &night.roster.pins {
            let kept = self.program.whole(0, 1, Place::Night);
            match pin.to {
                PinTo::Entry { room, door_in } => self.add_pinned_entry(pin, (room, door_in), kept),
                PinTo::Task(task) => self.add_pinned_task(night, pin, task, kept),
            }
            self.pins.push(kept);
        }
        for forbidden in &night.roster.forbidden {
            self.add_forbidden(night, forbidden);
        }
        (0..self.groups.len()).for_each(|place| self.add_huddles(night, place));
    }

    /// The column of a task's start in a slot.
    pub fn start_of(&self, task: TaskIx, slot: Slot) -> Option<Col> {
        self.tasks[task.0].iter().find(|(start, _)| *start == slot).map(|&(_, col)| col)
    }

    /// The place of a lane's group.
    pub fn lane_of(&self, lane: LaneIx) -> Option<usize> {
        self.lanes.iter().position(|group| group.members.contains(&lane))
    }

    /// The place of a person's group.
    pub fn group_of(&self, person: PersonIx) -> Option<usize> {
        self.groups.iter().position(|group| group.members.contains(&person))
    }

    /// Kept only if the person goes through the door then.
    fn add_pinned_entry(&mut self, pin: Pin, (room, door_in): (RoomIx, Minute), kept: Col) {
        let slot = self.grid.at_or_before(door_in);
        let mut sum = Sum::new();
        sum.add(kept, 1);
        let duties = self.group_of(pin.person).map(|place| &self.duties[place]);
        if let Some(entering) = duties.and_then(|d| d.entering.as_ref()).filter(|_| self.grid.minute(slot) == door_in) {
            entering.rooms[room.0].door_in.add_at(&mut sum, slot, -1);
        }
        self.program.at_most(sum, 0, Rule::H6);
    }

    /// Kept only if the task is done and the person is inside in each of its slots, without going out between.
    fn add_pinned_task(&mut self, night: &Night, pin: Pin, task: TaskIx, kept: Col) {
        let length = self.grid.up(night.roster.tasks[task.0].length);
        let room = night.roster.tasks[task.0].room;
        let starts = self.tasks[task.0].clone();
        let mut done = Sum::new();
        done.add(kept, 1);
        starts.iter().for_each(|&(_, col)| done.add(col, -1));
        self.program.at_most(done, 0, Rule::H6);
        let duties = self.group_of(pin.person).map(|place| &self.duties[place]);
        let visits = duties.and_then(|d| d.entering.as_ref()).map(|e| e.rooms[room.0].clone());
        for (start, col) in starts {
            for slot in start..start + length {
                let mut sum = Sum::new();
                sum.add(kept, 1);
                sum.add(col, 1);
                if let Some(visits) = &visits {
                    visits.door_in.add_upto(&mut sum, slot, -1);
                    visits.door_out.add_upto(&mut sum, slot, 1);
                }
                self.program.at_most(sum, 1, Rule::H6);
            }
        }
    }

    /// Nobody of the person's group is at a forbidden duty in any slot that shares a minute with the time.
    fn add_forbidden(&mut self, night: &Night, forbidden: &Forbidden) {
        let Some(place) = self.group_of(forbidden.person) else { return };
        let parts: Vec<Part> = forbidden.roles.iter().flat_map(|&role| self.parts_of(role)).collect();
        let slots = self.grid.at_or_before(forbidden.span.from)..self.grid.at_or_after(forbidden.span.to);
        for slot in slots {
            for &part in &parts {
                let busy = self.busy_now(night, place, part, slot);
                self.program.at_most(busy, 0, Rule::H6);
            }
        }
    }

    /// Nobody of a group is at anything in a huddle of theirs (F1).
    fn add_huddles(&mut self, night: &Night, place: usize) {
        for huddle in self.groups[place].ability.huddles.clone() {
            for slot in huddle.first..huddle.end {
                for part in self.parts_of_group(night, place) {
                    let busy = self.busy_now(night, place, part, slot);
                    self.program.at_most(busy, 0, Rule::F1);
                }
            }
        }
    }

    /// What people do in a role.
    fn parts_of(&self, role: Role) -> Vec<Part> {
        let lanes = 0..self.lanes.len();
        match role {
            // These are not among the duties that a roster can forbid.
            Role::SupervisedEntrant | Role::Preceptor | Role::Coordinator => vec![],
            Role::Entrant => vec![Part::Enter],
            _ if self.grouping == Grouping::Entrants => vec![],
            Role::DonningObserver => vec![Part::Donning],
            Role::DoffingObserver => lanes.map(Part::Lane).chain([Part::Observe, Part::ObserverRemoval]).collect(),
            Role::Assistant => lanes.map(Part::Help).chain([Part::Assist]).collect(),
        }
    }

    /// Slots in which somebody who is pinned may go in, or the task may start.
    pub fn pinned_slots(&self, pin: &Pin) -> Vec<Slot> {
        match pin.to {
            PinTo::Entry { door_in, .. } => vec![self.grid.at_or_before(door_in)],
            PinTo::Task(task) => self.tasks[task.0].iter().map(|&(slot, _)| slot).collect(),
        }
    }

    /// Pins not kept.
    pub fn pins_missed(&self) -> Sum {
        let mut sum = Sum::new();
        sum.constant = i64::try_from(self.pins.len()).expect("a roster has fewer pins than i64");
        self.pins.iter().for_each(|&kept| sum.add(kept, -1));
        sum
    }
}
