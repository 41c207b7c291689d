//! The rota as JSON for scripts.
//!
//! The shape is stable: keys are added, never renamed, while `format` stays 1.
//! Times are ISO 8601, local with offset; durations are whole minutes in keys
//! ending in `_min`; `null` says that there is none.
//!
//! - `format`, `caution` (paragraphs), `training`, `review_overdue`, `ended`
//!   (`by itself`, `by the clock`, `by hand`; null for a rota that was only checked)
//! - `night`: `unit`, `roster`, `constraint_set`, `issue`, `zone`, `from`, `to`
//! - `limits`: `name`, `approved_by`, `approved_on`, `review_by`, `wear_counted`, figures, `kits`, `respirators`,
//!   and `relief` where the unit forces a way
//! - `entries`: `number`, `person`, `room`, `don`, `in`, `out`, `out_by`, `spare_min`, `removal`, `off`,
//!   `lane`, `donning_observer`, `observer`, `assistant`, `respirator`
//! - `posts`: `person`, `as`, `don`, `removal`, `off`, `lane`, `donning_observer`, `observer`,
//!   `respirator`
//! - `breaks`, `coordinators`, `standby`, `exit_observers`, `exit_assistants`, `showers`: `person`, `from`, `to`
//! - `tasks`: `task`, `room`, `start`, `end`, `done`
//! - `gaps`, worst first: `severity`, `from`, `to`, `room`, `class`, `skill`, `task`, `what`, `required`, `present`,
//!   `fix`; `fixes`; `people`: `person`, `may`
//! - `levels`: `level` (`pins_missed`, `rescue_missing`, `uncovered`, `longest_gap`, `must_missed`, `skill_missing`, `must_late`,
//!   `wanted_missed`, `removals`, `helper_removals`, `spare_short`, `waits`, `low_hours`, `breaks_outside`,
//!   `most_wear`, `most_helper_load`, `dressed`, `breaks`), `class`, `words`, `unit`, `value`, `cannot_be_below`,
//!   `proven_best`
//! - `faults`: `rule`, `words`, `from`, `to`, `people`, `by_min`, `by_count`, `what`
//! - `not_checked`: `what`, `why`

mod shape;

use super::View;
use super::words;
use crate::check::{By, Fault, TaskOutcome};
use crate::explain::Gap;
use crate::night::{Entry, LaneIx, Minute, PersonIx, Post, PostRole, Rule, Span, Stint, TaskIx};
use crate::plan::{Ended, LevelResult};
use shape::{
    Document, EntryShape, FaultShape, GapShape, LevelShape, LimitsShape, NightShape, NotCheckedShape, PersonShape,
    PostShape, StintShape, TaskShape,
};

/// The version of this shape.
pub const FORMAT: u32 = 1;

/// Writes everything there is to say, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn write(view: &View<'_>) -> Result<String, serde_json::Error> {
    indented(&document(view))
}

/// A document as text, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for no type of ours.
pub(super) fn indented(document: &impl serde::Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(document).map(|text| text + "\n")
}

fn document(view: &View<'_>) -> Document {
    let (rota, review) = (view.rota, view.review);
    let stints = |all: &[Stint]| all.iter().map(|s| stint(view, s.person, s.span)).collect();
    let approval = &view.night.limits.approval;
    Document {
        format: FORMAT,
        caution: words::caution(&approval.by, &approval.on.to_string(), &format!("issue {}", rota.issue)).to_vec(),
        training: view.is_training(),
        review_overdue: view.review_is_overdue(),
        ended: view.search.map(|search| ended(search.ended)),
        night: night(view),
        limits: LimitsShape::of(&view.night.limits),
        entries: (0..rota.entries.len()).map(|ix| entry(view, ix, &rota.entries[ix])).collect(),
        posts: rota.posts.iter().map(|p| post(view, p)).collect(),
        breaks: rota.breaks.iter().map(|b| stint(view, b.person, b.span)).collect(),
        coordinators: stints(&rota.coordinators),
        standby: stints(&rota.standby),
        exit_observers: stints(&rota.exit_observers),
        exit_assistants: stints(&rota.exit_assistants),
        showers: stints(&rota.showers),
        tasks: review.tasks.iter().map(|&(ix, outcome)| task(view, ix, outcome)).collect(),
        gaps: view.explained.gaps.iter().map(|g| gap(view, g)).collect(),
        fixes: view.explained.fixes.clone(),
        people: view.explained.eligibility.iter().map(|(ix, may)| person(view, *ix, may)).collect(),
        levels: view.search.map_or_else(Vec::new, |s| s.levels.iter().map(level).collect()),
        faults: review.faults.iter().map(|f| fault(view, f)).collect(),
        not_checked: not_checked(view),
    }
}

const fn ended(ended: Ended) -> &'static str {
    match ended {
        Ended::ByItself => "by itself",
        Ended::ByClock => "by the clock",
        Ended::ByUser => "by hand",
    }
}

