//! A rota seen person by person: every stretch of every duty.

use crate::night::{Entry, LaneIx, Night, PersonIx, Post, PostRole, RoomIx, Rota, Span};

/// What somebody is doing.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Doing {
    /// Putting a kit on.
    Donning,
    /// Dressed, waiting at the door.
    AtDoor,
    /// In the room.
    InRoom,
    /// Dressed, waiting for a lane.
    WaitingForLane,
    /// Own removal.
    Removal,
    /// Dressed, on post as assistant.
    PostAssistant,
    /// Dressed, on post as observer.
    PostObserver,
    /// Assisting a removal.
    Assisting,
    /// Watching a donning.
    WatchingDonning,
    /// Watching a removal.
    WatchingRemoval,
    /// Leading from the clean side.
    Coordinating,
    /// Rested, and could go in.
    StandingBy,
    /// Free to watch the removal of somebody who comes out early.
    WouldWatchExit,
    /// Free, or dressed on post, to assist it.
    WouldAssistExit,
    /// On a break.
    Break,
    /// In the shower after the last removal.
    Shower,
}

/// One stretch of one person's night.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stretch {
    /// Who.
    pub person: PersonIx,
    /// What.
    pub doing: Doing,
    /// When. A hand-made rota may have its ends the wrong way round.
    pub span: Span,
    /// The room, for minutes inside.
    pub room: Option<RoomIx>,
    /// The lane, for removals and those who watch or assist them.
    pub lane: Option<LaneIx>,
    /// The number of the entry this belongs to.
    pub entry: Option<u32>,
    /// The place of the entry in the rota, for the entrant's own stretches.
    pub own_entry: Option<usize>,
    /// With whom: partners inside, whom one watches or assists, by whom one is watched and assisted.
    pub with: Vec<PersonIx>,
}

impl Stretch {
    fn new(person: PersonIx, doing: Doing, span: Span) -> Self {
        Self { person, doing, span, room: None, lane: None, entry: None, own_entry: None, with: Vec::new() }
    }
}

/// Every stretch of the rota by person, then in order of time. Stretches of no length are left out.
#[must_use]
pub fn stretches(night: &Night, rota: &Rota) -> Vec<Stretch> {
    let mut all = Vec::new();
    for ix in 0..rota.entries.len() {
        all.extend(of_entrant(night, rota, ix));
        all.extend(of_entry_helpers(night, &rota.entries[ix]));
    }
    for post in &rota.posts {
        all.extend(of_post(night, post));
        all.extend(of_post_helpers(night, post));
    }
    all.extend(rota.breaks.iter().map(|b| Stretch::new(b.person, Doing::Break, b.span)));
    let named = [Doing::Coordinating, Doing::StandingBy, Doing::WouldWatchExit, Doing::WouldAssistExit, Doing::Shower];
    for (doing, stints) in named.into_iter().zip(rota.stints()) {
        all.extend(stints.iter().map(|s| Stretch::new(s.person, doing, s.span)));
    }
    all.retain(|s| !s.span.is_empty());
    all.sort_by_key(|s| (s.person, s.span.from, s.span.to, s.doing));
    all
}

fn of_entrant(night: &Night, rota: &Rota, ix: usize) -> Vec<Stretch> {
    let entry = &rota.entries[ix];
    let donning = night.donning_of_entry(entry);
    let helpers = entry.observer.into_iter().chain(entry.assistant).collect();
    let parts = [
        (Doing::Donning, donning, Vec::from_iter(entry.donning_observer)),
        (Doing::AtDoor, Span::new(donning.to, entry.door_in), Vec::new()),
        (Doing::InRoom, Span::new(entry.door_in, entry.door_out), partners(rota, ix)),
        (Doing::WaitingForLane, Span::new(entry.door_out, entry.removal), Vec::new()),
        (Doing::Removal, Span::new(entry.removal, entry.off), helpers),
    ];
    let stretch = |(doing, span, with)| Stretch {
        room: (doing == Doing::InRoom).then_some(entry.room),
        lane: entry.lane.filter(|_| doing == Doing::Removal),
        entry: Some(entry.number),
        own_entry: Some(ix),
        with,
        ..Stretch::new(entry.person, doing, span)
    };
    parts.into_iter().map(stretch).collect()
}

/// Who is in the room for some of the same minutes.
fn partners(rota: &Rota, ix: usize) -> Vec<PersonIx> {
    let inside = |e: &Entry| Span::new(e.door_in, e.door_out);
    let this = &rota.entries[ix];
    let others = rota.entries.iter().enumerate().filter(|&(other, _)| other != ix);
    let mut people: Vec<_> = others
        .filter(|(_, e)| e.room == this.room && inside(e).overlaps(inside(this)))
        .map(|(_, e)| e.person)
        .collect();
    people.sort_unstable();
    people.dedup();
    people
}

fn of_entry_helpers(night: &Night, entry: &Entry) -> Vec<Stretch> {
    let removal = Span::new(entry.removal, entry.off);
    let helpers = [
        (entry.donning_observer, Doing::WatchingDonning, night.donning_of_entry(entry)),
        (entry.observer, Doing::WatchingRemoval, removal),
        (entry.assistant, Doing::Assisting, removal),
    ];
    helping(&helpers, entry.person, entry.lane, Some(entry.number))
}

fn of_post(night: &Night, post: &Post) -> Vec<Stretch> {
    let donning = night.donning_of_post(post);
    let doing = match post.role {
        PostRole::Assistant => Doing::PostAssistant,
        PostRole::Observer => Doing::PostObserver,
    };
    let parts = [
        (Doing::Donning, donning, post.donning_observer),
        (doing, Span::new(donning.to, post.removal), None),
        (Doing::Removal, Span::new(post.removal, post.off), post.observer),
    ];
    let stretch = |(doing, span, with): (Doing, Span, Option<PersonIx>)| Stretch {
        lane: post.lane.filter(|_| doing == Doing::Removal),
        with: Vec::from_iter(with),
        ..Stretch::new(post.person, doing, span)
    };
    parts.into_iter().map(stretch).collect()
}

fn of_post_helpers(night: &Night, post: &Post) -> Vec<Stretch> {
    let helpers = [
        (post.donning_observer, Doing::WatchingDonning, night.donning_of_post(post)),
        (post.observer, Doing::WatchingRemoval, Span::new(post.removal, post.off)),
    ];
    helping(&helpers, post.person, post.lane, None)
}

fn helping(
    helpers: &[(Option<PersonIx>, Doing, Span)],
    wearer: PersonIx,
    lane: Option<LaneIx>,
    entry: Option<u32>,
) -> Vec<Stretch> {
    let stretch = |&(helper, doing, span): &(Option<PersonIx>, Doing, Span)| {
        let person = helper?;
        let lane = lane.filter(|_| doing != Doing::WatchingDonning);
        Some(Stretch { lane, entry, with: vec![wearer], ..Stretch::new(person, doing, span) })
    };
    helpers.iter().filter_map(stretch).collect()
}
