//! The unit's own limits. No figure here has a default (L2): every one is
//! written, approved and dated by the unit.

use chrono::{NaiveDate, NaiveTime};

use super::clock::Minutes;
use super::duty_log::NightsInARow;
use super::recency::Recency;
use super::relief::Relief;
use super::respirator::Respirator;
use super::rolling::RollingWear;

/// Which ensemble, as an index into [`ConstraintSet::ensembles`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct EnsembleIx(pub usize);

/// The minute from which wear is counted (B1). It always ends with the last item off.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WearFrom {
    /// Respirator on, ensemble closed: `don + donning - sealed`.
    Sealed,
    /// The first step of donning: stricter.
    DonningStart,
    /// The door: looser, so the sheet says "wear counted from door".
    DoorIn,
}

/// Who cleans a lane after a removal (section 9, row 4).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum CleanedBy {
    /// The assistant of that removal: busy and still wearing.
    Assistant,
    /// Someone who is not planned here.
    Other,
}

/// Where an ensemble is worn.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WornIn {
    /// The patient room: entrants.
    Room,
    /// The doffing area: assistants, and observers where the unit says so.
    DoffingArea,
}

/// A duty that the unit may allow between recovery and the end of rest (B5).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum CleanDuty {
    /// Watching a donning, on the clean side.
    DonningObserver,
    /// Watching a removal, when observers wear no kit.
    DoffingObserver,
}

/// Everything about one set of protective equipment.
#[derive(Clone, PartialEq, Eq, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is a yes or no that the unit writes in its file")]
pub struct Ensemble {
    /// The unit's short name, e.g. `F`.
    pub id: String,
    /// Where it is worn.
    pub worn_in: WornIn,
    /// Respirator models it is worn with, in order of choice; none for a kit without one.
    pub respirators: Vec<String>,
    /// Whether those respirators need an in-date fit test (A2).
    pub fit_test: bool,
    /// `d`: the whole of donning.
    pub donning: Minutes,
    /// `s`: the part of donning after the ensemble is closed; `s <= d`.
    pub sealed: Minutes,
    /// Whether a donning observer watches its donning. Always true for [`WornIn::Room`] (C6).
    pub donning_watched: bool,
    /// `f` (or the assistant's `g`, the observer's `u`): the whole of removal.
    pub removal: Minutes,
    /// Whether a doffing observer watches its removal. Always true for [`WornIn::Room`] (C1).
    /// Of a doffing-area ensemble this speaks of an observer's own removal;
    /// an assistant's is always watched (C4).
    pub removal_watched: bool,
    /// Whether its removal needs a doffing assistant (C3). Only for [`WornIn::Room`].
    pub assistant: bool,
    /// `W`: the longest continuous wear (B2).
    pub max_wear: Minutes,
    /// `m`: the unit's planning margin below `W`.
    pub margin: Minutes,
    /// `rec`: no duty of any sort after its removal (B5).
    pub recovery: Minutes,
    /// Hundredths of a minute that one minute in it adds to cumulative wear (B6); 100 is "counts in full".
    pub cumulative_percent: i64,
}

/// The rules for meal and rest breaks (F3).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Breaks {
    /// How long a break is at least.
    pub length: Minutes,
    /// The longest time on duty without one.
    pub work_max: Minutes,
    /// Whether minutes of recovery may count as break.
    pub recovery_counts: bool,
}

/// The limit on continuous watching (C11).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Watching {
    /// `V`: the longest elapsed time on watch.
    pub max: Minutes,
    /// `b`: the pause that ends a stretch of watching; a shorter one counts as watching.
    pub pause: Minutes,
}

/// The hours of the night in which people tire soonest (B10).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LowHours {
    /// They begin at this local time, every day.
    pub from: NaiveTime,
    /// They end at this local time, the next day if that is not later.
    pub to: NaiveTime,
    /// The longest time on watch of a stretch that shares a minute with them.
    pub watch_max: Minutes,
    /// By ensemble: the longest wear of a wear that shares a minute with them.
    pub max_wear: Vec<Minutes>,
}

/// Responders held back, rested, to go in for a person down (E1).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Standby {
    /// How many, while anyone is inside.
    pub responders: u32,
    /// Whether a shortage is reported (level 1) instead of keeping people from going in.
    pub report: bool,
}

/// Cover for somebody who has to come out before their time (C8).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct EarlyExit {
    /// `e`: a removal can start this soon, whenever somebody inside needs it.
    pub within: Minutes,
    /// Whether a shortage is reported (level 1) instead of keeping people from going in.
    pub report: bool,
}

/// Who approved the figures and when (L2).
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Approval {
    /// Name or office, as the unit writes it.
    pub by: String,
    /// The day of approval.
    pub on: NaiveDate,
    /// The day by which the figures are to be looked at again.
    pub review_by: NaiveDate,
}

