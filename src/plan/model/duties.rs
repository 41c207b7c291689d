//! The curves of each group: what its people may do and when.

use crate::night::{EnsembleIx, Night, PostRole, Span};

use super::super::ability::{Wearing, Window};
use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::Col;
use super::early_exit::ExitHelp;
use super::{Group, Grouping, Model};

/// A group's way through one room.
#[derive(Clone, Debug)]
pub struct Visits {
    /// Donning starts.
    pub don: Curve,
    /// Door-ins.
    pub door_in: Curve,
    /// Door-outs.
    pub door_out: Curve,
    /// Removal starts, by lane group.
    pub removal: Vec<Curve>,
}

/// Entering.
#[derive(Clone, Debug)]
pub struct Entering {
    /// Kit and limits.
    pub wearing: Wearing,
    /// By room.
    pub rooms: Vec<Visits>,
}

/// Spells in a doffing-area kit.
#[derive(Clone, Debug)]
pub struct Posting {
    /// Kit and limits.
    pub wearing: Wearing,
    /// Donning starts.
    pub don: Curve,
    /// Own removals that begin where and when a removal they assisted ends, by
    /// room ensemble and lane group. Assistants only.
    pub at_once: Vec<Vec<Curve>>,
    /// Other own removals, by lane group; a single curve without a lane for observers.
    pub later: Vec<Curve>,
}

/// Watching removals, by lane group.
#[derive(Clone, Debug)]
pub struct WatchingRemovals {
    /// An entrant's removal, by room ensemble.
    pub entrant: Vec<Vec<Curve>>,
    /// An entrant's removal and the assistant's own straight after, by room ensemble.
    pub both: Vec<Vec<Curve>>,
    /// An assistant's own removal.
    pub assistant: Vec<Curve>,
}

/// Everything a group may do, as curves. A duty that nobody may do is absent.
#[derive(Clone, Debug, Default)]
pub struct Duties {
    /// Entering rooms.
    pub entering: Option<Entering>,
    /// On post as assistant.
    pub assisting: Option<Posting>,
    /// On post as observer, where observers wear a kit.
    pub observing: Option<Posting>,
    /// Removals assisted, by room ensemble and lane group.
    pub assists: Vec<Vec<Curve>>,
    /// Removals watched.
    pub watches: Option<WatchingRemovals>,
    /// Own removals of observers watched, where the unit has them watched.
    pub watches_observer: Curve,
    /// Donnings watched, by ensemble of the constraint set.
    pub watches_donning: Vec<Curve>,
    /// People at it in a slot, where one may watch several donnings at once.
    pub donning_heads: Vec<Option<Col>>,
    /// Breaks.
    pub breaks: Curve,
    /// Showers begun, where places are limited (F2); empty else.
    pub showers: Curve,
    /// People who coordinate in a slot (F7); empty where nobody may.
    pub coordinating: Vec<Option<Col>>,
    /// People who stand by in a slot (E1); empty where nobody may.
    pub standing_by: Vec<Option<Col>>,
    /// People who could watch the removal of somebody who comes out early (C8).
    pub exit_watch: ExitHelp,
    /// People who could assist it (C8).
    pub exit_assist: ExitHelp,
    /// People inside a stretch of watching in a slot (C11).
    pub stretch: Vec<Option<Col>>,
}

/// A kind of event that a curve counts.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Event {
    /// An entrant starts donning.
    Don,
    /// Through the door.
    DoorIn,
    /// Out of the room.
    DoorOut,
    /// An entrant's removal starts.
    Removal,
    /// An assistant starts donning.
    AssistantDon,
    /// An assistant's own removal starts straight after one they assisted.
    AssistantAtOnce,
    /// An assistant's own removal starts.
    AssistantLater,
    /// An observer in a kit starts donning.
    ObserverDon,
    /// An observer's own removal starts.
    ObserverRemoval,
    /// Starts to assist.
    Assist,
    /// Starts to watch an entrant's removal.
    WatchEntrant,
    /// The same and the assistant's own straight after.
    WatchBoth,
    /// Starts to watch an assistant's own removal.
    WatchAssistant,
    /// Starts to watch an observer's own removal.
    WatchObserver,
    /// Starts to watch a donning.
    WatchDonning,
    /// Starts a break.
    Break,
    /// Starts a shower.
    Shower,
}

type Keyed<'a> = (Event, usize, usize, &'a Curve);

impl Duties {
    /// What the group may wear.
    pub fn wearings(&self) -> impl Iterator<Item = &Wearing> {
        let posts = self.assisting.iter().chain(&self.observing).map(|posting| &posting.wearing);
        self.entering.iter().map(|entering| &entering.wearing).chain(posts)
    }

