//! The words for what the planner and the check count. No solver words.

use chrono::NaiveDate;

use crate::check::By;
use crate::night::{Relief, WearFrom};
use crate::plan::{Ended, Level, LevelResult};

/// What a level counts, in the trade's words.
pub fn level(level: Level) -> String {
    match level {
        Level::PinsMissed => "pins not kept".to_owned(),
        Level::RescueMissing => "standby, early-exit cover missing".to_owned(),
        Level::Uncovered(class) => format!("presence short, class {class}"),
        Level::LongestStretch(class) => format!("longest single gap, class {class}"),
        Level::MustMissed => "must-do tasks not done".to_owned(),
        Level::SkillMissing => "skill missing inside".to_owned(),
        Level::MustLate => "must-do tasks done late".to_owned(),
        Level::WantedMissed => "wanted tasks not done".to_owned(),
        Level::Removals => "removals of entrants".to_owned(),
        Level::HelperRemovals => "removals of helpers".to_owned(),
        Level::SpareShort => "spare below the unit's figure".to_owned(),
        Level::LowHours => "removals in low hours".to_owned(),
        Level::BreaksOutside => "breaks outside preferred times".to_owned(),
        Level::LargestWear => "most wear, one person".to_owned(),
        Level::LargestLoad => "most helper load, one person".to_owned(),
        Level::Waits => "waiting while dressed".to_owned(),
        Level::MinutesDressed => "minutes dressed, everybody".to_owned(),
        Level::Breaks => "breaks".to_owned(),
    }
}

/// The word of a level in files, and the acuity class where it has one.
pub const fn level_key(level: Level) -> (&'static str, Option<u32>) {
    match level {
        Level::PinsMissed => ("pins_missed", None),
        Level::RescueMissing => ("rescue_missing", None),
        Level::Uncovered(class) => ("uncovered", Some(class)),
        Level::LongestStretch(class) => ("longest_gap", Some(class)),
        Level::MustMissed => ("must_missed", None),
        Level::SkillMissing => ("skill_missing", None),
        Level::MustLate => ("must_late", None),
        Level::WantedMissed => ("wanted_missed", None),
        Level::Removals => ("removals", None),
        Level::HelperRemovals => ("helper_removals", None),
        Level::SpareShort => ("spare_short", None),
        Level::LowHours => ("low_hours", None),
        Level::BreaksOutside => ("breaks_outside", None),
        Level::LargestWear => ("most_wear", None),
        Level::LargestLoad => ("most_helper_load", None),
        Level::Waits => ("waits", None),
        Level::MinutesDressed => ("dressed", None),
        Level::Breaks => ("breaks", None),
    }
}

/// What a level is counted in; empty for a bare count.
pub const fn unit(level: Level) -> &'static str {
    match level {
        Level::RescueMissing | Level::Uncovered(_) | Level::SkillMissing => "person-min",
        Level::LongestStretch(_)
        | Level::MustLate
        | Level::LargestWear
        | Level::LargestLoad
        | Level::SpareShort
        | Level::BreaksOutside
        | Level::Waits
        | Level::MinutesDressed => "min",
        Level::PinsMissed
        | Level::MustMissed
        | Level::WantedMissed
        | Level::Removals
        | Level::HelperRemovals
        | Level::LowHours
        | Level::Breaks => "",
    }
}

/// `40 person-min`.
pub fn amount(level: Level, value: i64) -> String {
    format!("{value} {}", unit(level)).trim_end().to_owned()
}

/// Whether the level is known to be as good as it can be.
pub fn proof(result: &LevelResult) -> String {
    if result.proven() { "proven best".to_owned() } else { format!("best found; cannot be below {}", result.at_least) }
}

/// What is said of a search that did not end by itself.
pub const fn ended(ended: Ended) -> Option<&'static str> {
    match ended {
        Ended::ByItself => None,
        Ended::ByClock => Some("STOPPED BY THE CLOCK: best rota so far. Another run may give another rota."),
        Ended::ByUser => Some("STOPPED BY HAND: best rota so far. Another run may give another rota."),
    }
}

/// How people relieve each other, where the unit forces a way (D8).
pub const fn relief(relief: Relief) -> Option<&'static str> {
    match relief {
        Relief::InPairs => Some("in pairs, nobody passes the door alone"),
        Relief::OneByOne => Some("one by one, no two pass the door together while others stay inside"),
        Relief::Either => None,
    }
}

/// From when wear is counted, as it stands on the sheet (B1).
pub const fn wear_from(from: WearFrom) -> &'static str {
    match from {
        WearFrom::Sealed => "Wear counted from sealed (respirator on, kit closed) to the last item off.",
        WearFrom::DonningStart => "Wear counted from the first step of donning to the last item off.",
        WearFrom::DoorIn => "Wear counted from door to the last item off; helpers, who pass no door, from sealed.",
    }
}

/// `by 15 min`.
pub fn by(by: By) -> String {
    match by {
        By::Minutes(minutes) => format!("by {minutes} min"),
        By::Count(count) => format!("by {count}"),
    }
}

/// `4 Mar 2031`.
pub fn date(day: NaiveDate) -> String {
    day.format("%-d %b %Y").to_string()
}

/// The caution in a line, for answers that are no rota.
pub const PLANNING_AID: &str = "PLANNING AID ONLY: your unit's procedures and your own judgement come first.";

/// The caution, a paragraph each.
pub fn caution(approved_by: &str, approved_on: &str, valid_as: &str) -> [String; 5] {
    [
        "PLANNING AID ONLY. Your unit's procedures, occupational health and your own judgement come first. \
         Where this rota disagrees with them, they win: tell the charge nurse."
            .to_owned(),
        "Anyone may stop an entry or come out early, at any time, without a reason. OUT-BY is the latest time, \
         not a target."
            .to_owned(),
        "No observer, no assistant or no lane: no entry. If cover is lost with people inside, call the charge \
         nurse now."
            .to_owned(),
        format!(
            "The limits are this unit's own, approved by {approved_by} on {approved_on}. This program neither chose \
             nor verified them, and knows nothing of how patient or wearer are."
        ),
        format!("Valid only as {valid_as}. Destroy older issues."),
    ]
}
