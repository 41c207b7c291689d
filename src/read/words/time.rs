//! Words for dates, times of day and stretches of time.

use super::super::draw::quoted;
use super::super::mistake::{StretchMistake, TimeMistake};
use super::super::time::day_words;
use super::{Lines, Words, both, did_you_mean, words};

const NO_GUESS: &str = "Times are never guessed.";

pub(super) fn time_words(time: &TimeMistake) -> Words {
    match time {
        TimeMistake::NotADate { text } => {
            words("bad-date", format!("{} is not a date.", quoted(text)), NO_GUESS, "Write it as 2031-03-04.")
        }
        TimeMistake::TwoDates { text, readings } => words(
            "two-dates",
            format!("{} could be two dates.", quoted(text)),
            NO_GUESS,
            format!(
                "Write {}.",
                readings.iter().map(|d| format!("{d} for {}", day_words(*d))).collect::<Vec<_>>().join(", or ")
            ),
        ),
        TimeMistake::NotATime { text, bare } => words(
            "bad-time",
            format!("{} is not a time.", quoted(text)),
            NO_GUESS,
            if *bare { "Write it as 19:00 or 2031-03-04T19:00." } else { "Write it as 2031-03-04T19:00." },
        ),
        TimeMistake::NotATimeOfDay { text } => words(
            "bad-time-of-day",
            format!("{} is not a time of day.", quoted(text)),
            "It holds on every day, so it has no date.",
            "Write it as 03:00.",
        ),
        TimeMistake::NoDate { text } => words(
            "no-date",
            format!("{} has no date.", quoted(text)),
            "A night has two dates.",
            format!("Write the date too: 2031-03-04T{}.", text.chars().take(12).collect::<String>()),
        ),
        TimeMistake::YearOutside { text } => words(
            "year",
            format!("{} is not in the years 1970 to 2099.", quoted(text)),
            "Clock changes are not known outside them.",
            "Correct the year.",
        ),
        TimeMistake::HappensTwice { clock, day, zone, first, second } => words(
            "happens-twice",
            format!("{clock} happens twice on {} in {zone}.", day_words(*day)),
            "The two are an hour of wear apart.",
            format!("Add the offset: {day}T{clock}{first} for the first, {day}T{clock}{second} for the second."),
        ),
        TimeMistake::NeverHappens { clock, day, zone } => words(
            "never-happens",
            format!("{clock} does not happen on {} in {zone}: the clocks go forward over it.", day_words(*day)),
            NO_GUESS,
            "Write the time before or after the change.",
        ),
        TimeMistake::WrongOffset { text, zone, right } => words(
            "wrong-offset",
            format!("{} has an offset that {zone} does not have then.", quoted(text)),
            NO_GUESS,
            format!("The offset then is {right}."),
        ),
        TimeMistake::BareTooLong { text } => words(
            "no-date",
            format!("{} has no date, and the shift is longer than 24 h.", quoted(text)),
            "It could be on two days.",
            "Write the date too, as 2031-03-04T19:00.",
        ),
        TimeMistake::UnknownZone { text, nearest } => words(
            "unknown-zone",
            format!("{} is not a time zone.{}", quoted(text), did_you_mean(*nearest)),
            "No time can be read without it.",
            "Write a name such as \"Europe/London\".",
        ),
    }
}

pub(super) fn stretch_words(stretch: &StretchMistake, lines: Lines) -> Words {
    match stretch {
        StretchMistake::EndBeforeStart { start, end, same_day, next_day } => words(
            "end-before-start",
            format!("{} {} is not after {} {}{}.", end.0, end.1, start.0, start.1, same_date(*same_day)),
            "No minute lies between them.",
            next_day.as_ref().map_or_else(
                || "Correct one of them.".to_owned(),
                |next| format!("For a night, put the next date: {next}."),
            ),
        ),
        StretchMistake::LoggedInShift { off } => words(
            "logged-in-shift",
            format!("off = {off} is after the start of the shift."),
            "The log is of earlier wear; what lies in the shift is on the rota.",
            "Correct the time, or take the wear out.",
        ),
        StretchMistake::LoggedInDuty { off, start } => words(
            "logged-in-duty",
            format!("off_duty = {off} is after {start}, when the coming duty starts."),
            "The log is of earlier shifts; the coming one would count twice.",
            "Correct the time, or take the shift out.",
        ),
        StretchMistake::LoggedTwice { person } => words(
            "logged-twice",
            format!("two shifts of {} in the log share a minute{}.", quoted(person), both(lines)),
            "It would count twice.",
            "Correct one of them, or take it out.",
        ),
        StretchMistake::LogDisagrees { person, last, logged } => words(
            "log-disagrees",
            format!("{}: last_off_duty is {last}, by the log it is {logged}.", quoted(person)),
            "A shift that is left out makes the week too short.",
            "Correct one of them, or let duty_log_from say from when on the log is whole.",
        ),
        StretchMistake::ShiftTooLong => words(
            "shift-too-long",
            "the shift is longer than 7 days.".to_owned(),
            "It would not be planned well.",
            "Correct \"from\" or \"to\".",
        ),
        StretchMistake::DutyTooLong { person_or_crew } => words(
            "duty-too-long",
            format!("{} is on duty for more than 7 days.", quoted(person_or_crew)),
            "A date is probably wrong.",
            "Correct on_duty or off_duty.",
        ),
        StretchMistake::ShiftOffGrid { from, grid } => words(
            "off-grid",
            format!("the shift starts at {from}, which is not on the {grid}-minute grid."),
            "The plan could not start with the shift.",
            format!("Start at a multiple of {grid} minutes past the hour."),
        ),
        StretchMistake::OutsideShift { noun, shift } => words(
            "outside-shift",
            format!("the {noun} is not inside the shift, {shift}."),
            "Nothing is planned outside the shift.",
            "Correct the times, or the shift.",
        ),
        StretchMistake::PresenceTwice { room, when, people } => words(
            "presence-twice",
            format!(
                "continuous presence in room {} is given twice {when} ({} and {}){}.",
                quoted(room),
                people.0,
                people.1,
                both(lines)
            ),
            "They are not added together.",
            "Which? Correct or remove one.",
        ),
        StretchMistake::SkillTwice { room, skill, when, people } => words(
            "skill-twice",
            format!(
                "skill {} in room {} is asked for twice {when} ({} and {}){}.",
                quoted(skill),
                quoted(room),
                people.0,
                people.1,
                both(lines)
            ),
            "They are not added together.",
            "Which? Correct or remove one.",
        ),
        StretchMistake::WindowTooShort { task, length, window } => words(
            "window-too-short",
            format!("{} takes {length} min, and its window is {window} min.", quoted(task)),
            "It can never be done.",
            "Widen the window or correct length_min.",
        ),
        StretchMistake::WantedOutside { task, earliest, latest } => words(
            "wanted-outside",
            format!("{} cannot start at the wanted time.", quoted(task)),
            "It would always count as late.",
            format!("Its window allows a start from {earliest} to {latest}."),
        ),
    }
}

const fn same_date(same_day: bool) -> &'static str {
    if same_day { " on the same date" } else { "" }
}
