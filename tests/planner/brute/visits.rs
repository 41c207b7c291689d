//! Every set of entries that keeps the rules about entrants, rooms and lanes.

use std::collections::BTreeMap;

use anteroom::night::{Apart, EnsembleIx, Minute, Night, PersonIx, Relief, Role, RoomIx};

use super::people::{At, People};

/// One entry without its helpers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Visit {
    pub person: usize,
    pub room: usize,
    pub lane: usize,
    pub ensemble: EnsembleIx,
    pub don: At,
    pub donned: At,
    pub door_in: At,
    pub door_out: At,
    pub removal: At,
    pub off: At,
    /// Hundredths of a minute that it adds to cumulative wear.
    pub centi: i64,
}

/// Lists sets of entries.
pub struct Visits<'a> {
    night: &'a Night,
    people: &'a People<'a>,
    /// For each person what they may do all night: no entry, one, or more that follow each other.
    nights: Vec<Vec<Vec<Visit>>>,
}

/// Where the walk through all sets stands.
struct Walk<'w> {
    set: Vec<Visit>,
    steps: u64,
    found: &'w mut dyn FnMut(&[Visit]),
}

impl<'a> Visits<'a> {
    pub fn new(night: &'a Night, people: &'a People<'a>) -> Self {
        let mut visits = Self { night, people, nights: vec![] };
        for person in people.all() {
            let single = visits.single(person);
            let mut nights = vec![vec![]];
            visits.extend(person, &single, &mut vec![], &mut nights);
            visits.nights.push(nights);
        }
        visits
    }

    /// Calls `found` with every set; `None` when that takes too many steps.
    pub fn each_set(&self, steps: u64, found: &mut dyn FnMut(&[Visit])) -> Option<()> {
        let mut walk = Walk { set: vec![], steps, found };
        self.walk(0, &mut walk)
    }

    fn walk(&self, person: usize, walk: &mut Walk<'_>) -> Option<()> {
        let Some(nights) = self.nights.get(person) else {
            if self.whole_set_holds(&walk.set) {
                (walk.found)(&walk.set);
            }
            return Some(());
        };
        for own in nights {
            walk.steps = walk.steps.checked_sub(1)?;
            let before = walk.set.len();
            if own.iter().all(|new| walk.set.iter().all(|old| self.fit(old, new))) {
                walk.set.extend(own);
                if self.kits_suffice(&walk.set) && self.never_too_many(&walk.set) {
                    self.walk(person + 1, walk)?;
                }
                walk.set.truncate(before);
            }
        }
        Some(())
    }

    /// Sequences of entries of one person.
    fn extend(&self, person: usize, single: &[Visit], sequence: &mut Vec<Visit>, nights: &mut Vec<Vec<Visit>>) {
        if self.night.limits.entries_max.is_some_and(|most| sequence.len() >= most as usize) {
            return;
        }
        for next in single {
            let rested = |last: &Visit| next.don >= last.off + self.people.rest(person, last.ensemble, next.ensemble);
            let worn: i64 = sequence.iter().chain([next]).map(|v| v.centi).sum();
            if sequence.last().is_none_or(rested) && worn <= self.people.wear_left(person) {
                sequence.push(*next);
                nights.push(sequence.clone());
                self.extend(person, single, sequence, nights);
                sequence.pop();
            }
        }
    }

    /// Every single entry of one person.
    fn single(&self, person: usize) -> Vec<Visit> {
        let mut all = vec![];
        let Some(ensemble) = self.night.room_ensemble(PersonIx(person)) else { return all };
        let role = if self.people.supervised(person) { Role::SupervisedEntrant } else { Role::Entrant };
        let Some((from, to)) = self.people.may_wear(person, role, ensemble) else { return all };
        let limits = &self.night.limits;
        let kit = limits.ensemble(ensemble);
        let stay = limits.min_stay.0.max(self.people.grid);
        for don in self.people.points(from, to) {
            let donned = don + kit.donning.0;
            for door_in in self.people.points(donned, to) {
                for door_out in self.people.points(door_in + stay, to) {
                    for removal in self.people.points(door_out, to - kit.removal.0) {
                        let off = removal + kit.removal.0;
                        let start = limits.donning_before_wear(ensemble).map_or(door_in, |before| don + before.0);
                        if off > self.people.to || off - start > self.people.max_wear(person, ensemble) {
                            continue;
                        }
                        let centi = (off - start) * kit.cumulative_percent;
                        let times = Visit {
                            person,
                            room: 0,
                            lane: 0,
                            ensemble,
                            don,
                            donned,
                            door_in,
                            door_out,
                            removal,
                            off,
                            centi,
                        };
                        self.add_places(times, &mut all);
                    }
                }
            }
        }
        all
    }

