//! Words for questions about crews.

use super::super::draw::quoted;
use super::super::mistake::CrewMistake;
use super::{Words, words};

pub(super) fn crew_words(crew: &CrewMistake) -> Words {
    match crew {
        CrewMistake::HeadCount { staff } => words(
            "head-count",
            format!("\"staff = {staff}\" does not say who may observe."),
            "",
            "Give counts per role, with overlaps.",
        ),
        CrewMistake::NoGroup => words(
            "no-group",
            "the question has no [[group]].".to_owned(),
            "There is no crew to try.",
            "Add a [[group]] for each kind of people: id, roles, like, and people or from and to.",
        ),
        CrewMistake::NoRoles { group } => words(
            "group-without-roles",
            format!("group {} has no role.", quoted(group)),
            "It does not say who of them may observe.",
            "Add roles = [..]. Whoever holds several is in one group with all of them.",
        ),
        CrewMistake::PreceptorNotEntrant { group } => words(
            "preceptor-not-entrant",
            format!("group {} has preceptors who are not entrants.", quoted(group)),
            "A preceptor goes into the room with the supervised entrant.",
            "Add \"entrant\", or take \"preceptor\" out.",
        ),
        CrewMistake::HowMany { group } => words(
            "how-many",
            format!("group {} does not say how many in one way.", quoted(group)),
            "No number is guessed.",
            "Write people = <number>, or from and to, and not both.",
        ),
        CrewMistake::Backwards { group, from, to } => words(
            "range-backwards",
            format!("group {}: from = {from} is more than to = {to}.", quoted(group)),
            "No number lies between them.",
            "Exchange or correct them.",
        ),
        CrewMistake::LikeWithoutRole { group, like, role } => words(
            "like-without-role",
            format!("group {}: {} is not signed off as {}.", quoted(group), quoted(like), role.word()),
            "How long the sign-off of such people would last is not known.",
            "Give valid_through, name somebody who holds every role of the group, or take the role out.",
        ),
        CrewMistake::HalfDuty { group } => words(
            "half-duty",
            format!("group {} has only one of on_duty and off_duty.", quoted(group)),
            "When these people may be planned is not known.",
            "Give both, or neither: then the times of the one they are like hold.",
        ),
        CrewMistake::NothingToTry { key } => words(
            "nothing-to-try",
            format!("{key} = [] has no figure."),
            "Nothing could be tried.",
            format!("Write one figure or more, or leave {key} out."),
        ),
        CrewMistake::WearTooShort { max, least } => words(
            "tried-wear-too-short",
            format!("{max} min is shorter than the shortest use of this ensemble, {least} min."),
            "Nobody could wear it.",
            "Correct the figure.",
        ),
        CrewMistake::TooMany { combinations, most } => words(
            "too-many-crews",
            format!("the question asks about {combinations} crews; at most {most} are tried."),
            "It would take too long.",
            "Make the ranges narrower, or ask two questions.",
        ),
        CrewMistake::TooManyPeople { people, most } => words(
            "too-many",
            format!("the largest crew has {people} people; at most {most} are planned."),
            "It would take too long.",
            "Is it the right file?",
        ),
    }
}
