//! OUT-BY: the latest door-out from which everyone still gets out within the limits (B3).
//!
//! Reckoned backwards from the last planned removal, over the removals of
//! entrants and of helpers alike: each has to be over in time for whoever needs
//! the same lane, observer or assistant after it.

use super::By;
use super::facts::{Facts, Of, Removal, Wear};
use super::faults::Faults;
use super::low_hours::latest_off;
use super::page::{COMMON_PRACTICE, Page};
use super::reach::within_reach;
use super::{respirators, rolling};
use crate::night::{CleanedBy, LaneIx, Minute, Minutes, Night, PersonIx, PostRole, Relief, Role, Rota, Rule, Span};

pub(super) const B3: Page = Page {
    does: "Says for each person the latest door-out, OUT-BY; nobody is planned out after it.",
    why: "People remember door times, not wear arithmetic. A time that forgets the queue at the lane makes the second \
          of two overrun.",
    formula: "alone: OUT-BY = start of wear + W - m - f. Else the least of that, the run time of the respirator, what \
              is left of C and of the days before, the next closure of the lane - f, and the latest removal start of \
              the next who needs the lane (- f - t), the observer (- f - reset or changeover - ready) or the assistant \
              (- f - cleaning), their own removals included",
    counts: "Minutes planned past it. Waiting for a lane is room to spare: OUT-BY is the latest start of removal. \
             Helpers are in date and on duty to the end of their part. Personal limits move the time shown and are \
             never a fault of this rule.",
    source: COMMON_PRACTICE,
};

/// Whose limits are kept.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Under {
    /// The unit's only: what a fault may be measured by.
    UnitLimits,
    /// Personal ones besides: what the sheet shows.
    EveryLimit,
}

/// OUT-BY of each entry of `rota`, in exact minutes, parallel to `rota.entries` (B3).
///
/// It is the latest door-out at which, with everyone inside leaving at their own
/// OUT-BY in the order of their planned removals, every wear limit is kept with
/// the lanes, observers and assistants reserved for them (section 9, row 23).
#[must_use]
pub fn out_by(night: &Night, rota: &Rota) -> Vec<Minute> {
    let rota = within_reach(night, rota);
    entries_latest(&Facts::of(night, &rota), Under::EveryLimit)
}

/// [`out_by`], brought forward where going one by one would leave too few
/// inside: those who would be left share the OUT-BY of the one before. Where nobody
/// comes out alone (D8), those planned out together share the earliest of theirs.
#[must_use]
pub fn out_by_together(night: &Night, rota: &Rota) -> Vec<Minute> {
    let mut latest = out_by(night, rota);
    if night.limits.relief == Relief::InPairs {
        latest = shared(rota, &latest);
    }
    let mut order: Vec<usize> = (0..latest.len()).collect();
    order.sort_by_key(|&i| (latest[i], i));
    for i in order {
        let at = latest[i];
        let inside = |j: usize| rota.entries[j].room == rota.entries[i].room && rota.entries[j].door_in <= at;
        let left: Vec<usize> = (0..latest.len()).filter(|&j| inside(j) && latest[j] > at).collect();
        if usize::try_from(night.limits.min_inside).is_ok_and(|least| left.len() < least) {
            for j in left {
                latest[j] = at;
            }
        }
    }
    latest
}

/// The earliest of those of a room who are planned out in the same minute.
fn shared(rota: &Rota, latest: &[Minute]) -> Vec<Minute> {
    let door = |i: usize| (rota.entries[i].room, rota.entries[i].door_out);
    let with = |i: usize| (0..latest.len()).filter(move |&j| door(j) == door(i)).map(|j| latest[j]);
    (0..latest.len()).map(|i| with(i).min().unwrap_or(latest[i])).collect()
}

