//! The nouns of the trade: clock, constraint set, roster, rota, rule.
//!
//! Nothing here knows of files, solvers or screens.

pub mod clock;
pub mod constraint_set;
pub mod crew;
mod donning;
pub mod duty_log;
mod missing;
pub mod pin;
pub mod recency;
pub mod relief;
pub mod respirator;
pub mod rolling;
pub mod roster;
pub mod rota;
pub mod rule;
mod supervised;
mod without;

use chrono::{Days, NaiveDate, TimeZone};

pub use clock::{Clock, Minute, Minutes, Span};
pub use constraint_set::{
    Approval, Breaks, CleanDuty, CleanedBy, ConstraintSet, EarlyExit, Ensemble, EnsembleIx, LowHours, Standby,
    Watching, WearFrom, WornIn,
};
pub use crew::{Crew, Group, Lever, Question, Tried, each_with_each, free_id};
pub use duty_log::{LoggedDuty, NightsInARow, WEEK};
pub use pin::{Forbidden, Pin, PinIx, PinTo};
pub use recency::Recency;
pub use relief::Relief;
pub use respirator::{NoFit, Respirator};
pub use rolling::{LoggedWear, RollingWear};
pub use roster::{
    Apart, ExcludedPair, FitTest, Huddle, KitSize, KitStock, Lane, LaneIx, LastRemoval, Need, Person, PersonIx,
    PersonalLimits, Presence, RespiratorStock, Role, Room, RoomIx, Roster, SignOff, SkillCover, Task, TaskIx, looks,
};
pub use rota::{BreakTaken, Entry, Post, PostRole, Rota, Stint, TaskDone};
pub use rule::Rule;

/// A roster with the constraint set it is planned and checked under.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Night {
    /// Who and what.
    pub roster: Roster,
    /// Under which limits.
    pub limits: ConstraintSet,
}

/// The first instant after the local calendar day `day`: what "valid through" runs to.
///
/// Where the clocks jump over midnight, it is the first instant of the next day.
fn local_midnight_after(day: NaiveDate, clock: Clock) -> Minute {
    let Some(next) = day.checked_add_days(Days::new(1)) else {
        return Minute(i64::MAX / 4);
    };
    // Some zones change their clocks at midnight: step on until a local time exists.
    (0..=240)
        .filter_map(|past| next.and_hms_opt(past / 60, past % 60, 0))
        .find_map(|naive| clock.zone().from_local_datetime(&naive).earliest())
        .map_or(Minute(i64::MAX / 4), |at| Minute(at.timestamp().div_euclid(60)))
}

impl Night {
    /// What a person would go in with tonight: the first room ensemble they
    /// are signed off for.
    #[must_use]
    pub fn room_ensemble(&self, person: PersonIx) -> Option<EnsembleIx> {
        let kits = &self.roster.person(person).kits;
        kits.iter().map(|k| k.ensemble).find(|&e| self.limits.ensemble(e).worn_in == WornIn::Room)
    }

    /// Tonight's low hours: every stretch of them that anybody on the roster could meet (B10).
    #[must_use]
    pub fn low_hours(&self) -> Vec<Span> {
        let duties = self.roster.people.iter().map(|person| person.on_duty);
        let all = duties.fold(self.roster.shift, |all, duty| Span::new(all.from.min(duty.from), all.to.max(duty.to)));
        let low = self.limits.low_hours.as_ref();
        low.map_or_else(Vec::new, |low| self.roster.clock.daily(low.from, low.to, all))
    }

    /// How many may shower at once, where places are limited and the unit has a time for showers (F2).
    #[must_use]
    pub fn shower_places(&self) -> Option<u32> {
        self.roster.shower_places.filter(|_| self.limits.shower > Minutes::ZERO)
    }

    /// The kit worn on a post, if the unit has one for it.
    #[must_use]
    pub fn post_ensemble(&self, role: PostRole) -> Option<EnsembleIx> {
        match role {
            PostRole::Assistant => self.limits.assistant_kit,
            PostRole::Observer => self.limits.observer_kit,
        }
    }
}
