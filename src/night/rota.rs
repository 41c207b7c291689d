//! A rota: who does what, to the minute. Made by the planner or by hand.
//!
//! It states every time it relies on; nothing is inferred (section 9, row 26).
//! A field that a hand-made rota left out is `None` here and a fault in the check.

use super::clock::{Minute, Span};
use super::roster::{LaneIx, PersonIx, Role, RoomIx, TaskIx};

/// One person's way through the room: donning, door, lane.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Entry {
    /// The number on the sheet. People who go in together share it.
    pub number: u32,
    /// Who.
    pub person: PersonIx,
    /// Where to.
    pub room: RoomIx,
    /// `t_ds`: donning starts. It ends the ensemble's donning time later.
    pub don: Minute,
    /// `t_in`: through the door.
    pub door_in: Minute,
    /// `t_out`: out of the room.
    pub door_out: Minute,
    /// `t_fs`: removal starts in the lane.
    pub removal: Minute,
    /// `t_off`: last item off.
    pub off: Minute,
    /// The lane of the removal.
    pub lane: Option<LaneIx>,
    /// Who watches the donning, `[don, don + donning)`.
    pub donning_observer: Option<PersonIx>,
    /// Who watches the removal, `[removal, off)`.
    pub observer: Option<PersonIx>,
    /// Who assists the removal, `[removal, off)`.
    pub assistant: Option<PersonIx>,
    /// The respirator model worn, where units of one come back into use (G2).
    pub respirator: Option<String>,
}

/// What a person dressed in a doffing-area kit is there for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum PostRole {
    /// Assists removals. Wears the unit's assistant kit.
    Assistant,
    /// Watches removals, where observers wear a kit.
    Observer,
}

impl PostRole {
    /// The sign-off it takes.
    #[must_use]
    pub const fn sign_off(self) -> Role {
        match self {
            Self::Assistant => Role::Assistant,
            Self::Observer => Role::DoffingObserver,
        }
    }
}

/// One spell in a doffing-area kit, from donning to last item off.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Post {
    /// Who.
    pub person: PersonIx,
    /// As what.
    pub role: PostRole,
    /// Donning starts; on post once the kit's donning time has passed.
    pub don: Minute,
    /// Own removal starts; off post from here.
    pub removal: Minute,
    /// Last item off.
    pub off: Minute,
    /// The lane of the own removal: an assistant needs one, an observer none.
    pub lane: Option<LaneIx>,
    /// Who watches the donning, where the unit has it watched.
    pub donning_observer: Option<PersonIx>,
    /// Who watches the own removal: always for an assistant, for an observer where the unit says so.
    pub observer: Option<PersonIx>,
    /// The respirator model worn, where units of one come back into use (G2).
    pub respirator: Option<String>,
}

/// A planned break: no duty (F3).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct BreakTaken {
    /// Who.
    pub person: PersonIx,
    /// When.
    pub span: Span,
}

/// Someone named for a while: to coordinate (F7), to stand by (E1), for an early exit (C8), to shower (F2).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Stint {
    /// Who.
    pub person: PersonIx,
    /// When.
    pub span: Span,
}

/// A task that is done, and from when.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct TaskDone {
    /// Which.
    pub task: TaskIx,
    /// Its start; it lasts the task's length.
    pub start: Minute,
}

/// A whole rota.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Rota {
    /// The name of the roster it was made for, as the file says.
    pub roster: String,
    /// The name of the constraint set it was made for, as the file says.
    pub constraint_set: String,
    /// Issue number; each re-plan has a new one (I6).
    pub issue: u32,
    /// Room entries, in order of door-in, room, person.
    pub entries: Vec<Entry>,
    /// Spells in a doffing-area kit, in order of donning.
    pub posts: Vec<Post>,
    /// Breaks.
    pub breaks: Vec<BreakTaken>,
    /// Tasks done.
    pub tasks: Vec<TaskDone>,
    /// Who coordinates from the clean side (F7).
    pub coordinators: Vec<Stint>,
    /// Who stands by (E1).
    pub standby: Vec<Stint>,
    /// Who would watch the removal of somebody who comes out early (C8).
    pub exit_observers: Vec<Stint>,
    /// Who would assist it (C8).
    pub exit_assistants: Vec<Stint>,
    /// Who showers (F2). Without limited places a rota need not say when.
    pub showers: Vec<Stint>,
}

impl Rota {
    /// Sorts every list into its fixed order and numbers the entries: people
    /// who pass the same door in the same minute share a number.
    pub fn put_in_order(&mut self) {
        self.entries.sort_by_key(|e| (e.door_in, e.room, e.removal, e.person));
        let mut number = 0;
        let mut last = None;
        for entry in &mut self.entries {
            if last != Some((entry.door_in, entry.room)) {
                number += 1;
                last = Some((entry.door_in, entry.room));
            }
            entry.number = number;
        }
        self.posts.sort_by_key(|p| (p.don, p.person));
        self.breaks.sort_by_key(|b| (b.span.from, b.person));
        self.tasks.sort_by_key(|t| (t.start, t.task));
        for stints in self.stints_mut() {
            stints.sort_by_key(|s| (s.span.from, s.person));
        }
    }

    /// Every list of people named for a while.
    #[must_use]
    pub const fn stints(&self) -> [&Vec<Stint>; 5] {
        [&self.coordinators, &self.standby, &self.exit_observers, &self.exit_assistants, &self.showers]
    }

    /// The same, to change.
    pub const fn stints_mut(&mut self) -> [&mut Vec<Stint>; 5] {
        [
            &mut self.coordinators,
            &mut self.standby,
            &mut self.exit_observers,
            &mut self.exit_assistants,
            &mut self.showers,
        ]
    }
}
