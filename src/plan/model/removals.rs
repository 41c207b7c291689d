//! Rows about donning and the doffing lanes: observers, assistants, lanes.

use crate::night::{CleanedBy, EnsembleIx, Night, Rule};

use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::Sum;
use super::duties::{Duties, Entering};
use super::{Model, add_at};

/// A removal in a lane group that starts in a slot.
#[derive(Clone, Copy)]
pub(super) struct Start {
    /// Place in [`Model::ensembles`].
    pub(super) kind: usize,
    pub(super) lane: usize,
    pub(super) slot: Slot,
}

impl Model {
    /// Adds what lanes and waiting places allow when nothing is asked of helpers.
    pub(super) fn add_lane_rows(&mut self, night: &Night) {
        for slot in 0..self.grid.slots {
            (0..self.lanes.len()).for_each(|lane| self.add_lane_row(night, lane, slot));
            self.add_waiting_row(night, slot);
        }
    }

    /// Adds the rows that tie donnings and removals to those who watch and assist.
    pub(super) fn add_removal_rows(&mut self, night: &Night) {
        for slot in 0..self.grid.slots {
            for lane in 0..self.lanes.len() {
                for kind in 0..self.ensembles.len() {
                    self.add_entrant_removal(night, Start { kind, lane, slot });
                }
                self.add_own_removal(night, lane, slot);
                self.add_lane_row(night, lane, slot);
            }
            self.add_observer_removal(slot);
            self.add_waiting_row(night, slot);
            for ensemble in 0..night.limits.ensembles.len() {
                self.add_donning_row(night, EnsembleIx(ensemble), slot);
            }
        }
        for place in 0..self.groups.len() {
            self.add_post_rows(night, place);
        }
        self.add_helpers_kept_apart(night);
    }

    /// One observer, and one assistant where needed, for every entrant's removal (C1, C3, C7).
    fn add_entrant_removal(&mut self, night: &Night, start: Start) {
        let removals = self.entrants_removed(start);
        let mut watched = Sum::new();
        let mut assisted = Sum::new();
        for duties in &self.duties {
            if let Some(watches) = &duties.watches {
                add_at(&mut watched, &watches.entrant[start.kind][start.lane], start.slot, -1);
                add_at(&mut watched, &watches.both[start.kind][start.lane], start.slot, -1);
            }
            if let Some(kinds) = duties.assists.get(start.kind) {
                add_at(&mut assisted, &kinds[start.lane], start.slot, -1);
            }
        }
        watched.add_sum(&removals, 1);
        self.program.equal(watched, 0, Rule::C1);
        if night.limits.ensemble(self.ensembles[start.kind]).assistant {
            assisted.add_sum(&removals, 1);
        }
        self.program.equal(assisted, 0, Rule::C3);
    }

    fn entrants_removed(&self, start: Start) -> Sum {
        let mut sum = Sum::new();
        for entering in self.duties.iter().filter_map(|d| d.entering.as_ref()) {
            if entering.wearing.ensemble == self.ensembles[start.kind] {
                add_removed(&mut sum, entering, start);
            }
        }
        sum
    }

    /// Every assistant's own removal is watched; at once only after a removal they assisted (C4).
    fn add_own_removal(&mut self, night: &Night, lane: usize, slot: Slot) {
        let mut unwatched = Sum::new();
        let mut at_once_rows = Vec::new();
        let mut both_rows = Vec::new();
        for (kind, _) in self.ensembles.iter().enumerate() {
            let before = slot - self.removal_slots(night, kind);
            let mut both = Sum::new();
            for duties in &self.duties {
                if let Some(watches) = &duties.watches {
                    add_at(&mut both, &watches.both[kind][lane], before, 1);
                }
                let Some(posting) = &duties.assisting else { continue };
                let mut at_once = Sum::new();
                add_at(&mut at_once, &posting.at_once[kind][lane], slot, 1);
                unwatched.add_sum(&at_once, 1);
                let mut undone = at_once.clone();
                add_at(&mut undone, &duties.assists[kind][lane], before, -1);
                at_once_rows.push(undone);
                both.add_sum(&at_once, -1);
            }
            for duties in &self.duties {
                if let Some(watches) = &duties.watches {
                    add_at(&mut unwatched, &watches.both[kind][lane], before, -1);
                }
            }
            both_rows.push(both);
        }
        for duties in &self.duties {
            if let Some(posting) = &duties.assisting {
                add_at(&mut unwatched, &posting.later[lane], slot, 1);
            }
            if let Some(curve) = duties.watches.as_ref().and_then(|w| w.assistant.get(lane)) {
                add_at(&mut unwatched, curve, slot, -1);
            }
        }
        self.program.equal(unwatched, 0, Rule::C4);
        for sum in at_once_rows.into_iter().chain(both_rows) {
            self.program.at_most(sum, 0, Rule::C4);
        }
    }

