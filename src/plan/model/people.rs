//! Rows about people: one duty at a time, rest, recovery, changeover, wear.

use crate::night::{CleanDuty, Night, Rule, WornIn};

use super::super::ability::Wearing;
use super::super::curve::Curve;
use super::super::grid::Slot;
use super::super::program::{Place, Sum, in_slot};
use super::duties::{Duties, Entering, Posting, Visits};
use super::{Group, Model};

/// A kind of duty that excludes the others.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Part {
    Enter,
    Assist,
    Observe,
    Donning,
    /// Watching removals in a lane group, without a kit.
    Lane(usize),
    /// Assisting removals in a lane group, without a kit.
    Help(usize),
    /// Watching an observer's own removal.
    ObserverRemoval,
    Break,
    /// In the shower, where places are limited.
    Shower,
    /// Leading from the clean side.
    Coordinate,
    /// Held back to go in.
    StandBy,
    /// Free to watch an early exit.
    ExitWatch,
    /// Free to assist one.
    ExitAssist,
}

impl Part {
    /// Whether somebody at it is free of duty.
    const fn is_free(self) -> bool {
        match self {
            Self::Break | Self::Shower | Self::Coordinate | Self::StandBy | Self::ExitWatch | Self::ExitAssist => true,
            Self::Enter
            | Self::Assist
            | Self::Observe
            | Self::Donning
            | Self::Lane(_)
            | Self::Help(_)
            | Self::ObserverRemoval => false,
        }
    }
}

/// What rows about one group need to know.
pub(super) struct Person<'a> {
    pub(super) night: &'a Night,
    pub(super) model: &'a Model,
    pub(super) group: &'a Group,
    pub(super) duties: &'a Duties,
}

impl Model {
    /// Adds the rows about each group's people.
    pub(super) fn add_people_rows(&mut self, night: &Night) {
        self.add_donning_heads(night);
        for place in 0..self.groups.len() {
            let (group, duties) = (self.groups[place].clone(), self.duties[place].clone());
            let mut rows = Vec::new();
            let person = Person { night, model: self, group: &group, duties: &duties };
            person.one_duty_rows(&mut rows);
            person.rest_rows(&mut rows);
            person.changeover_rows(&mut rows);
            person.wear_rows(&mut rows);
            for (sum, most, rule) in rows {
                self.program.at_most(sum, most, rule);
            }
            self.add_everyone_leaves(&duties);
        }
    }

    /// Where one observer may watch several donnings: heads x capacity >= donnings watched.
    fn add_donning_heads(&mut self, night: &Night) {
        let capacity = i64::from(night.limits.donning_capacity);
        if capacity < 2 {
            return;
        }
        for place in 0..self.groups.len() {
            if self.duties[place].watches_donning.iter().all(Curve::is_empty) {
                continue;
            }
            for slot in 0..self.grid.slots {
                let head = self.program.whole(0, self.groups[place].count(), Place::Slot(slot));
                let mut sum = Sum::new();
                self.add_donnings_watched(night, &self.duties[place], &mut sum, slot);
                sum.add(head, -capacity);
                self.program.at_most(sum, 0, Rule::C6);
                self.duties[place].donning_heads.push(Some(head));
            }
        }
    }

    fn add_donnings_watched(&self, night: &Night, duties: &Duties, sum: &mut Sum, slot: Slot) {
        self.donnings_watched(night, duties).iter().for_each(|job| job.add_at(sum, slot));
    }

    /// Whoever starts donning comes out again (C10).
    fn add_everyone_leaves(&mut self, duties: &Duties) {
        let mut pairs: Vec<Sum> = Vec::new();
        for visits in duties.entering.iter().flat_map(|e| &e.rooms) {
            let steps = [vec![&visits.door_in], vec![&visits.door_out], visits.removal.iter().collect()];
            pairs.extend(steps.iter().map(|later| balance(&visits.don, later)));
        }
        for posting in duties.assisting.iter().chain(&duties.observing) {
            pairs.push(balance(&posting.don, &posting.removals().collect::<Vec<_>>()));
        }
        for sum in pairs {
            self.program.equal(sum, 0, Rule::C10);
        }
    }

