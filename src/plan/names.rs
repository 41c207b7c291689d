//! From a solution of the single-person program to a rota with names.

use crate::night::{
    Apart, BreakTaken, EnsembleIx, Entry, LaneIx, Night, PersonIx, Post, PostRole, RoomIx, Rota, Span, Stint,
};
use crate::night::{TaskDone, TaskIx};

use super::ability::Wearing;
use super::curve::Curve;
use super::grid::Slot;
use super::model::{Duties, Model, Posting};
use super::on_call;
use super::program::{Col, in_slot};

/// Reads a rota off `point`. The model must be one of single people and lanes.
pub fn rota(night: &Night, model: &Model, point: &[i64]) -> Rota {
    let reader = Reader { night, model, point };
    let mut rota = Rota {
        roster: night.roster.name.clone(),
        constraint_set: night.limits.name.clone(),
        issue: 1,
        ..Rota::default()
    };
    for (group, duties) in model.staffed() {
        reader.person(group.members[0], duties, &mut rota);
    }
    for (task, starts) in model.tasks.iter().enumerate() {
        let done = starts.iter().filter(|(_, col)| point[col.0] > 0);
        rota.tasks.extend(done.map(|&(slot, _)| TaskDone { task: TaskIx(task), start: model.grid.minute(slot) }));
    }
    let stays: Vec<Span> = rota.entries.iter().map(|e| Span::new(e.door_in, e.door_out)).collect();
    rota.coordinators = reader.stints(&stays, 1, |duties| &duties.coordinating);
    let responders = night.limits.standby.map_or(0, |standby| standby.responders);
    rota.standby = reader.stints(&stays, responders, |duties| &duties.standing_by);
    [rota.exit_observers, rota.exit_assistants] = on_call::stints(night, model, point, &stays);
    reader.name_donning_observers(&mut rota);
    reader.name_observers_of_observers(&mut rota);
    rota.put_in_order();
    rota
}

fn model_of(wearing: &Wearing) -> Option<String> {
    wearing.respirator.as_ref().map(|worn| worn.model.clone())
}

struct Reader<'a> {
    night: &'a Night,
    model: &'a Model,
    point: &'a [i64],
}

/// One removal: its slot, lane and, of an assistant's own, whether it is at once.
#[derive(Clone, Copy)]
struct Removal {
    slot: Slot,
    lane: Option<LaneIx>,
}

