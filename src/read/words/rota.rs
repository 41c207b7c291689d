//! Words for the private file, for rotas, and for advice about the night.

use chrono::NaiveDate;

use crate::night::Role;

use super::super::draw::quoted;
use super::super::mistake::{Advice, DaysAdvice, PrivateMistake, RotaMistake};
use super::super::time::day_words;
use super::{Words, words};

/// Nothing here may name a person or quote a figure.
pub(super) fn private_words(private: &PrivateMistake) -> Words {
    match private {
        PrivateMistake::Looser { entry } => words(
            "private-looser",
            format!("private file, entry {entry}: a personal limit may not exceed the unit's."),
            "Entry refused.",
            "Correct or remove it.",
        ),
        PrivateMistake::UnknownPerson { entry } => words(
            "private-unknown-person",
            format!("private file, entry {entry}: no such person on the roster."),
            "Entry refused: a limit for nobody protects nobody.",
            "Correct the ID, or remove the entry.",
        ),
        PrivateMistake::PersonTwice { entry, first } => words(
            "private-person-twice",
            format!("private file, entries {first} and {entry} are for the same person."),
            "Which one counts is not guessed.",
            "Put all limits of one person into one entry.",
        ),
        PrivateMistake::NoLimit { entry } => words(
            "private-no-limit",
            format!("private file, entry {entry}: no limit is given."),
            "A limit may have been forgotten.",
            "Give at least one of max_wear_min, cumulative_max_min, rest_min, or remove the entry.",
        ),
        PrivateMistake::Shape { what } => words(
            "private-shape",
            format!("private file: {what}."),
            "Nothing of this file is quoted here.",
            "Each [[limit]] has person and at least one of max_wear_min, cumulative_max_min, rest_min, in whole minutes; \
             the file starts with format = 1.",
        ),
    }
}

pub(super) fn rota_words(rota: &RotaMistake) -> Words {
    match rota {
        RotaMistake::OutOfOrder { whose, later, earlier } => words(
            "out-of-order",
            format!("{whose} {} {} is before {} {}.", later.0, later.1, earlier.0, earlier.1),
            "Nothing was checked.",
            "Correct one of them; a time before the start of the shift needs its date.",
        ),
        RotaMistake::ObserverWithLane => words(
            "observer-with-lane",
            "an observer's own removal takes no lane.".to_owned(),
            "The lane would look taken.",
            "Remove lane.",
        ),
        RotaMistake::OtherSet { named, given } => words(
            "other-constraint-set",
            format!("rota says constraint set {}; you gave {}.", quoted(named), quoted(given)),
            format!("Checked against {given}; results may mislead."),
            "",
        ),
        RotaMistake::OtherRoster { named, given } => words(
            "other-roster",
            format!("rota says roster {}; you gave {}.", quoted(named), quoted(given)),
            format!("Checked against {given}; results may mislead."),
            "",
        ),
    }
}

pub(super) fn advice_words(advice: &Advice) -> Words {
    match advice {
        Advice::Example { noun } => words(
            "example",
            format!("this {noun} is marked EXAMPLE."),
            "All that is printed says TRAINING - NOT FOR USE.",
            "",
        ),
        Advice::OtherSet { named, given } => words(
            "other-constraint-set",
            format!("roster says constraint set {}; you gave {}.", quoted(named), quoted(given)),
            format!("Planned and checked against {given}; results may mislead."),
            "",
        ),
        Advice::ReviewOverdue { review_by } => words(
            "review-overdue",
            format!("limits were due for review on {}.", day_words(*review_by)),
            "Planning continues; the sheet says REVIEW OVERDUE.",
            "",
        ),
        Advice::SignOffEnds { person, role, last } => words(
            "sign-off-ends",
            format!("{person}: {} valid through {}.", role_words(*role), day_words(*last)),
            format!("{person} may {} by 24:00 that day, not after.", duty_words(*role)),
            "",
        ),
        Advice::SignOffOver { person, role, last } => words(
            "sign-off-over",
            format!("{person}: {} was valid through {}.", role_words(*role), day_words(*last)),
            format!("{person} is not planned as {}.", role_words(*role)),
            "",
        ),
        Advice::FitTestOver { person, respirator, last } => words(
            "fit-test-over",
            format!("{person}: fit test for {} was valid through {}.", quoted(respirator), day_words(*last)),
            "It counts as none.",
            "",
        ),
        Advice::NooneHolds { role } => noone_words(*role),
        Advice::NoPreceptor { person } => words(
            "no-preceptor",
            format!("{person} is supervised and no preceptor is on duty who may pair with {person}."),
            format!("{person} will not be planned to enter."),
            "",
        ),
        Advice::OneForBoth { person } => words(
            "one-for-both",
            format!("one person ({person}) holds both observer and assistant tonight and no one else does."),
            "No removal is possible. No entry can be planned.",
            "",
        ),
        Advice::NooneEnters => words(
            "noone-enters",
            "no one on duty may enter.".to_owned(),
            "Plan is empty; all care time is a gap. This is a result, not an error.",
            "",
        ),
        Advice::NoLane => words(
            "no-lane",
            "there is no doffing lane.".to_owned(),
            "No removal is possible. No entry can be planned.",
            "Add a [[lane]].",
        ),
        Advice::GapTooShort { person, earliest } => words(
            "gap-too-short",
            format!("{person}: the gap between shifts is over only at {earliest}."),
            format!("{person} is planned for nothing before."),
            "",
        ),
        Advice::Days(advice) => days_words(advice),
        Advice::NoSkill { skill } => words(
            "no-skill",
            format!("no one on the roster has the skill {}.", quoted(skill)),
            "The task can never be done.",
            "Correct the word, or add it to someone's skills.",
        ),
        Advice::NoSkillCover { skill } => words(
            "no-skill-cover",
            format!("no one on the roster has the skill {}.", quoted(skill)),
            "It will be missing all the time it is asked for.",
            "Correct the word, or add it to someone's skills.",
        ),
        Advice::MoreThanRoom { noun, people, room, most } => words(
            "more-than-room",
            format!("{noun} needs {people} inside room {}; maximum is {most}.", quoted(room)),
            "It can never be covered in full.",
            "Correct people or max_inside.",
        ),
    }
}

