//! Who and which lane is taken when: a glance that saves asking the rows.

use super::super::grid::Slot;

/// Taken slots of people and lanes. What is free here may still be forbidden; what is taken surely is.
pub struct Taken {
    people: Vec<Vec<bool>>,
    lanes: Vec<Vec<bool>>,
}

impl Taken {
    pub fn new(people: usize, lanes: usize, slots: Slot) -> Self {
        let slots = usize::try_from(slots).unwrap_or(0);
        Self { people: vec![vec![false; slots]; people], lanes: vec![vec![false; slots]; lanes] }
    }

    pub fn person(&mut self, person: usize, from: Slot, to: Slot) {
        part(&mut self.people[person], from, to).fill(true);
    }

    pub fn lane(&mut self, lane: usize, from: Slot, to: Slot) {
        part(&mut self.lanes[lane], from, to).fill(true);
    }

    pub fn is_person(&self, person: usize, from: Slot, to: Slot) -> bool {
        is_any(&self.people[person], from, to)
    }

    pub fn is_lane(&self, lane: usize, from: Slot, to: Slot) -> bool {
        is_any(&self.lanes[lane], from, to)
    }
}

fn part(slots: &mut [bool], from: Slot, to: Slot) -> &mut [bool] {
    let clamp = |slot: Slot| usize::try_from(slot.max(0)).unwrap_or(0).min(slots.len());
    let (from, to) = (clamp(from), clamp(to));
    &mut slots[from..to.max(from)]
}

fn is_any(slots: &[bool], from: Slot, to: Slot) -> bool {
    let clamp = |slot: Slot| usize::try_from(slot.max(0)).unwrap_or(0).min(slots.len());
    let (from, to) = (clamp(from), clamp(to));
    slots[from..to.max(from)].contains(&true)
}
