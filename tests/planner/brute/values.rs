//! What entries are worth at each level.

use std::collections::BTreeSet;

use anteroom::night::{Minute, Need, Night, RoomIx, SkillCover, Task, TaskDone, TaskIx};
use anteroom::plan::Level;

use super::helpers::Cost;
use super::visits::Visit;
use crate::nights::minutes_of_centi;

/// The levels that entries decide.
fn levels(night: &Night) -> Vec<Level> {
    let classes: BTreeSet<u32> = night.roster.presence.iter().map(|p| p.class).collect();
    let wants = |need| night.roster.tasks.iter().any(|t| t.need == need);
    let mut levels: Vec<Level> = classes.iter().map(|&c| Level::Uncovered(c)).collect();
    levels.extend(classes.iter().map(|&c| Level::LongestStretch(c)));
    if wants(Need::Must) {
        levels.push(Level::MustMissed);
    }
    if !night.roster.skill_cover.is_empty() {
        levels.push(Level::SkillMissing);
    }
    if wants(Need::Must) {
        levels.push(Level::MustLate);
    }
    if wants(Need::Wanted) {
        levels.push(Level::WantedMissed);
    }
    levels.push(Level::Removals);
    levels
}

/// The value of a set of entries at each of those levels.
pub fn of_entries(night: &Night, set: &[Visit]) -> Vec<i64> {
    let done = tasks_done(night, set);
    let late = |d: &TaskDone| (d.start - night.roster.tasks[d.task.0].wanted).0.max(0);
    let missed = |need| {
        let of_need = night.roster.tasks.iter().filter(|t| t.need == need).count();
        let done = done.iter().filter(|d| night.roster.tasks[d.task.0].need == need).count();
        i64::try_from(of_need - done).expect("a few tasks")
    };
    let value = |level| match level {
        Level::Uncovered(class) => uncovered(night, set, class).0,
        Level::LongestStretch(class) => uncovered(night, set, class).1,
        Level::MustMissed => missed(Need::Must),
        Level::SkillMissing => skill_missing(night, set),
        Level::MustLate => done.iter().filter(|d| night.roster.tasks[d.task.0].need == Need::Must).map(late).sum(),
        Level::WantedMissed => missed(Need::Wanted),
        _ => i64::try_from(set.len()).expect("a few entries"),
    };
    levels(night).into_iter().map(value).collect()
}

/// All levels with their values.
pub fn in_order(night: &Night, worth: &[i64], cost: Cost) -> Vec<(Level, i64)> {
    let mut all: Vec<(Level, i64)> = levels(night).into_iter().zip(worth.iter().copied()).collect();
    all.extend([
        (Level::HelperRemovals, cost.posts),
        (Level::LargestWear, minutes_of_centi(cost.wear)),
        (Level::LargestLoad, cost.load),
    ]);
    all
}

/// Person-minutes uncovered and the longest run of any shortage, minute by minute.
fn uncovered(night: &Night, set: &[Visit], class: u32) -> (i64, i64) {
    let (mut total, mut longest) = (0, 0);
    for room in 0..night.roster.rooms.len() {
        let mut run = 0;
        for at in night.roster.shift.from.0..night.roster.shift.to.0 {
            let required = night.roster.required(RoomIx(room), Minute(at)).filter(|p| p.class == class);
            let missing = required.map_or(0, |p| i64::from(p.people) - inside(set, room, at));
            run = if missing > 0 { run + 1 } else { 0 };
            longest = longest.max(run);
            total += missing.max(0);
        }
    }
    (total, longest)
}

/// People with a skill missing, minute by minute (D6).
fn skill_missing(night: &Night, set: &[Visit]) -> i64 {
    let missing = |cover: &SkillCover, at| {
        let able: Vec<Visit> =
            set.iter().filter(|v| night.roster.people[v.person].skills.contains(&cover.skill)).copied().collect();
        (i64::from(cover.people) - inside(&able, cover.room.0, at)).max(0)
    };
    let covers = night.roster.skill_cover.iter();
    covers.map(|c| (c.span.from.0..c.span.to.0).map(|at| missing(c, at)).sum::<i64>()).sum()
}

fn inside(set: &[Visit], room: usize, at: i64) -> i64 {
    let here = set.iter().filter(|v| v.room == room && v.door_in <= at && at < v.door_out).count();
    i64::try_from(here).expect("a few people")
}

/// Every task that can be done with these entries, as little late as can be.
pub fn tasks_done(night: &Night, set: &[Visit]) -> Vec<TaskDone> {
    let tasks = night.roster.tasks.iter().enumerate();
    let best = |(ix, task): (usize, &Task)| {
        let step = usize::try_from(night.limits.grid.0).expect("a grid is a few minutes");
        let starts = (night.roster.shift.from.0..=night.roster.shift.to.0).step_by(step);
        let possible = starts.map(Minute).filter(|&start| is_done(night, set, task, start));
        let start = possible.min_by_key(|&start| (start - task.wanted).0.max(0))?;
        Some(TaskDone { task: TaskIx(ix), start })
    };
    tasks.filter_map(best).collect()
}

fn is_done(night: &Night, set: &[Visit], task: &Task, start: Minute) -> bool {
    let (from, to) = (start.0, (start + task.length).0);
    if start < task.window.from || task.window.to < start + task.length {
        return false;
    }
    let able = |v: &&Visit| {
        let skills = &night.roster.people[v.person].skills;
        v.room == task.room.0 && task.skill.as_ref().is_none_or(|s| skills.contains(s))
    };
    let people = task.people as usize;
    let throughout = set.iter().filter(able).filter(|v| v.door_in <= from && to <= v.door_out).count();
    let enough = (from..to).all(|at| {
        let skilled = set.iter().filter(able).filter(|v| v.door_in <= at && at < v.door_out).count();
        let required = night.roster.required(task.room, Minute(at)).map_or(0, |p| i64::from(p.people));
        skilled >= people && (!task.extra || inside(set, task.room.0, at) >= required + i64::from(task.people))
    });
    enough && (!task.same_people || throughout >= people)
}
