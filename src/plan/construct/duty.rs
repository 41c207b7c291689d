//! What a duty is made of while a rota is built: its times and people, and its events in the program.

use crate::night::{EnsembleIx, PostRole};

use super::super::ability::Wearing;
use super::super::grid::Slot;
use super::super::model::{Duties, Posting};
use super::super::program::Col;
use super::crew::Crew;
use super::taken::Taken;

/// Row changes' worth of time that a glance takes.
const GLANCE: u64 = 500;

/// One entry with everybody in it. People are places in [`Model::groups`], which are single people here.
#[derive(Clone, Debug)]
pub struct Entry {
    pub person: usize,
    pub room: usize,
    pub don: Slot,
    pub door_in: Slot,
    pub door_out: Slot,
    pub removal: Slot,
    pub lane: usize,
    pub donning_observer: Option<usize>,
    pub observer: usize,
    pub assistant: Option<usize>,
    /// Whether the observer watches the assistant's own removal straight after.
    pub both: bool,
    pub shower: Option<Slot>,
}

/// One spell in a doffing-area kit.
#[derive(Clone, Debug)]
pub struct Post {
    pub person: usize,
    pub role: PostRole,
    pub don: Slot,
    pub donning_observer: Option<usize>,
    pub own: Slot,
    pub lane: usize,
    pub end: End,
    /// Who watches the own removal, where it is watched by itself.
    pub observer: Option<usize>,
    pub shower: Option<Slot>,
}

impl Post {
    /// Whether it ends straight after a removal that was assisted.
    pub fn is_at_once(&self) -> bool {
        matches!(self.end, End::AtOnce(_))
    }
}

/// How a spell ends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum End {
    /// Straight after a removal of a kind that they assisted.
    AtOnce(usize),
    /// Later, or no removal was assisted.
    Later,
}

/// Which spell is used for a removal that lies in none.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Spell {
    /// One that ends before it is lengthened.
    Longer,
    /// A new one.
    New,
}

/// When, where and how a spell ends.
#[derive(Clone, Copy, Debug)]
pub struct Ends {
    pub own: Slot,
    pub lane: usize,
    pub end: End,
}

/// Duties so far.
#[derive(Clone, Debug, Default)]
pub struct Duty {
    pub entries: Vec<Entry>,
    pub posts: Vec<Post>,
    pub breaks: Vec<Vec<Slot>>,
    /// Tasks by place in the roster: the column of the start that is taken.
    pub tasks: Vec<Option<Col>>,
    /// People inside, by room and slot.
    pub inside: Vec<Vec<i64>>,
}

impl Duty {
    /// Counts whoever is inside in an entry, by its place, or takes them off the count again.
    pub fn count_inside(&mut self, at: usize, times: i64) {
        let Entry { room, door_in, door_out, .. } = self.entries[at];
        self.inside[room][place(door_in)..place(door_out)].iter_mut().for_each(|inside| *inside += times);
    }
}

impl Entry {
    /// Last item off.
    pub fn off(&self, crew: &Crew) -> Slot {
        self.removal + crew.wearing(self.person).removal
    }
}