/// A unit's constraint set, already validated.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ConstraintSet {
    /// Its name, by which rosters and rotas refer to it.
    pub name: String,
    /// Marked EXAMPLE: sheets made from it say TRAINING - NOT FOR USE (L5).
    pub example: bool,
    /// Where its figures come from, in the unit's words. May be empty.
    pub sources: Vec<String>,
    /// Who signed it.
    pub approval: Approval,
    /// The planning grid, a divisor of 60 (F6).
    pub grid: Minutes,
    /// From when wear counts (B1).
    pub wear_from: WearFrom,
    /// `C`: cumulative wear of one person in the shift (B6).
    pub cumulative_wear: Minutes,
    /// Limits on wear over the days before, the shift included (B7).
    pub rolling_wear: Vec<RollingWear>,
    /// Minutes between two different duties of one person (A7).
    pub changeover: Minutes,
    /// Shower and change after the last removal, inside paid time (A3).
    pub shower: Minutes,
    /// `G`: the gap since the last actual off-duty (F4).
    pub shift_gap: Minutes,
    /// The most nights in a row, if the unit has a limit (F8).
    pub nights_in_a_row: Option<NightsInARow>,
    /// The most time on duty in any seven times 24 hours, if the unit has a limit (F8).
    pub week_max: Option<Minutes>,
    /// Within how many days roles must last have been done, each role at most once; none: not asked (A9).
    pub recency: Vec<Recency>,
    /// The most entries of one person in a shift, if the unit has a limit (B8).
    pub entries_max: Option<u32>,
    /// Duties allowed between recovery and the end of rest (B5).
    pub inside_rest: Vec<CleanDuty>,
    /// `k_min`: inside a room are 0 or at least this many (D1).
    pub min_inside: u32,
    /// How people relieve each other at the door (D8).
    pub relief: Relief,
    /// `o`: relief overlap (D3).
    pub overlap: Minutes,
    /// `c_min`: the shortest useful stay in a room; at least the overlap (B9).
    pub min_stay: Minutes,
    /// How many donnings one observer may watch at once: 1 or 2 (C6).
    pub donning_capacity: u32,
    /// Places where people may wait, dressed, for a lane (section 9, row 2). 0 allowed.
    pub waiting_places: u32,
    /// The observer is at the lane this long before a removal starts (C7).
    pub observer_ready: Minutes,
    /// The observer writes up this long after a removal; it counts as watching (row 28).
    pub observer_reset: Minutes,
    /// The kit observers of removals wear, if the unit says they wear one (C5).
    pub observer_kit: Option<EnsembleIx>,
    /// The kit assistants wear.
    pub assistant_kit: Option<EnsembleIx>,
    /// `t`: cleaning a lane after a removal (C9).
    pub cleaning: Minutes,
    /// Who does it.
    pub cleaned_by: CleanedBy,
    /// The unit's figure for spare: OUT-BY less planned out is TIGHT below it (level 7). 0 for none.
    pub spare: Minutes,
    /// Whether a named coordinator leads while anyone is inside (F7).
    pub coordinator: bool,
    /// Standby responders, if the unit has them (it must say "none" in words otherwise).
    pub standby: Option<Standby>,
    /// Early-exit cover, if the unit has it (it must say "none" in words otherwise).
    pub early_exit: Option<EarlyExit>,
    /// Low hours, if the unit has a rule for them (it must say "none" in words otherwise).
    pub low_hours: Option<LowHours>,
    /// The watching limit, if the unit has one (it must say "none" in words otherwise).
    pub watching: Option<Watching>,
    /// The break rule, if the unit has one (it must say "none" in words otherwise).
    pub breaks: Option<Breaks>,
    /// Respirator models whose units come back into use (G2). Of others there are some, or none (A2).
    pub respirators: Vec<Respirator>,
    /// All ensembles, in the order of the file.
    pub ensembles: Vec<Ensemble>,
    /// `rest[worn][next]`: from the last item off to the next donning start (B4).
    pub rest: Vec<Vec<Minutes>>,
}

impl ConstraintSet {
    /// The ensemble behind an index.
    #[must_use]
    pub fn ensemble(&self, ix: EnsembleIx) -> &Ensemble {
        &self.ensembles[ix.0]
    }

    /// The longest wear of an ensemble where it shares a minute with low hours (B10).
    #[must_use]
    pub fn low_hours_wear(&self, ix: EnsembleIx) -> Option<Minutes> {
        self.low_hours.as_ref().map(|low| low.max_wear[ix.0].min(self.ensemble(ix).max_wear))
    }

    /// The longest removal of a room ensemble, and whether one of them needs an assistant: what an early exit may
    /// ask for (C8).
    #[must_use]
    pub fn longest_exit(&self) -> (Minutes, bool) {
        let worn = || self.ensembles.iter().filter(|e| e.worn_in == WornIn::Room);
        let removal = worn().map(|e| e.removal).max().unwrap_or(Minutes::ZERO);
        (removal, worn().any(|e| e.assistant))
    }

    /// Rest owed after `worn` before `next` is put on (B4).
    #[must_use]
    pub fn rest_between(&self, worn: EnsembleIx, next: EnsembleIx) -> Minutes {
        self.rest[worn.0][next.0]
    }

    /// The rest after `worn` that duties without a kit wait for unless the unit
    /// lists them: the rest before the same ensemble again (B5).
    #[must_use]
    pub fn rest_before_clean_duty(&self, worn: EnsembleIx, duty: CleanDuty) -> Minutes {
        if self.inside_rest.contains(&duty) { self.ensemble(worn).recovery } else { self.full_rest(worn) }
    }

    /// The rest after `worn` before a duty without a kit that no unit may list (B5).
    #[must_use]
    pub fn full_rest(&self, worn: EnsembleIx) -> Minutes {
        self.ensemble(worn).recovery.max(self.rest_between(worn, worn))
    }

    /// Minutes from the start of donning to the first minute of wear; `None`
    /// when wear is counted from the door.
    #[must_use]
    pub fn donning_before_wear(&self, worn: EnsembleIx) -> Option<Minutes> {
        let ensemble = self.ensemble(worn);
        match self.wear_from {
            WearFrom::Sealed => Some(ensemble.donning - ensemble.sealed),
            WearFrom::DonningStart => Some(Minutes::ZERO),
            // A helper passes no door: its wear is counted from sealing.
            WearFrom::DoorIn if ensemble.worn_in == WornIn::DoffingArea => Some(ensemble.donning - ensemble.sealed),
            WearFrom::DoorIn => None,
        }
    }
}