/// B3 for every entry.
pub(super) fn not_too_late(facts: &Facts, faults: &mut Faults) {
    for (entry, latest) in facts.rota.entries.iter().zip(entries_latest(facts, Under::UnitLimits)) {
        let by = entry.door_out - latest;
        if by.0 > 0 {
            faults.add(Rule::B3, Span::new(latest, entry.door_out), &[entry.person], Some(By::Minutes(by)), || {
                let (id, out, latest) = (facts.id(entry.person), facts.at(entry.door_out), facts.at(latest));
                format!("{id} is planned out at {out}, {by} min after OUT-BY {latest}.")
            });
        }
    }
}

fn entries_latest(facts: &Facts, under: Under) -> Vec<Minute> {
    let mut backwards = Backwards::new(facts, under);
    for removal in facts.removals.iter().rev() {
        let latest = backwards.latest_start(removal);
        backwards.note(removal, latest);
    }
    backwards.entries
}

/// The removals looked at so far, from the last one back.
struct Backwards<'f, 'a> {
    facts: &'f Facts<'a>,
    under: Under,
    entries: Vec<Minute>,
    posts: Vec<Option<Minute>>,
    in_lane: Vec<Option<Next>>,
    watched_by: Vec<Option<Next>>,
    assisted_by: Vec<Option<Next>>,
}

/// The removal that needs something next, and its latest start.
#[derive(Clone, Copy)]
struct Next {
    of: Of,
    lane: Option<LaneIx>,
    latest: Minute,
}

impl<'f, 'a> Backwards<'f, 'a> {
    fn new(facts: &'f Facts<'a>, under: Under) -> Self {
        let people = facts.roster.people.len();
        Self {
            facts,
            under,
            entries: facts.rota.entries.iter().map(|e| e.removal).collect(),
            posts: vec![None; facts.rota.posts.len()],
            in_lane: vec![None; facts.roster.lanes.len()],
            watched_by: vec![None; people],
            assisted_by: vec![None; people],
        }
    }

    fn note(&mut self, removal: &Removal, latest: Minute) {
        match removal.of {
            Of::Entry(i) => self.entries[i] = latest,
            Of::Post(p) => self.posts[p] = Some(latest),
        }
        let next = Some(Next { of: removal.of, lane: removal.lane, latest });
        if let Some(lane) = removal.lane {
            self.in_lane[lane.0] = next;
        }
        if let Some(observer) = removal.observer {
            self.watched_by[observer.0] = next;
        }
        if let Some(assistant) = removal.assistant {
            self.assisted_by[assistant.0] = next;
        }
    }

    /// The latest start of a removal, with all later ones at theirs.
    fn latest_start(&self, removal: &Removal) -> Minute {
        let wear = self.facts.wear(removal.of);
        let takes = wear.kit.removal;
        let bounds = [
            Some(self.own_limits(wear)),
            respirators::latest_off(self.facts, wear).map(|off| off - takes),
            self.own_time_on_post(wear),
            self.lane(removal, takes),
            self.observer(removal, takes),
            self.assistant(removal, takes),
        ];
        bounds.into_iter().flatten().min().unwrap_or(removal.span.from)
    }

    /// What the wearer's continuous and cumulative wear, and that of the days before, allow.
    fn own_limits(&self, wear: &Wear) -> Minute {
        let takes = wear.kit.removal;
        let own = self.facts.roster.person(wear.person).own;
        let stricter = |unit: Minutes, own: Option<Minutes>| match self.under {
            Under::UnitLimits => unit,
            Under::EveryLimit => own.map_or(unit, |own| own.min(unit)),
        };
        let continuous = |unit| stricter(unit, own.max_wear) - wear.kit.margin;
        let low = wear.ensemble.and_then(|kit| self.facts.limits.low_hours_wear(kit)).map(continuous);
        let alone = latest_off(self.facts, wear.start, continuous(wear.kit.max_wear), low);
        let alone = rolling::latest_off(self.facts, wear, alone) - takes;
        let percent = wear.kit.cumulative_percent;
        if percent <= 0 {
            return alone;
        }
        let most = stricter(self.facts.limits.cumulative_wear, own.cumulative_wear);
        let left = most.0 * 100 - (self.facts.cumulative_centi(wear.person) - wear.centi());
        alone.min(wear.start + Minutes(left.div_euclid(percent)) - takes)
    }

