//! A rota that is there already, taken up so that it can be built on.

use std::ops::Range;

use crate::night::{self, Night, PersonIx, PostRole, Rota};

use super::super::encode::{follows, on_grid};
use super::super::grid::Slot;
use super::super::model::Model;
use super::super::program::{Col, Place};
use super::build::Builder;
use super::crew::Crew;
use super::duty::{End, Entry, Post};
use super::ledger::Missed;
use super::score::Demand;

impl<'m> Builder<'m> {
    /// Takes up a rota and the point of the program that stands for it. `None` where a duty of it is none that is built here.
    pub fn resume(night: &'m Night, model: &'m Model, (rota, point): (&Rota, &[i64]), seed: u64) -> Option<Self> {
        let crew = Crew::resume(night, model, (rota, point), seed)?;
        Some(Self::take_up(crew, Demand::of(night, model)))
    }

    /// The rota with a part of it taken out and built anew, whatever that comes to: a value for every total and every start
    /// of a task, and where it was.
    pub fn shaken(mut self) -> Option<(Vec<i64>, Range<Slot>)> {
        self.crew.anew = true;
        let near = self.take_a_part_out()?;
        Some((self.crew.point(&self.crew.duty), near))
    }

    /// Builds in some slots until so much less is missed in all, as one figure; says whether it came to that.
    pub fn make_up_for(&mut self, slots: Range<Slot>, less: i64, work: u64) -> bool {
        let target = self.missed() - less;
        self.within = slots;
        self.improve_to(target, work);
        self.missed() <= target
    }
}

impl<'m> Crew<'m> {
    fn resume(night: &'m Night, model: &'m Model, (rota, point): (&Rota, &[i64]), seed: u64) -> Option<Self> {
        let mut crew = Self::of_nobody(night, model, seed);
        for entry in &rota.entries {
            let entry = crew.entry_of(rota, entry)?;
            crew.duty.entries.push(entry);
            crew.duty.count_inside(crew.duty.entries.len() - 1, 1);
        }
        for post in &rota.posts {
            let post = crew.post_of(rota, post)?;
            crew.duty.posts.push(post);
        }
        crew.take_up_showers(rota)?;
        for taken in &rota.breaks {
            let (person, slot) = (model.group_of(taken.person)?, on_grid(model, taken.span.from)?);
            crew.duty.breaks[person].push(slot);
        }
        for done in &rota.tasks {
            crew.duty.tasks[done.task.0] = Some(model.start_of(done.task, on_grid(model, done.start)?)?);
        }
        crew.book(point)?;
        (crew.ledger.missed() == Missed::default()).then_some(crew)
    }

    /// Books all duties, and every other column as it is in a point.
    fn book(&mut self, point: &[i64]) -> Option<()> {
        let mut events = self.break_events(&self.duty);
        events.extend(self.duty.entries.iter().flat_map(|entry| self.all_events(entry)));
        events.extend(self.duty.posts.iter().flat_map(|post| self.all_events_of_post(post)));
        let events: Option<Vec<Col>> = events.into_iter().collect();
        events?.into_iter().for_each(|col| self.ledger.event(col, 1));
        let columns = self.model.program.columns.iter().enumerate();
        let others = columns.filter(|(_, column)| !matches!(column.place, Place::Total { .. }));
        others.for_each(|(place, _)| self.ledger.set(Col(place), point[place]));
        self.ledger.settle();
        self.ledger.forget();
        Some(())
    }

    /// A helper. Where they are no group of the model a row says that somebody is missing.
    fn helper(&self, person: Option<PersonIx>) -> Option<usize> {
        person.and_then(|person| self.model.group_of(person))
    }

    fn entry_of(&self, rota: &Rota, entry: &night::Entry) -> Option<Entry> {
        let lane = entry.lane?;
        let spell = rota.posts.iter().find(|post| follows(post, entry));
        Some(Entry {
            person: self.model.group_of(entry.person)?,
            room: entry.room.0,
            don: on_grid(self.model, entry.don)?,
            door_in: on_grid(self.model, entry.door_in)?,
            door_out: on_grid(self.model, entry.door_out)?,
            removal: on_grid(self.model, entry.removal)?,
            lane: self.model.lane_of(lane)?,
            donning_observer: self.helper(entry.donning_observer),
            observer: self.model.group_of(entry.observer?)?,
            assistant: self.helper(entry.assistant),
            both: spell.is_some_and(|post| post.observer == entry.observer),
            shower: None,
        })
    }

    fn post_of(&self, rota: &Rota, post: &night::Post) -> Option<Post> {
        let entry = rota.entries.iter().find(|entry| follows(post, entry));
        let end = match entry {
            Some(entry) => End::AtOnce(self.kind(self.model.group_of(entry.person)?)),
            None => End::Later,
        };
        let watched_with_it = entry.is_some_and(|entry| entry.observer == post.observer);
        let lane = match (post.role, post.lane) {
            (PostRole::Observer, _) => 0,
            (PostRole::Assistant, lane) => self.model.lane_of(lane?)?,
        };
        Some(Post {
            person: self.model.group_of(post.person)?,
            role: post.role,
            don: on_grid(self.model, post.don)?,
            donning_observer: self.helper(post.donning_observer),
            own: on_grid(self.model, post.removal)?,
            lane,
            end,
            observer: self.helper(post.observer.filter(|_| !watched_with_it)),
            shower: None,
        })
    }

    /// Each shower belongs to the last wear before it.
    fn take_up_showers(&mut self, rota: &Rota) -> Option<()> {
        if self.night.shower_places().is_none() {
            return Some(());
        }
        for shower in &rota.showers {
            let (person, slot) = (self.model.group_of(shower.person)?, on_grid(self.model, shower.span.from)?);
            let entries = self.duty.entries.iter().enumerate().map(|(at, entry)| (entry.don, entry.person, true, at));
            let posts = self.duty.posts.iter().enumerate().map(|(at, post)| (post.don, post.person, false, at));
            let wears = entries.chain(posts).filter(|&(don, who, ..)| who == person && don < slot);
            let (_, _, is_entry, at) = wears.max()?;
            if is_entry {
                self.duty.entries[at].shower = Some(slot);
            } else {
                self.duty.posts[at].shower = Some(slot);
            }
        }
        Some(())
    }
}