    fn add_places(&self, times: Visit, all: &mut Vec<Visit>) {
        for room in 0..self.night.roster.rooms.len() {
            for lane in 0..self.night.roster.lanes.len() {
                if self.people.lane_open(lane, times.removal, times.off) {
                    all.push(Visit { room, lane, ..times });
                }
            }
        }
    }

    /// Whether two entries of different people may stand side by side.
    fn fit(&self, one: &Visit, other: &Visit) -> bool {
        let cleaning = self.night.limits.cleaning.0;
        let lane = one.lane != other.lane || one.off + cleaning <= other.removal || other.off + cleaning <= one.removal;
        let together = one.room == other.room && one.door_in < other.door_out && other.door_in < one.door_out;
        lane && !(together && self.people.apart(one.person, other.person, Apart::Room))
    }

    fn kits_suffice(&self, set: &[Visit]) -> bool {
        let mut used: BTreeMap<(EnsembleIx, &str), u32> = BTreeMap::new();
        for visit in set {
            let kits = &self.night.roster.people[visit.person].kits;
            let size = kits.iter().find(|k| k.ensemble == visit.ensemble).map_or("", |k| k.size.as_str());
            *used.entry((visit.ensemble, size)).or_default() += 1;
        }
        used.into_iter().all(|((ensemble, size), count)| count <= self.night.roster.usable_kits(ensemble, size))
    }

    /// Room maxima and waiting places.
    fn never_too_many(&self, set: &[Visit]) -> bool {
        self.people.points(self.people.from, self.people.to).all(|at| {
            let waiting = set.iter().filter(|v| v.door_out <= at && at < v.removal).count();
            let rooms = self.night.roster.rooms.iter().enumerate();
            let mut rooms = rooms.map(|(room, r)| (inside(set, room, at), r.max_inside as usize));
            waiting <= self.night.limits.waiting_places as usize && rooms.all(|(inside, most)| inside <= most)
        })
    }

    /// The two-person rule, relief overlap and style, which only the whole set decides.
    fn whole_set_holds(&self, set: &[Visit]) -> bool {
        let least = self.night.limits.min_inside as usize;
        let rooms = 0..self.night.roster.rooms.len();
        let paired = |room| {
            self.people.points(self.people.from, self.people.to).all(|at| {
                let inside = inside(set, room, at);
                inside == 0 || inside >= least
            })
        };
        rooms.clone().all(paired)
            && rooms.clone().all(|room| self.passes_together(set, room))
            && rooms.into_iter().all(|room| self.minded(set, room))
            && set.iter().all(|v| self.relieved(set, v))
    }

    /// The relief style at the door of a room (D8).
    fn passes_together(&self, set: &[Visit], room: usize) -> bool {
        let here = || set.iter().filter(move |v| v.room == room);
        let holds = |passing: usize, others: bool| match self.night.limits.relief {
            Relief::InPairs => passing != 1,
            Relief::OneByOne => passing < 2 || !others,
            Relief::Either => true,
        };
        self.people.points(self.people.from, self.people.to).all(|at| {
            let (coming, going) =
                (here().filter(|v| v.door_in == at).count(), here().filter(|v| v.door_out == at).count());
            let (before, after) = (
                here().any(|v| v.door_in < at && at <= v.door_out),
                here().any(|v| v.door_in <= at && at < v.door_out),
            );
            holds(coming, before) && holds(going, after)
        })
    }

    /// A preceptor for everyone supervised, who go in one at a time (A5).
    fn minded(&self, set: &[Visit], room: usize) -> bool {
        let learner = |v: &&Visit| v.room == room && self.people.supervised(v.person);
        let teacher = |v: &&Visit| {
            let signed = self.people.signed(v.person, Role::Preceptor);
            v.room == room && !self.people.supervised(v.person) && signed.is_some_and(|end| v.off <= end)
        };
        self.people.points(self.people.from, self.people.to).all(|at| {
            let here = |v: &&Visit| v.door_in <= at && at < v.door_out;
            let learners = set.iter().filter(learner).filter(here).count();
            let together = set.iter().filter(learner).filter(|v| v.door_in == at).count();
            learners <= set.iter().filter(teacher).filter(here).count() && together < 2
        })
    }

    fn relieved(&self, set: &[Visit], leaver: &Visit) -> bool {
        let at = leaver.door_out;
        let Some(presence) = self.night.roster.required(RoomIx(leaver.room), Minute(at)) else { return true };
        let here = |v: &&Visit| v.room == leaver.room && v.door_in <= at && at < v.door_out;
        let present = set.iter().filter(here).count();
        let long = set.iter().filter(here).filter(|v| v.door_in <= at - self.night.limits.overlap.0).count();
        long >= present.min(presence.people as usize)
    }
}

fn inside(set: &[Visit], room: usize, at: At) -> usize {
    set.iter().filter(|v| v.room == room && v.door_in <= at && at < v.door_out).count()
}