    /// People of a group who watch removals in a lane group, ready and reset included.
    pub(super) fn add_watching_lane(&self, night: &Night, duties: &Duties, sum: &mut Sum, lane: usize, slot: Slot) {
        self.watches_in_lane(night, duties, lane).iter().for_each(|job| job.add_at(sum, slot));
    }

    /// Slots between the last item off of one wear of an ensemble and the next donning of it.
    pub fn rest_between(&self, night: &Night, place: usize, worn: &Wearing) -> Slot {
        let person = Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] };
        person.rest_before(worn, Some(worn))
    }

    /// Slots of an entrant's removal, by place in [`Model::ensembles`].
    pub fn removal_slots(&self, night: &Night, place: usize) -> Slot {
        self.grid.up(night.limits.ensemble(self.ensembles[place]).removal)
    }

    /// Slots of an assistant's own removal.
    pub(super) fn own_removal_slots(&self, night: &Night) -> Slot {
        night.limits.assistant_kit.map_or(0, |kit| self.grid.up(night.limits.ensemble(kit).removal))
    }

    /// Slots of an observer's own removal.
    pub(super) fn observer_removal_slots(&self, night: &Night) -> Slot {
        night.limits.observer_kit.map_or(0, |kit| self.grid.up(night.limits.ensemble(kit).removal))
    }

    /// Everything a group may be busy with.
    pub(super) fn parts_of_group(&self, night: &Night, place: usize) -> Vec<Part> {
        Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] }.parts()
    }

    /// People of a group at one kind of duty in a slot.
    pub(super) fn busy_now(&self, night: &Night, place: usize, part: Part, slot: Slot) -> Sum {
        let person = Person { night, model: self, group: &self.groups[place], duties: &self.duties[place] };
        let mut sum = Sum::new();
        let worn = matches!(part, Part::Enter | Part::Assist | Part::Observe);
        if !worn || person.wearing(part).is_some() {
            person.add_busy(&mut sum, part, slot, 0);
        }
        sum
    }

    /// People of a group who are dressed in a slot.
    pub(super) fn dressed_now(&self, night: &Night, place: usize, slot: Slot) -> Sum {
        let mut sum = Sum::new();
        for part in [Part::Enter, Part::Assist, Part::Observe] {
            sum.add_sum(&self.busy_now(night, place, part, slot), 1);
        }
        sum
    }

    /// People of a group who watch donnings, removals or observers' removals in a slot.
    pub(super) fn watching_now(&self, night: &Night, place: usize, slot: Slot) -> Sum {
        let (group, duties) = (&self.groups[place], &self.duties[place]);
        let person = Person { night, model: self, group, duties };
        let mut sum = Sum::new();
        person.add_busy(&mut sum, Part::Donning, slot, 0);
        person.add_busy(&mut sum, Part::ObserverRemoval, slot, 0);
        for lane in 0..self.lanes.len() {
            person.add_busy(&mut sum, Part::Lane(lane), slot, 0);
        }
        sum
    }
}

impl Entering {
    /// The events with which wear begins in a room, and how many slots after them it does.
    pub(super) fn begins<'v>(&self, visits: &'v Visits) -> (&'v Curve, Slot) {
        self.wearing.before_wear.map_or((&visits.door_in, 0), |before| (&visits.don, before))
    }

    /// Removal starts over every room and lane group.
    pub(super) fn removals(&self) -> impl Iterator<Item = &Curve> {
        self.rooms.iter().flat_map(|visits| &visits.removal)
    }
}

impl Posting {
    /// Own removal starts, at once or later.
    pub(super) fn removals(&self) -> impl Iterator<Item = &Curve> {
        self.at_once.iter().flatten().chain(&self.later)
    }
}

fn balance(earlier: &Curve, later: &[&Curve]) -> Sum {
    let mut sum = Sum::new();
    earlier.add_all(&mut sum, 1);
    for curve in later {
        curve.add_all(&mut sum, -1);
    }
    sum
}

/// A sum, what it is at most, and the rule.
pub(super) type Rows = Vec<(Sum, i64, Rule)>;

