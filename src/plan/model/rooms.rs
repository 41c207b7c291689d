//! Rows about rooms: presence, the two-person rule, relief overlap, tasks.

use crate::night::{Apart, Night, Relief, RoomIx, Rule, Span, Task};

use super::super::grid::Slot;
use super::super::program::{Col, Place, Sum};
use super::Model;

/// Presence required in one slot of a room, or in a part of it where presences meet inside a slot.
#[derive(Clone, Copy, Debug)]
pub struct Demand {
    /// People required.
    pub required: i64,
    /// Acuity class.
    pub class: u32,
    /// Minutes of the slot that are required.
    pub minutes: i64,
    /// People missing.
    pub short: Col,
}

/// One room by slot.
#[derive(Clone, Debug, Default)]
pub struct Room {
    /// Required presence, in order of the roster; empty where none is.
    pub demand: Vec<Vec<Demand>>,
}

impl Model {
    /// Adds presence, limits on people inside, overlap and people kept apart.
    pub(super) fn add_rooms(&mut self, night: &Night) {
        for room in (0..night.roster.rooms.len()).map(RoomIx) {
            let (mut demand, mut open) = (Vec::new(), Vec::new());
            for slot in 0..self.grid.slots {
                let required = self.add_presence(night, room, slot);
                open.extend(self.add_inside_rows(night, room, slot));
                self.add_door_rows(night, room, slot, &open);
                if let Some(most) = required.iter().map(|d| d.required).max() {
                    self.add_overlap_rows(night, room, slot, most);
                }
                demand.push(required);
            }
            self.rooms.push(Room { demand });
            self.add_rooms_kept_apart(night, room);
        }
    }

    /// People inside a room in a slot; with a skill, if one is asked for.
    pub(super) fn inside(&self, room: RoomIx, slot: Slot, skill: Option<&str>) -> Sum {
        let mut sum = Sum::new();
        for (group, duties) in self.staffed() {
            let skilled = skill.is_none_or(|s| group.ability.skills.iter().any(|own| own == s));
            if let Some(entering) = duties.entering.as_ref().filter(|_| skilled) {
                entering.rooms[room.0].door_in.add_upto(&mut sum, slot, 1);
                entering.rooms[room.0].door_out.add_upto(&mut sum, slot, -1);
            }
        }
        sum
    }

    pub(super) fn slot_span(&self, slot: Slot) -> Span {
        Span::new(self.grid.minute(slot), self.grid.minute(slot + 1))
    }

    /// Continuous presence (D4): `short >= required - inside`.
    fn add_presence(&mut self, night: &Night, room: RoomIx, slot: Slot) -> Vec<Demand> {
        let span = self.slot_span(slot);
        let here = night.roster.presence.iter().filter(|p| p.room == room && p.span.overlaps(span) && p.people > 0);
        here.map(|presence| {
            let required = i64::from(presence.people);
            let short = self.program.implied(required, Place::Slot(slot));
            let mut sum = self.inside(room, slot, None);
            sum.add(short, 1);
            self.program.at_least(sum, required, Rule::D4);
            let minutes = presence.span.intersection(span).length().0;
            Demand { required, class: presence.class, minutes, short }
        })
        .collect()
    }

    /// 0 or at least `min_inside` (D1), at most the room's maximum (D2). Gives the column that is 1 where somebody is
    /// inside, where one is needed.
    fn add_inside_rows(&mut self, night: &Night, room: RoomIx, slot: Slot) -> Option<Col> {
        let most = i64::from(night.roster.rooms[room.0].max_inside);
        let least = i64::from(night.limits.min_inside);
        if least < 2 && night.limits.relief != Relief::OneByOne {
            self.program.at_most(self.inside(room, slot, None), most, Rule::D2);
            return None;
        }
        let open = self.program.whole(0, 1, Place::Slot(slot));
        let mut above = self.inside(room, slot, None);
        let mut below = above.clone();
        above.add(open, -most);
        below.add(open, -least);
        self.program.at_most(above, 0, Rule::D2);
        self.program.at_least(below, 0, Rule::D1);
        Some(open)
    }

    /// Relief overlap (D3). People leave at `slot` only if the required number
    /// who stay have been inside for the overlap already, or if nobody has
    /// come in during it (so that all who stay have).
    fn add_overlap_rows(&mut self, night: &Night, room: RoomIx, slot: Slot, required: i64) {
        let overlap = self.grid.up(night.limits.overlap);
        if overlap == 0 {
            return;
        }
        let most = i64::from(night.roster.rooms[room.0].max_inside);
        let (mut stayed, mut leave, mut arrived) = (Sum::new(), Sum::new(), Sum::new());
        for visits in self.duties.iter().filter_map(|d| d.entering.as_ref()).map(|e| &e.rooms[room.0]) {
            visits.door_in.add_upto(&mut stayed, slot - overlap, 1);
            visits.door_out.add_upto(&mut stayed, slot, -1);
            visits.door_out.add_between(&mut leave, slot - 1, slot, 1);
            visits.door_in.add_between(&mut arrived, slot - overlap, slot, 1);
        }
        if leave.terms.is_empty() {
            return;
        }
        let relieved = self.program.whole(0, 1, Place::Slot(slot));
        let into_gap = self.program.whole(0, 1, Place::Slot(slot));
        leave.add(relieved, -most);
        leave.add(into_gap, -most);
        self.program.at_most(leave, 0, Rule::D3);
        stayed.add(relieved, -required);
        // Nobody's stay is shorter than the overlap, so `stayed` is a count of people: never negative.
        self.program.at_least(stayed, 0, Rule::D3);
        arrived.add(into_gap, most);
        self.program.at_most(arrived, most, Rule::D3);
        let mut one = Sum::new();
        one.add(relieved, 1);
        one.add(into_gap, 1);
        self.program.at_most(one, 1, Rule::D3);
    }