fn noone_words(role: Role) -> Words {
    words(
        "noone-holds",
        format!("no one on duty may be {} tonight.", role_words(role)),
        "No entry can be planned; all care time is a gap.",
        "",
    )
}

/// What the days before tonight leave of it.
fn days_words(advice: &DaysAdvice) -> Words {
    match advice {
        DaysAdvice::RecencyEnds { person, role, done, days, last } => words(
            "recency-ends",
            format!("{person}: {} {}.", role_words(*role), recency_words(*done, *days, *last)),
            format!("{person} may {} by 24:00 that day, not after.", duty_words(*role)),
            "",
        ),
        DaysAdvice::RecencyOver { person, role, done, days, last } => words(
            "recency-over",
            format!("{person}: {} {}.", role_words(*role), recency_words(*done, *days, *last)),
            format!("{person} is not planned as {}.", role_words(*role)),
            "Do or drill it first, and write the day in \"last_done\".",
        ),
        DaysAdvice::RecencyUnknown { person, role, days } => words(
            "recency-unknown",
            format!("{person}: not known when last {}; within {days} days is asked for.", role_words(*role)),
            "Unknown is not lately enough: it counts as not held.",
            "Write the day in \"last_done\" once it is known.",
        ),
        DaysAdvice::TooManyNights { person, nights, most } => words(
            "too-many-nights",
            format!("{person}: tonight makes {nights} nights in a row; at most {most} are allowed."),
            format!("{person} is planned for nothing."),
            "",
        ),
        DaysAdvice::TooManyHours { person, week, most } => words(
            "too-many-hours",
            format!("{person}: {} on duty in 7 days with tonight; {} are allowed.", week.in_hours(), most.in_hours()),
            format!("{person} is planned for nothing."),
            "",
        ),
    }
}

/// `last done 1 Feb 2031, recency 30 days: good through 3 Mar 2031`.
fn recency_words(done: NaiveDate, days: u32, last: NaiveDate) -> String {
    format!("last done {}, recency {days} days: good through {}", day_words(done), day_words(last))
}

const fn role_words(role: Role) -> &'static str {
    match role {
        Role::Entrant => "entrant",
        Role::DonningObserver => "donning observer",
        Role::DoffingObserver => "doffing observer",
        Role::Assistant => "assistant",
        Role::SupervisedEntrant => "supervised entrant",
        Role::Preceptor => "preceptor",
        Role::Coordinator => "coordinator",
    }
}

/// What someone with a role does, so that it ends by a time.
const fn duty_words(role: Role) -> &'static str {
    match role {
        Role::Entrant => "make entries whose removal ends",
        Role::DonningObserver => "observe donnings that end",
        Role::DoffingObserver => "observe removals that end",
        Role::Assistant => "assist if own removal ends",
        Role::SupervisedEntrant => "make entries beside a preceptor whose removal ends",
        Role::Preceptor => "be preceptor in entries whose removal ends",
        Role::Coordinator => "coordinate in stretches that end",
    }
}