    /// A helper in a kit is in date and on duty to the end of the own removal, and still has time to shower.
    fn own_time_on_post(&self, wear: &Wear) -> Option<Minute> {
        let Of::Post(p) = wear.of else { return None };
        let role = self.facts.rota.posts[p].role.sign_off();
        Some(self.there_until(wear.person, role, self.facts.limits.shower) - wear.kit.removal)
    }

    /// Until when someone is in date as `role`, and on duty with `after` to spare.
    fn there_until(&self, person: PersonIx, role: Role, after: Minutes) -> Minute {
        let on_duty = self.facts.roster.person(person).on_duty.to - after;
        let through = self.facts.in_date_through(person, role);
        through.map_or(on_duty, |day| on_duty.min(self.facts.roster.end_of_day(day)))
    }

    /// Before the next closure, and in time for the next in the lane.
    fn lane(&self, removal: &Removal, takes: Minutes) -> Option<Minute> {
        let lane = removal.lane?;
        let closures = self.facts.roster.lanes[lane.0].closures.iter();
        let shut = closures.filter(|c| c.to > removal.span.from).map(|c| c.from - takes).min();
        let next = self.in_lane[lane.0].map(|next| {
            let cleaning = if self.follows(removal, next.of) { Minutes::ZERO } else { self.facts.limits.cleaning };
            next.latest - takes - cleaning
        });
        shut.into_iter().chain(next).min()
    }

    /// Whether `next` is the own removal, at once in the same lane, of the assistant of `removal`.
    fn follows(&self, removal: &Removal, next: Of) -> bool {
        matches!((removal.of, next), (Of::Entry(e), Of::Post(p)) if self.facts.at_once[p] == Some(e))
    }

    /// In time for the next whom the observer watches, for the observer's own removal, and for going home.
    fn observer(&self, removal: &Removal, takes: Minutes) -> Option<Minute> {
        let observer = removal.observer?;
        let limits = self.facts.limits;
        let next = self.watched_by[observer.0].map(|next| {
            let between = if self.follows(removal, next.of) {
                Minutes::ZERO
            } else {
                limits.observer_reset.max(self.between_lanes(removal.lane, next.lane)) + limits.observer_ready
            };
            next.latest - takes - between
        });
        let over = match self.facts.spell(observer, PostRole::Observer, removal.span) {
            Some(post) => self.posts[post].map(|own| own - limits.observer_reset - takes),
            None => Some(self.there_until(observer, Role::DoffingObserver, limits.observer_reset) - takes),
        };
        next.into_iter().chain(over).min()
    }

    fn between_lanes(&self, first: Option<LaneIx>, next: Option<LaneIx>) -> Minutes {
        let moves = matches!((first, next), (Some(a), Some(b)) if a != b);
        if moves { self.facts.limits.changeover } else { Minutes::ZERO }
    }

    /// In time for the next whom the assistant helps, for the assistant's own removal, and for going home.
    fn assistant(&self, removal: &Removal, takes: Minutes) -> Option<Minute> {
        let assistant = removal.assistant?;
        let post = self.facts.spell(assistant, PostRole::Assistant, removal.span);
        let at_once = post.is_some_and(|p| self.follows(removal, Of::Post(p)));
        let cleans = self.facts.limits.cleaned_by == CleanedBy::Assistant && !at_once;
        let cleaning = if cleans { self.facts.limits.cleaning } else { Minutes::ZERO };
        let next = self.assisted_by[assistant.0]
            .map(|next| next.latest - self.between_lanes(removal.lane, next.lane) - cleaning - takes);
        let over = match post {
            Some(post) => self.posts[post].map(|own| own - cleaning - takes),
            None => Some(self.there_until(assistant, Role::Assistant, cleaning) - takes),
        };
        next.into_iter().chain(over).min()
    }
}
