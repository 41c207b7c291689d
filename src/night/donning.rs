//! When somebody puts a kit on: a rota states its start, the ensemble its length.

use super::clock::Span;
use super::rota::{Entry, Post};
use super::{Minutes, Night};

impl Night {
    /// The minutes in which an entrant puts the kit on.
    #[must_use]
    pub fn donning_of_entry(&self, entry: &Entry) -> Span {
        let kit = self.room_ensemble(entry.person);
        // Somebody without a kit dons until the door; the check faults the entry.
        let end = kit.map_or(entry.door_in, |kit| entry.don + self.limits.ensemble(kit).donning);
        Span::new(entry.don, end)
    }

    /// The minutes in which a helper puts the kit on.
    #[must_use]
    pub fn donning_of_post(&self, post: &Post) -> Span {
        let kit = self.post_ensemble(post.role);
        let length = kit.map_or(Minutes::ZERO, |kit| self.limits.ensemble(kit).donning);
        Span::new(post.don, post.don + length)
    }
}
