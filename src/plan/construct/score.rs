//! What a rota under construction is worth.

use crate::night::{Need, Night};

use super::super::level::Level;
use super::super::model::{Model, Room};
use super::super::{MUST_COUNTS, WANTED_COUNTS};
use super::crew::Crew;

/// What a rota comes to, the levels first in which care is counted: smaller is better.
pub type Score = Vec<i64>;

/// Presence wanted, by room and slot, and the levels that are counted.
#[derive(Clone)]
pub struct Demand {
    /// People wanted in a slot of a room, at most.
    pub wanted: Vec<Vec<i64>>,
    pub classes: Vec<u32>,
}

impl Demand {
    pub fn of(night: &Night, model: &Model) -> Self {
        let levels = Model::levels(night, model.grouping).into_iter();
        let classes = levels.filter_map(|level| if let Level::Uncovered(class) = level { Some(class) } else { None });
        let most =
            |room: &Room| room.demand.iter().map(|slot| slot.iter().map(|d| d.required).max().unwrap_or(0)).collect();
        Self { wanted: model.rooms.iter().map(most).collect(), classes: classes.collect() }
    }

    /// Pins not kept, person-minutes uncovered and tasks not done, in minutes.
    pub fn missed(&self, score: &Score) -> i64 {
        let tasks = 1 + 2 * self.classes.len();
        let uncovered: i64 = score[1..=self.classes.len()].iter().sum();
        uncovered + MUST_COUNTS * (score[0] + score[tasks]) + WANTED_COUNTS * score[tasks + 2]
    }
}

impl Crew<'_> {
    /// What the rota comes to.
    pub fn score(&self, demand: &Demand) -> Score {
        let mut score = vec![count(self.pins_missed())];
        score.extend(demand.classes.iter().map(|&class| self.uncovered(class).0));
        score.extend(demand.classes.iter().map(|&class| self.uncovered(class).1));
        let tasks = || self.night.roster.tasks.iter().zip(&self.duty.tasks).zip(&self.model.tasks);
        let missed = |need| tasks().filter(|((task, done), _)| task.need == need && done.is_none()).count();
        let late = tasks().filter(|((task, _), _)| task.need == Need::Must).map(|((task, done), starts)| {
            let start = starts.iter().find(|(_, col)| Some(*col) == *done).map(|&(slot, _)| slot);
            start.map_or(0, |slot| (self.model.grid.minute(slot) - task.wanted).0.max(0))
        });
        let late = late.sum();
        score.extend([count(missed(Need::Must)), late, count(missed(Need::Wanted))]);
        score.extend([count(self.duty.entries.len()), count(self.duty.posts.len())]);
        score
    }

    /// Person-minutes uncovered in a class, and the longest stretch of it.
    fn uncovered(&self, class: u32) -> (i64, i64) {
        let (mut all, mut longest) = (0, 0);
        for (room, inside) in self.model.rooms.iter().zip(&self.duty.inside) {
            let mut stretch = 0;
            for (slot, &inside) in room.demand.iter().zip(inside) {
                let short = slot.iter().filter(|d| d.class == class && d.required > inside);
                let short: i64 = short.map(|d| (d.required - inside) * d.minutes).sum();
                all += short;
                stretch = if short > 0 { stretch + self.model.grid.minutes(1) } else { 0 };
                longest = longest.max(stretch);
            }
        }
        (all, longest)
    }
}

fn count(many: usize) -> i64 {
    i64::try_from(many).unwrap_or(i64::MAX)
}
