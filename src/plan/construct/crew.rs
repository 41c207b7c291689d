//! Who does what so far, as events in a [`Ledger`], and how a step is tried and taken back.

use fastrand::Rng;

use crate::night::Night;

use super::super::grid::Slot;
use super::super::model::{Duties, Model};
use super::super::program::Col;
use super::duty::Duty;
use super::ledger::{Ledger, Missed};

/// A rota under construction.
#[derive(Clone)]
pub struct Crew<'m> {
    pub night: &'m Night,
    pub model: &'m Model,
    pub ledger: Ledger<'m>,
    pub duty: Duty,
    pub rng: Rng,
    /// Slots that a lane will still be needed for others who come out at the same time.
    pub to_follow: Slot,
    /// How often nobody was found for a rescue in a slot, by slot, since filling began.
    pub often_unrescued: Vec<u8>,
    /// Whether a rota is improved: chance then decides more.
    pub anew: bool,
    /// Who is asked to enter before everybody else.
    pub asked_first: Option<usize>,
    /// People in the order in which they are asked to watch and to assist.
    helpers: Vec<usize>,
}

impl<'m> Crew<'m> {
    /// Nobody has a duty yet; everybody has their breaks. `None` when the breaks cannot be placed one person at a time.
    pub fn new(night: &'m Night, model: &'m Model) -> Option<Self> {
        let mut crew = Self::of_nobody(night, model, 0);
        for person in 0..model.groups.len() {
            crew.place_breaks(person);
        }
        crew.ledger.settle();
        crew.ledger.forget();
        (crew.ledger.missed() == Missed::default()).then_some(crew)
    }

    /// Nobody has a duty yet, nor a break.
    pub fn of_nobody(night: &'m Night, model: &'m Model, seed: u64) -> Self {
        let tasks = model.tasks.iter().flatten().map(|&(_, col)| col);
        let held: Vec<Col> = tasks.chain(model.pins.iter().copied()).chain(model.rescue_columns()).collect();
        let slots = usize::try_from(model.grid.slots).unwrap_or(0);
        let duty = Duty {
            breaks: vec![vec![]; model.groups.len()],
            tasks: vec![None; model.tasks.len()],
            inside: vec![vec![0; slots]; model.rooms.len()],
            ..Duty::default()
        };
        let ledger = Ledger::new(&model.program, &held);
        let rng = Rng::with_seed(seed);
        let mut helpers: Vec<usize> = (0..model.groups.len()).collect();
        // Whoever can do least else is asked first, so that the others stay free.
        helpers.sort_by_key(|&place| (model.duties[place].entering.is_some(), place));
        let often_unrescued = vec![0; slots];
        Self { night, model, ledger, duty, rng, to_follow: 0, often_unrescued, anew: false, asked_first: None, helpers }
    }

    /// The same, going on by another chance.
    pub fn by_another_chance(&self, seed: u64) -> Self {
        Self { rng: Rng::with_seed(seed), ..self.clone() }
    }

    pub fn duties(&self, person: usize) -> &'m Duties {
        &self.model.duties[person]
    }

    /// Does something, or leaves everything as it was.
    pub fn attempt(&mut self, what: impl FnOnce(&mut Self) -> bool) -> bool {
        let (mark, entries, posts) = (self.ledger.mark(), self.duty.entries.clone(), self.duty.posts.clone());
        let breaks = self.duty.breaks.clone();
        let done = what(self);
        if !done {
            self.ledger.back_to(mark);
            for at in entries.len()..self.duty.entries.len() {
                self.duty.count_inside(at, -1);
            }
            self.duty.entries = entries;
            self.duty.posts = posts;
            self.duty.breaks = breaks;
        }
        done
    }

    /// Adds events of one person if no rule forbids it; their breaks may move for it.
    pub fn fit(&mut self, person: usize, events: &[Option<Col>]) -> bool {
        if events.iter().any(Option::is_none) {
            return false;
        }
        let mark = self.ledger.mark();
        events.iter().flatten().for_each(|&col| self.ledger.event(col, 1));
        self.ledger.settle();
        if !self.ledger.missed().forbids() {
            return true;
        }
        if !self.duty.breaks[person].is_empty() {
            let before = std::mem::take(&mut self.duty.breaks[person]);
            let curve = &self.duties(person).breaks;
            before.iter().filter_map(|&slot| curve.column(slot)).for_each(|col| self.ledger.event(col, -1));
            self.ledger.settle();
            if !self.ledger.missed().forbids() && self.place_breaks(person) {
                return true;
            }
            self.duty.breaks[person] = before;
        }
        self.ledger.back_to(mark);
        false
    }

    /// The same, and fewer helpers have to be found than before.
    pub fn fit_help(&mut self, person: usize, events: &[Option<Col>]) -> bool {
        let (mark, owed) = (self.ledger.mark(), self.ledger.missed().owed);
        let breaks = self.duty.breaks[person].clone();
        let done = self.fit(person, events) && self.ledger.missed().owed < owed;
        if !done {
            self.ledger.back_to(mark);
            self.duty.breaks[person] = breaks;
        }
        done
    }

    /// Helpers in the order in which they are asked now: the usual one, or with somebody moved to the front.
    pub fn asked(&mut self) -> Vec<usize> {
        let mut asked = self.helpers.clone();
        for _ in 0..2 {
            let moved = self.rng.usize(..asked.len());
            let person = asked.remove(moved);
            asked.insert(0, person);
        }
        asked
    }

    /// Breaks of a person who has none, each as late as the longest work before it allows.
    fn place_breaks(&mut self, person: usize) -> bool {
        let Some(rule) = self.night.limits.breaks else { return true };
        let grid = &self.model.grid;
        let (length, work) = (grid.up(rule.length), grid.down(rule.work_max));
        let paid = self.model.groups[person].ability.paid;
        let mut since = paid.first;
        while since + work < paid.end {
            let mut slots = (since - length + 1..=since + work).rev();
            let Some(slot) = slots.find(|&slot| self.take_break(person, slot)) else { return false };
            self.duty.breaks[person].push(slot);
            since = slot + length;
        }
        true
    }

    fn take_break(&mut self, person: usize, slot: Slot) -> bool {
        let Some(col) = self.duties(person).breaks.column(slot) else { return false };
        let mark = self.ledger.mark();
        let hard = self.ledger.missed().hard;
        self.ledger.event(col, 1);
        self.ledger.settle();
        let taken = self.ledger.missed().hard <= hard;
        if !taken {
            self.ledger.back_to(mark);
        }
        taken
    }
}
