//! The types behind the JSON, key by key. Their order is the order of the keys.

use serde::Serialize;

use crate::night::{ConstraintSet, Ensemble, EnsembleIx, Respirator, WearFrom, WornIn};

#[derive(Serialize)]
pub struct Document {
    pub format: u32,
    pub caution: Vec<String>,
    pub training: bool,
    pub review_overdue: bool,
    pub ended: Option<&'static str>,
    pub night: NightShape,
    pub limits: LimitsShape,
    pub entries: Vec<EntryShape>,
    pub posts: Vec<PostShape>,
    pub breaks: Vec<StintShape>,
    pub coordinators: Vec<StintShape>,
    pub standby: Vec<StintShape>,
    pub exit_observers: Vec<StintShape>,
    pub exit_assistants: Vec<StintShape>,
    pub showers: Vec<StintShape>,
    pub tasks: Vec<TaskShape>,
    pub gaps: Vec<GapShape>,
    pub fixes: Vec<String>,
    pub people: Vec<PersonShape>,
    pub levels: Vec<LevelShape>,
    pub faults: Vec<FaultShape>,
    pub not_checked: Vec<NotCheckedShape>,
}

#[derive(Serialize)]
pub struct NightShape {
    pub unit: String,
    pub roster: String,
    pub constraint_set: String,
    pub issue: u32,
    pub zone: &'static str,
    pub from: String,
    pub to: String,
}

#[derive(Serialize)]
pub struct LimitsShape {
    name: String,
    approved_by: String,
    approved_on: String,
    review_by: String,
    sources: Vec<String>,
    wear_counted: &'static str,
    cumulative_wear_min: i64,
    changeover_min: i64,
    shower_min: i64,
    shift_gap_min: i64,
    entries_max: Option<u32>,
    nights_in_a_row: Option<NightsShape>,
    week_max_min: Option<i64>,
    recency: Vec<RecencyShape>,
    overlap_min: i64,
    cleaning_min: i64,
    grid_min: i64,
    min_inside: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    relief: Option<&'static str>,
    waiting_places: u32,
    kits: Vec<KitShape>,
    respirators: Vec<RespiratorShape>,
}

#[derive(Serialize)]
struct NightsShape {
    max: u32,
    from: String,
    to: String,
}

#[derive(Serialize)]
struct RecencyShape {
    role: &'static str,
    days: u32,
}

#[derive(Serialize)]
struct RespiratorShape {
    model: String,
    run_min: Option<i64>,
    run_margin_min: i64,
    reprocess_min: i64,
    charge_min: i64,
}

#[derive(Serialize)]
struct KitShape {
    kit: String,
    worn_in: &'static str,
    donning_min: i64,
    sealed_min: i64,
    removal_min: i64,
    max_wear_min: i64,
    margin_min: i64,
    recovery_min: i64,
    cumulative_percent: i64,
    rest_before: Vec<RestShape>,
}

#[derive(Serialize)]
struct RestShape {
    kit: String,
    min: i64,
}

#[derive(Serialize)]
pub struct EntryShape {
    pub number: u32,
    pub person: String,
    pub room: String,
    pub don: String,
    #[serde(rename = "in")]
    pub door_in: String,
    #[serde(rename = "out")]
    pub door_out: String,
    pub out_by: Option<String>,
    pub spare_min: Option<i64>,
    pub removal: String,
    pub off: String,
    pub lane: Option<String>,
    pub donning_observer: Option<String>,
    pub observer: Option<String>,
    pub assistant: Option<String>,
    pub respirator: Option<String>,
}

#[derive(Serialize)]
pub struct PostShape {
    pub person: String,
    #[serde(rename = "as")]
    pub role: &'static str,
    pub don: String,
    pub removal: String,
    pub off: String,
    pub lane: Option<String>,
    pub donning_observer: Option<String>,
    pub observer: Option<String>,
    pub respirator: Option<String>,
}

/// Somebody for a while: on a break, coordinating, standing by, free for an early exit.
#[derive(Serialize)]
pub struct StintShape {
    pub person: String,
    pub from: String,
    pub to: String,
}

