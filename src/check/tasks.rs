//! Whether the tasks listed are truly done (D5).

use super::TaskOutcome;
use super::facts::Facts;
use super::faults::Faults;
use super::page::{COMMON_PRACTICE, Page};
use super::room::stay;
use crate::night::{Entry, Minute, Minutes, Rule, Span, Task, TaskDone, TaskIx};

pub(super) const D5: Page = Page {
    does: "A task that the rota lists lies in its window and has its people, with its skill, inside all the time.",
    why: "A line change that is on the sheet but cannot be done is worse than one that is known to be missing.",
    formula: "window.from <= start; start + length <= window.to; at every minute skilled inside >= people, and inside \
              >= required + people for an extra task",
    counts: "Each task listed that is not done as listed, or listed twice. Where the task wants the same people, they \
             are inside from its start to its end. A task that is not listed is missed, which is no fault.",
    source: COMMON_PRACTICE,
};

/// D5 for every task that the rota lists.
pub(super) fn truly_done(facts: &Facts, faults: &mut Faults) {
    for (i, listed) in facts.rota.tasks.iter().enumerate() {
        let task = &facts.roster.tasks[listed.task.0];
        let span = Span::new(listed.start, listed.start + task.length);
        if facts.rota.tasks[..i].iter().any(|other| other.task == listed.task) {
            faults.add(Rule::D5, span, &[], None, || format!("Task {} is listed twice.", task.id));
        }
        if let Err(why) = done(facts, *listed) {
            faults.add(Rule::D5, span, &[], None, || {
                format!("Task {} is listed {} but not done: {}", task.id, facts.times(span), why.words(facts, task))
            });
        }
    }
}

/// What became of every task of the roster.
pub(super) fn outcomes(facts: &Facts) -> Vec<(TaskIx, TaskOutcome)> {
    (0..facts.roster.tasks.len()).map(|ix| (TaskIx(ix), outcome(facts, TaskIx(ix)))).collect()
}

fn outcome(facts: &Facts, ix: TaskIx) -> TaskOutcome {
    done_at(facts, ix).map_or(TaskOutcome::Missed, |start| TaskOutcome::Done {
        late: (start - facts.roster.tasks[ix.0].wanted).max(Minutes::ZERO),
    })
}

/// When a task that is truly done starts.
pub(super) fn done_at(facts: &Facts, ix: TaskIx) -> Option<Minute> {
    facts.rota.tasks.iter().find(|t| t.task == ix && done(facts, **t).is_ok()).map(|done| done.start)
}

/// Why a task is not done as listed.
enum NotDone {
    Window,
    Short(Minute),
    NotTheSame,
}

impl NotDone {
    fn words(&self, facts: &Facts, task: &Task) -> String {
        match self {
            Self::Window => format!("its window is {}.", facts.times(task.window)),
            Self::Short(at) => format!("too few are inside for it at {}.", facts.at(*at)),
            Self::NotTheSame => "too few of those who start it are inside to its end.".to_owned(),
        }
    }
}

fn done(facts: &Facts, listed: TaskDone) -> Result<(), NotDone> {
    let task = &facts.roster.tasks[listed.task.0];
    let span = Span::new(listed.start, listed.start + task.length);
    if !task.window.covers(span) {
        return Err(NotDone::Window);
    }
    if let Some(at) = moments(facts, task, span).find(|&at| !enough(facts, task, at)) {
        return Err(NotDone::Short(at));
    }
    let throughout = skilled(facts, task).filter(|e| stay(e).covers(span)).count();
    if task.same_people && below(throughout, task.people) {
        return Err(NotDone::NotTheSame);
    }
    Ok(())
}

/// The minutes at which the people inside could become too few.
fn moments<'a>(facts: &'a Facts, task: &'a Task, span: Span) -> impl Iterator<Item = Minute> + 'a {
    let leave = facts.rota.entries.iter().filter(|e| e.room == task.room).map(|e| e.door_out);
    let require = facts.roster.presence.iter().filter(|p| p.room == task.room).map(|p| p.span.from);
    std::iter::once(span.from).chain(leave.chain(require).filter(move |&at| span.from < at && at < span.to))
}

fn enough(facts: &Facts, task: &Task, at: Minute) -> bool {
    let able = skilled(facts, task).filter(|e| stay(e).contains(at)).count();
    if below(able, task.people) {
        return false;
    }
    if !task.extra {
        return true;
    }
    let required = facts.roster.required(task.room, at).map_or(0, |p| p.people);
    let inside = facts.rota.entries.iter().filter(|e| e.room == task.room && stay(e).contains(at)).count();
    !below(inside, required.saturating_add(task.people))
}

fn skilled<'a>(facts: &'a Facts, task: &'a Task) -> impl Iterator<Item = &'a Entry> {
    facts.rota.entries.iter().filter(move |e| {
        e.room == task.room && task.skill.as_ref().is_none_or(|s| facts.roster.person(e.person).skills.contains(s))
    })
}

fn below(number: usize, wanted: u32) -> bool {
    usize::try_from(wanted).is_ok_and(|wanted| number < wanted)
}
