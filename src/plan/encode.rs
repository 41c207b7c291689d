//! From a rota to a point of a program: the way back from [`super::names`].

use std::collections::{BTreeMap, BTreeSet};

use crate::night::{EnsembleIx, Entry, LaneIx, Minute, Night, PersonIx, Post, PostRole, Rota, TaskIx};

use super::curve::Curve;
use super::grid::Slot;
use super::model::{CurveKey, Event, Model};
use super::part::{Fate, Part};
use super::program::Place;
use super::solve::{Limit, minimise};

/// The point of `model` that stands for `rota`. `None` when the rota does not
/// lie on the grid, or does something that the model has no column for.
pub fn point_of(night: &Night, model: &Model, rota: &Rota) -> Option<Vec<i64>> {
    let mut events = Events { night, model, rota, found: vec![] };
    events.entries()?;
    events.posts()?;
    for taken in &rota.breaks {
        events.add(taken.person, Event::Break, 0, None, taken.span.from)?;
    }
    for shower in rota.showers.iter().filter(|_| night.shower_places().is_some()) {
        events.add(shower.person, Event::Shower, 0, None, shower.span.from)?;
    }
    let mut point = vec![0; model.program.columns.len()];
    let curves: BTreeMap<CurveKey, &Curve> = model.curves().into_iter().collect();
    for (key, slot) in events.found {
        happens(curves.get(&key)?, slot, &mut point)?;
    }
    for done in &rota.tasks {
        let slot = on_grid(model, done.start)?;
        point[model.start_of(done.task, slot)?.0] = 1;
    }
    measured(night, model, &point)
}

/// Those who enter, as in `point` of people by name, in the model of entrants alone. `None` when they break a row of it.
pub fn entrants_of(night: &Night, (single, point): (&Model, &[i64]), entrants: &Model) -> Option<Vec<i64>> {
    let curves: BTreeMap<CurveKey, &Curve> = entrants.curves().into_iter().collect();
    let mut there = vec![0; entrants.program.columns.len()];
    for (key, curve) in single.curves() {
        // Donning is no curve of its own there: it ends at the door. What is done when nobody is dressed is left out.
        if matches!(key.event, Event::Don | Event::Break | Event::Shower)
            || entrants.group_of(single.groups[key.group].members[0]).is_none()
        {
            continue;
        }
        let Some(curve_there) = curves.get(&entrants.key_of_group(key, single)) else { continue };
        for slot in curve.events(point) {
            happens(curve_there, slot, &mut there)?;
        }
    }
    for (task, starts) in single.tasks.iter().enumerate() {
        for &(slot, _) in starts.iter().filter(|(_, col)| point[col.0] > 0) {
            there[entrants.start_of(TaskIx(task), slot)?.0] = 1;
        }
    }
    measured(night, entrants, &there)
}

/// Keeps the events and tasks of `point`, and sets the columns that only say what these come to.
pub fn measured(night: &Night, model: &Model, point: &[i64]) -> Option<Vec<i64>> {
    let tasks: BTreeSet<_> = model.tasks.iter().flatten().map(|&(_, col)| col.0).collect();
    let fate = |(place, column): (usize, &super::program::Column)| match column.place {
        Place::Total { .. } => Fate::Held(point[place]),
        Place::Slot(_) | Place::Night if tasks.contains(&place) => Fate::Held(point[place]),
        Place::Slot(_) | Place::Night => Fate::Free,
    };
    let fates: Vec<Fate> = model.program.columns.iter().enumerate().map(fate).collect();
    let part = Part::cut(&model.program, &model.care_missed(night), &fates)?;
    let solved = minimise(&part.program, &part.sum, None, &Limit::none());
    solved.point.map(|p| part.whole_point(&p))
}

/// One event more in a slot, and so in every total from there on.
fn happens(curve: &Curve, slot: Slot, point: &mut [i64]) -> Option<()> {
    let first = curve.slots().position(|s| s == slot)?;
    curve.columns()[first..].iter().for_each(|col| point[col.0] += 1);
    Some(())
}