impl<'m> Crew<'m> {
    pub fn wearing(&self, person: usize) -> &'m Wearing {
        &self.duties(person).entering.as_ref().expect("only entrants enter").wearing
    }

    pub fn posting(&self, person: usize, role: PostRole) -> Option<&'m Posting> {
        match role {
            PostRole::Assistant => self.duties(person).assisting.as_ref(),
            PostRole::Observer => self.duties(person).observing.as_ref(),
        }
    }

    pub fn kind(&self, person: usize) -> usize {
        let ensemble = self.wearing(person).ensemble;
        self.model.ensembles.iter().position(|&e| e == ensemble).expect("every room ensemble is listed")
    }

    /// An entrant's own events.
    pub fn own_events(&self, entry: &Entry) -> [Option<Col>; 4] {
        let entering = self.duties(entry.person).entering.as_ref().expect("only entrants enter");
        let visits = &entering.rooms[entry.room];
        [
            visits.don.column(entry.don),
            visits.door_in.column(entry.door_in),
            visits.door_out.column(entry.door_out),
            visits.removal[entry.lane].column(entry.removal),
        ]
    }

    /// Everything that an entry is made of, spells aside.
    pub fn all_events(&self, entry: &Entry) -> Vec<Option<Col>> {
        let kind = self.kind(entry.person);
        let ensemble = self.wearing(entry.person).ensemble;
        let mut events = self.own_events(entry).to_vec();
        events.extend(entry.donning_observer.map(|observer| self.watches_donning(observer, ensemble, entry.don)));
        if let Some(watches) = &self.duties(entry.observer).watches {
            let lanes = if entry.both { &watches.both[kind] } else { &watches.entrant[kind] };
            events.push(lanes[entry.lane].column(entry.removal));
        }
        events
            .extend(entry.assistant.map(|person| self.duties(person).assists[kind][entry.lane].column(entry.removal)));
        events.extend(entry.shower.map(|slot| self.shower_event(entry.person, slot)));
        events
    }

    /// The same for a spell.
    pub fn all_events_of_post(&self, post: &Post) -> Vec<Option<Col>> {
        let mut events = self.end_events(post);
        if let Some(posting) = self.posting(post.person, post.role) {
            let ensemble = posting.wearing.ensemble;
            events.push(posting.don.column(post.don));
            events.extend(post.donning_observer.map(|observer| self.watches_donning(observer, ensemble, post.don)));
        }
        events.extend(post.shower.map(|slot| self.shower_event(post.person, slot)));
        events
    }

    /// Watching a donning.
    pub fn watches_donning(&self, person: usize, ensemble: EnsembleIx, don: Slot) -> Option<Col> {
        self.duties(person).watches_donning.get(ensemble.0)?.column(don)
    }

    /// All breaks.
    pub fn break_events(&self, duty: &Duty) -> Vec<Option<Col>> {
        let by_person = duty.breaks.iter().enumerate();
        by_person
            .flat_map(|(person, slots)| slots.iter().map(move |&slot| self.duties(person).breaks.column(slot)))
            .collect()
    }

    /// A spell's own removal and whoever watches it by itself.
    pub fn end_events(&self, post: &Post) -> Vec<Option<Col>> {
        let duties = self.duties(post.person);
        let own = match post.role {
            PostRole::Assistant => duties.assisting.as_ref().and_then(|posting| match post.end {
                End::AtOnce(kind) => posting.at_once[kind][post.lane].column(post.own),
                End::Later => posting.later[post.lane].column(post.own),
            }),
            PostRole::Observer => duties.observing.as_ref().and_then(|posting| posting.later[0].column(post.own)),
        };
        let watch = post.observer.map(|observer| Self::watch_event(self.duties(observer), post));
        [Some(own), watch].into_iter().flatten().collect()
    }

    /// Watching the own removal of a spell.
    pub fn watch_event(watcher: &Duties, post: &Post) -> Option<Col> {
        match post.role {
            PostRole::Assistant => watcher.watches.as_ref()?.assistant.get(post.lane)?.column(post.own),
            PostRole::Observer => watcher.watches_observer.column(post.own),
        }
    }

    pub fn shower_event(&self, person: usize, slot: Slot) -> Option<Col> {
        self.duties(person).showers.column(slot)
    }

    /// When people and lanes are taken, as far as duties say it at a glance.
    pub fn taken(&mut self) -> Taken {
        self.ledger.work += GLANCE;
        let grid = &self.model.grid;
        let limits = &self.night.limits;
        let mut taken = Taken::new(self.model.groups.len(), self.model.lanes.len(), grid.slots);
        let (ready, reset) = (grid.up(limits.observer_ready), grid.up(limits.observer_reset));
        let cleaning = grid.up(limits.cleaning);
        for entry in &self.duty.entries {
            let off = entry.off(self);
            taken.person(entry.person, entry.don, off);
            taken.lane(entry.lane, entry.removal, off + cleaning);
            if let Some(observer) = entry.donning_observer {
                taken.person(observer, entry.don, entry.don + self.wearing(entry.person).donning);
            }
            if self.duties(entry.observer).observing.is_none() {
                taken.person(entry.observer, entry.removal - ready, off + reset);
            }
        }
        for post in &self.duty.posts {
            let removal = self.posting(post.person, post.role).map_or(0, |posting| posting.wearing.removal);
            taken.person(post.person, post.don, post.own + removal);
            if post.role == PostRole::Assistant {
                taken.lane(post.lane, post.own, post.own + removal + cleaning);
            }
        }
        taken
    }

    /// Whether an entrant is rested before an entry, and will be before those that follow it.
    pub fn is_rested(&self, person: usize, don: Slot, off: Slot) -> bool {
        let wearing = self.wearing(person);
        let rest = self.model.rest_between(self.night, person, wearing);
        let mut entries = self.duty.entries.iter().filter(|entry| entry.person == person);
        entries.all(|entry| entry.off(self) + rest <= don || off + rest <= entry.don)
    }
}

/// The place of a slot in a list by slot.
pub fn place(slot: Slot) -> usize {
    usize::try_from(slot).expect("duties lie in the shift")
}
