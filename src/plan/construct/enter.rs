//! How one more entry is fitted in, with everybody that it takes.

use crate::night::{EnsembleIx, PostRole};

use super::super::curve::Curve;
use super::super::grid::Slot;
use super::crew::Crew;
use super::duty::{Entry, Post, Spell, place};
use super::taken::Taken;

/// Slots for which somebody may be held at the door, or wait for a lane.
const WAIT: Slot = 18;

/// How often nobody is found for a rescue in a slot before it is given up: duties that are added free nobody.
const HOPELESS: u8 = 4;

/// How far an entry could be planned.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Step {
    /// It stands.
    Done,
    /// The entrant may not, or there is no lane.
    Forbidden,
    /// Nobody is left who could see to a rescue meanwhile.
    NoRescue,
    /// Nobody can watch the donning.
    NoDonning,
    /// Nobody can help with the removal.
    NoHelp,
}

impl Crew<'_> {
    /// Plans one person into a room between two door times, with everybody that it takes.
    pub fn enter(&mut self, person: usize, room: usize, door_in: Slot, door_out: Slot) -> bool {
        let Some(entering) = &self.duties(person).entering else { return false };
        let (donning, wearing) = (entering.wearing.donning, &entering.wearing);
        let lanes = self.model.lanes.len();
        let visits = &entering.rooms[room];
        if visits.door_in.column(door_in).is_none() || visits.door_out.column(door_out).is_none() {
            return false;
        }
        if door_out <= door_in {
            return false;
        }
        let inside = &self.often_unrescued[place(door_in)..place(door_out)];
        if inside.iter().any(|&times| times >= HOPELESS) {
            return false;
        }
        let cleaning = self.model.grid.up(self.night.limits.cleaning);
        let taken = self.taken();
        if taken.is_person(person, door_in - donning, door_out)
            || !self.is_rested(person, door_in - donning, door_out + wearing.removal)
        {
            return false;
        }
        let slack = wearing.max_wear - (donning - wearing.worn_from()) - (door_out - door_in) - wearing.removal;
        for held in 0..=slack.min(WAIT) {
            let don = door_in - donning - held;
            if visits.don.column(don).is_none() {
                break;
            }
            let mut watched = false;
            for removal in door_out..=door_out + (slack - held).min(WAIT) {
                for lane in
                    (0..lanes).filter(|&lane| !taken.is_lane(lane, removal, removal + wearing.removal + cleaning))
                {
                    if visits.removal[lane].column(removal).is_none() {
                        continue;
                    }
                    let entry = Entry {
                        person,
                        room,
                        don,
                        door_in,
                        door_out,
                        removal,
                        lane,
                        donning_observer: None,
                        observer: 0,
                        assistant: None,
                        both: false,
                        shower: None,
                    };
                    match self.enter_with(entry, &taken) {
                        Step::Done => return true,
                        Step::NoHelp => watched = true,
                        Step::NoRescue => return false,
                        Step::NoDonning | Step::Forbidden => {}
                    }
                }
            }
            // With somebody to watch the donning, an earlier one would not help.
            if watched {
                return false;
            }
        }
        false
    }

    fn enter_with(&mut self, mut entry: Entry, taken: &Taken) -> Step {
        let owed = self.ledger.missed().owed;
        let mut step = Step::Forbidden;
        let done = self.attempt(|crew| {
            let events = crew.own_events(&entry);
            crew.ledger.unrescued = None;
            if !crew.fit(entry.person, &events) {
                if let Some(slot) = crew.ledger.unrescued.filter(|&slot| slot < entry.door_out) {
                    crew.often_unrescued[place(slot)] = crew.often_unrescued[place(slot)].saturating_add(1);
                    step = Step::NoRescue;
                }
                return false;
            }
            step = Step::NoDonning;
            let ensemble = crew.wearing(entry.person).ensemble;
            if crew.night.limits.ensemble(ensemble).donning_watched {
                entry.donning_observer = crew.watch_donning(ensemble, entry.don, entry.person);
                if entry.donning_observer.is_none() {
                    return false;
                }
            }
            step = Step::NoHelp;
            let helped = crew.help(&mut entry, taken);
            entry.shower = if helped { crew.shower(entry.person, entry.off(crew)) } else { None };
            helped && crew.ledger.missed().owed == owed
        });
        if !done {
            return step;
        }
        self.duty.entries.push(entry);
        self.duty.count_inside(self.duty.entries.len() - 1, 1);
        Step::Done
    }

    /// Finds somebody to watch a donning.
    pub fn watch_donning(&mut self, ensemble: EnsembleIx, don: Slot, wearer: usize) -> Option<usize> {
        let asked = self.asked();
        asked.into_iter().find(|&person| {
            let watch = self.watches_donning(person, ensemble, don);
            person != wearer && self.fit_help(person, &[watch])
        })
    }

    /// Finds an observer, and an assistant where one is needed, for an entrant's removal.
    fn help(&mut self, entry: &mut Entry, taken: &Taken) -> bool {
        let (kind, wearer) = (self.kind(entry.person), entry.person);
        let assistant = self.night.limits.ensemble(self.model.ensembles[kind]).assistant;
        let asked = self.asked();
        let off = entry.off(self);
        let mut unassisted = 0;
        for &observer in asked.iter().filter(|&&person| person != wearer) {
            // Whether somebody can assist hardly ever hangs on who observes.
            if unassisted == 2 {
                return false;
            }
            if self.duties(observer).observing.is_none() && taken.is_person(observer, entry.removal, off) {
                continue;
            }
            let found = self.attempt(|crew| {
                if !crew.observe(observer, kind, entry.lane, entry.removal, wearer) {
                    return false;
                }
                entry.observer = observer;
                unassisted += 1;
                let others: Vec<usize> =
                    asked.iter().copied().filter(|&person| crew.may_assist(person, observer, entry, taken)).collect();
                // Whoever is dressed already stays on sooner than somebody else dresses.
                !assistant
                    || others.iter().any(|&person| crew.assist(person, entry, Spell::Longer))
                    || others.iter().any(|&person| crew.assist(person, entry, Spell::New))
            });
            if found {
                return true;
            }
        }
        false
    }

    /// Whether somebody is on post then, or free to dress for it.
    fn may_assist(&self, person: usize, observer: usize, entry: &Entry, taken: &Taken) -> bool {
        if person == entry.person || person == observer || self.duties(person).assists.is_empty() {
            return false;
        }
        let off = entry.off(self);
        let Some(posting) = self.posting(person, PostRole::Assistant) else {
            return !taken.is_person(person, entry.removal, off);
        };
        let mut spells =
            self.duty.posts.iter().filter(|post| post.person == person && post.role == PostRole::Assistant);
        let from = entry.removal - posting.wearing.donning;
        let longest = posting.wearing.max_wear;
        !taken.is_person(person, from, off + posting.wearing.removal)
            || spells.any(|post| post.don <= from && off <= post.don + longest)
    }

    /// A shower after a wear that ended, where places are limited. One after a later wear may do.
    pub fn shower(&mut self, person: usize, off: Slot) -> Option<Slot> {
        let curve: &Curve = &self.duties(person).showers;
        if curve.is_empty() {
            return None;
        }
        (off..=off + 4 * WAIT).find(|&slot| self.fit_help(person, &[curve.column(slot)]))
    }

    pub fn shower_after_post(&mut self, post: &mut Post) {
        let removal = self.posting(post.person, post.role).map_or(0, |posting| posting.wearing.removal);
        post.shower = self.shower(post.person, post.own + removal);
    }
}
