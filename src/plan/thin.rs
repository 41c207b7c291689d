//! Fewer start times: those on a coarse beat and those that follow from them.
//!
//! A first pass over a long night looks only at door times on the beat, on the
//! edges of what is demanded, and a relief overlap beside them, and at the
//! donnings, removals and watches that such door times lead to. It only ever
//! leaves rotas out; the passes after it look at every slot.

use std::collections::BTreeSet;

use crate::night::{Minute, Minutes, Night, PostRole};

use super::grid::{Grid, Slot};
use super::model::{Event, Model};

/// Minutes between door times in a first pass.
const BEAT: Minutes = Minutes(15);

/// For each column of the model's program: whether a first pass may have an event there.
pub fn on_beat(night: &Night, model: &Model) -> Vec<bool> {
    columns_on(&Beat::new(night, &model.grid, None), model)
}

/// The same where the door times are known: what may lead to them and follow from them.
pub fn around_doors(night: &Night, model: &Model, doors: Doors) -> Vec<bool> {
    columns_on(&Beat::new(night, &model.grid, Some(doors)), model)
}

/// Slots in which somebody goes in, and in which somebody comes out.
#[derive(Clone, Debug, Default)]
pub struct Doors {
    /// Door-ins.
    pub ins: BTreeSet<Slot>,
    /// Door-outs.
    pub outs: BTreeSet<Slot>,
}

fn columns_on(beat: &Beat, model: &Model) -> Vec<bool> {
    let mut allowed = vec![true; model.program.columns.len()];
    for (key, curve) in model.curves() {
        for (slot, col) in curve.slots().zip(curve.columns()) {
            allowed[col.0] = beat.allows(key.event, slot);
        }
    }
    allowed
}

/// Durations in slots, and the points that door times keep to.
struct Beat {
    /// The door times, where they are known.
    doors: Option<Doors>,
    every: Slot,
    edges: BTreeSet<Slot>,
    overlap: Slot,
    cleaning: Slot,
    ready: Slot,
    reset: Slot,
    /// Donning and removal of each room ensemble.
    room: Vec<(Slot, Slot)>,
    assistant_donning: Slot,
    observer_donning: Slot,
    assistant_removal: Slot,
    observer_removal: Slot,
    shower: Slot,
}

impl Beat {
    fn new(night: &Night, grid: &Grid, doors: Option<Doors>) -> Self {
        let limits = &night.limits;
        let presence = night.roster.presence.iter().flat_map(|p| [p.span.from, p.span.to]);
        let skills = night.roster.skill_cover.iter().flat_map(|c| [c.span.from, c.span.to]);
        let tasks = night.roster.tasks.iter().flat_map(|t| [t.wanted, t.wanted + t.length, t.window.to]);
        let edge = |at: Minute| [grid.at_or_before(at), grid.at_or_after(at)];
        let donning = |role| night.post_ensemble(role).map_or(0, |e| grid.up(limits.ensemble(e).donning));
        let removal = |role| night.post_ensemble(role).map_or(0, |e| grid.up(limits.ensemble(e).removal));
        let rooms = limits.ensembles.iter().filter(|e| e.worn_in == crate::night::WornIn::Room);
        Self {
            doors,
            every: grid.up(BEAT),
            edges: presence.chain(skills).chain(tasks).flat_map(edge).collect(),
            overlap: grid.up(limits.overlap),
            cleaning: grid.up(limits.cleaning),
            ready: grid.up(limits.observer_ready),
            reset: grid.up(limits.observer_reset),
            room: rooms.map(|e| (grid.up(e.donning), grid.up(e.removal))).collect(),
            assistant_donning: donning(PostRole::Assistant),
            observer_donning: donning(PostRole::Observer),
            assistant_removal: removal(PostRole::Assistant),
            observer_removal: removal(PostRole::Observer),
            shower: grid.up(limits.shower),
        }
    }

    fn point(&self, slot: Slot) -> bool {
        slot % self.every == 0 || self.edges.contains(&slot)
    }

    fn door_in(&self, slot: Slot) -> bool {
        match &self.doors {
            Some(doors) => doors.ins.contains(&slot),
            None => self.point(slot) || self.point(slot + self.overlap),
        }
    }

    fn door_out(&self, slot: Slot) -> bool {
        match &self.doors {
            Some(doors) => doors.outs.contains(&slot),
            None => self.point(slot) || self.point(slot - self.overlap),
        }
    }

    fn don(&self, slot: Slot) -> bool {
        self.room.iter().any(|&(donning, _)| self.door_in(slot + donning) || self.door_in(slot + 2 * donning))
    }

    /// At a door-out, or as the second in the queue behind one.
    fn removal(&self, slot: Slot) -> bool {
        self.door_out(slot) || self.room.iter().any(|&(_, removal)| self.door_out(slot - removal - self.cleaning))
    }

    fn after_removal(&self, slot: Slot, pause: Slot) -> bool {
        self.room.iter().any(|&(_, removal)| self.removal(slot - removal - pause))
    }

    fn own_removal(&self, slot: Slot) -> bool {
        self.after_removal(slot, 0) || self.after_removal(slot, self.cleaning)
    }

    /// At the end of a removal, be it one's own after helping.
    fn shower(&self, slot: Slot) -> bool {
        self.after_removal(slot, 0)
            || self.own_removal(slot - self.assistant_removal)
            || self.after_removal(slot - self.observer_removal, self.reset)
    }

    fn allows(&self, event: Event, slot: Slot) -> bool {
        match event {
            Event::Don => self.don(slot),
            Event::DoorIn => self.door_in(slot),
            Event::DoorOut => self.door_out(slot),
            Event::Removal | Event::Assist | Event::WatchEntrant | Event::WatchBoth => self.removal(slot),
            Event::AssistantDon => self.removal(slot + self.assistant_donning),
            Event::ObserverDon => self.removal(slot + self.observer_donning + self.ready),
            Event::AssistantAtOnce | Event::AssistantLater | Event::WatchAssistant => self.own_removal(slot),
            Event::ObserverRemoval | Event::WatchObserver => self.after_removal(slot, self.reset),
            Event::WatchDonning => {
                self.don(slot)
                    || self.removal(slot + self.assistant_donning)
                    || self.removal(slot + self.observer_donning + self.ready)
            }
            Event::Break => self.point(slot),
            Event::Shower => self.point(slot) || self.shower(slot) || self.shower(slot - self.shower),
        }
    }
}
