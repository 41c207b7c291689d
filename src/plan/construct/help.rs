//! How helpers are found for a removal, and spells in a doffing-area kit for helpers.

use crate::night::PostRole;

use super::super::curve::Curve;
use super::super::grid::Slot;
use super::crew::Crew;
use super::duty::{End, Ends, Entry, Post, Spell};

/// Slots for which a helper may wait for their own removal.
const OWN_WAIT: Slot = 8;

/// Slots by which a helper's donning may lie before it has to be done.
const EARLY: Slot = 6;

impl Crew<'_> {
    /// Somebody watches a removal, dressed for it where observers wear a kit.
    pub fn observe(&mut self, person: usize, kind: usize, lane: usize, removal: Slot, wearer: usize) -> bool {
        let Some(watches) = &self.duties(person).watches else { return false };
        let Some(col) = watches.entrant[kind][lane].column(removal) else { return false };
        if self.fit_help(person, &[Some(col)]) {
            return true;
        }
        if self.duties(person).observing.is_none() {
            return false;
        }
        let limits = &self.night.limits;
        let (ready, reset) = (self.model.grid.up(limits.observer_ready), self.model.grid.up(limits.observer_reset));
        let from = removal - ready;
        let to = removal + self.model.removal_slots(self.night, kind) + reset;
        let owed = self.ledger.missed().owed;
        [Spell::Longer, Spell::New].into_iter().any(|spell| {
            self.attempt(|crew| {
                crew.ledger.event(col, 1);
                crew.on_post(person, PostRole::Observer, (from, to), wearer, spell) && crew.ledger.missed().owed < owed
            })
        })
    }

    /// Somebody assists an entrant's removal, dressed for it where assistants wear a kit.
    pub fn assist(&mut self, person: usize, entry: &mut Entry, spell: Spell) -> bool {
        let kind = self.kind(entry.person);
        let Some(curve) = self.duties(person).assists.get(kind).map(|lanes| &lanes[entry.lane]) else { return false };
        let Some(col) = curve.column(entry.removal) else { return false };
        if self.fit_help(person, &[Some(col)]) {
            entry.assistant = Some(person);
            return true;
        }
        if self.duties(person).assisting.is_none() {
            return false;
        }
        let (off, owed) = (entry.off(self), self.ledger.missed().owed);
        let at_once = |crew: &mut Self, entry: &mut Entry| {
            entry.both = crew.attempt(|crew| {
                crew.ledger.event(col, 1);
                crew.at_once(person, kind, off, entry, spell) && crew.ledger.missed().owed < owed
            });
            entry.both
        };
        let later = |crew: &mut Self, entry: &Entry| {
            crew.attempt(|crew| {
                crew.ledger.event(col, 1);
                let to = off + crew.model.assistant_cleaning_slots(crew.night);
                crew.on_post(person, PostRole::Assistant, (entry.removal, to), entry.person, spell)
                    && crew.ledger.missed().owed < owed
            })
        };
        // Where others come out as well, the assistant stays dressed for them and leaves them the lane.
        let stays_on = self.to_follow > 0;
        let done = (stays_on && later(self, entry)) || at_once(self, entry) || (!stays_on && later(self, entry));
        if done {
            entry.assistant = Some(person);
        }
        done
    }

    /// The assistant's spell ends straight after this removal, in the same lane, watched by the same observer.
    fn at_once(&mut self, person: usize, kind: usize, off: Slot, entry: &Entry, spell: Spell) -> bool {
        let Some(watches) = &self.duties(entry.observer).watches else { return false };
        let column = |lanes: &[Curve]| lanes[entry.lane].column(entry.removal);
        let (Some(one), Some(both)) = (column(&watches.entrant[kind]), column(&watches.both[kind])) else {
            return false;
        };
        self.ledger.event(one, -1);
        self.ledger.event(both, 1);
        let ends = Ends { own: off, lane: entry.lane, end: End::AtOnce(kind) };
        self.dressed((person, PostRole::Assistant), (entry.removal, off), ends, entry.person, spell).is_some()
    }

    /// Somebody is on post from one slot to another: in a spell that is lengthened, or in a new one.
    fn on_post(
        &mut self,
        person: usize,
        role: PostRole,
        (from, to): (Slot, Slot),
        wearer: usize,
        spell: Spell,
    ) -> bool {
        let lanes = match role {
            PostRole::Assistant => self.model.lanes.len(),
            PostRole::Observer => 1,
        };
        let removal = self.posting(person, role).map_or(0, |posting| posting.wearing.removal);
        let (taken, asked) = (self.taken(), self.asked());
        let first = to + if role == PostRole::Assistant { self.to_follow } else { 0 };
        for own in first..=first + OWN_WAIT {
            for lane in
                (0..lanes).filter(|&lane| role == PostRole::Observer || !taken.is_lane(lane, own, own + removal))
            {
                let ends = Ends { own, lane, end: End::Later };
                let may_watch = |crew: &Self, p: usize| {
                    let own_kit = crew.duties(p).observing.is_some() && role == PostRole::Assistant;
                    p != person && p != wearer && (own_kit || !taken.is_person(p, own, own + removal))
                };
                let watchers: Vec<usize> = asked.iter().copied().filter(|&p| may_watch(self, p)).collect();
                if watchers.is_empty() {
                    continue;
                }
                let done = self.attempt(|crew| {
                    let at = crew.dressed((person, role), (from, to), ends, wearer, spell);
                    at.is_some_and(|at| crew.watch_own(at, &watchers))
                });
                if done {
                    return true;
                }
            }
        }
        false
    }

    /// A spell that lasts from one slot to another, lengthened or new. Says which.
    fn dressed(
        &mut self,
        (person, role): (usize, PostRole),
        (from, to): (Slot, Slot),
        ends: Ends,
        wearer: usize,
        spell: Spell,
    ) -> Option<usize> {
        match spell {
            Spell::Longer => self.extend(person, role, (from, to), ends),
            Spell::New => self.spell(person, role, from, ends, wearer),
        }
    }

    /// Finds somebody to watch the own removal of a spell, where it is watched by itself.
    fn watch_own(&mut self, at: usize, watchers: &[usize]) -> bool {
        let post = self.duty.posts[at].clone();
        if post.role == PostRole::Observer && self.model.duties.iter().all(|d| d.watches_observer.is_empty()) {
            return true;
        }
        for &watcher in watchers {
            let watch = Self::watch_event(self.duties(watcher), &post);
            if self.fit_help(watcher, &[watch]) {
                self.duty.posts[at].observer = Some(watcher);
                return true;
            }
        }
        false
    }

    /// A spell that ends before `to` ends later instead. Says which.
    fn extend(&mut self, person: usize, role: PostRole, (from, to): (Slot, Slot), ends: Ends) -> Option<usize> {
        let before = |post: &Post| post.person == person && post.role == role && post.don < from && post.own < to;
        let posts = self.duty.posts.iter().enumerate().filter(|(_, post)| before(post));
        let (at, old) = posts.max_by_key(|(_, post)| post.don).map(|(at, post)| (at, post.clone()))?;
        let done = self.attempt(|crew| {
            crew.stay_on(&old);
            crew.end_events(&old).into_iter().flatten().for_each(|col| crew.ledger.event(col, -1));
            let shower = old.shower.and_then(|slot| crew.shower_event(old.person, slot));
            shower.into_iter().for_each(|col| crew.ledger.event(col, -1));
            let mut new = Post { own: ends.own, lane: ends.lane, end: ends.end, observer: None, shower: None, ..old };
            let events = crew.end_events(&new);
            let done = crew.fit(person, &events);
            if done {
                crew.shower_after_post(&mut new);
                crew.duty.posts[at] = new;
            }
            done
        });
        done.then_some(at)
    }

    /// A spell that ended straight after a removal no longer does: that removal is watched by itself again.
    fn stay_on(&mut self, post: &Post) {
        let End::AtOnce(kind) = post.end else { return };
        let Some(at) = self.duty.entries.iter().position(|entry| self.ends_with(post, entry)) else { return };
        let Entry { observer, lane, removal, .. } = self.duty.entries[at];
        let Some(watches) = &self.duties(observer).watches else { return };
        let of = |lanes: &[Curve]| lanes[lane].column(removal);
        of(&watches.both[kind]).into_iter().for_each(|col| self.ledger.event(col, -1));
        of(&watches.entrant[kind]).into_iter().for_each(|col| self.ledger.event(col, 1));
        self.duty.entries[at].both = false;
    }

    /// A new spell. Says which.
    fn spell(&mut self, person: usize, role: PostRole, by: Slot, ends: Ends, wearer: usize) -> Option<usize> {
        let posting = self.posting(person, role)?;
        let ensemble = posting.wearing.ensemble;
        let watched = self.night.limits.ensemble(ensemble).donning_watched;
        let latest = by - posting.wearing.donning;
        let Ends { own, lane, end } = ends;
        for don in (latest - if watched { EARLY } else { 0 }..=latest).rev() {
            let done = self.attempt(|crew| {
                let mut post =
                    Post { person, role, don, donning_observer: None, own, lane, end, observer: None, shower: None };
                let mut events = vec![posting.don.column(don)];
                events.extend(crew.end_events(&post));
                if !crew.fit(person, &events) {
                    return false;
                }
                if watched {
                    post.donning_observer = crew.watch_donning(ensemble, don, person);
                    if post.donning_observer.is_none_or(|observer| observer == wearer) {
                        return false;
                    }
                }
                crew.shower_after_post(&mut post);
                crew.duty.posts.push(post);
                true
            });
            if done {
                return Some(self.duty.posts.len() - 1);
            }
        }
        None
    }
}
