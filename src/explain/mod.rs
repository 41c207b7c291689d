//! Why there are gaps, and what would close them.

mod fix;
mod may;
mod pairs;
mod stay;
mod tight;
mod why;

use self::why::{Need, Short, why};
use crate::check::{RescueShortage, Review, Shortage, SkillShortage, TaskOutcome};
use crate::night::{Entry, Minutes, Need as Wanted, Night, PersonIx, Pin, PinTo, RoomIx, Rota, Span, TaskIx};

/// How bad a gap is, worst first (trade page 5.4).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// Level 1: somebody inside, and too few who could go in for them.
    NoRescue,
    /// Levels 2 and 3: fewer people inside than required.
    PatientAlone,
    /// Level 4: a skill missing inside.
    SkillMissing,
    /// Levels 4 and 5: a task without its people.
    TaskNotCovered,
    /// Something the roster settles is not kept.
    PinNotKept,
    /// Levels 7 to 9: covered, with too little to spare.
    Tight,
}

/// One gap, ready to be shown.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Gap {
    /// How bad it is.
    pub severity: Severity,
    /// When.
    pub span: Span,
    /// Where.
    pub room: RoomIx,
    /// Acuity class of the presence that is short, if presence is.
    pub class: Option<u32>,
    /// The skill that is missing, if one is.
    pub skill: Option<String>,
    /// The task that is not covered, if one is.
    pub task: Option<TaskIx>,
    /// Who or what is short, in plain words.
    pub what: String,
    /// The same for a sheet that anybody may read: nobody is named, no reason is given (J5).
    pub posted: String,
    /// People required and people present.
    pub short: Option<(u32, u32)>,
    /// The smallest change that closes it, tried before it is claimed.
    pub fix: Option<String>,
}

impl Gap {
    /// The severity word. A patient with somebody inside, only too few, is not called alone.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match (self.severity, self.short) {
            (Severity::NoRescue, _) => "NO RESCUE",
            (Severity::PatientAlone, Some((_, 1..))) => "SHORT INSIDE",
            (Severity::PatientAlone, _) => "PATIENT ALONE",
            (Severity::SkillMissing, _) => "SKILL MISSING",
            (Severity::TaskNotCovered, _) => "TASK NOT COVERED",
            (Severity::PinNotKept, _) => "PIN NOT KEPT",
            (Severity::Tight, _) => "TIGHT",
        }
    }
}

/// Everything there is to say about a rota besides the rota.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Explained {
    /// Gaps, worst first.
    pub gaps: Vec<Gap>,
    /// What each person may do tonight and the plain reason where not:
    /// "may enter, observe; not assist: no kit size".
    pub eligibility: Vec<(PersonIx, String)>,
    /// Changes that close several gaps: "One more doffing observer 02:00-05:00 closes gaps 1 and 2."
    pub fixes: Vec<String>,
}

/// Explains a rota.
#[must_use]
pub fn explain(night: &Night, rota: &Rota, review: &Review) -> Explained {
    let (mut gaps, shorts): (Vec<Gap>, Vec<Option<Short>>) = gaps(night, rota, review).into_iter().unzip();
    for (gap, short) in gaps.iter_mut().zip(&shorts) {
        if let Some(short) = short {
            short.posted().clone_into(&mut gap.posted);
        }
    }
    let fixes = fix::add_fixes(night, rota, review, &mut gaps, &shorts);
    gaps.extend(tight::tight(night, rota));
    let eligibility = night.roster.person_indices().map(|person| (person, may::may(night, person))).collect();
    Explained { gaps, eligibility, fixes }
}

/// Gaps, worst first: presence by class and time, then must-do tasks, missing
/// skills, wanted tasks. With each what is short, unless no change of people or lanes helps.
fn gaps(night: &Night, rota: &Rota, review: &Review) -> Vec<(Gap, Option<Short>)> {
    let mut gaps: Vec<_> = review.rescue.iter().map(|short| (rescue_gap(rota, short), None)).collect();
    gaps.extend(review.exits.iter().map(|&span| (exit_gap(night, rota, span), None)));
    gaps.sort_by_key(|(gap, _)| gap.span);
    gaps.extend(review.shortages.iter().map(|short| presence_gap(night, rota, short)));
    let missed = review.tasks.iter().filter(|(_, outcome)| *outcome == TaskOutcome::Missed).map(|(task, _)| *task);
    let mut missed: Vec<TaskIx> = missed.collect();
    missed.sort_by_key(|&ix| (night.roster.tasks[ix.0].need, night.roster.tasks[ix.0].wanted, ix));
    let (must, wanted): (Vec<_>, Vec<_>) =
        missed.into_iter().partition(|&ix| night.roster.tasks[ix.0].need == Wanted::Must);
    gaps.extend(must.into_iter().map(|task| task_gap(night, rota, task)));
    gaps.extend(review.skill_shortages.iter().map(|short| skill_gap(night, rota, short)));
    gaps.extend(wanted.into_iter().map(|task| task_gap(night, rota, task)));
    let unkept = review.pins.iter().filter(|(_, kept)| !kept);
    gaps.extend(unkept.map(|(pin, _)| (pin_gap(night, rota, night.roster.pins[pin.0]), None)));
    gaps
}

