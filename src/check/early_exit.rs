//! Somebody inside who has to come out early finds a lane, an observer and an assistant (C8).

use super::By;
use super::facts::{Facts, Of};
use super::faults::Faults;
use super::low_hours::latest_off_of;
use super::page::Page;
use super::rescue::{inside, is_free, is_rested, named};
use super::sign_off::fits_until;
use crate::night::{CleanDuty, EnsembleIx, LaneIx, Minute, Minutes, PersonIx, PostRole, Rule, Span, Stint};

pub(super) const C8: Page = Page {
    does: "While anyone is inside, a removal that nobody planned could start within the unit's minutes.",
    why: "Whoever feels faint or tears a glove comes out at once, and cannot wait, dressed, for helpers who are busy.",
    formula: "at every minute t with anyone inside, in some one minute u of t..t+e: a lane free and clean, a named \
              observer free, a named assistant free who is dressed by then (on post, or donning begun at t or later); \
              all three for as long as a removal takes",
    counts: "Minutes in which no such minute follows. Nobody counts who is in a duty, on break, in recovery or rest, \
             named to coordinate or to stand by, off duty or out of date before the removal and their own would be \
             over; nor who wears a kit and would pass its longest wear. Kits on the shelf, wear in the shift, \
             changeover and people kept apart are not counted: the early exit takes the place of a planned one. Where \
             the unit reports a shortage, the minutes are counted at level 1 and are no fault.",
    source: super::page::COMMON_PRACTICE,
};

/// C8, where the unit refuses a shortage.
pub(super) fn covered(facts: &Facts, faults: &mut Faults) {
    let Some(exit) = facts.limits.early_exit.filter(|exit| !exit.report) else { return };
    for span in uncovered(facts) {
        faults.add(Rule::C8, span, &[], Some(By::Minutes(span.length())), || {
            format!(
                "Somebody is inside {} and could not be seen to within {} min if they had to come out: {}.",
                facts.times(span),
                exit.within,
                "no lane, observer and assistant are free together"
            )
        });
    }
}

/// The longest stretches with somebody inside in which no early exit could be seen to.
pub(super) fn uncovered(facts: &Facts) -> Vec<Span> {
    let Some(exit) = facts.limits.early_exit else { return vec![] };
    let mut all: Vec<Span> = Vec::new();
    for inside in inside(facts) {
        let ready = Ready::of(facts, Span::new(inside.from, inside.to + exit.within));
        for at in (inside.from.0..inside.to.0).map(Minute).filter(|&at| !ready.within(at, exit.within)) {
            match all.last_mut() {
                Some(last) if last.to == at => last.to = at + Minutes(1),
                _ => all.push(Span::new(at, at + Minutes(1))),
            }
        }
    }
    all
}

/// For every minute of a stretch, how long before it somebody has to begin donning for a removal to start in it.
struct Ready {
    from: Minute,
    ahead: Vec<Option<Minutes>>,
}

impl Ready {
    fn of(facts: &Facts, span: Span) -> Self {
        let (length, assisted) = facts.limits.longest_exit();
        let observers = Helpers::named(facts, &facts.rota.exit_observers, PostRole::Observer, length);
        let assistants = Helpers::named(facts, &facts.rota.exit_assistants, PostRole::Assistant, length);
        // Whoever is not dressed has been free since the donning that they would have begun.
        let longest = observers.donning().max(assistants.donning());
        let (mut watch, mut assist) = (observers.counting(), assistants.counting());
        let mut ahead = Vec::new();
        for at in ((span.from - longest).0..=span.to.0).map(Minute) {
            let (watching, assisting) = (watch.at(at), assist.at(at));
            if at >= span.from {
                let lane = (0..facts.roster.lanes.len()).any(|lane| lane_free(facts, LaneIx(lane), at, length));
                let soonest = if assisted { together(&watching, &assisting) } else { soonest(&watching) };
                ahead.push(soonest.filter(|_| lane));
            }
        }
        Self { from: span.from, ahead }
    }

    fn within(&self, at: Minute, most: Minutes) -> bool {
        let first = usize::try_from((at - self.from).0).unwrap_or(0);
        let mut minutes = self.ahead.iter().skip(first).zip(0..=most.0);
        minutes.any(|(ahead, later)| ahead.is_some_and(|ahead| ahead.0 <= later))
    }
}

/// Somebody who could start in a minute, and how long before it they would have begun to dress.
type Able = (PersonIx, Minutes);

fn soonest(able: &[Able]) -> Option<Minutes> {
    able.iter().map(|able| able.1).min()
}

/// The soonest two different people.
fn together(watching: &[Able], assisting: &[Able]) -> Option<Minutes> {
    let pairs = watching.iter().flat_map(|w| assisting.iter().map(move |a| (w, a)));
    pairs.filter(|(w, a)| w.0 != a.0).map(|(w, a)| w.1.max(a.1)).min()
}

/// Whether a removal of some length could start in a lane: nobody in it, clean, not shut before its end (C9).
fn lane_free(facts: &Facts, lane: LaneIx, at: Minute, length: Minutes) -> bool {
    let mine = facts.removals.iter().filter(|r| r.lane == Some(lane));
    let held = mine.map(|r| Span::new(r.span.from, r.span.to + facts.limits.cleaning)).any(|held| held.contains(at));
    let going = Span::new(at, at + length);
    !held && !facts.roster.lanes[lane.0].closures.iter().any(|shut| shut.overlaps(going))
}

/// Those named for one part in an early exit.
struct Helpers<'f> {
    facts: &'f Facts<'f>,
    stints: &'f [Stint],
    role: PostRole,
    kit: Option<EnsembleIx>,
    /// Minutes of the removal.
    length: Minutes,
}

