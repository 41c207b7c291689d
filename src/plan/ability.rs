//! What each person may do tonight, and between which slots.

use crate::night::{
    Apart, CleanDuty, EnsembleIx, LoggedWear, Minute, Minutes, Night, Person, PersonIx, PostRole, Role, WornIn,
};

use super::grid::{Grid, Slot};
use super::respirators;

/// A stretch of slots in which a duty may lie: it starts at `first` or later
/// and ends at `end` or earlier.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Window {
    /// Earliest start.
    pub first: Slot,
    /// Latest end.
    pub end: Slot,
}

impl Window {
    fn not_empty(self) -> Option<Self> {
        (self.first < self.end).then_some(self)
    }
}

/// Wearing one ensemble, with this person's limits in slots.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Wearing {
    /// Which ensemble.
    pub ensemble: EnsembleIx,
    /// In which size.
    pub size: String,
    /// From the start of donning to last item off.
    pub window: Window,
    /// Whole donning.
    pub donning: Slot,
    /// From the start of donning to the first minute of wear; `None` when wear counts from the door.
    pub before_wear: Option<Slot>,
    /// Whole removal.
    pub removal: Slot,
    /// Longest wear: limit less margin.
    pub max_wear: Slot,
    /// Longest wear where it shares a minute with low hours, less margin; `None` without low hours.
    pub low_wear: Option<Slot>,
    /// No duty of any sort after removal.
    pub recovery: Slot,
    /// Hundredths that one minute counts in cumulative wear.
    pub percent: i64,
    /// The respirator, where a rota says which.
    pub respirator: Option<RespiratorWorn>,
}

/// The model one person wears all night, and what its units need (G2).
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct RespiratorWorn {
    /// Which.
    pub model: String,
    /// In which size; `None` where any will do.
    pub size: Option<String>,
    /// From the start of donning until it is put on.
    pub before: Slot,
    /// What is known of units that come back into use; nothing is asked of others.
    pub in_turn: Option<InTurn>,
}

/// How the units of a model come back into use.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct InTurn {
    /// The longest from putting it on to last item off, less the margin.
    pub run: Option<Slot>,
    /// From last item off until a unit may be put on again.
    pub turnaround: Slot,
}

impl Wearing {
    /// Slots from the start of donning to the first of wear, for someone who waits at no door.
    pub fn worn_from(&self) -> Slot {
        self.before_wear.unwrap_or(self.donning)
    }
}

/// Everything that decides whether two people are interchangeable (section 9, row 25).
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Ability {
    /// Entering a room.
    pub enter: Option<Wearing>,
    /// Assisting, in a kit.
    pub assist: Option<Wearing>,
    /// Assisting where assistants wear no kit: removal and the cleaning that is theirs.
    pub assist_without_kit: Option<Window>,
    /// Watching removals, in a kit.
    pub observe_in_kit: Option<Wearing>,
    /// Watching removals without a kit, `[removal start, off)`; ready and reset lie in `on_duty`.
    /// Where observers wear a kit this is for watching their own removals only.
    pub observe_removal: Option<Window>,
    /// Watching donnings.
    pub observe_donning: Option<Window>,
    /// On duty and out of carried-in recovery.
    pub on_duty: Window,
    /// On duty in the planned shift, whole slots that the stretch touches: what breaks are counted over.
    pub paid: Window,
    /// Breaks may start after this.
    pub break_from: Slot,
    /// Cumulative wear still allowed, in hundredths of a minute.
    pub wear_left: i64,
    /// Wear before tonight, from a log, where the unit has a limit over days (B7).
    pub logged: Vec<LoggedWear>,
    /// Personal rest, where longer than the unit's.
    pub own_rest: Slot,
    /// Skills, sorted.
    pub skills: Vec<String>,
    /// Enters only beside a preceptor (A5).
    pub supervised: bool,
    /// Is a preceptor in entries whose removal ends by this slot; set only where somebody is supervised.
    pub preceptor_until: Option<Slot>,
    /// Set for a person who is kept apart from somebody: nobody else is like that.
    pub unlike_others: Option<PersonIx>,
    /// Slots of the huddles they are in (F1).
    pub huddles: Vec<Window>,
    /// Slots in which they may coordinate (F7).
    pub coordinate: Option<Window>,
    /// Slots in which they may stand by: every minute of each leaves time to go in and come out (E1).
    pub stand_by: Option<Window>,
    /// Watching the removal of somebody who comes out early, where observers wear no kit (C8).
    pub exit_observe: Option<Window>,
    /// By when a shower ends, where places are limited; it may be after the shift (F2).
    pub shower_until: Option<Slot>,
    /// Set for a person of whom the roster pins or forbids something: nobody else is like that (H6).
    pub settled: Option<PersonIx>,
}