impl Reader<'_> {
    /// Slots of a curve's events, in order, repeated where several share one.
    fn events(&self, curve: &Curve) -> Vec<Slot> {
        let times = |slot| usize::try_from(curve.count(self.point, slot)).unwrap_or(0);
        curve.slots().flat_map(|slot| std::iter::repeat_n(slot, times(slot))).collect()
    }

    /// Those at it while somebody is inside, at most so many at a time: who was at it before goes on.
    fn stints(&self, stays: &[Span], most: u32, of: impl Fn(&Duties) -> &Vec<Option<Col>>) -> Vec<Stint> {
        let mut stints: Vec<Stint> = Vec::new();
        for slot in 0..self.model.grid.slots {
            let (from, to) = (self.model.grid.minute(slot), self.model.grid.minute(slot + 1));
            if !stays.iter().any(|stay| stay.overlaps(Span::new(from, to))) {
                continue;
            }
            let at_it = |(_, duties): &(&super::model::Group, &Duties)| {
                in_slot(of(duties), slot).is_some_and(|col| self.point[col.0] > 0)
            };
            let mut people: Vec<PersonIx> =
                self.model.staffed().filter(at_it).map(|(group, _)| group.members[0]).collect();
            let goes_on = |person: &PersonIx| stints.iter().any(|s| s.person == *person && s.span.to == from);
            people.sort_by_key(|person| !goes_on(person));
            for person in people.into_iter().take(most as usize) {
                match stints.iter_mut().find(|s| s.person == person && s.span.to == from) {
                    Some(stint) => stint.span.to = to,
                    None => stints.push(Stint { person, span: Span::new(from, to) }),
                }
            }
        }
        stints
    }

    fn happens(&self, curve: Option<&Curve>, slot: Slot) -> bool {
        curve.is_some_and(|c| c.count(self.point, slot) > 0)
    }

    fn lane(&self, lane: usize) -> LaneIx {
        self.model.lanes[lane].members[0]
    }

    fn person(&self, person: PersonIx, duties: &Duties, rota: &mut Rota) {
        if let Some(entering) = &duties.entering {
            for (room, visits) in entering.rooms.iter().enumerate() {
                let removals = self.removals(visits.removal.iter().enumerate().map(|(lane, c)| (Some(lane), c)));
                let steps = self.events(&visits.don).into_iter().zip(self.events(&visits.door_in));
                let steps = steps.zip(self.events(&visits.door_out)).zip(removals);
                for (((don, door_in), door_out), removal) in steps {
                    let steps = (don, door_in, door_out);
                    rota.entries.push(self.entry(person, &entering.wearing, RoomIx(room), steps, removal));
                }
            }
        }
        for (posting, role) in duties
            .assisting
            .iter()
            .map(|p| (p, PostRole::Assistant))
            .chain(duties.observing.iter().map(|p| (p, PostRole::Observer)))
        {
            self.posts(person, posting, role, rota);
        }
        let length = self.night.limits.breaks.map_or(0, |b| self.model.grid.up(b.length));
        for slot in self.events(&duties.breaks) {
            let span = Span::new(self.model.grid.minute(slot), self.model.grid.minute(slot + length));
            rota.breaks.push(BreakTaken { person, span });
        }
        rota.showers.extend(self.shower(person, duties, rota));
    }

    /// The shower after the last removal: one before another wear only held a place.
    fn shower(&self, person: PersonIx, duties: &Duties, rota: &Rota) -> Option<Stint> {
        let wore =
            rota.entries.iter().any(|e| e.person == person) || rota.posts.iter().any(|post| post.person == person);
        let slot = self.events(&duties.showers).into_iter().last().filter(|_| wore)?;
        let length = self.model.grid.up(self.night.limits.shower);
        let span = Span::new(self.model.grid.minute(slot), self.model.grid.minute(slot + length));
        Some(Stint { person, span })
    }

    fn removals<'c>(&self, curves: impl Iterator<Item = (Option<usize>, &'c Curve)>) -> Vec<Removal> {
        let mut removals: Vec<Removal> = curves
            .flat_map(|(lane, curve)| {
                let lane = lane.map(|lane| self.lane(lane));
                self.events(curve).into_iter().map(move |slot| Removal { slot, lane })
            })
            .collect();
        removals.sort_by_key(|r| r.slot);
        removals
    }

    fn entry(
        &self,
        person: PersonIx,
        wearing: &Wearing,
        room: RoomIx,
        steps: (Slot, Slot, Slot),
        removal: Removal,
    ) -> Entry {
        let minute = |slot| self.model.grid.minute(slot);
        let ensemble = wearing.ensemble;
        Entry {
            number: 0,
            person,
            room,
            don: minute(steps.0),
            door_in: minute(steps.1),
            door_out: minute(steps.2),
            removal: minute(removal.slot),
            off: minute(removal.slot + wearing.removal),
            lane: removal.lane,
            donning_observer: None,
            observer: self.removal_observer(ensemble, removal),
            assistant: self.assistant(ensemble, removal),
            respirator: model_of(wearing),
        }
    }

    fn kind(&self, ensemble: EnsembleIx) -> usize {
        self.model.ensembles.iter().position(|&e| e == ensemble).expect("every entrant's ensemble was listed")
    }

    /// Who does what `curve_of` picks out at a removal.
    fn who(&self, curve_of: impl Fn(&Duties) -> Option<&Curve>, slot: Slot) -> Option<PersonIx> {
        let mut staffed = self.model.staffed();
        staffed.find(|(_, duties)| self.happens(curve_of(duties), slot)).map(|(group, _)| group.members[0])
    }

    fn lane_place(&self, lane: Option<LaneIx>) -> Option<usize> {
        self.model.lanes.iter().position(|group| Some(group.members[0]) == lane)
    }

    fn removal_observer(&self, ensemble: EnsembleIx, removal: Removal) -> Option<PersonIx> {
        let (kind, lane) = (self.kind(ensemble), self.lane_place(removal.lane)?);
        let alone = self.who(|d| d.watches.as_ref().map(|w| &w.entrant[kind][lane]), removal.slot);
        alone.or_else(|| self.who(|d| d.watches.as_ref().map(|w| &w.both[kind][lane]), removal.slot))
    }

    fn assistant(&self, ensemble: EnsembleIx, removal: Removal) -> Option<PersonIx> {
        let (kind, lane) = (self.kind(ensemble), self.lane_place(removal.lane)?);
        self.who(|d| d.assists.get(kind).map(|lanes| &lanes[lane]), removal.slot)
    }

    fn posts(&self, person: PersonIx, posting: &Posting, role: PostRole, rota: &mut Rota) {
        let in_lane = |lane| (role == PostRole::Assistant).then_some(lane);
        let at_once = posting.at_once.iter().flat_map(|lanes| lanes.iter().enumerate());
        let curves = at_once.chain(posting.later.iter().enumerate()).map(|(lane, c)| (in_lane(lane), c));
        let removals = self.removals(curves);
        let minute = |slot| self.model.grid.minute(slot);
        for (don, removal) in self.events(&posting.don).into_iter().zip(removals) {
            rota.posts.push(Post {
                person,
                role,
                don: minute(don),
                removal: minute(removal.slot),
                off: minute(removal.slot + posting.wearing.removal),
                lane: removal.lane,
                donning_observer: None,
                observer: self.own_removal_observer(removal),
                respirator: model_of(&posting.wearing),
            });
        }
    }

    /// Who watches an assistant's own removal; `None` for removals outside a lane.
    fn own_removal_observer(&self, removal: Removal) -> Option<PersonIx> {
        let lane = self.lane_place(removal.lane)?;
        let alone = self.who(|d| d.watches.as_ref().and_then(|w| w.assistant.get(lane)), removal.slot);
        alone.or_else(|| {
            self.model.ensembles.iter().enumerate().find_map(|(kind, &ensemble)| {
                let before = removal.slot - self.model.grid.up(self.night.limits.ensemble(ensemble).removal);
                self.who(|d| d.watches.as_ref().map(|w| &w.both[kind][lane]), before)
            })
        })
    }

    /// Hands each donning that is watched to one of those who watch donnings that start then.
    fn name_donning_observers(&self, rota: &mut Rota) {
        for ensemble in (0..self.night.limits.ensembles.len()).map(EnsembleIx) {
            for slot in 0..self.model.grid.slots {
                let watchers = self.watchers(|d| d.watches_donning.get(ensemble.0), slot);
                if watchers.is_empty() {
                    continue;
                }
                let at = self.model.grid.minute(slot);
                let night = self.night;
                let entries =
                    rota.entries.iter_mut().filter(|e| e.don == at && night.room_ensemble(e.person) == Some(ensemble));
                let mut open: Vec<(PersonIx, &mut Option<PersonIx>)> =
                    entries.map(|e| (e.person, &mut e.donning_observer)).collect();
                let posts =
                    rota.posts.iter_mut().filter(|p| p.don == at && night.post_ensemble(p.role) == Some(ensemble));
                open.extend(posts.map(|p| (p.person, &mut p.donning_observer)));
                self.hand_out(open, &watchers);
            }
        }
    }

    /// The same for observers' own removals, where those are watched.
    fn name_observers_of_observers(&self, rota: &mut Rota) {
        for slot in 0..self.model.grid.slots {
            let watchers = self.watchers(|d| Some(&d.watches_observer), slot);
            if watchers.is_empty() {
                continue;
            }
            let at = self.model.grid.minute(slot);
            let posts = rota.posts.iter_mut().filter(|p| p.removal == at && p.role == PostRole::Observer);
            self.hand_out(posts.map(|p| (p.person, &mut p.observer)).collect(), &watchers);
        }
    }

    /// Those who start watching something in a slot, once for each thing watched.
    fn watchers(&self, curve_of: impl Fn(&Duties) -> Option<&Curve>, slot: Slot) -> Vec<PersonIx> {
        let mut watchers = Vec::new();
        for (group, duties) in self.model.staffed() {
            let times = curve_of(duties).map_or(0, |c| usize::try_from(c.count(self.point, slot)).unwrap_or(0));
            watchers.extend(std::iter::repeat_n(group.members[0], times));
        }
        watchers
    }

    /// Matches those watched with their watchers, keeping apart who is to be kept apart.
    fn hand_out(&self, mut open: Vec<(PersonIx, &mut Option<PersonIx>)>, watchers: &[PersonIx]) {
        let watched: Vec<PersonIx> = open.iter().map(|(person, _)| *person).collect();
        let mut pairing = vec![None; watched.len()];
        self.pair_up(&watched, watchers, &mut pairing, 0);
        for ((_, place), watcher) in open.iter_mut().zip(pairing) {
            **place = watcher.map(|w: usize| watchers[w]);
        }
    }

    /// Depth-first matching; a handful of people at most.
    fn pair_up(&self, watched: &[PersonIx], watchers: &[PersonIx], pairing: &mut [Option<usize>], next: usize) -> bool {
        let Some(&person) = watched.get(next) else { return true };
        for (place, &watcher) in watchers.iter().enumerate() {
            if pairing.contains(&Some(place)) || self.night.roster.kept_apart(person, watcher, Apart::Observer) {
                continue;
            }
            pairing[next] = Some(place);
            if self.pair_up(watched, watchers, pairing, next + 1) {
                return true;
            }
            pairing[next] = None;
        }
        false
    }
}