/// The slot that begins in a minute.
pub fn on_grid(model: &Model, at: Minute) -> Option<Slot> {
    let slot = model.grid.at_or_before(at);
    (model.grid.minute(slot) == at).then_some(slot)
}

struct Events<'a> {
    night: &'a Night,
    model: &'a Model,
    rota: &'a Rota,
    found: Vec<(CurveKey, Slot)>,
}

impl Events<'_> {
    fn add(&mut self, who: PersonIx, event: Event, of: usize, lane: Option<LaneIx>, at: Minute) -> Option<()> {
        let group = self.model.group_of(who)?;
        let lane = match lane {
            Some(lane) => self.model.lane_of(lane)?,
            None => 0,
        };
        self.found.push((CurveKey { group, event, of, lane }, on_grid(self.model, at)?));
        Some(())
    }

    fn kind(&self, ensemble: EnsembleIx) -> Option<usize> {
        self.model.ensembles.iter().position(|&e| e == ensemble)
    }

    fn entries(&mut self) -> Option<()> {
        for entry in &self.rota.entries {
            let ensemble = self.night.room_ensemble(entry.person)?;
            let (kind, room, lane) = (self.kind(ensemble)?, entry.room.0, Some(entry.lane?));
            self.add(entry.person, Event::Don, room, None, entry.don)?;
            self.add(entry.person, Event::DoorIn, room, None, entry.door_in)?;
            self.add(entry.person, Event::DoorOut, room, None, entry.door_out)?;
            self.add(entry.person, Event::Removal, room, lane, entry.removal)?;
            self.add(entry.donning_observer?, Event::WatchDonning, ensemble.0, None, entry.don)?;
            if self.night.limits.ensemble(ensemble).assistant {
                self.add(entry.assistant?, Event::Assist, kind, lane, entry.removal)?;
            }
            let both = self.rota.posts.iter().any(|post| follows(post, entry) && post.observer == entry.observer);
            let event = if both { Event::WatchBoth } else { Event::WatchEntrant };
            self.add(entry.observer?, event, kind, lane, entry.removal)?;
        }
        Some(())
    }

    fn posts(&mut self) -> Option<()> {
        for post in &self.rota.posts {
            let ensemble = self.night.post_ensemble(post.role)?;
            if self.night.limits.ensemble(ensemble).donning_watched {
                self.add(post.donning_observer?, Event::WatchDonning, ensemble.0, None, post.don)?;
            }
            match post.role {
                PostRole::Assistant => self.assistant(post)?,
                PostRole::Observer => self.observer(post)?,
            }
        }
        Some(())
    }

    fn assistant(&mut self, post: &Post) -> Option<()> {
        let lane = Some(post.lane?);
        self.add(post.person, Event::AssistantDon, 0, None, post.don)?;
        let Some(before) = self.rota.entries.iter().find(|entry| follows(post, entry)) else {
            self.add(post.person, Event::AssistantLater, 0, lane, post.removal)?;
            return self.add(post.observer?, Event::WatchAssistant, 0, lane, post.removal);
        };
        let kind = self.kind(self.night.room_ensemble(before.person)?)?;
        self.add(post.person, Event::AssistantAtOnce, kind, lane, post.removal)?;
        if before.observer == post.observer {
            return Some(());
        }
        self.add(post.observer?, Event::WatchAssistant, 0, lane, post.removal)
    }

    fn observer(&mut self, post: &Post) -> Option<()> {
        self.add(post.person, Event::ObserverDon, 0, None, post.don)?;
        self.add(post.person, Event::ObserverRemoval, 0, None, post.removal)?;
        if self.night.limits.observer_kit.is_some_and(|kit| self.night.limits.ensemble(kit).removal_watched) {
            self.add(post.observer?, Event::WatchObserver, 0, None, post.removal)?;
        }
        Some(())
    }
}

/// Whether a post's own removal comes at once after a removal it assisted.
pub fn follows(post: &Post, entry: &Entry) -> bool {
    post.role == PostRole::Assistant
        && entry.assistant == Some(post.person)
        && entry.lane == post.lane
        && entry.off == post.removal
}
