//! Where people are missing, and the order in which they are planned in.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::night::{Need, RoomIx};

use super::super::ability::Wearing;
use super::super::grid::Slot;
use super::super::program::Col;
use super::crew::Crew;
use super::duty::place;
use super::ledger::Missed;
use super::score::Demand;

/// Slots after the start of a stretch up to which somebody may go in first.
const FURTHER: Slot = 36;

/// A stretch in which as many are missing.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Run {
    pub from: Slot,
    pub to: Slot,
    room: usize,
    missing: i64,
}

impl Crew<'_> {
    /// Plans people into rooms wherever somebody is missing, then tasks.
    pub fn fill(&mut self, demand: &Demand, slots: Range<Slot>, work: u64) {
        let until = self.ledger.work.saturating_add(work);
        self.often_unrescued.fill(0);
        self.keep_pins(&slots);
        let mut tried: BTreeSet<Run> = BTreeSet::new();
        while self.ledger.work < until {
            let mut runs = self.runs(demand);
            runs.retain(|run| !tried.contains(run) && run.from < slots.end && slots.start < run.to);
            let Some(&earliest) = runs.iter().min() else { break };
            let run = if self.rng.u8(..4) == 0 { runs[self.rng.usize(..runs.len())] } else { earliest };
            if !self.cover(run) {
                tried.insert(run);
            }
        }
        for need in [Need::Must, Need::Wanted] {
            for task in 0..self.night.roster.tasks.len() {
                let starts = &self.model.tasks[task];
                let near = starts.iter().any(|(slot, _)| slots.contains(slot));
                if near && self.night.roster.tasks[task].need == need && self.duty.tasks[task].is_none() {
                    self.do_task(task);
                }
            }
        }
    }

    /// Where somebody is missing.
    pub fn runs(&self, demand: &Demand) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        for (room, wanted) in demand.wanted.iter().enumerate() {
            let mut open: Option<Run> = None;
            for (slot, &wanted) in (0..).zip(wanted) {
                let missing = (wanted - self.duty.inside[room][place(slot)]).max(0);
                match &mut open {
                    Some(run) if run.missing == missing => run.to = slot + 1,
                    _ => {
                        runs.extend(open.take());
                        open = (missing > 0).then_some(Run { from: slot, to: slot + 1, room, missing });
                    }
                }
            }
            runs.extend(open);
        }
        runs
    }

    /// Plans people into a stretch: the soonest first, and for as long as can be.
    fn cover(&mut self, run: Run) -> bool {
        let grid = &self.model.grid;
        let (overlap, stay) = (grid.up(self.night.limits.overlap), grid.up(self.night.limits.min_stay).max(1));
        let already = self.duty.inside[run.room][place(run.from)];
        let (together, at_once) = self.together_at_least();
        let most = run.missing.max(if already > 0 { at_once } else { together });
        // Where not all can go in, fewer may.
        let least = if already > 0 { at_once } else { together };
        let lead = if run.from > 0 && self.duty.inside[run.room][place(run.from - 1)] > already { overlap } else { 0 };
        let starts = || [run.from - lead].into_iter().chain(run.from..(run.from + FURTHER).min(run.to));
        for people in (least..=most).rev() {
            let mut unrescued = -1;
            for door_in in starts().filter(|&slot| slot >= 0) {
                if door_in <= unrescued {
                    continue;
                }
                self.ledger.unrescued = None;
                if self.visit((run.room, door_in), run.to, stay, people) {
                    return true;
                }
                // Whoever goes in before that slot would still be inside in it.
                unrescued = self.ledger.unrescued.unwrap_or(-1).min(door_in + stay - 1);
            }
        }
        false
    }

    /// How many go into an empty room at least (D1, D8), and how many where somebody is inside already (D8).
    pub fn together_at_least(&self) -> (i64, i64) {
        let at_once = i64::from(self.night.limits.relief.together());
        (at_once.max(i64::from(self.night.limits.min_inside)), at_once)
    }

    /// Plans so many people into a room from a slot on, up to `to` at most where that is long enough.
    pub fn visit(&mut self, (room, door_in): (usize, Slot), to: Slot, stay: Slot, people: i64) -> bool {
        let longest = self.longest_stay();
        let mut last = (door_in + longest).min(to.max(door_in + stay)).min(self.model.grid.slots);
        if self.anew && last > door_in + stay && self.rng.u8(..3) == 0 {
            last = self.rng.i32(door_in + stay..=last);
        }
        if self.together(room, door_in, last, people) {
            return true;
        }
        // Where the shortest stay cannot be, a longer one rarely can.
        let unrescued = self.ledger.unrescued.take();
        let short = |crew: &mut Self| crew.together(room, door_in, door_in + stay, people);
        if self.rng.u8(..4) > 0 && !self.attempt_only(short) {
            return false;
        }
        let step = if self.rng.bool() { 2 } else { 5 };
        let mut door_out = unrescued.map_or(last - step, |slot| slot.min(last - step));
        while door_out >= door_in + stay {
            if self.together(room, door_in, door_out, people) {
                return true;
            }
            door_out -= step;
        }
        false
    }

    /// Whether something could be done; it is not done.
    fn attempt_only(&mut self, what: impl FnOnce(&mut Self) -> bool) -> bool {
        let mut could = false;
        self.attempt(|crew| {
            could = what(crew);
            false
        });
        could
    }

    fn longest_stay(&self) -> Slot {
        let entering = self.model.duties.iter().filter_map(|d| d.entering.as_ref());
        let stay = |w: &Wearing| w.max_wear - w.removal - (w.donning - w.worn_from());
        entering.map(|e| stay(&e.wearing)).max().unwrap_or(0)
    }

    /// Plans people into a room at the same door times.
    fn together(&mut self, room: usize, door_in: Slot, door_out: Slot, people: i64) -> bool {
        let asked = self.entrants();
        self.attempt(|crew| {
            let mut found = 0;
            for &person in &asked {
                crew.to_follow = crew.lane_needed(person, people - found - 1);
                if found < people && crew.enter(person, room, door_in, door_out) {
                    found += 1;
                }
            }
            crew.to_follow = 0;
            crew.ledger.settle();
            found == people && crew.ledger.missed() == Missed::default()
        })
    }

    /// Slots for which each lane is needed if so many more come out.
    fn lane_needed(&self, person: usize, people: i64) -> Slot {
        let (grid, limits) = (&self.model.grid, &self.night.limits);
        let cleaning = grid.up(limits.cleaning);
        let lanes = Slot::try_from(self.model.lanes.len()).unwrap_or(1).max(1);
        let people = Slot::try_from(people).unwrap_or(0).max(0);
        let turns = (people + lanes - 1) / lanes;
        if turns > 0 { cleaning + turns * (self.wearing(person).removal + cleaning) } else { 0 }
    }

    /// Those who may enter, whoever entered least first.
    fn entrants(&mut self) -> Vec<usize> {
        let mixed = self.anew && self.rng.bool();
        let first = self.asked_first;
        let mut order: Vec<(bool, usize, u32, usize)> = Vec::new();
        for person in 0..self.model.groups.len() {
            if self.duties(person).entering.is_some() {
                let times = self.duty.entries.iter().filter(|entry| entry.person == person).count();
                order.push((first != Some(person), if mixed { 0 } else { times }, self.rng.u32(..), person));
            }
        }
        order.sort_unstable();
        order.into_iter().map(|(.., person)| person).collect()
    }

    /// Does a task while enough people are inside, or plans people in for it.
    fn do_task(&mut self, task: usize) -> bool {
        let asked = &self.night.roster.tasks[task];
        let wanted = self.model.grid.at_or_after(asked.wanted);
        let mut starts = self.model.tasks[task].clone();
        starts.sort_by_key(|&(slot, _)| ((slot - wanted).max(0), slot));
        if starts.iter().any(|&(_, col)| self.start_task(task, col)) {
            return true;
        }
        let (room, people) = (asked.room, i64::from(asked.people));
        let grid = &self.model.grid;
        let length = grid.up(asked.length);
        let stay = grid.up(self.night.limits.min_stay).max(1).max(length);
        starts.into_iter().step_by(2).any(|(slot, col)| {
            let RoomIx(room) = room;
            let inside = (slot..slot + length).map(|s| self.duty.inside[room][place(s)]).min().unwrap_or(0);
            let (together, at_once) = self.together_at_least();
            let missing = (people - inside).max(if inside == 0 { together } else { at_once });
            self.attempt(|crew| crew.together(room, slot, slot + stay, missing) && crew.start_task(task, col))
        })
    }

    pub fn start_task(&mut self, task: usize, col: Col) -> bool {
        let mark = self.ledger.mark();
        self.ledger.set(col, 1);
        self.ledger.settle();
        let done = self.ledger.missed() == Missed::default();
        if done {
            self.duty.tasks[task] = Some(col);
        } else {
            self.ledger.back_to(mark);
        }
        done
    }
}
