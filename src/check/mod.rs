//! The independent check of any rota, planned or made by hand (H4).
//!
//! It replays the minutes in whole numbers and shares no code with the planner.

mod apart;
mod available;
mod breaks;
mod donning;
mod doors;
mod duties;
mod early_exit;
mod entry;
mod facts;
mod faults;
mod gather;
mod helpers;
mod hours;
mod lanes;
mod low_hours;
mod measures;
mod missed;
mod outby;
mod page;
mod pins;
mod presence;
mod reach;
mod removal;
mod rescue;
mod respirators;
mod rest;
mod review;
mod rolling;
mod room;
mod set_aside;
mod showers;
mod sign_off;
mod skill;
mod stock;
mod supervised;
mod sweep;
mod tasks;
mod unchecked;
mod watching;
mod wear;

use std::collections::BTreeMap;

use crate::night::{Minutes, PersonIx, PinIx, RoomIx, Rule, Span, TaskIx};

/// By how much a rule is missed.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum By {
    /// So many minutes too long, too short, too early or too late.
    Minutes(Minutes),
    /// So many people or kits too many or too few.
    Count(u32),
}

/// One rule broken at one place.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Fault {
    /// The minutes it concerns.
    pub span: Span,
    /// Which rule.
    pub rule: Rule,
    /// Whom it concerns, in the order the sentence names them.
    pub people: Vec<PersonIx>,
    /// By how much, where that can be said. Never said of a personal limit (A8).
    pub by: Option<By>,
    /// One plain sentence with names and local times; no health words, no personal limit.
    pub what: String,
}

/// Presence short of what is required, for as long as the shortage stays the same (D4).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Shortage {
    /// When.
    pub span: Span,
    /// Where.
    pub room: RoomIx,
    /// Acuity class of the presence.
    pub class: u32,
    /// People required.
    pub required: u32,
    /// People inside.
    pub present: u32,
}

/// People with a skill fewer than are asked for, for as long as the shortage stays the same (D6).
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct SkillShortage {
    /// When.
    pub span: Span,
    /// Where.
    pub room: RoomIx,
    /// Which skill.
    pub skill: String,
    /// People with it asked for.
    pub required: u32,
    /// People with it inside.
    pub present: u32,
}

/// Too few who could go in for a person down, for as long as the shortage stays the same (E1).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct RescueShortage {
    /// When, with somebody inside.
    pub span: Span,
    /// People who should stand by.
    pub needed: u32,
    /// Those named who could go in.
    pub there: u32,
}

/// The rota's value at each level of the objective (trade page 5.3), as the replay counts it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Measures {
    /// Before all levels: pins of the roster that are not kept.
    pub pins_missed: u32,
    /// Level 1: minutes with somebody inside times the people missing who stand by, and minutes in which nobody could see
    /// to an early exit.
    pub rescue_missing: Minutes,
    /// Level 2: uncovered person-minutes by acuity class. Every class of the roster has a key.
    pub uncovered: BTreeMap<u32, Minutes>,
    /// Level 3: longest unbroken run of any shortage in one room, by class.
    pub longest: BTreeMap<u32, Minutes>,
    /// Level 4: must-do tasks not done.
    pub must_missed: u32,
    /// Level 4: minutes times people by which skills are missing inside.
    pub skill_missing: Minutes,
    /// Level 4: minutes after the wanted start, summed over must-do tasks done.
    pub must_late: Minutes,
    /// Level 5: wanted tasks not done.
    pub wanted_missed: u32,
    /// Level 6: person-entries.
    pub removals: u32,
    /// Printed and a tie-break: spells on post, each with a removal of its own.
    pub helper_removals: u32,
    /// Level 7: minutes by which entrants' removals end later than the unit's figure for spare before the end that
    /// its longest wear allows, summed.
    pub spare_short: Minutes,
    /// Level 7: minutes entrants wait dressed, at the door or for a lane.
    pub waits: Minutes,
    /// Level 8: removals of entrants that begin in low hours.
    pub low_hours: u32,
    /// Level 9: minutes of breaks outside the preferred windows.
    pub breaks_outside: Minutes,
    /// Level 10: largest cumulative wear of one person of the roster, in hundredths of a minute (weights are
    /// percent), carried-in wear included.
    pub largest_wear_centi: i64,
    /// Level 10: largest helper load of one person: minutes on post and minutes watching outside a post.
    pub largest_load: Minutes,
}

/// What happened to one task of the roster.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TaskOutcome {
    /// Done, starting so many minutes after the wanted start.
    Done {
        /// Zero when it starts at or before the wanted time.
        late: Minutes,
    },
    /// Not in the rota, or in it without the people inside.
    Missed,
}

/// One rule, or part of one, that was not checked, and why.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct NotChecked {
    /// Id and words, e.g. `E1 standby responders`.
    pub what: String,
    /// Why not.
    pub why: String,
}

/// Everything the check has to say of a rota.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Review {
    /// Broken rules in order of time. Gaps in cover are not faults.
    pub faults: Vec<Fault>,
    /// Presence gaps in order of class, then time, then room.
    pub shortages: Vec<Shortage>,
    /// Skills missing inside, in order of time, then room.
    pub skill_shortages: Vec<SkillShortage>,
    /// Every task of the roster, in its order.
    pub tasks: Vec<(TaskIx, TaskOutcome)>,
    /// Stretches with too few who stand by, in order of time.
    pub rescue: Vec<RescueShortage>,
    /// Stretches in which nobody could see to an early exit, in order of time (C8).
    pub exits: Vec<Span>,
    /// Every pin of the roster, in its order, and whether it is kept.
    pub pins: Vec<(PinIx, bool)>,
    /// The rota's value by level.
    pub measures: Measures,
    /// What was not checked.
    pub not_checked: Vec<NotChecked>,
}

pub use missed::Missed;
pub use outby::{out_by, out_by_together};
pub use page::rule_pages;
pub use respirators::{MostInUse, most_in_use};
pub use review::{is_clean, measure, review};
pub use watching::{OnWatch, on_watch};
