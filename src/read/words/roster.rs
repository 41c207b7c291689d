//! Words for names, people, rooms and stock.

use super::super::draw::quoted;
use super::super::mistake::{NameMistake, PersonMistake, PinMistake, RoomMistake};
use super::super::time::day_words;
use super::{Lines, Words, both, did_you_mean, words};

pub(super) fn pin_words(pin: &PinMistake) -> Words {
    match pin {
        PinMistake::Both => words(
            "pin-to-both",
            "the pin names a task and an entry.".to_owned(),
            "Which is meant is not guessed.",
            "Give task, or room and in.",
        ),
        PinMistake::OffGrid { at, grid } => words(
            "pin-off-grid",
            format!("a door-in at {at} is not on the grid of {grid} min."),
            "Nothing is planned there.",
            "Pin it to a time on the grid.",
        ),
        PinMistake::Nothing => words(
            "forbid-nothing",
            "\"duties\" is an empty list.".to_owned(),
            "Nothing would be forbidden.",
            "Name at least one duty, or take the table out.",
        ),
        PinMistake::Refused { pin, rule, why } => words(
            "pin-refused",
            format!("pin {} refused: rule {rule}. {why}", quoted(pin)),
            "No rota could keep it.",
            "Change the pin or take it out.",
        ),
    }
}

pub(super) fn name_words(name: &NameMistake, lines: Lines) -> Words {
    match name {
        NameMistake::IdTwice { noun: "person", id } => words(
            "duplicate-id",
            format!("ID {} is used twice{}.", quoted(id), both(lines)),
            "Cards would be mixed up.",
            "Give one a third letter.",
        ),
        NameMistake::IdTwice { noun, id } => words(
            "duplicate-id",
            format!("{noun} {} is given twice{}.", quoted(id), both(lines)),
            "They could not be told apart.",
            "Rename or remove one.",
        ),
        NameMistake::LookAlike { one, other } => words(
            "look-alike",
            format!("{} and {} look alike at two metres{}.", quoted(one), quoted(other), both(lines)),
            "Cards would be mixed up.",
            "Change one.",
        ),
        NameMistake::BadId { id } => words(
            "bad-id",
            format!("ID {} is not two or three capitals or digits.", quoted(id)),
            "It would not be read at two metres.",
            "Write an ID such as \"KB\".",
        ),
        NameMistake::Unknown { noun, id, nearest, declared_in } => words(
            "unknown-name",
            format!("there is no {noun} {} {declared_in}.{}", quoted(id), did_you_mean(nearest.as_deref())),
            "It is not ignored.",
            "Correct the name, or add what it names.",
        ),
        NameMistake::UnknownInPair { pair, missing } => words(
            "unknown-in-pair",
            format!(
                "excluded pair {}: no {} on the roster.",
                pair.iter().map(|id| quoted(id)).collect::<Vec<_>>().join("-"),
                quoted(missing)
            ),
            "Not ignored:",
            "fix or remove.",
        ),
        NameMistake::NotAPair { count } => words(
            "not-a-pair",
            format!("\"people\" names {count}, not two."),
            "[[apart]] keeps two people apart.",
            "Name two different people; write one [[apart]] for each pair.",
        ),
        NameMistake::NeverWhat => words(
            "never-what",
            "\"never\" is an empty list.".to_owned(),
            "The two would not be kept apart at all.",
            "Name at least one of \"room\", \"observer\", \"assistant\".",
        ),
        NameMistake::TooMany { what, most } => words(
            "too-many",
            format!("{what}; at most {most} are read."),
            "It would not be planned well.",
            "Is it the right file?",
        ),
    }
}

