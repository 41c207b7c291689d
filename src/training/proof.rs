//! Whether every donning and every removal of a rota is watched by somebody in date, rested and free (J8).
//!
//! The check alone says what is wrong. Here its faults are laid beside the donnings and removals that they
//! spoil; nothing is judged a second time.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::against::{self, laid_beside};
use crate::check::{OnWatch, Review, on_watch};
use crate::night::{LaneIx, Minute, Minutes, Night, PersonIx, PostRole, Role, Rota, Span};

pub use super::against::Ground;

/// A donning or a removal.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum What {
    /// A kit is put on.
    Donning,
    /// A kit is taken off.
    Removal,
}

/// One donning or removal, and who sees to it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Watched {
    /// Which of the two.
    pub what: What,
    /// From its start to its end.
    pub span: Span,
    /// Whose kit it is.
    pub wearer: PersonIx,
    /// The lane, for removals that have one.
    pub lane: Option<LaneIx>,
    /// Who watches.
    pub observer: Option<PersonIx>,
    /// Whether an assistant is asked for, or named.
    pub assisted: bool,
    /// Who assists.
    pub assistant: Option<PersonIx>,
    /// Minutes on watch when it is over, shorter pauses included (C11).
    pub on_watch: Option<Minutes>,
    /// When the observer's last break before it ended; `None` when there was none since coming on duty.
    pub last_break: Option<Minute>,
    /// The check's faults that spoil it, as places in [`Review::faults`].
    pub faults: Vec<usize>,
}

/// Every donning and removal of a rota, and what stands against their being watched.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Proof {
    /// In order of time.
    pub all: Vec<Watched>,
    /// Faults of watching that belong to no donning or removal of this list.
    pub beside: Vec<usize>,
    /// How many faults of other kinds the check has found.
    pub others: usize,
}

/// So many of so many.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Count {
    /// Those against which nothing stands.
    pub good: usize,
    /// All of them.
    pub all: usize,
}

impl Watched {
    /// The sign-off that watching it takes.
    #[must_use]
    pub const fn role(&self) -> Role {
        match self.what {
            What::Donning => Role::DonningObserver,
            What::Removal => Role::DoffingObserver,
        }
    }

    /// The last day on which the observer's sign-off is good and recent enough.
    #[must_use]
    pub fn observer_until(&self, night: &Night) -> Option<NaiveDate> {
        night.good_through(night.roster.person(self.observer?), self.role())
    }

    /// The last day on which the assistant's sign-off is good and recent enough.
    #[must_use]
    pub fn assistant_until(&self, night: &Night) -> Option<NaiveDate> {
        night.good_through(night.roster.person(self.assistant?), Role::Assistant)
    }

    /// Whether a fault of this ground stands against it.
    #[must_use]
    pub fn is_spoilt(&self, review: &Review, ground: Ground) -> bool {
        self.faults.iter().any(|&ix| against::ground(review.faults[ix].rule) == Some(ground))
    }
}

impl Proof {
    /// How many donnings, or removals, are as they should be.
    #[must_use]
    pub fn count(&self, what: What) -> Count {
        let all = self.all.iter().filter(|one| one.what == what);
        Count { good: all.clone().filter(|one| one.faults.is_empty()).count(), all: all.count() }
    }

    /// Whether nothing stands against any of them.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.beside.is_empty() && self.all.iter().all(|one| one.faults.is_empty())
    }
}

/// Lays what the check found beside every donning and removal. `review` is that of this night and rota.
#[must_use]
pub fn proof(night: &Night, rota: &Rota, review: &Review) -> Proof {
    let mut all = in_order(night, rota);
    let watches: Watches = on_watch(night, rota).into_iter().map(|w| ((w.observer, w.wearer, w.busy.to), w)).collect();
    for one in &mut all {
        one.on_watch = minutes_on_watch(night, one, &watches);
        one.last_break = last_break(rota, one);
    }
    let (beside, others) = laid_beside(night, rota, review, &mut all);
    Proof { all, beside, others }
}

fn in_order(night: &Night, rota: &Rota) -> Vec<Watched> {
    let mut all = Vec::new();
    for e in &rota.entries {
        let helped = night.room_ensemble(e.person).is_some_and(|kit| night.limits.ensemble(kit).assistant);
        all.push(donning(night.donning_of_entry(e), e.person, e.donning_observer));
        let assisted = helped || e.assistant.is_some();
        let removal = removal(Span::new(e.removal, e.off), e.person, e.observer, e.lane);
        all.push(Watched { assisted, assistant: e.assistant, ..removal });
    }
    for p in &rota.posts {
        let kit = night.post_ensemble(p.role).map(|kit| night.limits.ensemble(kit));
        if p.donning_observer.is_some() || kit.is_some_and(|kit| kit.donning_watched) {
            all.push(donning(night.donning_of_post(p), p.person, p.donning_observer));
        }
        let is_assistant = p.role == PostRole::Assistant;
        if p.observer.is_some() || is_assistant || kit.is_some_and(|kit| kit.removal_watched) {
            all.push(removal(Span::new(p.removal, p.off), p.person, p.observer, p.lane));
        }
    }
    all.sort_by_key(|one| (one.span, one.what, one.wearer));
    all
}

fn donning(span: Span, wearer: PersonIx, observer: Option<PersonIx>) -> Watched {
    Watched {
        what: What::Donning,
        span,
        wearer,
        lane: None,
        observer,
        assisted: false,
        assistant: None,
        on_watch: None,
        last_break: None,
        faults: Vec::new(),
    }
}

fn removal(span: Span, wearer: PersonIx, observer: Option<PersonIx>, lane: Option<LaneIx>) -> Watched {
    Watched { what: What::Removal, lane, ..donning(span, wearer, observer) }
}

type Watches = BTreeMap<(PersonIx, PersonIx, Minute), OnWatch>;

fn minutes_on_watch(night: &Night, one: &Watched, watches: &Watches) -> Option<Minutes> {
    let observer = one.observer?;
    // The reset follows a removal, except where the assistant's own comes at once.
    let ends = [one.span.to + night.limits.observer_reset, one.span.to];
    let watch = ends.into_iter().find_map(|end| watches.get(&(observer, one.wearer, end)))?;
    Some(one.span.to - watch.since)
}

fn last_break(rota: &Rota, one: &Watched) -> Option<Minute> {
    let observer = one.observer?;
    let ended = rota.breaks.iter().filter(|taken| taken.person == observer && taken.span.to <= one.span.from);
    ended.map(|taken| taken.span.to).max()
}
