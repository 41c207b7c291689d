//! Words for contradictions in the constraint set.

use crate::night::Minutes;

use super::super::draw::quoted;
use super::super::mistake::{LengthMistake, LimitMistake};
use super::{Lines, Words, both, sum_words, words};

pub(super) fn length_words(length: &LengthMistake) -> Words {
    match length {
        LengthMistake::WearTooShort { max, parts } => words(
            "wear-too-short",
            format!("max_wear_min = {max}: {max} min is not more than {}.", sum_words(parts)),
            "Nobody could be got out in time.",
            hours_meant(*max),
        ),
        LengthMistake::StayTooShort { parts, max, margin, longest } => words(
            "stay-too-short",
            format!("{}, over max wear {max}{}.", sum_words(parts), less(*margin)),
            "No entry can be planned.",
            format!("Longest stay in room is {longest}. Correct min_stay_min, margin_min or max_wear_min."),
        ),
        LengthMistake::HelperWearTooShort { who, parts, max, margin } => words(
            "post-too-short",
            format!("{}, over max wear {max}{}.", sum_words(parts), less(*margin)),
            format!("No {who} could see one removal through."),
            "Correct margin_min or max_wear_min.",
        ),
        LengthMistake::MarginOverWear { margin, max } => words(
            "margin-over-wear",
            format!("margin_min = {margin} is not less than max_wear_min = {max}."),
            "Nothing of the wear would be left.",
            "Correct one of them.",
        ),
        LengthMistake::LowOverWear { low, max } => words(
            "low-hours-over-wear",
            format!("low_hours_max_wear_min = {low} is more than max_wear_min = {max}."),
            "Low hours are for shorter wear, not longer.",
            "Correct one of them.",
        ),
        LengthMistake::SealedOverDonning { sealed, donning } => words(
            "sealed-over-donning",
            format!("sealed_min = {sealed} is more than donning_min = {donning}."),
            "The sealed minutes are part of donning.",
            "Correct one of them.",
        ),
        LengthMistake::OverlapOverStay { overlap, min_stay } => words(
            "overlap-over-stay",
            format!("overlap_min = {overlap} is more than min_stay_min = {min_stay}."),
            "A relief could leave before the one relieved.",
            "Make min_stay_min at least overlap_min.",
        ),
        LengthMistake::CumulativeTooShort { cumulative, shortest, ensemble } => words(
            "cumulative-too-short",
            format!(
                "cumulative_max_min = {cumulative} is less than one shortest entry in {} ({shortest}).",
                quoted(ensemble)
            ),
            "Nobody could enter even once.",
            hours_meant(*cumulative),
        ),
        LengthMistake::RecoveryOverRest { after, before, recovery, rest } => words(
            "recovery-over-rest",
            format!(
                "rest from {} to {} is {rest} min, shorter than the recovery of {recovery} min.",
                quoted(after),
                quoted(before)
            ),
            "Recovery is part of rest.",
            "Lengthen the rest or correct recovery_min.",
        ),
        LengthMistake::WatchTooShort { max, parts } => words(
            "watch-too-short",
            format!("max_min = {max} is less than {}.", sum_words(parts)),
            "Nobody could watch one removal to its end.",
            hours_meant(*max),
        ),
        LengthMistake::RunTooShort { model, run, margin, parts } => words(
            "run-too-short",
            format!("{}, over run time {run}{} of {}.", sum_words(parts), less(*margin), quoted(model)),
            "It would stop before its wearer is out of it.",
            hours_meant(*run),
        ),
    }
}

fn less(margin: Minutes) -> String {
    if margin == Minutes::ZERO { String::new() } else { format!(" less margin {margin}") }
}

/// A small figure was probably meant in hours.
fn hours_meant(minutes: Minutes) -> String {
    if minutes.0 <= 12 { format!("Did you mean {}?", minutes.0 * 60) } else { "Correct the figure.".to_owned() }
}