#[derive(Serialize)]
pub struct TaskShape {
    pub task: String,
    pub room: String,
    pub start: Option<String>,
    pub end: Option<String>,
    pub done: bool,
}

#[derive(Serialize)]
pub struct GapShape {
    pub severity: &'static str,
    pub from: String,
    pub to: String,
    pub room: String,
    pub class: Option<u32>,
    pub skill: Option<String>,
    pub task: Option<String>,
    pub what: String,
    pub required: Option<u32>,
    pub present: Option<u32>,
    pub fix: Option<String>,
}

#[derive(Serialize)]
pub struct PersonShape {
    pub person: String,
    pub may: String,
}

#[derive(Serialize)]
pub struct LevelShape {
    pub level: &'static str,
    pub class: Option<u32>,
    pub words: String,
    pub unit: &'static str,
    pub value: i64,
    pub cannot_be_below: i64,
    pub proven_best: bool,
}

#[derive(Serialize)]
pub struct FaultShape {
    pub rule: &'static str,
    pub words: &'static str,
    pub from: String,
    pub to: String,
    pub people: Vec<String>,
    pub by_min: Option<i64>,
    pub by_count: Option<u32>,
    pub what: String,
}

#[derive(Serialize)]
pub struct NotCheckedShape {
    pub what: String,
    pub why: String,
}

impl LimitsShape {
    /// The figures of a constraint set.
    pub fn of(set: &ConstraintSet) -> Self {
        Self {
            name: set.name.clone(),
            approved_by: set.approval.by.clone(),
            approved_on: set.approval.on.to_string(),
            review_by: set.approval.review_by.to_string(),
            sources: set.sources.clone(),
            wear_counted: match set.wear_from {
                WearFrom::Sealed => "from sealed",
                WearFrom::DonningStart => "from donning start",
                WearFrom::DoorIn => "from door",
            },
            cumulative_wear_min: set.cumulative_wear.0,
            changeover_min: set.changeover.0,
            shower_min: set.shower.0,
            shift_gap_min: set.shift_gap.0,
            entries_max: set.entries_max,
            nights_in_a_row: set.nights_in_a_row.map(|nights| NightsShape {
                max: nights.max,
                from: nights.from.format("%H:%M").to_string(),
                to: nights.to.format("%H:%M").to_string(),
            }),
            week_max_min: set.week_max.map(|most| most.0),
            recency: set.recency.iter().map(|r| RecencyShape { role: r.role.word(), days: r.days }).collect(),
            overlap_min: set.overlap.0,
            cleaning_min: set.cleaning.0,
            grid_min: set.grid.0,
            min_inside: set.min_inside,
            relief: set.relief.is_forced().then(|| set.relief.word()),
            waiting_places: set.waiting_places,
            kits: (0..set.ensembles.len()).map(|ix| KitShape::of(set, EnsembleIx(ix))).collect(),
            respirators: set.respirators.iter().map(RespiratorShape::of).collect(),
        }
    }
}

impl RespiratorShape {
    fn of(respirator: &Respirator) -> Self {
        Self {
            model: respirator.model.clone(),
            run_min: respirator.run.map(|run| run.0),
            run_margin_min: respirator.run_margin.0,
            reprocess_min: respirator.reprocess.0,
            charge_min: respirator.charge.0,
        }
    }
}

impl KitShape {
    fn of(set: &ConstraintSet, ix: EnsembleIx) -> Self {
        let kit: &Ensemble = set.ensemble(ix);
        let rest = |(next, e): (usize, &Ensemble)| RestShape {
            kit: e.id.clone(),
            min: set.rest_between(ix, EnsembleIx(next)).0,
        };
        Self {
            kit: kit.id.clone(),
            worn_in: match kit.worn_in {
                WornIn::Room => "room",
                WornIn::DoffingArea => "doffing-area",
            },
            donning_min: kit.donning.0,
            sealed_min: kit.sealed.0,
            removal_min: kit.removal.0,
            max_wear_min: kit.max_wear.0,
            margin_min: kit.margin.0,
            recovery_min: kit.recovery.0,
            cumulative_percent: kit.cumulative_percent,
            rest_before: set.ensembles.iter().enumerate().map(rest).collect(),
        }
    }
}
