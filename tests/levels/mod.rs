//! What the check measures at each level of the objective: for the tests of the planner and for the benchmark.

use anteroom::check::Measures;
use anteroom::plan::Level;

/// Hundredths of a minute in minutes, rounded up.
pub const fn minutes_of_centi(centi: i64) -> i64 {
    (centi + 99).div_euclid(100)
}

/// The figure of a level; the last tie-breaks are nobody's business but the planner's.
pub fn figure(level: Level, found: &Measures) -> Option<i64> {
    Some(match level {
        Level::PinsMissed => found.pins_missed.into(),
        Level::RescueMissing => found.rescue_missing.0,
        Level::Uncovered(class) => found.uncovered[&class].0,
        Level::LongestStretch(class) => found.longest[&class].0,
        Level::MustMissed => found.must_missed.into(),
        Level::SkillMissing => found.skill_missing.0,
        Level::MustLate => found.must_late.0,
        Level::WantedMissed => found.wanted_missed.into(),
        Level::Removals => found.removals.into(),
        Level::HelperRemovals => found.helper_removals.into(),
        Level::SpareShort => found.spare_short.0,
        Level::Waits => found.waits.0,
        Level::LowHours => found.low_hours.into(),
        Level::BreaksOutside => found.breaks_outside.0,
        Level::LargestWear => minutes_of_centi(found.largest_wear_centi),
        Level::LargestLoad => found.largest_load.0,
        Level::MinutesDressed | Level::Breaks => return None,
    })
}
