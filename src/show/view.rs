//! Everything that is shown, gathered in one place.

use chrono::NaiveDate;

use super::Wall;
use super::text::plain;
use crate::check::{Review, TaskOutcome};
use crate::explain::Explained;
use crate::night::{Entry, LaneIx, Minute, Minutes, Night, PersonIx, RoomIx, Rota, TaskIx};
use crate::plan::{Ended, LevelResult};

/// What stands where there is nobody or nothing: never an empty cell.
pub const NONE: &str = "NONE";

/// How the rota was found. A rota made by hand has none.
#[derive(Clone, Copy, Debug)]
pub struct Search<'a> {
    /// What each level of the objective came to.
    pub levels: &'a [LevelResult],
    /// Why the search ended.
    pub ended: Ended,
}

/// A night, its rota and what was found out about both.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    /// Roster and limits.
    pub night: &'a Night,
    /// The rota.
    pub rota: &'a Rota,
    /// What the independent check says.
    pub review: &'a Review,
    /// OUT-BY as the check has it, parallel to `rota.entries`.
    pub out_by: &'a [Minute],
    /// Gaps, fixes and who may do what.
    pub explained: &'a Explained,
    /// How the rota was found.
    pub search: Option<Search<'a>>,
    /// The day on which this is looked at: limits past their review are said to be so.
    pub today: NaiveDate,
}

impl View<'_> {
    /// The unit's clock on the wall.
    #[must_use]
    pub fn wall(&self) -> Wall {
        Wall::new(self.night.roster.clock)
    }

    /// A person's id.
    #[must_use]
    pub fn person(&self, ix: PersonIx) -> String {
        plain(&self.night.roster.person(ix).id)
    }

    /// A person's id, or NONE.
    #[must_use]
    pub fn person_or_none(&self, ix: Option<PersonIx>) -> String {
        ix.map_or_else(|| NONE.to_owned(), |ix| self.person(ix))
    }

    /// The ids of several people, or NONE.
    #[must_use]
    pub fn people(&self, people: &[PersonIx]) -> String {
        let ids: Vec<_> = people.iter().map(|&ix| self.person(ix)).collect();
        if ids.is_empty() { NONE.to_owned() } else { ids.join(", ") }
    }

    /// A room's name.
    #[must_use]
    pub fn room(&self, ix: RoomIx) -> String {
        plain(&self.night.roster.rooms[ix.0].id)
    }

    /// A task's name.
    #[must_use]
    pub fn task(&self, ix: TaskIx) -> String {
        plain(&self.night.roster.tasks[ix.0].id)
    }

    /// A lane's name, or NONE.
    #[must_use]
    pub fn lane(&self, ix: Option<LaneIx>) -> String {
        ix.map_or_else(|| NONE.to_owned(), |ix| plain(&self.night.roster.lanes[ix.0].id))
    }

    /// OUT-BY as it is printed, by the place of the entry in the rota.
    ///
    /// People who are planned through the same door in the same minute, in and
    /// out, are printed with the earlier OUT-BY of them: that is the pair's
    /// time, and nothing can be read from a difference (section 9, rows 23 and 41).
    #[must_use]
    pub fn out_by(&self, entry: usize) -> Option<Minute> {
        let this = self.rota.entries.get(entry)?;
        let together = |e: &Entry| (e.number, e.room, e.door_in, e.door_out);
        let pairs = self.rota.entries.iter().zip(self.out_by);
        pairs.filter(|(e, _)| together(e) == together(this)).map(|(_, &at)| at).min()
    }

    /// OUT-BY minus planned out (section 9, row 24).
    #[must_use]
    pub fn spare(&self, entry: usize) -> Option<Minutes> {
        Some(self.out_by(entry)? - self.rota.entries.get(entry)?.door_out)
    }

    /// Whether this may only be used for training (L5).
    #[must_use]
    pub fn is_training(&self) -> bool {
        self.night.roster.example || self.night.limits.example
    }

    /// Whether the limits are past their review, today or when the shift begins (L2).
    #[must_use]
    pub fn review_is_overdue(&self) -> bool {
        super::warnings::is_overdue(self.night, self.today)
    }

    /// Whether rescue is missing, any presence is short, any skill missing or any task not done, as the check counts them.
    #[must_use]
    pub fn has_gaps(&self) -> bool {
        let missed = self.review.tasks.iter().any(|(_, outcome)| matches!(outcome, TaskOutcome::Missed));
        missed
            || !self.review.rescue.is_empty()
            || !self.review.exits.is_empty()
            || !self.review.shortages.is_empty()
            || !self.review.skill_shortages.is_empty()
    }

    /// Entries of the rota by number and room, each as places in `rota.entries`, in order of the door.
    #[must_use]
    pub fn groups(&self) -> Vec<Vec<usize>> {
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for (ix, entry) in self.rota.entries.iter().enumerate() {
            let same = |group: &&mut Vec<usize>| {
                let first = &self.rota.entries[group[0]];
                (first.number, first.room) == (entry.number, entry.room)
            };
            match groups.iter_mut().find(same) {
                Some(group) => group.push(ix),
                None => groups.push(vec![ix]),
            }
        }
        groups.sort_by_key(|group| self.first_in(group));
        groups
    }

    /// When the first of these entries goes through the door.
    #[must_use]
    pub fn first_in(&self, group: &[usize]) -> Option<Minute> {
        group.iter().map(|&ix| self.rota.entries[ix].door_in).min()
    }
}