    /// Every curve with its kind of event, room or ensemble, and lane group.
    pub fn curves(&self) -> Vec<Keyed<'_>> {
        let mut all: Vec<Keyed<'_>> = vec![(Event::Break, 0, 0, &self.breaks), (Event::Shower, 0, 0, &self.showers)];
        for (room, visits) in self.entering.iter().flat_map(|e| e.rooms.iter().enumerate()) {
            let steps =
                [(Event::Don, &visits.don), (Event::DoorIn, &visits.door_in), (Event::DoorOut, &visits.door_out)];
            all.extend(steps.map(|(event, curve)| (event, room, 0, curve)));
            all.extend(by_lane(Event::Removal, room, &visits.removal));
        }
        if let Some(posting) = &self.assisting {
            all.push((Event::AssistantDon, 0, 0, &posting.don));
            all.extend(by_kind_and_lane(Event::AssistantAtOnce, &posting.at_once));
            all.extend(by_lane(Event::AssistantLater, 0, &posting.later));
        }
        if let Some(posting) = &self.observing {
            all.push((Event::ObserverDon, 0, 0, &posting.don));
            all.push((Event::ObserverRemoval, 0, 0, &posting.later[0]));
        }
        all.extend(by_kind_and_lane(Event::Assist, &self.assists));
        if let Some(watches) = &self.watches {
            all.extend(by_kind_and_lane(Event::WatchEntrant, &watches.entrant));
            all.extend(by_kind_and_lane(Event::WatchBoth, &watches.both));
            all.extend(by_lane(Event::WatchAssistant, 0, &watches.assistant));
        }
        all.push((Event::WatchObserver, 0, 0, &self.watches_observer));
        all.extend(self.watches_donning.iter().enumerate().map(|(of, curve)| (Event::WatchDonning, of, 0, curve)));
        all
    }
}

fn by_lane(event: Event, of: usize, curves: &[Curve]) -> impl Iterator<Item = Keyed<'_>> {
    curves.iter().enumerate().map(move |(lane, curve)| (event, of, lane, curve))
}

fn by_kind_and_lane(event: Event, kinds: &[Vec<Curve>]) -> impl Iterator<Item = Keyed<'_>> {
    kinds.iter().enumerate().flat_map(move |(kind, lanes)| by_lane(event, kind, lanes))
}

impl Model {
    /// Creates the curves of every group.
    pub(super) fn add_duties(&mut self, night: &Night) {
        for place in 0..self.groups.len() {
            let group = self.groups[place].clone();
            let duties = Maker { model: self, night, group: &group }.duties();
            self.duties.push(duties);
        }
    }

    /// Whether a break that starts at `slot` lies in one of the windows for breaks (F3).
    pub(super) fn break_allowed(&self, night: &Night, slot: Slot) -> bool {
        let length = night.limits.breaks.map_or(0, |b| self.grid.up(b.length));
        let span = Span::new(self.grid.minute(slot), self.grid.minute(slot + length));
        let windows = &night.roster.break_windows;
        windows.is_empty() || windows.iter().any(|w| w.covers(span))
    }

    /// Whether a removal of `length` may start at `slot` in a lane of the group (C9).
    pub(super) fn lane_open(&self, lane: usize, slot: Slot, length: Slot) -> bool {
        let from = self.grid.minute(slot);
        let to = self.grid.minute(slot + length);
        let span = Span::new(from, to);
        !self.lanes[lane].closures.iter().any(|c| c.overlaps(span))
    }
}

/// Makes the curves of one group.
struct Maker<'a> {
    model: &'a mut Model,
    night: &'a Night,
    group: &'a Group,
}