    fn add_rooms_kept_apart(&mut self, night: &Night, room: RoomIx) {
        for (one, group) in self.groups.clone().iter().enumerate() {
            for (other, second) in self.groups.clone().iter().enumerate().skip(one + 1) {
                let (Some(a), Some(b)) = (group.ability.unlike_others, second.ability.unlike_others) else { continue };
                if !night.roster.kept_apart(a, b, Apart::Room) {
                    continue;
                }
                for slot in 0..self.grid.slots {
                    let mut sum = Sum::new();
                    for entering in [one, other].iter().filter_map(|&place| self.duties[place].entering.as_ref()) {
                        entering.rooms[room.0].door_in.add_upto(&mut sum, slot, 1);
                        entering.rooms[room.0].door_out.add_upto(&mut sum, slot, -1);
                    }
                    self.program.at_most(sum, 1, Rule::A6);
                }
            }
        }
    }

    /// Adds the roster's tasks (D5).
    pub(super) fn add_tasks(&mut self, night: &Night) {
        for task in &night.roster.tasks {
            let starts = self.task_starts(task);
            let mut once = Sum::new();
            starts.iter().for_each(|&(_, col)| once.add(col, 1));
            self.program.at_most(once, 1, Rule::D5);
            self.add_task_rows(night, task, &starts);
            if task.same_people {
                for &(slot, col) in &starts {
                    self.add_same_people_rows(night, task, slot, col);
                }
            }
            self.tasks.push(starts);
        }
    }

    fn task_starts(&mut self, task: &Task) -> Vec<(Slot, Col)> {
        let first = self.grid.at_or_after(task.window.from).max(0);
        let last =
            self.grid.at_or_before(task.window.to - task.length).min(self.grid.slots - self.grid.up(task.length));
        (first..=last).map(|slot| (slot, self.program.whole(0, 1, Place::Night))).collect()
    }

    fn add_task_rows(&mut self, night: &Night, task: &Task, starts: &[(Slot, Col)]) {
        let length = self.grid.up(task.length);
        let people = i64::from(task.people);
        let touched = starts.first().map_or(0..0, |first| first.0..starts[starts.len() - 1].0 + length);
        for slot in touched {
            let going: Vec<Col> =
                starts.iter().filter(|(start, _)| (*start..start + length).contains(&slot)).map(|s| s.1).collect();
            let required = night.roster.presence.iter();
            let span = self.slot_span(slot);
            let required = required.filter(|p| p.room == task.room && p.span.overlaps(span)).map(|p| p.people).max();
            let mut demands = vec![(task.skill.as_deref(), people)];
            if task.extra {
                demands.push((None, people + i64::from(required.unwrap_or(0))));
            }
            for (skill, count) in demands {
                let mut sum = self.inside(task.room, slot, skill);
                going.iter().for_each(|&col| sum.add(col, -count));
                self.program.at_least(sum, 0, Rule::D5);
            }
        }
    }

    /// The people who start a task are the ones who end it. Counted exactly
    /// for groups of one, as a relaxation for larger ones.
    fn add_same_people_rows(&mut self, night: &Night, task: &Task, start: Slot, going: Col) {
        let last = start + self.grid.up(task.length) - 1;
        let stay = self.grid.up(night.limits.min_stay).max(1);
        let mut enough = Sum::new();
        for place in 0..self.groups.len() {
            let group = &self.groups[place];
            let n = group.count();
            let skilled = task.skill.as_ref().is_none_or(|s| group.ability.skills.contains(s));
            let Some(entering) = self.duties[place].entering.as_ref().filter(|_| skilled) else { continue };
            let visits = entering.rooms[task.room.0].clone();
            let stayer = self.program.whole(0, n, Place::Night);
            enough.add(stayer, 1);
            for slot in [start, last] {
                let mut sum = Sum::new();
                sum.add(stayer, 1);
                visits.door_in.add_upto(&mut sum, slot, -1);
                visits.door_out.add_upto(&mut sum, slot, 1);
                self.program.at_most(sum, 0, Rule::D5);
            }
            // Whoever goes out meanwhile was there at the start, or came so early that a whole stay fits in between.
            let mut remained = Sum::new();
            remained.add(stayer, 1);
            visits.door_in.add_upto(&mut remained, start, -1);
            visits.door_out.add_upto(&mut remained, last, 1);
            visits.door_in.add_between(&mut remained, start, (last - stay).max(start), -1);
            self.program.at_most(remained, 0, Rule::D5);
            if n == 1 {
                for slot in start + 1..=last {
                    let mut sum = Sum::new();
                    sum.add(stayer, 1);
                    visits.door_out.add_between(&mut sum, slot - 1, slot, 1);
                    self.program.at_most(sum, 1, Rule::D5);
                }
            }
        }
        enough.add(going, -i64::from(task.people));
        self.program.at_least(enough, 0, Rule::D5);
    }
}
