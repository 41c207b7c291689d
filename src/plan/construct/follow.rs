//! A rota built along a timetable of doors that people counted together came to.
//!
//! The counts say when somebody of a group goes in and comes out, and promise
//! that helpers are enough in number. Here each visit gets people by name, at
//! those times or near them, or is left out; what is left out is built as usual.

use crate::night::Relief;

use super::super::grid::Slot;
use super::super::model::Model;
use super::crew::Crew;
use super::ledger::Missed;

/// Slots by which a visit may be earlier or later, in the order in which they are tried.
const SHIFTS: [Slot; 5] = [0, 1, -1, 2, -2];

/// Slots by which a visit may be shorter.
const SHORTER: [Slot; 3] = [1, 2, 4];

/// Visits that may have to begin before all rules hold: a pair goes in together, whatever relieves it with it.
const TOGETHER: usize = 4;

/// One stay in a room, by somebody of some people.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Visit {
    door_in: Slot,
    room: usize,
    door_out: Slot,
    /// Those who were counted, as places in the groups of the model of single people.
    people: Vec<usize>,
}

/// The stays in a solution of people counted together, in order of time. Within a group whoever went in first
/// comes out first, as its rows have it.
pub fn visits(counted: &Model, point: &[i64], single: &Model) -> Vec<Visit> {
    let mut visits = Vec::new();
    for (group, duties) in counted.groups.iter().zip(&counted.duties) {
        let members = (0..single.groups.len()).filter(|&p| group.members.contains(&single.groups[p].members[0]));
        let people: Vec<usize> = members.collect();
        for (room, doors) in duties.entering.iter().flat_map(|entering| entering.rooms.iter().enumerate()) {
            let (ins, outs) = (doors.door_in.events(point), doors.door_out.events(point));
            let stays = ins.into_iter().zip(outs);
            visits.extend(stays.map(|(door_in, door_out)| Visit { door_in, room, door_out, people: people.clone() }));
        }
    }
    visits.sort();
    visits
}

impl Crew<'_> {
    /// Plans the visits in order of time, as many of them as can be.
    pub fn follow(&mut self, visits: &[Visit]) {
        let mut next = 0;
        while next < visits.len() {
            let most = TOGETHER.min(visits.len() - next);
            let begun = (1..=most).find(|&many| self.attempt(|crew| crew.begin(&visits[next..next + many])));
            next += begun.unwrap_or(1);
        }
    }

    /// Plans some visits, after which all rules hold.
    fn begin(&mut self, visits: &[Visit]) -> bool {
        let made = match self.night.limits.relief {
            Relief::InPairs => self.make_together(visits),
            Relief::OneByOne | Relief::Either => visits.iter().all(|visit| self.make(visit)),
        };
        if !made {
            return false;
        }
        self.ledger.settle();
        self.ledger.missed() == Missed::default()
    }

    /// Plans some visits, all of them as much earlier or later: whoever passes the door together goes on doing so (D8).
    fn make_together(&mut self, visits: &[Visit]) -> bool {
        SHIFTS.into_iter().any(|by| {
            self.attempt(|crew| {
                visits.iter().all(|visit| {
                    let (asked, doors) = (crew.longest_out(visit), (visit.door_in + by, visit.door_out + by));
                    asked.iter().any(|&person| crew.enter(person, visit.room, doors.0, doors.1))
                })
            })
        })
    }

    /// Plans one visit, by whoever has been out longest, at its time or near it.
    fn make(&mut self, visit: &Visit) -> bool {
        let asked = self.longest_out(visit);
        let Visit { room, door_in, door_out, .. } = *visit;
        let moved = SHIFTS.into_iter().map(|by| (door_in + by, door_out + by));
        let shorter = SHORTER.into_iter().map(|by| (door_in, door_out - by));
        moved
            .chain(shorter)
            .filter(|(door_in, door_out)| door_in < door_out)
            .any(|(door_in, door_out)| asked.iter().any(|&person| self.enter(person, room, door_in, door_out)))
    }

    /// Those who were counted before others, whoever came out first before those who came out later.
    fn longest_out(&self, visit: &Visit) -> Vec<usize> {
        let last_out = |person: usize| {
            let mine = self.duty.entries.iter().filter(|entry| entry.person == person);
            mine.map(|entry| entry.off(self)).max().unwrap_or(0)
        };
        let all = (0..self.model.groups.len()).filter(|&person| self.duties(person).entering.is_some());
        let mut order: Vec<_> = all.map(|person| (!visit.people.contains(&person), last_out(person), person)).collect();
        order.sort_unstable();
        order.into_iter().map(|(.., person)| person).collect()
    }
}