impl Maker<'_> {
    fn duties(&mut self) -> Duties {
        let ability = self.group.ability.clone();
        let kitted = ability.observe_in_kit.as_ref();
        let watch = match self.night.limits.observer_kit {
            None => ability.observe_removal,
            Some(_) => kitted.map(on_post),
        };
        let help = ability.assist.as_ref().map(on_post).or_else(|| self.help_without_kit(ability.assist_without_kit));
        Duties {
            entering: ability.enter.as_ref().map(|w| self.entering(w)),
            assists: help.map(|w| self.assists(w)).unwrap_or_default(),
            assisting: ability.assist.as_ref().map(|w| self.posting(w, PostRole::Assistant)),
            observing: kitted.map(|w| self.posting(w, PostRole::Observer)),
            watches: watch.map(|w| self.watches(w)),
            watches_observer: ability.observe_removal.map(|w| self.watches_observer(w)).unwrap_or_default(),
            watches_donning: ability.observe_donning.map(|w| self.watches_donning(w)).unwrap_or_default(),
            breaks: self.breaks(ability.break_from, ability.on_duty.end),
            ..Duties::default()
        }
    }

    fn curve(&mut self, first: Slot, last: Slot, at_once: i64) -> Curve {
        let slots = i64::from(self.model.grid.slots);
        Curve::new(&mut self.model.program, first, last, at_once, at_once * slots)
    }

    fn entering(&mut self, wearing: &Wearing) -> Entering {
        let n = self.group.count();
        let Window { first, end } = wearing.window;
        let stay = self.model.grid.up(self.night.limits.min_stay).max(1);
        let last_removal = end - wearing.removal;
        let first_in = first + wearing.donning;
        let rooms = self.night.roster.rooms.iter();
        let rooms = rooms
            .map(|_| {
                let don = self.curve(first, last_removal - stay - wearing.donning, n);
                let door_in = match self.model.grouping {
                    // With observers for every donning nobody has to wait at the door for a partner.
                    Grouping::Entrants => don.later(wearing.donning),
                    Grouping::Alike | Grouping::Single => self.curve(first_in, last_removal - stay, n),
                };
                let door_out = self.curve(first_in + stay, last_removal, n);
                let removal = self.removals(first_in + stay, last_removal, wearing.removal);
                Visits { don, door_in, door_out, removal }
            })
            .collect();
        Entering { wearing: wearing.clone(), rooms }
    }

    /// Removal starts by lane group, shut where a closure would cut into the removal.
    fn removals(&mut self, first: Slot, last: Slot, length: Slot) -> Vec<Curve> {
        let n = self.group.count();
        (0..self.model.lanes.len())
            .map(|lane| {
                let most = n.min(i64::try_from(self.model.lanes[lane].members.len()).unwrap_or(n));
                let curve = self.curve(first, last, most);
                for slot in curve.slots().filter(|&slot| !self.model.lane_open(lane, slot, length)).collect::<Vec<_>>()
                {
                    curve.close(&mut self.model.program, slot);
                }
                curve
            })
            .collect()
    }

    fn posting(&mut self, wearing: &Wearing, role: PostRole) -> Posting {
        let n = self.group.count();
        let Window { first, end } = wearing.window;
        let first_off = first + wearing.donning;
        let last = end - wearing.removal;
        let don = self.curve(first, last - wearing.donning, n);
        let (at_once, later) = match role {
            PostRole::Assistant => {
                let kinds = self.model.ensembles.len();
                let at_once = (0..kinds).map(|_| self.removals(first_off, last, wearing.removal)).collect();
                (at_once, self.removals(first_off, last, wearing.removal))
            }
            PostRole::Observer => (vec![], vec![self.curve(first_off, last, n)]),
        };
        Posting { wearing: wearing.clone(), don, at_once, later }
    }

    /// Slots an entrant's removal takes, by place in [`Model::ensembles`].
    fn removal_of(&self, place: usize) -> Slot {
        self.model.grid.up(self.night.limits.ensemble(self.model.ensembles[place]).removal)
    }

    fn own_removal(&self) -> Slot {
        let kit = self.night.limits.assistant_kit;
        kit.map_or(0, |kit| self.model.grid.up(self.night.limits.ensemble(kit).removal))
    }

    /// When removals may be assisted without a kit: the cleaning that is theirs still fits in.
    fn help_without_kit(&self, window: Option<Window>) -> Option<Window> {
        let cleaning = self.model.assistant_cleaning_slots(self.night);
        window.map(|w| Window { end: w.end - cleaning, ..w })
    }

    fn assists(&mut self, window: Window) -> Vec<Vec<Curve>> {
        let Window { first, end } = window;
        (0..self.model.ensembles.len())
            .map(|place| {
                let length = self.removal_of(place);
                self.removals(first, end - length, length)
            })
            .collect()
    }

    fn watches(&mut self, window: Window) -> WatchingRemovals {
        let Window { first, end } = window;
        let own = self.own_removal();
        let kinds = 0..self.model.ensembles.len();
        WatchingRemovals {
            entrant: kinds.clone().map(|p| self.watch(first, end, self.removal_of(p))).collect(),
            both: kinds.map(|p| self.watch(first, end, self.removal_of(p) + own)).collect(),
            assistant: if own > 0 { self.watch(first, end, own) } else { vec![] },
        }
    }

    fn watch(&mut self, first: Slot, end: Slot, length: Slot) -> Vec<Curve> {
        self.removals(first, end - length, length)
    }

    fn watches_observer(&mut self, window: Window) -> Curve {
        let watched = |kit: EnsembleIx| self.night.limits.ensemble(kit).removal_watched;
        let Some(kit) = self.night.limits.observer_kit.filter(|&k| watched(k)) else {
            return Curve::default();
        };
        let length = self.model.grid.up(self.night.limits.ensemble(kit).removal);
        self.curve(window.first, window.end - length, self.group.count())
    }

    fn watches_donning(&mut self, window: Window) -> Vec<Curve> {
        let most = self.group.count() * i64::from(self.night.limits.donning_capacity);
        let ensembles = self.night.limits.ensembles.iter();
        ensembles
            .map(|ensemble| {
                let length = self.model.grid.up(ensemble.donning);
                let last = window.end - length;
                if ensemble.donning_watched { self.curve(window.first, last, most) } else { Curve::default() }
            })
            .collect()
    }

    fn breaks(&mut self, from: Slot, end: Slot) -> Curve {
        let Some(rule) = self.night.limits.breaks else {
            return Curve::default();
        };
        let length = self.model.grid.up(rule.length);
        let curve = self.curve(from, end - length, self.group.count());
        for slot in curve.slots() {
            if !self.model.break_allowed(self.night, slot) {
                curve.close(&mut self.model.program, slot);
            }
        }
        curve
    }
}

/// When someone in a kit can be of use: between their donning and their removal.
fn on_post(wearing: &Wearing) -> Window {
    Window { first: wearing.window.first + wearing.donning, end: wearing.window.end - wearing.removal }
}