pub(super) fn limit_words(limit: &LimitMistake, lines: Lines) -> Words {
    match limit {
        LimitMistake::GridNotDivisor { grid } => words(
            "grid",
            format!("grid_min = {grid} does not divide 60."),
            "The grid would not meet the full hour.",
            "Write 1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30 or 60.",
        ),
        LimitMistake::RestMissing { pairs } => words(
            "rest-missing",
            format!("no [[rest]] says how long after {}.", pair_words(pairs)),
            "Rest has no default: a wrong guess could hurt someone.",
            "Add one [[rest]] for each.",
        ),
        LimitMistake::RestTwice { after, before } => words(
            "rest-twice",
            format!("rest after {} before {} is given twice{}.", quoted(after), quoted(before), both(lines)),
            "Which one counts is not guessed.",
            "Remove one.",
        ),
        LimitMistake::RoomNotWatched { key } => words(
            "not-watched",
            format!("{key} = false for an ensemble worn in the room."),
            "Every donning and removal of entrants is watched.",
            format!("Write {key} = true."),
        ),
        LimitMistake::FitTestOfNothing => words(
            "fit-test-of-nothing",
            "fit_test = true, but respirators is empty.".to_owned(),
            "Nobody could be fitted for it.",
            "Name the models, or write fit_test = false.",
        ),
        LimitMistake::AssistantInDoffingArea => words(
            "assistant-in-doffing-area",
            "assistant = true for an ensemble worn in the doffing area.".to_owned(),
            "A helper's own removal is watched, not assisted.",
            "Write assistant = false.",
        ),
        LimitMistake::AssistantWithoutKit { ensembles } => words(
            "assistant-without-kit",
            format!("assistant_kit = \"none\", but removal of {} needs an assistant.", ensembles.join(", ")),
            "Nobody could assist.",
            "Name the ensemble that assistants wear.",
        ),
        LimitMistake::KitNotDoffingArea { key, ensemble } => words(
            "kit-not-doffing-area",
            format!("{key} = {} is not worn in the doffing area.", quoted(ensemble)),
            "Helpers do not go into the room.",
            "Name an ensemble with worn_in = \"doffing-area\".",
        ),
        LimitMistake::ReviewBeforeApproval => words(
            "review-before-approval",
            "review_by is before approved_on.".to_owned(),
            "The figures were never in date.",
            "Correct one of the dates.",
        ),
        LimitMistake::LowWatchWithoutWatching => words(
            "low-hours-without-watching",
            "low hours limit the watch, and watching = \"none\" says no pause that ends one.".to_owned(),
            "How long somebody watches could not be told.",
            "Give the table [watching].",
        ),
        LimitMistake::WindowUnderADay { hours } => words(
            "window-under-a-day",
            format!("window_h = {hours} is less than a day."),
            "Wear within one shift is cumulative_max_min.",
            "Write 24 or more.",
        ),
        LimitMistake::RespiratorTwice { model } => words(
            "respirator-twice",
            format!("respirator {} is described twice{}.", quoted(model), both(lines)),
            "Which one counts is not guessed.",
            "Remove one.",
        ),
        LimitMistake::RespiratorNotWorn { model, nearest } => words(
            "respirator-not-worn",
            format!("no ensemble is worn with respirator {}.", quoted(model)),
            "Its run time and its units would not be looked at.",
            nearest.as_ref().map_or_else(
                || "List it with an ensemble, or take it out.".to_owned(),
                |near| format!("Did you mean {}?", quoted(near)),
            ),
        ),
    }
}

fn pair_words(pairs: &[(String, String)]) -> String {
    const MOST: usize = 6;
    let named = pairs.iter().take(MOST).map(|(after, before)| format!("{} before {}", quoted(after), quoted(before)));
    let rest = pairs.len().saturating_sub(MOST);
    let more = (rest > 0).then(|| format!("{rest} more"));
    named.chain(more).collect::<Vec<_>>().join(", ")
}