pub(super) fn person_words(person: &PersonMistake) -> Words {
    match person {
        PersonMistake::CrewAndOwn { person } => words(
            "crew-and-own-times",
            format!("{} has a crew and also on_duty or off_duty.", quoted(person)),
            "Which of them counts is not guessed.",
            "Keep the crew, or the two times.",
        ),
        PersonMistake::NoDuty { person } => words(
            "no-duty-times",
            format!("{} has neither a crew nor both on_duty and off_duty.", quoted(person)),
            "When this person may be planned is not known.",
            "Add crew, or both times.",
        ),
        PersonMistake::AfterStart { person, key, at, start } => words(
            "after-start",
            format!("{}: {key} {at} is after {start}, when this duty starts here.", quoted(person)),
            "What came before cannot end later.",
            "Correct one of the times.",
        ),
        PersonMistake::NothingToFollow { person, key } => words(
            "nothing-to-follow",
            format!("{} has {key}, but last_removal = \"none\".", quoted(person)),
            "Rest from that wear could not be counted.",
            format!("Give the time of the last removal, or remove {key}."),
        ),
        PersonMistake::SignOffWithoutRole { person } => words(
            "sign-off-without-role",
            format!("sign-off for {} has no role.", quoted(person)),
            "Donning and doffing observer are separate.",
            "Add roles = [..]: \"entrant\", \"supervised-entrant\", \"preceptor\", \"donning-observer\", \
             \"doffing-observer\", \"assistant\".",
        ),
        PersonMistake::PreceptorNotEntrant { person } => words(
            "preceptor-not-entrant",
            format!("{} is signed off as preceptor but not as entrant.", quoted(person)),
            "A preceptor goes into the room with the supervised entrant.",
            "Add \"entrant\" with its date, or take \"preceptor\" out.",
        ),
        PersonMistake::DoneToCome { done, night } => words(
            "done-to-come",
            format!("last_done = {} is after {}, the day of this shift.", day_words(*done), day_words(*night)),
            "What is to come is not done yet.",
            "Write the day on which it was last done or drilled.",
        ),
    }
}

pub(super) fn room_words(room: &RoomMistake, lines: Lines) -> Words {
    match room {
        RoomMistake::ReliefImpossible { room, most, people, overlap, together: together @ 2.. } => words(
            "relief-impossible",
            format!(
                "relief is impossible in room {}: during overlap {} are inside, maximum is {most}.",
                quoted(room),
                people + together
            ),
            format!("{people} are to be inside all the time, with {overlap} min of overlap and relief in pairs."),
            format!("Raise the maximum to {}, allow one-by-one relief, or set overlap 0.", people + together),
        ),
        RoomMistake::NoPair { room, most } => words(
            "no-room-for-a-pair",
            format!("room {}: max_inside = {most}, but relief = \"in-pairs\".", quoted(room)),
            "Nobody could ever enter.",
            "Correct max_inside, or relief in the constraint set.",
        ),
        RoomMistake::ReliefImpossible { room, most, people, overlap, .. } => words(
            "relief-impossible",
            format!(
                "relief is impossible in room {}: during overlap {} are inside, maximum is {most}.",
                quoted(room),
                if *people > 1 { format!("{} or {}", people + 1, people * 2) } else { "2".to_owned() }
            ),
            format!("{people} are to be inside all the time, with {overlap} min of overlap."),
            format!("Raise the maximum to {} (one-by-one relief), or set overlap 0.", people + 1),
        ),
        RoomMistake::BelowLeast { room, most, least } => words(
            "room-below-least",
            format!("room {}: max_inside = {most}, but min_inside = {least}.", quoted(room)),
            "Nobody could ever enter.",
            "Correct max_inside, or min_inside in the constraint set.",
        ),
        RoomMistake::KitWithoutSize { ensemble, count } => words(
            "kit-without-size",
            format!(
                "{} kits: {}given without sizes.",
                quoted(ensemble),
                count.map_or_else(String::new, |count| format!("{count} "))
            ),
            "A large cannot wear a small.",
            "Give a count per size.",
        ),
        RoomMistake::ReserveOverCount { reserve, count } => words(
            "reserve-over-count",
            format!("reserve = {reserve} is more than count = {count}."),
            "More kits would be kept back than there are.",
            "Correct one of them.",
        ),
        RoomMistake::StockTwice { what } => words(
            "stock-twice",
            format!("{what} is counted twice{}.", both(lines)),
            "The counts are not added together.",
            "Keep one, with the whole count.",
        ),
    }
}