impl<'f> Helpers<'f> {
    fn named(facts: &'f Facts<'f>, stints: &'f [Stint], role: PostRole, length: Minutes) -> Self {
        Self { facts, stints, role, kit: facts.night.post_ensemble(role), length }
    }

    fn donning(&self) -> Minutes {
        self.kit.map_or(Minutes::ZERO, |kit| self.facts.limits.ensemble(kit).donning)
    }

    fn counting(&self) -> Counting<'_> {
        Counting { helpers: self, free_for: vec![Minutes::ZERO; self.facts.roster.people.len()] }
    }

    /// Signed off, on duty and not forbidden to the end of a removal, and of their own where they wear a kit.
    fn lasts(&self, person: PersonIx, at: Minute) -> bool {
        let (facts, limits) = (self.facts, self.facts.limits);
        let who = facts.roster.person(person);
        let over = at + self.length;
        let (off, shower) =
            self.kit.map_or((over, Minutes::ZERO), |kit| (over + limits.ensemble(kit).removal, limits.shower));
        let in_date = facts.past_in_date(person, self.role.sign_off(), off).is_ok_and(|past| past.0 == 0);
        let forbidden = facts.roster.forbids(person, self.role.sign_off(), Span::new(at, off));
        who.doffing_area_today && in_date && !forbidden && off + shower <= who.on_duty.to && self.fitted(person, off)
    }

    fn fitted(&self, person: PersonIx, off: Minute) -> bool {
        let Some(kit) = self.kit else { return true };
        let sized = self.facts.roster.person(person).size_in(kit).is_some();
        sized && fits_until(self.facts, person, kit, off)
    }

    /// Named, and not also to coordinate or to stand by.
    fn is_named(&self, person: PersonIx, at: Minute) -> bool {
        let (rota, limits) = (self.facts.rota, self.facts.limits);
        let elsewhere = |asked: bool, stints: &[Stint]| asked && named(stints, at).any(|other| other == person);
        !elsewhere(limits.coordinator, &rota.coordinators) && !elsewhere(limits.standby.is_some(), &rota.standby)
    }

    /// Rested enough to begin: to don where they wear a kit, else to watch or assist (B4, B5).
    fn rested(&self, person: PersonIx, at: Minute) -> bool {
        let limits = self.facts.limits;
        is_rested(self.facts, person, at, |worn| match (self.kit, self.role) {
            (Some(kit), _) => limits.rest_between(worn, kit),
            (None, PostRole::Observer) => limits.rest_before_clean_duty(worn, CleanDuty::DoffingObserver),
            (None, PostRole::Assistant) => limits.full_rest(worn),
        })
    }

    /// Dressed on post, with nothing to do in that minute, and with wear left for a removal and their own.
    fn dressed(&self, person: PersonIx, at: Minute) -> bool {
        let facts = self.facts;
        let posts = facts.rota.posts.iter().enumerate().filter(|(_, p)| p.person == person && p.role == self.role);
        let busy = match self.role {
            PostRole::Observer => facts.watches.iter().any(|w| w.observer == person && w.busy.contains(at)),
            PostRole::Assistant => {
                facts.assists.iter().any(|a| a.assistant == person && Span::new(a.removal.from, a.until).contains(at))
            }
        };
        !busy && posts.into_iter().any(|(p, _)| facts.on_post(p).contains(at) && self.worn_no_longer_than_may_be(p, at))
    }

    fn worn_no_longer_than_may_be(&self, post: usize, at: Minute) -> bool {
        let wear = self.facts.wear(Of::Post(post));
        wear.ensemble.is_some_and(|kit| self.wear_left(wear.person, kit, wear.start, at))
    }

    /// Whether donning just before a minute leaves wear for a removal in it and their own.
    fn fresh(&self, person: PersonIx, at: Minute) -> bool {
        self.kit.is_none_or(|kit| {
            let before = self.facts.limits.donning_before_wear(kit).unwrap_or(self.donning());
            self.wear_left(person, kit, at - self.donning() + before, at)
        })
    }

    /// Whether a wear since `start` may last through a removal that starts `at`, and their own (B2, B10).
    fn wear_left(&self, person: PersonIx, kit: EnsembleIx, start: Minute, at: Minute) -> bool {
        let own_removal = self.facts.limits.ensemble(kit).removal;
        at + self.length + own_removal <= latest_off_of(self.facts, person, kit, start)
    }
}

/// Goes through the minutes one by one.
struct Counting<'h> {
    helpers: &'h Helpers<'h>,
    /// By person: how long they have been named, free and rested, the minute itself included.
    free_for: Vec<Minutes>,
}

impl Counting<'_> {
    /// Those who could start in a minute. The minutes are asked for in order.
    fn at(&mut self, at: Minute) -> Vec<Able> {
        let helpers = self.helpers;
        let facts = helpers.facts;
        let names: Vec<PersonIx> = named(helpers.stints, at).filter(|&person| helpers.is_named(person, at)).collect();
        let mut able = Vec::new();
        for person in facts.roster.person_indices() {
            let listed = names.contains(&person);
            let free = listed && is_free(facts, person, at) && helpers.rested(person, at);
            let so_far = &mut self.free_for[person.0];
            *so_far = if free { *so_far + Minutes(1) } else { Minutes::ZERO };
            if !listed || !helpers.lasts(person, at) {
                continue;
            }
            if helpers.kit.is_some() && helpers.dressed(person, at) {
                able.push((person, Minutes::ZERO));
            } else if *so_far > helpers.donning() && helpers.fresh(person, at) {
                able.push((person, helpers.donning()));
            }
        }
        able
    }
}