fn night(view: &View<'_>) -> NightShape {
    let roster = &view.night.roster;
    NightShape {
        unit: roster.unit.clone(),
        roster: view.rota.roster.clone(),
        constraint_set: view.rota.constraint_set.clone(),
        issue: view.rota.issue,
        zone: roster.clock.zone_name(),
        from: view.wall().iso(roster.shift.from),
        to: view.wall().iso(roster.shift.to),
    }
}

fn id(view: &View<'_>, ix: PersonIx) -> String {
    view.night.roster.person(ix).id.clone()
}

fn lane(view: &View<'_>, ix: Option<LaneIx>) -> Option<String> {
    ix.map(|ix| view.night.roster.lanes[ix.0].id.clone())
}

fn entry(view: &View<'_>, ix: usize, e: &Entry) -> EntryShape {
    let iso = |at: Minute| view.wall().iso(at);
    let some_id = |ix: Option<PersonIx>| ix.map(|ix| id(view, ix));
    EntryShape {
        number: e.number,
        person: id(view, e.person),
        room: view.night.roster.rooms[e.room.0].id.clone(),
        don: iso(e.don),
        door_in: iso(e.door_in),
        door_out: iso(e.door_out),
        out_by: view.out_by(ix).map(iso),
        spare_min: view.spare(ix).map(|spare| spare.0),
        removal: iso(e.removal),
        off: iso(e.off),
        lane: lane(view, e.lane),
        donning_observer: some_id(e.donning_observer),
        observer: some_id(e.observer),
        assistant: some_id(e.assistant),
        respirator: e.respirator.clone(),
    }
}

fn post(view: &View<'_>, p: &Post) -> PostShape {
    let iso = |at: Minute| view.wall().iso(at);
    PostShape {
        person: id(view, p.person),
        role: match p.role {
            PostRole::Assistant => "assistant",
            PostRole::Observer => "observer",
        },
        don: iso(p.don),
        removal: iso(p.removal),
        off: iso(p.off),
        lane: lane(view, p.lane),
        donning_observer: p.donning_observer.map(|ix| id(view, ix)),
        observer: p.observer.map(|ix| id(view, ix)),
        respirator: p.respirator.clone(),
    }
}

fn stint(view: &View<'_>, person: PersonIx, span: Span) -> StintShape {
    let iso = |at: Minute| view.wall().iso(at);
    StintShape { person: id(view, person), from: iso(span.from), to: iso(span.to) }
}

fn task(view: &View<'_>, ix: TaskIx, outcome: TaskOutcome) -> TaskShape {
    let task = &view.night.roster.tasks[ix.0];
    let start = view.rota.tasks.iter().find(|t| t.task == ix).map(|t| t.start);
    TaskShape {
        task: task.id.clone(),
        room: view.night.roster.rooms[task.room.0].id.clone(),
        start: start.map(|at| view.wall().iso(at)),
        end: start.map(|at| view.wall().iso(at + task.length)),
        done: matches!(outcome, TaskOutcome::Done { .. }),
    }
}

fn gap(view: &View<'_>, g: &Gap) -> GapShape {
    let roster = &view.night.roster;
    GapShape {
        severity: g.word(),
        from: view.wall().iso(g.span.from),
        to: view.wall().iso(g.span.to),
        room: roster.rooms[g.room.0].id.clone(),
        class: g.class,
        skill: g.skill.clone(),
        task: g.task.map(|ix| roster.tasks[ix.0].id.clone()),
        what: g.what.clone(),
        required: g.short.map(|(required, _)| required),
        present: g.short.map(|(_, present)| present),
        fix: g.fix.clone(),
    }
}

fn person(view: &View<'_>, ix: PersonIx, may: &str) -> PersonShape {
    PersonShape { person: id(view, ix), may: may.to_owned() }
}

fn level(result: &LevelResult) -> LevelShape {
    LevelShape {
        level: words::level_key(result.level).0,
        class: words::level_key(result.level).1,
        words: words::level(result.level),
        unit: words::unit(result.level),
        value: result.value,
        cannot_be_below: result.at_least,
        proven_best: result.proven(),
    }
}

fn fault(view: &View<'_>, f: &Fault) -> FaultShape {
    // How far a personal limit is missed is never said.
    let by = f.by.filter(|_| f.rule != Rule::A8);
    let (by_min, by_count) = match by {
        Some(By::Minutes(minutes)) => (Some(minutes.0), None),
        Some(By::Count(count)) => (None, Some(count)),
        None => (None, None),
    };
    FaultShape {
        rule: f.rule.id(),
        words: f.rule.words(),
        from: view.wall().iso(f.span.from),
        to: view.wall().iso(f.span.to),
        people: f.people.iter().map(|&ix| id(view, ix)).collect(),
        by_min,
        by_count,
        what: f.what.clone(),
    }
}

fn not_checked(view: &View<'_>) -> Vec<NotCheckedShape> {
    let all = view.review.not_checked.iter();
    all.map(|n| NotCheckedShape { what: n.what.clone(), why: n.why.clone() }).collect()
}