impl Ability {
    /// What matters of it for entering, if they may enter: helpers, breaks and
    /// people kept apart are left out, so more is possible than really is.
    #[must_use]
    pub fn for_entering(self) -> Option<Self> {
        let never = Window { first: 0, end: 0 };
        Some(Self {
            enter: Some(self.enter?),
            assist: None,
            assist_without_kit: None,
            observe_in_kit: None,
            observe_removal: None,
            observe_donning: None,
            on_duty: never,
            paid: never,
            break_from: 0,
            shower_until: None,
            coordinate: None,
            exit_observe: None,
            unlike_others: None,
            ..self
        })
    }

    /// The same of somebody who may have no duty tonight (F8).
    fn without_duties(self) -> Self {
        Self {
            enter: None,
            assist: None,
            assist_without_kit: None,
            observe_in_kit: None,
            observe_removal: None,
            observe_donning: None,
            preceptor_until: None,
            coordinate: None,
            stand_by: None,
            exit_observe: None,
            ..self
        }
    }
}

/// What `person` may do tonight.
pub fn ability(night: &Night, grid: &Grid, ix: PersonIx) -> Ability {
    let person = night.roster.person(ix);
    let from = duty_from(night, person);
    let recovered = from.max(recovered_at(night, person));
    let kit = |role| night.post_ensemble(role);
    let mut skills = person.skills.clone();
    skills.sort();
    let as_entrant = night.enters_as(ix);
    let enter = night.room_ensemble(ix).and_then(|e| wearing(night, grid, ix, as_entrant, e));
    let able = Ability {
        preceptor_until: preceptor_until(night, grid, ix, enter.as_ref()),
        stand_by: standing_by(night, grid, ix, enter.as_ref()),
        enter,
        assist: kit(PostRole::Assistant).and_then(|e| wearing(night, grid, ix, Role::Assistant, e)),
        assist_without_kit: assisting_without_kit(night, grid, person),
        observe_in_kit: kit(PostRole::Observer).and_then(|e| wearing(night, grid, ix, Role::DoffingObserver, e)),
        observe_removal: person
            .doffing_area_today
            .then(|| watching(night, grid, person, CleanDuty::DoffingObserver))
            .flatten(),
        observe_donning: watching(night, grid, person, CleanDuty::DonningObserver),
        on_duty: Window { first: start(grid, recovered), end: end(grid, person.on_duty.to) },
        paid: Window {
            first: grid.at_or_before(person.on_duty.from).max(0),
            end: grid.at_or_after(person.on_duty.to).min(grid.slots),
        },
        break_from: start(grid, if breaks_in_recovery(night) { from } else { recovered }),
        wear_left: wear_left(night, person),
        logged: logged(night, ix),
        own_rest: grid.up(person.own.rest.unwrap_or(Minutes::ZERO)),
        shower_until: night.shower_places().map(|_| showered_by(night, grid, person)),
        skills,
        huddles: huddles(night, grid, ix),
        supervised: night.is_supervised(ix),
        coordinate: coordinating(night, grid, person),
        exit_observe: exit_observing(night, grid, person),
        unlike_others: is_kept_apart(night, ix).then_some(ix),
        settled: is_settled(night, ix).then_some(ix),
    };
    if night.works_too_much(ix) { able.without_duties() } else { able }
}

fn start(grid: &Grid, at: Minute) -> Slot {
    grid.at_or_after(at).max(0)
}

fn end(grid: &Grid, at: Minute) -> Slot {
    grid.at_or_before(at).min(grid.slots)
}

/// Off duty, or once all who come out at the end of the shift can have showered, one after another.
fn showered_by(night: &Night, grid: &Grid, person: &Person) -> Slot {
    let people = Slot::try_from(night.roster.people.len()).unwrap_or(Slot::MAX);
    let everybody = people.saturating_mul(grid.up(night.limits.shower));
    grid.at_or_before(person.on_duty.to).min(grid.slots.saturating_add(everybody))
}

fn breaks_in_recovery(night: &Night) -> bool {
    night.limits.breaks.is_some_and(|b| b.recovery_counts)
}

/// On duty and the gap since the last shift over (A3, F4).
fn duty_from(night: &Night, person: &Person) -> Minute {
    let rested = person.last_off_duty.map(|off| off + night.limits.shift_gap);
    rested.map_or(person.on_duty.from, |at| at.max(person.on_duty.from))
}

