//! How long one person goes on watching (C11).

use super::By;
use super::facts::Facts;
use super::faults::Faults;
use super::low_hours;
use super::page::Page;
use super::reach::within_reach;
use crate::night::{Minute, Minutes, Night, PersonIx, Rota, Rule, Span};

pub(super) const C11: Page = Page {
    does: "Nobody watches for longer than the unit allows without a pause long enough to count.",
    why: "An observer who has watched too long no longer sees.",
    formula: "end of a watch - start of the first since a pause >= b, at most V",
    counts: "Minutes over. Donnings and removals together, ready and reset time included; shorter pauses count as \
             watching; time on post without watching is a pause.",
    source: super::page::COMMON_PRACTICE,
};

/// One donning or removal as whoever watches it sees it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct OnWatch {
    /// Who watches.
    pub observer: PersonIx,
    /// Busy with it, ready and reset time included.
    pub busy: Span,
    /// Whom they watch.
    pub wearer: PersonIx,
    /// Since when they have been watching without a pause that counts (C11).
    pub since: Minute,
}

/// Everything that is watched, by observer, then in order of time.
///
/// Where the unit sets no limit on watching, any pause ends a watch.
#[must_use]
pub fn on_watch(night: &Night, rota: &Rota) -> Vec<OnWatch> {
    let rota = within_reach(night, rota);
    watches(&Facts::of(night, &rota), night.limits.watching.map_or(Minutes(1), |limit| limit.pause))
}

/// Donning and removal watches count together; a pause of `pause` ends a stretch of them.
fn watches(facts: &Facts, pause: Minutes) -> Vec<OnWatch> {
    let donnings = facts.donnings.iter().filter_map(|d| Some((d.observer?, d.span, d.wearer)));
    let mut all: Vec<OnWatch> = donnings
        .chain(facts.watches.iter().map(|w| (w.observer, w.busy, w.wearer)))
        .map(|(observer, busy, wearer)| OnWatch { observer, busy, wearer, since: busy.from })
        .collect();
    all.sort_unstable();
    for watches in all.chunk_by_mut(|a, b| a.observer == b.observer) {
        let mut stretch = watches[0].busy;
        for watch in &mut watches[1..] {
            if watch.busy.from - stretch.to >= pause {
                stretch = watch.busy;
            }
            stretch.to = stretch.to.max(watch.busy.to);
            watch.since = stretch.from;
        }
    }
    all
}

/// C11 for everyone who watches, where the unit sets a limit.
pub(super) fn not_too_long(facts: &Facts, faults: &mut Faults) {
    let Some(limit) = facts.limits.watching else { return };
    for stretch in watches(facts, limit.pause).chunk_by(|a, b| (a.observer, a.since) == (b.observer, b.since)) {
        let to = stretch.iter().map(|watch| watch.busy.to).max().unwrap_or(stretch[0].since);
        too_long(facts, faults, stretch[0].observer, Span::new(stretch[0].since, to));
    }
}

fn too_long(facts: &Facts, faults: &mut Faults, observer: PersonIx, stretch: Span) {
    let Some(limit) = facts.limits.watching else { return };
    let by = stretch.length() - limit.max;
    if by.0 > 0 {
        faults.add(Rule::C11, stretch, &[observer], Some(By::Minutes(by)), || {
            let (id, times, length) = (facts.id(observer), facts.times(stretch), stretch.length());
            format!("{id} watches {times}, {length} min without a pause of {}: {by} min too long.", limit.pause)
        });
    } else {
        low_hours::shorter_watch(facts, faults, observer, stretch);
    }
}