    /// One person to a lane, cleaning included (C9).
    fn add_lane_row(&mut self, night: &Night, lane: usize, slot: Slot) {
        let lanes = i64::try_from(self.lanes[lane].members.len()).unwrap_or(i64::MAX);
        self.program.at_most(self.lane_held(night, lane, slot), lanes, Rule::C9);
    }

    /// Lanes of a group held in a slot.
    pub(super) fn lane_held(&self, night: &Night, lane: usize, slot: Slot) -> Sum {
        let cleaning = self.grid.up(night.limits.cleaning);
        let own = self.own_removal_slots(night);
        let mut held = Sum::new();
        for duties in &self.duties {
            if let Some(entering) = &duties.entering {
                let length = entering.wearing.removal + cleaning;
                for visits in &entering.rooms {
                    visits.removal[lane].add_between(&mut held, slot - length, slot, 1);
                }
            }
            if let Some(posting) = &duties.assisting {
                posting.later[lane].add_between(&mut held, slot - own - cleaning, slot, 1);
                // The removal before already holds the lane through its cleaning time.
                for kinds in &posting.at_once {
                    kinds[lane].add_between(&mut held, slot - own - cleaning, slot - cleaning, 1);
                }
            }
        }
        held
    }

    /// An observer's own removal is watched where the unit says so (C5).
    fn add_observer_removal(&mut self, slot: Slot) {
        let mut sum = Sum::new();
        let mut watched = false;
        for duties in &self.duties {
            watched |= !duties.watches_observer.is_empty();
            add_at(&mut sum, &duties.watches_observer, slot, -1);
        }
        if !watched {
            return;
        }
        for posting in self.duties.iter().filter_map(|d| d.observing.as_ref()) {
            add_at(&mut sum, &posting.later[0], slot, 1);
        }
        self.program.equal(sum, 0, Rule::C5);
    }

    /// Dressed people waiting for a lane have a place to wait (C9).
    fn add_waiting_row(&mut self, night: &Night, slot: Slot) {
        let mut waiting = Sum::new();
        for visits in self.duties.iter().filter_map(|d| d.entering.as_ref()).flat_map(|e| &e.rooms) {
            visits.door_out.add_upto(&mut waiting, slot, 1);
            for curve in &visits.removal {
                curve.add_upto(&mut waiting, slot, -1);
            }
        }
        self.program.at_most(waiting, i64::from(night.limits.waiting_places), Rule::C9);
    }

    /// One donning observer for every donning that is watched (C6).
    fn add_donning_row(&mut self, night: &Night, ensemble: EnsembleIx, slot: Slot) {
        if !night.limits.ensemble(ensemble).donning_watched {
            return;
        }
        let mut sum = Sum::new();
        for duties in &self.duties {
            add_donned(&mut sum, duties, ensemble, slot);
            if let Some(curve) = duties.watches_donning.get(ensemble.0) {
                add_at(&mut sum, curve, slot, -1);
            }
        }
        self.program.equal(sum, 0, Rule::C6);
    }

