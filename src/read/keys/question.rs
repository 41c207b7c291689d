//! The keys of a question about crews.

use crate::night::Relief;

use super::{AT_LEAST_ONE, COUNT, ID, Keys, Kind, MOST_MINUTES, NAME, PERSON, ROLES, asked, key, optional, when};

/// A question about crews.
pub(in crate::read) static QUESTION: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        key("name", NAME, "the name of the question"),
        optional(
            "example",
            Kind::Flag,
            "true marks an invented question: all that is printed says TRAINING - NOT FOR USE; left out: false",
        ),
        key(
            "keep_people",
            Kind::Flag,
            "true: the people of the roster are there and the groups come on top; false: the groups take their place",
        ),
        optional("staff", COUNT, "refused: a head count does not say who may observe. Give groups instead"),
        optional("group", Kind::Tables(&GROUP), "people who are alike, with all roles that each of them holds"),
        optional(
            "lanes",
            Kind::List(&Kind::Whole(0, 50)),
            "numbers of doffing lanes to try; left out: those of the roster",
        ),
        optional(
            "max_inside",
            Kind::List(&Kind::Whole(1, 1000)),
            "the most people inside any one room to try, relief included: one more than the presence asks for makes \
             relief go one by one; left out: as on the roster",
        ),
        optional(
            "relief",
            Kind::List(&Kind::OneOf(&Relief::WORDS)),
            "relief styles to try: in-pairs, one-by-one, either; left out: as in the constraint set",
        ),
        optional("longest_wear", Kind::Table(&LONGEST_WEAR), "longest wears of an ensemble to try"),
        optional("units", Kind::Table(&UNITS), "numbers of respirators of one model and size to try"),
    ],
};

static GROUP: Keys = Keys {
    head: "[[group]]",
    keys: &[
        key("id", ID, "its name"),
        asked("roles", Kind::List(&Kind::OneOf(ROLES)), "the roles that each of them holds"),
        key(
            "like",
            PERSON,
            "somebody on the roster: kits, fit tests, skills, time on duty and the last days of the roles are theirs; \
             flags, earlier wear and personal limits are not",
        ),
        optional(
            "valid_through",
            Kind::Day,
            "the last day of every role of the group, done lately enough by then; left out: the days of the one they \
             are like, who then holds every role",
        ),
        when("people", COUNT, "from and to are not given", "how many"),
        when("from", COUNT, "people is not given", "the fewest to try"),
        when("to", COUNT, "people is not given", "the most to try"),
        when("on_duty", Kind::Time, "off_duty is given", "the start of duty; left out: that of the one they are like"),
        when("off_duty", Kind::Time, "on_duty is given", "the end of duty; left out: that of the one they are like"),
    ],
};

static LONGEST_WEAR: Keys = Keys {
    head: "[longest_wear]",
    keys: &[
        key("ensemble", ID, "the ensemble"),
        key(
            "max_wear_min",
            Kind::List(&Kind::Whole(1, MOST_MINUTES)),
            "minutes; only what the unit approves may be worked by",
        ),
    ],
};

static UNITS: Keys = Keys {
    head: "[units]",
    keys: &[
        key("model", ID, "the model, as the roster names it"),
        key("size", ID, "the size"),
        key("respirators", Kind::List(&AT_LEAST_ONE), "how many, all ready when the shift starts"),
    ],
};