/// On duty, and rested from the last removal before tonight for as long as `rest` says.
fn rested_from(night: &Night, person: &Person, rest: impl Fn(EnsembleIx) -> Minutes) -> Minute {
    let from = duty_from(night, person);
    person.last_removal.map_or(from, |last| from.max(last.off + rest(last.ensemble)))
}

fn recovered_at(night: &Night, person: &Person) -> Minute {
    person.last_removal.map_or(person.on_duty.from, |last| last.off + night.limits.ensemble(last.ensemble).recovery)
}

fn own_rest(person: &Person) -> Minutes {
    person.own.rest.unwrap_or(Minutes::ZERO)
}

fn wear_left(night: &Night, person: &Person) -> i64 {
    let unit = night.limits.cumulative_wear;
    let limit = person.own.cumulative_wear.map_or(unit, |own| own.min(unit));
    (limit.0 - person.worn_before.0) * 100
}

/// Nobody's log makes them unlike others where no limit asks for it.
fn logged(night: &Night, ix: PersonIx) -> Vec<LoggedWear> {
    let asked = !night.limits.rolling_wear.is_empty();
    let mine = night.roster.wear_log.iter().filter(|logged| asked && logged.person == ix);
    let mut all: Vec<LoggedWear> = mine.map(|logged| LoggedWear { person: PersonIx(0), ..*logged }).collect();
    all.sort_unstable();
    all
}

/// Coordinating, where the unit has it and the person is signed off for it.
fn coordinating(night: &Night, grid: &Grid, person: &Person) -> Option<Window> {
    let signed = night.good_until(person, Role::Coordinator).filter(|_| night.limits.coordinator)?;
    let from = rested_from(night, person, |worn| night.limits.full_rest(worn).max(own_rest(person)));
    Window { first: start(grid, from), end: end(grid, signed.min(person.on_duty.to)) }.not_empty()
}

/// Standing by, where the unit has it: from the last slot an entry as short as can be would still come out in time.
fn standing_by(night: &Night, grid: &Grid, ix: PersonIx, enter: Option<&Wearing>) -> Option<Window> {
    let enter = enter.filter(|_| night.limits.standby.is_some() && !night.is_supervised(ix))?;
    let stay = grid.up(night.limits.min_stay).max(1);
    let fits = enter.donning - enter.worn_from() + stay + enter.removal <= enter.max_wear;
    let end = enter.window.end - enter.donning - stay - enter.removal;
    Window { first: enter.window.first, end }.not_empty().filter(|_| fits)
}

/// Free to watch an early exit without a kit, from the first minute to the end of that removal.
fn exit_observing(night: &Night, grid: &Grid, person: &Person) -> Option<Window> {
    let limits = &night.limits;
    let asked = limits.early_exit.is_some() && limits.observer_kit.is_none() && person.doffing_area_today;
    let signed = night.good_until(person, Role::DoffingObserver).filter(|_| asked)?;
    let duty = CleanDuty::DoffingObserver;
    let from = rested_from(night, person, |worn| limits.rest_before_clean_duty(worn, duty).max(own_rest(person)));
    Window { first: start(grid, from), end: end(grid, signed.min(person.on_duty.to)) }.not_empty()
}

fn huddles(night: &Night, grid: &Grid, ix: PersonIx) -> Vec<Window> {
    let mine = night.roster.huddles.iter().filter(|huddle| huddle.people.contains(&ix)).map(|huddle| huddle.span);
    mine.map(|span| Window { first: grid.at_or_before(span.from), end: grid.at_or_after(span.to) }).collect()
}

fn is_settled(night: &Night, ix: PersonIx) -> bool {
    night.roster.pins.iter().any(|pin| pin.person == ix) || night.roster.forbidden.iter().any(|f| f.person == ix)
}

/// Until when someone who enters is a preceptor (A5). Where it outlasts every
/// entry of theirs, the end of those says so.
fn preceptor_until(night: &Night, grid: &Grid, ix: PersonIx, enter: Option<&Wearing>) -> Option<Slot> {
    let roster = &night.roster;
    if night.is_supervised(ix) || !roster.person_indices().any(|other| night.is_supervised(other)) {
        return None;
    }
    let signed = night.good_until(roster.person(ix), Role::Preceptor)?;
    let window = enter?.window;
    Some(end(grid, signed).min(window.end)).filter(|&until| until > window.first)
}

fn is_kept_apart(night: &Night, ix: PersonIx) -> bool {
    let scopes = [Apart::Room, Apart::Observer, Apart::Assistant];
    night.roster.person_indices().any(|other| scopes.iter().any(|&s| night.roster.kept_apart(ix, other, s)))
}

