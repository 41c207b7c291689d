//! What the roster settles is planned before anything else.

use std::ops::Range;

use crate::night::{Pin, PinTo, TaskIx};

use super::super::grid::Slot;
use super::crew::Crew;

impl Crew<'_> {
    /// Plans in whoever is pinned to something that lies in some slots, where that is not kept yet.
    pub fn keep_pins(&mut self, slots: &Range<Slot>) {
        for pin in &self.night.roster.pins {
            if !self.is_kept(pin) && self.model.pinned_slots(pin).iter().any(|slot| slots.contains(slot)) {
                self.keep(pin);
            }
        }
    }

    /// Pins that are not kept.
    pub fn pins_missed(&self) -> usize {
        self.night.roster.pins.iter().filter(|pin| !self.is_kept(pin)).count()
    }

    fn is_kept(&self, pin: &Pin) -> bool {
        match pin.to {
            PinTo::Entry { room, door_in } => {
                let (person, grid) = (self.model.group_of(pin.person), &self.model.grid);
                let mut entries = self.duty.entries.iter().filter(|e| Some(e.person) == person && e.room == room.0);
                entries.any(|entry| grid.minute(entry.door_in) == door_in)
            }
            PinTo::Task(task) => {
                let mut starts = self.model.tasks[task.0].iter();
                let started = starts.find(|(_, col)| self.duty.tasks[task.0] == Some(*col));
                started.is_some_and(|&(from, _)| self.is_there_throughout(pin, task, from))
            }
        }
    }

    /// Whether whoever is pinned to a task is inside for all of it if it starts in that slot.
    fn is_there_throughout(&self, pin: &Pin, task: TaskIx, from: Slot) -> bool {
        let (person, task) = (self.model.group_of(pin.person), &self.night.roster.tasks[task.0]);
        let to = from + self.model.grid.up(task.length);
        let mut entries = self.duty.entries.iter().filter(|e| Some(e.person) == person && e.room == task.room.0);
        entries.any(|entry| entry.door_in <= from && to <= entry.door_out)
    }

    fn keep(&mut self, pin: &Pin) {
        let (room, limits, grid) = (self.night.roster.room_of_pin(*pin).0, &self.night.limits, &self.model.grid);
        let stay = grid.up(limits.min_stay).max(1);
        let (together, at_once) = self.together_at_least();
        self.asked_first = self.model.group_of(pin.person);
        for slot in self.model.pinned_slots(pin) {
            let inside = |at: Slot| {
                let at = usize::try_from(at).ok();
                at.and_then(|at| self.duty.inside[room].get(at)).copied().unwrap_or(0)
            };
            let kept = match pin.to {
                PinTo::Entry { .. } => {
                    let people = if inside(slot) == 0 { together } else { at_once };
                    self.attempt(|crew| crew.visit((room, slot), slot + stay, stay, people) && crew.is_kept(pin))
                }
                PinTo::Task(task) => {
                    let asked = &self.night.roster.tasks[task.0];
                    let length = grid.up(asked.length);
                    let there = (slot..slot + length).map(inside).min().unwrap_or(0);
                    let people = i64::from(asked.people) - there;
                    let people = people.max(if there == 0 { together } else { at_once });
                    let stay = stay.max(length);
                    let col = self.model.start_of(task, slot);
                    self.attempt(|crew| {
                        crew.visit((room, slot), slot + stay, stay, people)
                            && crew.is_there_throughout(pin, task, slot)
                            && col.is_some_and(|col| crew.start_task(task.0, col))
                    })
                }
            };
            if kept {
                break;
            }
        }
        self.asked_first = None;
    }
}
