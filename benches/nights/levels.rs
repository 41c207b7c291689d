//! Levels by name, and what the check measures at each.

use anteroom::check::Measures;
use anteroom::night::Night;
use anteroom::plan::{Level, levels_in_order};

use crate::figures::figure;

/// The levels of a night that the check measures, in order. Those it does not are the planner's own tie-breaks.
pub fn of(night: &Night) -> Vec<Level> {
    levels_in_order(night).into_iter().filter(|&level| is_measured(level)).collect()
}

/// Whether the check measures it.
pub const fn is_measured(level: Level) -> bool {
    !matches!(level, Level::MinutesDressed | Level::Breaks)
}

/// Its short name in the record and the table.
pub fn name(level: Level) -> String {
    match level {
        Level::PinsMissed => "pins missed".to_owned(),
        Level::RescueMissing => "rescue missing".to_owned(),
        Level::Uncovered(class) => format!("uncovered {class}"),
        Level::LongestStretch(class) => format!("longest {class}"),
        Level::MustMissed => "must missed".to_owned(),
        Level::SkillMissing => "skill missing".to_owned(),
        Level::MustLate => "must late".to_owned(),
        Level::WantedMissed => "wanted missed".to_owned(),
        Level::Removals => "removals".to_owned(),
        Level::HelperRemovals => "helper removals".to_owned(),
        Level::SpareShort => "spare short".to_owned(),
        Level::Waits => "waits".to_owned(),
        Level::LowHours => "low hours".to_owned(),
        Level::BreaksOutside => "breaks outside".to_owned(),
        Level::LargestWear => "largest wear".to_owned(),
        Level::LargestLoad => "largest load".to_owned(),
        Level::MinutesDressed => "minutes dressed".to_owned(),
        Level::Breaks => "breaks".to_owned(),
    }
}

/// What a rota came to at the levels of its night.
pub fn measured(levels: &[Level], found: &Measures) -> Vec<i64> {
    levels.iter().filter_map(|&level| figure(level, found)).collect()
}
