//! Keeps the times of a rota where they can be reckoned with.

use std::borrow::Cow;

use crate::night::{BreakTaken, Entry, Minute, Minutes, Night, Post, Rota, Span, TaskDone};

/// Beyond everyone's time on duty by this much, every time is equally wrong:
/// more than any rest, and little enough for sums to stay small.
const MARGIN: Minutes = Minutes(28 * 24 * 60);

/// The rota with every time weeks away from the shift moved to the nearest
/// minute within reach. It is off duty there too, so no fault is lost.
pub(super) fn within_reach<'a>(night: &Night, rota: &'a Rota) -> Cow<'a, Rota> {
    let reach = reach(night);
    if times(rota).all(|at| reach.contains(at)) {
        return Cow::Borrowed(rota);
    }
    let mut moved = rota.clone();
    let near = |at: Minute| at.clamp(reach.from, reach.to - Minutes(1));
    moved.entries.iter_mut().for_each(|e| move_entry(e, near));
    moved.posts.iter_mut().for_each(|p| move_post(p, near));
    moved.breaks.iter_mut().for_each(|b| b.span = Span::new(near(b.span.from), near(b.span.to)));
    moved.tasks.iter_mut().for_each(|t| t.start = near(t.start));
    let stints = moved.coordinators.iter_mut().chain(&mut moved.standby).chain(&mut moved.showers);
    stints.for_each(|s| s.span = Span::new(near(s.span.from), near(s.span.to)));
    Cow::Owned(moved)
}

fn reach(night: &Night) -> Span {
    let shift = night.roster.shift;
    let spans = || night.roster.people.iter().map(|p| p.on_duty).chain([shift]);
    let from = spans().map(|s| s.from.min(s.to)).min().unwrap_or(shift.from);
    let to = spans().map(|s| s.to.max(s.from)).max().unwrap_or(shift.to);
    Span::new(from - MARGIN, to + MARGIN)
}

fn times(rota: &Rota) -> impl Iterator<Item = Minute> {
    let entries = rota.entries.iter().flat_map(|e: &Entry| [e.don, e.door_in, e.door_out, e.removal, e.off]);
    let posts = rota.posts.iter().flat_map(|p: &Post| [p.don, p.removal, p.off]);
    let breaks = rota.breaks.iter().flat_map(|b: &BreakTaken| [b.span.from, b.span.to]);
    let stints = rota.coordinators.iter().chain(&rota.standby).chain(&rota.showers);
    let stints = stints.flat_map(|s| [s.span.from, s.span.to]);
    entries.chain(posts).chain(breaks).chain(stints).chain(rota.tasks.iter().map(|t: &TaskDone| t.start))
}

fn move_entry(entry: &mut Entry, near: impl Fn(Minute) -> Minute) {
    for at in [&mut entry.don, &mut entry.door_in, &mut entry.door_out, &mut entry.removal, &mut entry.off] {
        *at = near(*at);
    }
}

fn move_post(post: &mut Post, near: impl Fn(Minute) -> Minute) {
    for at in [&mut post.don, &mut post.removal, &mut post.off] {
        *at = near(*at);
    }
}
