//! What entries are worth at each level.

use std::collections::BTreeSet;

use anteroom::night::{Minute, Need, Night, Pin, PinTo, RoomIx, SkillCover, Span, Task, TaskDone, TaskIx};
use anteroom::plan::Level;

use super::helpers::Cost;
use super::visits::Visit;
use crate::levels::minutes_of_centi;

/// The levels that entries decide.
fn levels(night: &Night) -> Vec<Level> {
    let classes: BTreeSet<u32> = night.roster.presence.iter().map(|p| p.class).collect();
    let wants = |need| night.roster.tasks.iter().any(|t| t.need == need);
    let mut levels = vec![];
    if !night.roster.pins.is_empty() {
        levels.push(Level::PinsMissed);
    }
    levels.extend(classes.iter().map(|&c| Level::Uncovered(c)));
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
        Level::PinsMissed => pins_missed(night, set, &done),
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
    let reports = night.limits.standby.is_some_and(|s| s.report) || night.limits.early_exit.is_some_and(|e| e.report);
    if reports {
        let after_pins = usize::from(!night.roster.pins.is_empty());
        all.insert(after_pins, (Level::RescueMissing, cost.rescue));
    }
    all.push((Level::HelperRemovals, cost.posts));
    let [spare, waits, low] = cost.entries;
    let ways = [
        (night.limits.spare.0 > 0, Level::SpareShort, spare),
        (true, Level::Waits, waits),
        (night.limits.low_hours.is_some(), Level::LowHours, low),
    ];
    all.extend(ways.iter().filter(|way| way.0).map(|&(_, level, value)| (level, value)));
    all.extend([(Level::LargestWear, minutes_of_centi(cost.wear)), (Level::LargestLoad, cost.load)]);
    all
}

/// What levels 7 and 8 make of the way of each entry: minutes short of the unit's spare by wear alone, minutes
/// waited, removals in low hours.
pub fn of_ways(night: &Night, set: &[Visit]) -> [i64; 3] {
    let low = night.low_hours();
    let spare = set.iter().map(|v| {
        let kit = night.limits.ensemble(v.ensemble);
        let start = night.limits.donning_before_wear(v.ensemble).map_or(v.door_in, |before| v.don + before.0);
        // Minute by minute: the last end that the unit's figures allow.
        let allowed = |off: i64| {
            let meets = low.iter().any(|hours| hours.overlaps(Span::new(Minute(start), Minute(off))));
            let most = night.limits.low_hours_wear(v.ensemble).filter(|_| meets).unwrap_or(kit.max_wear);
            off - start <= (most - kit.margin).0
        };
        let latest = (start..v.off + 10_000).take_while(|&off| allowed(off)).last().unwrap_or(start);
        (night.limits.spare.0 - (latest - v.off)).max(0)
    });
    let waits = set.iter().map(|v| v.door_in - v.donned + v.removal - v.door_out);
    let removals = set.iter().filter(|v| low.iter().any(|hours| hours.contains(Minute(v.removal)))).count();
    [spare.sum(), waits.sum(), i64::try_from(removals).expect("a few entries")]
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

/// Pins that a set of entries, with these tasks done, does not keep.
fn pins_missed(night: &Night, set: &[Visit], done: &[TaskDone]) -> i64 {
    let kept = |pin: &&Pin| {
        let mut mine = set.iter().filter(|v| v.person == pin.person.0);
        match pin.to {
            PinTo::Entry { room, door_in } => mine.any(|v| v.room == room.0 && v.door_in == door_in.0),
            PinTo::Task(ix) => done.iter().find(|d| d.task == ix).is_some_and(|d| {
                let task = &night.roster.tasks[ix.0];
                let (from, to) = (d.start.0, (d.start + task.length).0);
                mine.any(|v| v.room == task.room.0 && v.door_in <= from && to <= v.door_out)
            }),
        }
    };
    i64::try_from(night.roster.pins.iter().filter(|pin| !kept(pin)).count()).expect("a few pins")
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

/// Every task that can be done with these entries, with its pins kept and as little late as can be.
pub fn tasks_done(night: &Night, set: &[Visit]) -> Vec<TaskDone> {
    let tasks = night.roster.tasks.iter().enumerate();
    let best = |(ix, task): (usize, &Task)| {
        let step = usize::try_from(night.limits.grid.0).expect("a grid is a few minutes");
        let starts = (night.roster.shift.from.0..=night.roster.shift.to.0).step_by(step);
        let possible = starts.map(Minute).filter(|&start| is_done(night, set, task, start));
        let done = |start| TaskDone { task: TaskIx(ix), start };
        let worth = |&start: &Minute| (pins_missed(night, set, &[done(start)]), (start - task.wanted).0.max(0));
        possible.min_by_key(worth).map(done)
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