/// Wearing `ensemble` in `role`, if signed off, lately done, fitted, sized and flagged for it (A1, A2, A3, A4, A9).
fn wearing(night: &Night, grid: &Grid, ix: PersonIx, role: Role, ensemble: EnsembleIx) -> Option<Wearing> {
    let (person, kit) = (night.roster.person(ix), night.limits.ensemble(ensemble));
    let allowed = if kit.worn_in == WornIn::Room { person.enter_today } else { person.doffing_area_today };
    if !allowed {
        return None;
    }
    let size = person.size_in(ensemble)?;
    let signed = night.good_until(person, role)?;
    let says = night.limits.says_respirator(ensemble);
    let respirator = if says { Some(respirators::worn(night, ix, ensemble)?) } else { None };
    let fitted = match &respirator {
        Some((_, fitted)) => *fitted,
        None => respirators::fitted_until(night, ix, ensemble)?,
    };
    let paid = person.on_duty.to - night.limits.shower;
    let from = rested_from(night, person, |worn| {
        let recovery = night.limits.ensemble(worn).recovery;
        night.limits.rest_between(worn, ensemble).max(recovery).max(own_rest(person))
    });
    let limit = |unit: Minutes| grid.down(person.own.max_wear.map_or(unit, |own| own.min(unit)) - kit.margin);
    let window = Window { first: start(grid, from), end: end(grid, signed.min(fitted).min(paid)) }.not_empty()?;
    Some(Wearing {
        ensemble,
        size: size.to_owned(),
        window,
        donning: grid.up(kit.donning),
        before_wear: night.limits.donning_before_wear(ensemble).map(|m| grid.down(m)),
        removal: grid.up(kit.removal),
        max_wear: limit(kit.max_wear),
        low_wear: night.limits.low_hours_wear(ensemble).map(limit),
        recovery: grid.up(kit.recovery),
        percent: kit.cumulative_percent,
        respirator: respirator.map(|(model, _)| respirator_worn(night, grid, ix, ensemble, model)),
    })
}

fn respirator_worn(night: &Night, grid: &Grid, ix: PersonIx, ensemble: EnsembleIx, model: &str) -> RespiratorWorn {
    let kit = night.limits.ensemble(ensemble);
    let size = night.respirator_size(ix, ensemble, model).ok().flatten().map(|fit| fit.size.clone());
    let in_turn = night.limits.respirator(model).map(|respirator| InTurn {
        run: respirator.longest_run().map(|run| grid.down(run)),
        turnaround: grid.up(respirator.turnaround()),
    });
    RespiratorWorn { model: model.to_owned(), size, before: grid.down(kit.donning - kit.sealed), in_turn }
}

/// Assisting without a kit, if signed off and flagged for it and the unit has no kit for it.
fn assisting_without_kit(night: &Night, grid: &Grid, person: &Person) -> Option<Window> {
    if night.limits.assistant_kit.is_some() || !person.doffing_area_today {
        return None;
    }
    let signed = night.good_until(person, Role::Assistant)?;
    let from = rested_from(night, person, |worn| night.limits.full_rest(worn).max(own_rest(person)));
    Window { first: start(grid, from), end: end(grid, signed.min(person.on_duty.to)) }.not_empty()
}

/// Watching without a kit, if signed off for it.
fn watching(night: &Night, grid: &Grid, person: &Person, duty: CleanDuty) -> Option<Window> {
    let role = match duty {
        CleanDuty::DonningObserver => Role::DonningObserver,
        CleanDuty::DoffingObserver => Role::DoffingObserver,
    };
    let signed = night.good_until(person, role)?;
    let from = rested_from(night, person, |worn| rest_before(night, person, worn, duty));
    let (ready, reset) = match duty {
        CleanDuty::DonningObserver => (0, 0),
        CleanDuty::DoffingObserver => (grid.up(night.limits.observer_ready), grid.up(night.limits.observer_reset)),
    };
    let last = end(grid, signed).min(end(grid, person.on_duty.to) - reset);
    Window { first: start(grid, from) + ready, end: last }.not_empty()
}

/// Rest before a duty without a kit, the person's own included (B5, A8).
fn rest_before(night: &Night, person: &Person, worn: EnsembleIx, duty: CleanDuty) -> Minutes {
    let unit = night.limits.rest_before_clean_duty(worn, duty);
    if night.limits.inside_rest.contains(&duty) { unit } else { unit.max(own_rest(person)) }
}