fn skill_gap(night: &Night, rota: &Rota, short: &SkillShortage) -> (Gap, Option<Short>) {
    let people = short.required - short.present;
    let need = Need { room: short.room, span: short.span, people, skill: Some(&short.skill) };
    let (what_is_short, what) = why(night, rota, &need);
    let gap = Gap {
        severity: Severity::SkillMissing,
        span: short.span,
        room: short.room,
        class: None,
        skill: Some(short.skill.clone()),
        task: None,
        what,
        posted: String::new(),
        short: Some((short.required, short.present)),
        fix: None,
    };
    (gap, Some(what_is_short))
}

fn rescue_gap(rota: &Rota, short: &RescueShortage) -> Gap {
    let (needed, there) = (short.needed, short.there);
    let words = "nobody else named is free, rested, in date and on duty long enough, with a kit.";
    no_rescue(rota, short.span, format!("{needed} should stand by, {there} can: {words}"))
}

fn exit_gap(night: &Night, rota: &Rota, span: Span) -> Gap {
    let within = night.limits.early_exit.map_or(Minutes::ZERO, |exit| exit.within);
    let helpers = if night.limits.longest_exit().1 { "lane, observer and assistant" } else { "lane and observer" };
    let words = format!("Whoever comes out early is not seen to within {within} min: no {helpers} free together.");
    no_rescue(rota, span, words)
}

fn no_rescue(rota: &Rota, span: Span, what: String) -> Gap {
    let inside = |e: &&Entry| Span::new(e.door_in, e.door_out).overlaps(span);
    let room = rota.entries.iter().find(inside).map_or(RoomIx(0), |e| e.room);
    Gap {
        severity: Severity::NoRescue,
        span,
        room,
        class: None,
        task: None,
        skill: None,
        posted: what.clone(),
        what,
        short: None,
        fix: Some("not looked for: the unit decides whether anybody goes in".to_owned()),
    }
}

fn presence_gap(night: &Night, rota: &Rota, short: &Shortage) -> (Gap, Option<Short>) {
    let people = (short.required - short.present.min(short.required)).max(1);
    let (what_is_short, what) = why(night, rota, &Need { room: short.room, span: short.span, people, skill: None });
    let gap = Gap {
        severity: Severity::PatientAlone,
        span: short.span,
        room: short.room,
        class: Some(short.class),
        skill: None,
        task: None,
        what,
        posted: String::new(),
        short: Some((short.required, short.present)),
        fix: None,
    };
    (gap, Some(what_is_short))
}

fn pin_gap(night: &Night, rota: &Rota, pin: Pin) -> Gap {
    let id = &night.roster.person(pin.person).id;
    let clock = night.roster.clock;
    let (span, task, wanted) = match pin.to {
        PinTo::Entry { door_in, .. } => {
            let stay = Span::new(door_in, door_in + night.limits.min_stay);
            (stay, None, format!("{id} was pinned to go in at {}.", clock.hhmm(door_in)))
        }
        PinTo::Task(ix) => {
            let task = &night.roster.tasks[ix.0];
            (Span::new(task.wanted, task.wanted + task.length), Some(ix), format!("{id} was pinned to this task."))
        }
    };
    let need = Need { room: night.roster.room_of_pin(pin), span, people: 1, skill: None };
    let too_long = task.and_then(|ix| stay::too_long(night, &night.roster.tasks[ix.0]));
    let why = too_long.unwrap_or_else(|| why::why_not(night, rota, &need, pin.person));
    Gap {
        severity: Severity::PinNotKept,
        span,
        room: need.room,
        class: None,
        task,
        skill: None,
        what: format!("{wanted} {why}"),
        posted: "something settled on the roster before planning is not kept".to_owned(),
        short: None,
        fix: Some("change the pin, or what stands against it; not tried".to_owned()),
    }
}

fn task_gap(night: &Night, rota: &Rota, ix: TaskIx) -> (Gap, Option<Short>) {
    let task = &night.roster.tasks[ix.0];
    let span = Span::new(task.wanted, task.wanted + task.length);
    let need = Need { room: task.room, span, people: task.people, skill: task.skill.as_deref() };
    let (what_is_short, what) = if let Some(arithmetic) = stay::too_long(night, task) {
        (None, arithmetic)
    } else {
        let (short, what) = why(night, rota, &need);
        (Some(short), what)
    };
    let gap = Gap {
        severity: Severity::TaskNotCovered,
        span,
        room: task.room,
        class: None,
        skill: None,
        task: Some(ix),
        // What is short takes its place; the arithmetic of a stay that is too long names nobody.
        posted: what.clone(),
        what,
        short: None,
        fix: None,
    };
    (gap, what_is_short)
}
