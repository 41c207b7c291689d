//! Taking duties out again.

use std::collections::BTreeSet;

use crate::night::{PostRole, Relief};

use super::super::program::Col;
use super::crew::Crew;
use super::duty::{Entry, Post};

impl Crew<'_> {
    /// Takes some entries out, by place, and with them the spells that only served them; where a spell goes,
    /// everything goes that it served.
    pub fn take_out(&mut self, picked: BTreeSet<usize>) {
        let (entries, posts) = self.with_all_that_hangs_on(picked);
        let mut events: Vec<Option<Col>> = vec![];
        for &at in &entries {
            events.extend(self.all_events(&self.duty.entries[at]));
            self.duty.count_inside(at, -1);
        }
        posts.iter().for_each(|&at| events.extend(self.all_events_of_post(&self.duty.posts[at])));
        events.into_iter().flatten().for_each(|col| self.ledger.event(col, -1));
        for at in entries.into_iter().rev() {
            self.duty.entries.remove(at);
        }
        for at in posts.into_iter().rev() {
            self.duty.posts.remove(at);
        }
        self.ledger.settle();
    }

    /// Drops the tasks that fewer people inside no longer do.
    pub fn drop_tasks(&mut self) {
        for task in 0..self.duty.tasks.len() {
            let (mark, hard) = (self.ledger.mark(), self.ledger.missed().hard);
            let Some(col) = self.duty.tasks[task].filter(|_| hard > 0) else { continue };
            self.ledger.set(col, 0);
            self.ledger.settle();
            if self.ledger.missed().hard < hard {
                self.duty.tasks[task] = None;
            } else {
                self.ledger.back_to(mark);
            }
        }
    }

    fn with_all_that_hangs_on(&self, picked: BTreeSet<usize>) -> (BTreeSet<usize>, BTreeSet<usize>) {
        let (mut entries, mut posts) = (picked, BTreeSet::new());
        loop {
            let before = (entries.len(), posts.len());
            entries.extend(self.at_the_door_with(&entries));
            for (at, post) in self.duty.posts.iter().enumerate() {
                let served: Vec<usize> =
                    (0..self.duty.entries.len()).filter(|&e| serves(post, &self.duty.entries[e])).collect();
                let watched_gone = posts.iter().any(|&gone| serves_post(&self.duty.posts[gone], post));
                let ends_with_gone =
                    served.iter().any(|&e| entries.contains(&e) && self.ends_with(post, &self.duty.entries[e]));
                let none_left =
                    served.iter().all(|e| entries.contains(e)) && !self.watches_posts_that_stay(post, &posts);
                if posts.contains(&at) || watched_gone || ends_with_gone || none_left {
                    posts.insert(at);
                    entries.extend(served);
                }
            }
            if before == (entries.len(), posts.len()) {
                return (entries, posts);
            }
        }
    }

    /// Where nobody may pass the door alone: those who pass one with somebody who is taken out (D8).
    fn at_the_door_with(&self, gone: &BTreeSet<usize>) -> Vec<usize> {
        if self.night.limits.relief != Relief::InPairs {
            return vec![];
        }
        let all = &self.duty.entries;
        let together = |one: &Entry, other: &Entry| {
            one.room == other.room && (one.door_in == other.door_in || one.door_out == other.door_out)
        };
        (0..all.len()).filter(|&at| gone.iter().any(|&gone| together(&all[gone], &all[at]))).collect()
    }

    fn watches_posts_that_stay(&self, post: &Post, gone: &BTreeSet<usize>) -> bool {
        let posts = self.duty.posts.iter().enumerate();
        posts.filter(|(at, _)| !gone.contains(at)).any(|(_, other)| serves_post(post, other))
    }

    /// Whether a spell ends straight after an entry's removal.
    pub fn ends_with(&self, post: &Post, entry: &Entry) -> bool {
        post.is_at_once() && entry.both && entry.assistant == Some(post.person) && entry.off(self) == post.own
    }
}

/// Whether an entry's removal is watched or assisted in a spell.
fn serves(post: &Post, entry: &Entry) -> bool {
    let during = post.don < entry.removal && entry.removal < post.own;
    during
        && match post.role {
            PostRole::Assistant => entry.assistant == Some(post.person),
            PostRole::Observer => entry.observer == post.person,
        }
}

/// Whether the own removal of another spell is watched in this one.
fn serves_post(post: &Post, other: &Post) -> bool {
    post.role == PostRole::Observer
        && other.role == PostRole::Assistant
        && other.observer == Some(post.person)
        && post.don < other.own
        && other.own < post.own
}