    /// Whoever assists or watches in a kit is dressed and on post, at one lane at a time (C3, C5, A7).
    fn add_post_rows(&mut self, night: &Night, place: usize) {
        let duties = self.duties[place].clone();
        let n = self.groups[place].count();
        let changeover = self.grid.up(night.limits.changeover);
        let after_watch = (changeover - self.grid.up(night.limits.observer_reset)).max(0);
        for slot in 0..self.grid.slots {
            if let Some(posting) = &duties.assisting {
                let at = |model: &Self, lane, slot| model.assisting_lane(night, &duties, lane, slot);
                let mut sum = on_post(posting, slot, -1);
                (0..self.lanes.len()).for_each(|lane| sum.add_sum(&at(self, lane, slot), 1));
                self.program.at_most(sum, 0, Rule::C3);
                self.add_lane_moves(&at, slot, changeover, n);
            }
            if let Some(posting) = &duties.observing {
                let at = |model: &Self, lane, slot| model.watching_lane(night, &duties, lane, slot);
                let mut sum = on_post(posting, slot, -1);
                (0..self.lanes.len()).for_each(|lane| sum.add_sum(&at(self, lane, slot), 1));
                self.program.at_most(sum, 0, Rule::C5);
                self.add_lane_moves(&at, slot, after_watch, n);
            }
        }
    }

    /// Moving to another lane takes the changeover (section 9, row 15).
    fn add_lane_moves(&mut self, busy: &dyn Fn(&Self, usize, Slot) -> Sum, slot: Slot, changeover: Slot, n: i64) {
        if self.lanes.len() < 2 {
            return;
        }
        for gap in 1..=changeover.min(slot) {
            for lane in 0..self.lanes.len() {
                let mut sum = busy(self, lane, slot);
                for other in (0..self.lanes.len()).filter(|&other| other != lane) {
                    sum.add_sum(&busy(self, other, slot - gap), 1);
                }
                self.program.at_most(sum, n, Rule::A7);
            }
        }
    }

    fn watching_lane(&self, night: &Night, duties: &Duties, lane: usize, slot: Slot) -> Sum {
        let mut sum = Sum::new();
        self.add_watching_lane(night, duties, &mut sum, lane, slot);
        sum
    }

    /// Slots of cleaning that fall to the assistant of a removal.
    pub fn assistant_cleaning_slots(&self, night: &Night) -> Slot {
        match night.limits.cleaned_by {
            CleanedBy::Assistant => self.grid.up(night.limits.cleaning),
            CleanedBy::Other => 0,
        }
    }

    /// People of a group busy assisting in a lane group, cleaning included where it is theirs.
    pub(super) fn assisting_lane(&self, night: &Night, duties: &Duties, lane: usize, slot: Slot) -> Sum {
        let cleaning = self.assistant_cleaning_slots(night);
        let mut sum = Sum::new();
        for (kind, lanes) in duties.assists.iter().enumerate() {
            let length = self.removal_slots(night, kind) + cleaning;
            lanes[lane].add_between(&mut sum, slot - length, slot, 1);
            if let Some(posting) = &duties.assisting {
                // Whoever undresses at once does not clean.
                posting.at_once[kind][lane].add_between(&mut sum, slot - cleaning, slot, -1);
            }
        }
        sum
    }
}

pub(super) fn add_removed(sum: &mut Sum, entering: &Entering, start: Start) {
    for visits in &entering.rooms {
        add_at(sum, &visits.removal[start.lane], start.slot, 1);
    }
}

/// Donnings of an ensemble that start in a slot.
pub(super) fn add_donned(sum: &mut Sum, duties: &Duties, ensemble: EnsembleIx, slot: Slot) {
    if let Some(entering) = duties.entering.as_ref().filter(|e| e.wearing.ensemble == ensemble) {
        for visits in &entering.rooms {
            add_at(sum, &visits.don, slot, 1);
        }
    }
    for posting in duties.assisting.iter().chain(&duties.observing).filter(|p| p.wearing.ensemble == ensemble) {
        add_at(sum, &posting.don, slot, 1);
    }
}

/// People on post: donning done, own removal not begun.
fn on_post(posting: &super::duties::Posting, slot: Slot, times: i64) -> Sum {
    let mut sum = Sum::new();
    posting.don.add_upto(&mut sum, slot - posting.wearing.donning, times);
    let removals: Vec<&Curve> = posting.removals().collect();
    for curve in removals {
        curve.add_upto(&mut sum, slot, -times);
    }
    sum
}