impl Person<'_> {
    pub(super) fn parts(&self) -> Vec<Part> {
        let d = self.duties;
        let mut parts = Vec::new();
        parts.extend(d.entering.as_ref().map(|_| Part::Enter));
        parts.extend(d.assisting.as_ref().map(|_| Part::Assist));
        parts.extend(d.observing.as_ref().map(|_| Part::Observe));
        parts.extend((!d.watches_donning.is_empty()).then_some(Part::Donning));
        if d.watches.is_some() && d.observing.is_none() {
            parts.extend((0..self.model.lanes.len()).map(Part::Lane));
        }
        if d.assisting.is_none() && !d.assists.is_empty() {
            parts.extend((0..self.model.lanes.len()).map(Part::Help));
        }
        parts.extend((!d.watches_observer.is_empty()).then_some(Part::ObserverRemoval));
        parts.extend((!d.breaks.is_empty()).then_some(Part::Break));
        parts.extend((!d.showers.is_empty()).then_some(Part::Shower));
        parts.extend((!d.coordinating.is_empty()).then_some(Part::Coordinate));
        parts.extend((!d.standing_by.is_empty()).then_some(Part::StandBy));
        parts.extend((!d.exit_watch.free.is_empty()).then_some(Part::ExitWatch));
        parts.extend((!d.exit_assist.free.is_empty()).then_some(Part::ExitAssist));
        parts
    }

    pub(super) fn wearing(&self, part: Part) -> Option<&Wearing> {
        match part {
            Part::Enter => self.duties.entering.as_ref().map(|e| &e.wearing),
            Part::Assist => self.duties.assisting.as_ref().map(|p| &p.wearing),
            Part::Observe => self.duties.observing.as_ref().map(|p| &p.wearing),
            _ => None,
        }
    }

    /// Removal starts of a worn part.
    fn removals(&self, part: Part) -> Vec<&Curve> {
        match part {
            Part::Enter => self.duties.entering.iter().flat_map(Entering::removals).collect(),
            Part::Assist => self.duties.assisting.iter().flat_map(Posting::removals).collect(),
            Part::Observe => self.duties.observing.iter().flat_map(Posting::removals).collect(),
            _ => vec![],
        }
    }

    /// Donning starts of a worn part.
    fn dons(&self, part: Part) -> Vec<&Curve> {
        match part {
            Part::Enter => self.duties.entering.iter().flat_map(|e| e.rooms.iter().map(|v| &v.don)).collect(),
            Part::Assist => self.duties.assisting.iter().map(|p| &p.don).collect(),
            Part::Observe => self.duties.observing.iter().map(|p| &p.don).collect(),
            _ => vec![],
        }
    }

    /// Adds the people who wear a kit for `part` in some slot from `first` through `last`.
    pub(super) fn add_worn_in(&self, sum: &mut Sum, part: Part, first: Slot, last: Slot) {
        let Some(wearing) = self.wearing(part) else { return };
        self.dons(part).into_iter().for_each(|curve| curve.add_upto(sum, last, 1));
        self.removals(part).into_iter().for_each(|curve| curve.add_upto(sum, first - wearing.removal, -1));
    }

    /// Adds the people busy with `part` in `slot`, and those whose removal in
    /// it ended less than `rest` slots before.
    fn add_busy(&self, sum: &mut Sum, part: Part, slot: Slot, rest: Slot) {
        let (d, grid, limits) = (self.duties, &self.model.grid, &self.night.limits);
        if let Some(wearing) = self.wearing(part) {
            for curve in self.dons(part) {
                curve.add_upto(sum, slot, 1);
            }
            for curve in self.removals(part) {
                curve.add_upto(sum, slot - wearing.removal - rest, -1);
            }
            return;
        }
        match part {
            Part::Donning => match usize::try_from(slot).ok().and_then(|s| d.donning_heads.get(s)) {
                Some(head) => sum.terms.extend(head.map(|col| (col, 1))),
                None if d.donning_heads.is_empty() => self.model.add_donnings_watched(self.night, d, sum, slot),
                None => {}
            },
            Part::Lane(lane) => self.model.add_watching_lane(self.night, d, sum, lane, slot),
            Part::Help(lane) => sum.add_sum(&self.model.assisting_lane(self.night, d, lane, slot), 1),
            Part::ObserverRemoval => {
                let before = grid.up(limits.observer_ready);
                let after = self.model.observer_removal_slots(self.night) + grid.up(limits.observer_reset);
                d.watches_observer.add_between(sum, slot - after, slot + before, 1);
            }
            Part::Break => self.breaks().add_at(sum, slot),
            Part::Shower => self.showers().add_at(sum, slot),
            Part::Coordinate => sum.terms.extend(in_slot(&d.coordinating, slot).map(|col| (col, 1))),
            Part::StandBy => sum.terms.extend(in_slot(&d.standing_by, slot).map(|col| (col, 1))),
            Part::ExitWatch => sum.terms.extend(d.exit_watch.free_in(slot).map(|col| (col, 1))),
            Part::ExitAssist => sum.terms.extend(d.exit_assist.free_in(slot).map(|col| (col, 1))),
            Part::Enter | Part::Assist | Part::Observe => unreachable!("worn parts returned above"),
        }
    }

    /// Slots that must lie between the end of `from` and the start of `to`
    /// (A7, B4, B5); the reset of a removal watch is part of the watch.
    pub(super) fn apart(&self, from: Part, to: Part) -> Slot {
        let (grid, limits) = (&self.model.grid, &self.night.limits);
        let changeover = grid.up(limits.changeover);
        let reset = grid.up(limits.observer_reset);
        if let Some(worn) = self.wearing(from) {
            // The same duty again is no change of duty.
            return self.rest_after(worn, to, if from == to { 0 } else { changeover });
        }
        match (from, to) {
            // No change of duty: whoever is at one of these is free in that minute.
            _ if from == to || from.is_free() || to.is_free() => 0,
            (Part::Lane(_) | Part::ObserverRemoval, _) => (changeover - reset).max(0),
            _ => changeover,
        }
    }

    fn rest_after(&self, worn: &Wearing, to: Part, changeover: Slot) -> Slot {
        let (grid, limits) = (&self.model.grid, &self.night.limits);
        let clean = |duty| {
            let own = if limits.inside_rest.contains(&duty) { 0 } else { self.group.ability.own_rest };
            grid.up(limits.rest_before_clean_duty(worn.ensemble, duty)).max(own).max(changeover)
        };
        if let Some(next) = self.wearing(to) {
            return self.rest_before(worn, Some(next)).max(changeover);
        }
        match to {
            Part::Donning => clean(CleanDuty::DonningObserver),
            Part::Lane(_) | Part::ObserverRemoval => clean(CleanDuty::DoffingObserver),
            Part::Help(_) => self.rest_before(worn, None).max(changeover),
            Part::Coordinate => self.rest_before(worn, None),
            Part::StandBy => self.rest_before(worn, self.group.ability.enter.as_ref()),
            Part::ExitWatch if limits.observer_kit.is_none() => {
                let rest = limits.rest_before_clean_duty(worn.ensemble, CleanDuty::DoffingObserver);
                grid.up(rest).max(self.group.ability.own_rest)
            }
            Part::ExitWatch => self.rest_before(worn, self.group.ability.observe_in_kit.as_ref()),
            Part::ExitAssist => self.rest_before(worn, self.group.ability.assist.as_ref()),
            Part::Break if limits.breaks.is_some_and(|b| b.recovery_counts) => 0,
            Part::Break => worn.recovery,
            // It belongs to recovery.
            Part::Shower => 0,
            Part::Enter | Part::Assist | Part::Observe => unreachable!("worn parts returned above"),
        }
    }

    /// Rest before a kit that somebody might have to put on, or the full rest where none is worn.
    fn rest_before(&self, worn: &Wearing, next: Option<&Wearing>) -> Slot {
        let next = next.map_or(worn.ensemble, |next| next.ensemble);
        let rest = self.model.grid.up(self.night.limits.rest_between(worn.ensemble, next));
        rest.max(worn.recovery).max(self.group.ability.own_rest)
    }

    /// In every slot at most as many people are busy or owed the shortest rest as there are (A7, B5).
    fn one_duty_rows(&self, rows: &mut Rows) {
        let parts = self.parts();
        let n = self.group.count();
        for slot in 0..self.model.grid.slots {
            let mut sum = Sum::new();
            for &part in &parts {
                let rest = parts.iter().map(|&to| self.apart(part, to)).min().unwrap_or(0);
                let rest = if self.wearing(part).is_some() { rest } else { 0 };
                self.add_busy(&mut sum, part, slot, rest);
            }
            rows.push((sum, n, Rule::A7));
        }
    }

    /// Rest after a worn part that is longer than its shortest one (B4, B5).
    fn rest_rows(&self, rows: &mut Rows) {
        let parts = self.parts();
        for &worn in &parts {
            if self.wearing(worn).is_none() {
                continue;
            }
            let mut rests: Vec<Slot> = parts.iter().map(|&to| self.apart(worn, to)).collect();
            rests.sort_unstable();
            rests.dedup();
            for &rest in &rests[1..] {
                let waiting: Vec<Part> = parts.iter().copied().filter(|&to| self.apart(worn, to) >= rest).collect();
                self.rest_rows_of(worn, rest, &waiting, rows);
            }
        }
    }

    fn rest_rows_of(&self, worn: Part, rest: Slot, waiting: &[Part], rows: &mut Rows) {
        let Some(wearing) = self.wearing(worn) else { return };
        let again = self.apart(worn, worn);
        for slot in 0..self.model.grid.slots {
            if rest <= again {
                // Nobody is in this rest twice: count them with those still wearing.
                let mut sum = Sum::new();
                self.add_busy(&mut sum, worn, slot, rest);
                for &part in waiting.iter().filter(|&&part| part != worn) {
                    self.add_busy(&mut sum, part, slot, 0);
                }
                rows.push((sum, self.group.count(), Rule::B4));
                continue;
            }
            // Someone may have worn it again meanwhile: look at stretches too short for two removals.
            let stretch = again + self.shortest_wear(wearing);
            let mut late = 0;
            while late < rest {
                let early = (late + stretch).min(rest);
                let mut sum = Sum::new();
                for curve in self.removals(worn) {
                    curve.add_between(&mut sum, slot - wearing.removal - early, slot - wearing.removal - late, 1);
                }
                for &part in waiting.iter().filter(|&&part| part != worn) {
                    self.add_busy(&mut sum, part, slot, 0);
                }
                rows.push((sum, self.group.count(), Rule::B4));
                late = early;
            }
        }
    }

    /// Fewest slots from the start of donning to last item off.
    fn shortest_wear(&self, wearing: &Wearing) -> Slot {
        let ensemble = self.night.limits.ensemble(wearing.ensemble);
        let stay = if ensemble.worn_in == WornIn::Room { self.model.grid.up(self.night.limits.min_stay) } else { 0 };
        (wearing.donning + stay + wearing.removal).max(1)
    }

    /// Changeover between different duties without a kit (A7): nobody is busy
    /// with one in a slot and with another `changeover` slots later.
    fn changeover_rows(&self, rows: &mut Rows) {
        let parts: Vec<Part> = self.parts();
        let unworn: Vec<Part> =
            parts.iter().copied().filter(|&p| self.wearing(p).is_none() && p != Part::Break).collect();
        let longest = unworn.iter().flat_map(|&from| parts.iter().map(move |&to| (from, to)));
        let Some(longest) = longest.map(|(from, to)| self.apart(from, to)).max() else { return };
        for gap in 1..=longest {
            for &to in parts.iter().filter(|&&p| p != Part::Break) {
                let before: Vec<Part> =
                    unworn.iter().copied().filter(|&from| from != to && self.apart(from, to) >= gap).collect();
                if before.is_empty() {
                    continue;
                }
                for slot in gap..self.model.grid.slots {
                    let mut sum = Sum::new();
                    self.add_busy(&mut sum, to, slot, 0);
                    for &from in &before {
                        self.add_busy(&mut sum, from, slot - gap, 0);
                    }
                    rows.push((sum, self.group.count(), Rule::A7));
                }
            }
        }
    }
}
