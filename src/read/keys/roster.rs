//! The keys of the roster.

use super::{AT_LEAST_ONE, COUNT, DUTIES, ID, Key, Keys, Kind, NAME, PERSON, ROLES, asked, key, optional, when};

/// The roster.
pub(in crate::read) static ROSTER: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        key("name", NAME, "the name by which rotas refer to this roster"),
        optional(
            "example",
            Kind::Flag,
            "true marks an invented roster: all that is printed says TRAINING - NOT FOR USE; left out: false",
        ),
        key("constraint_set", NAME, "the name of the constraint set this roster is meant for"),
        key("unit", NAME, "the unit's name on the sheet"),
        key("zone", Kind::Zone, "the unit's time zone, e.g. \"Europe/London\"; all times are local to it"),
        key("from", Kind::Time, "the start of the shift, on the grid"),
        key("to", Kind::Time, "the end of the shift, at most 7 days later"),
        optional("crew", Kind::Tables(&CREW), "people who share on-duty and off-duty times"),
        optional("person", Kind::Tables(&PERSON_KEYS), "one person; at most 500"),
        optional("room", Kind::Tables(&ROOM), "one patient room"),
        optional("presence", Kind::Tables(&PRESENCE), "people that are to be inside a room all the time"),
        optional(
            "skill_cover",
            Kind::Tables(&SKILL_COVER),
            "people with a skill that are to be inside a room all the time",
        ),
        optional("task", Kind::Tables(&TASK), "something to be done inside, at a time or in a window"),
        optional("lane", Kind::Tables(&LANE), "one doffing lane"),
        optional("closure", Kind::Tables(&CLOSURE), "a lane that is shut for a while"),
        optional("kit", Kind::Tables(&KIT), "kits on the shelf, by ensemble and size"),
        optional("respirator", Kind::Tables(&RESPIRATOR), "respirators on the shelf, by model and size"),
        optional("wear_log_from", Kind::Time, "from when on the log of earlier wear is whole; left out: none was kept"),
        optional("wear_log", Kind::Tables(&WEAR_LOG), "one wear before this shift, for limits over a day or more"),
        optional(
            "duty_log_from",
            Kind::Time,
            "from when on the log of earlier shifts is whole, for limits on nights in a row and hours in a week; left \
             out: none was kept",
        ),
        optional("duty_log", Kind::Tables(&DUTY_LOG), "one shift of somebody before this one, as it really was"),
        optional("apart", Kind::Tables(&APART), "two people who are kept apart; no reason exists in any file"),
        optional("huddle", Kind::Tables(&HUDDLE), "a crew at a handover: no duty and no break for its people"),
        optional(
            "shower_places",
            AT_LEAST_ONE,
            "how many people may shower at once after their last removal; left out: not limited",
        ),
        optional("pin", Kind::Tables(&PIN), "a person settled for an entry or a task before planning"),
        optional("forbid", Kind::Tables(&FORBID), "duties that a person does not have for a while"),
        optional(
            "break_window",
            Kind::Tables(&BREAK_WINDOW),
            "a stretch in which breaks must lie; none: anywhere on duty",
        ),
        optional(
            "preferred_break",
            Kind::Tables(&PREFERRED_BREAK),
            "a stretch in which breaks should lie where that costs nothing above it; none: anywhere",
        ),
    ],
};

static CREW: Keys = Keys {
    head: "[[crew]]",
    keys: &[
        key("id", ID, "its name"),
        key("on_duty", Kind::Time, "the start of duty"),
        key("off_duty", Kind::Time, "the end of duty"),
    ],
};

pub(in crate::read) static PERSON_KEYS: Keys = Keys {
    head: "[[person]]",
    keys: &[
        key("id", PERSON, "two or three capitals or digits, not to be confused with another's"),
        when("crew", ID, "on_duty and off_duty are not given", "the crew whose times are this person's"),
        when("on_duty", Kind::Time, "crew is not given", "the start of duty"),
        when("off_duty", Kind::Time, "crew is not given", "the end of duty"),
        key("last_off_duty", Kind::OrNone(&Kind::Time), "when the shift before this one actually ended"),
        key("last_removal", Kind::OrNone(&Kind::Time), "when the last item of the last wear came off"),
        when("last_kit", ID, "last_removal is a time", "the ensemble of that wear"),
        when(
            "worn_before_min",
            Kind::Minutes(0),
            "last_removal is a time",
            "wear carried in from the same duty period, as it counts in the wear of a shift",
        ),
        key("enter_today", Kind::Flag, "whether this person may be planned to enter today; no reason is stored"),
        key(
            "doffing_area_today",
            Kind::Flag,
            "whether this person may assist and watch removals today; no reason is stored",
        ),
        key("skills", Kind::List(&ID), "skills that tasks may ask for; [] for none"),
        key("kits", Kind::Sizes, "the ensembles signed off for, and the size: { F = \"M\" }"),
        key("sign_offs", Kind::Tables(&SIGN_OFF), "the roles signed off for; [] for none"),
        key("fit_tests", Kind::Tables(&FIT_TEST), "the respirators fit-tested; [] for none"),
    ],
};

static SIGN_OFF: Keys = Keys {
    head: "sign_offs",
    keys: &[
        asked("roles", Kind::List(&Kind::OneOf(ROLES)), "the roles; each is separate"),
        key("valid_through", Kind::Day, "the last day it is good for, to 24:00 local time"),
        optional(
            "last_done",
            Kind::Day,
            "the day on which these roles were last done or drilled; left out: not known, which counts as not held where \
             the limits ask for it",
        ),
    ],
};

static FIT_TEST: Keys = Keys {
    head: "fit_tests",
    keys: &[
        key("respirator", ID, "the model, as the constraint set names it"),
        key("size", ID, "the size of the facepiece"),
        key("valid_through", Kind::Day, "the last day it is good for, to 24:00 local time"),
    ],
};

static ROOM: Keys = Keys {
    head: "[[room]]",
    keys: &[
        key("id", ID, "its name on the sheet"),
        key("max_inside", Kind::Whole(1, 1000), "the most people inside at once, relief included"),
    ],
};

static PRESENCE: Keys = Keys {
    head: "[[presence]]",
    keys: &[
        key("room", ID, "the room"),
        key("from", Kind::Time, "the start, in the shift"),
        key("to", Kind::Time, "the end, in the shift"),
        key("people", AT_LEAST_ONE, "how many"),
        key("class", Kind::Whole(1, 9), "acuity class set by the unit: 1 is covered before 2, strictly"),
    ],
};

static SKILL_COVER: Keys = Keys {
    head: "[[skill_cover]]",
    keys: &[
        key("room", ID, "the room"),
        key("from", Kind::Time, "the start, in the shift"),
        key("to", Kind::Time, "the end, in the shift"),
        key("skill", ID, "the skill, as people's skills name it"),
        key("people", AT_LEAST_ONE, "how many of those inside have it, at least"),
    ],
};

static TASK: Keys = Keys {
    head: "[[task]]",
    keys: &[
        key("id", ID, "its name on the sheet; never a patient identifier"),
        key("room", ID, "the room"),
        key("from", Kind::Time, "it starts at this time or later, in the shift"),
        key("to", Kind::Time, "it ends at this time or earlier, in the shift"),
        key("wanted", Kind::Time, "the wanted start; a later start counts as late"),
        key("length_min", Kind::Minutes(1), "how long; never split"),
        key("people", AT_LEAST_ONE, "how many people are inside throughout, all with the skill"),
        key("skill", Kind::OrNone(&ID), "the skill all of them have"),
        key("need", Kind::OneOf(&["must", "wanted"]), "how much it matters"),
        key("same_people", Kind::Flag, "whether those who start it end it"),
        key("extra", Kind::Flag, "whether its people come on top of the required presence"),
    ],
};

static LANE: Keys = Keys { head: "[[lane]]", keys: &[key("id", ID, "its name on the sheet")] };

static CLOSURE: Keys = Keys {
    head: "[[closure]]",
    keys: &[key("lane", ID, "the lane"), key("from", Kind::Time, "shut from"), key("to", Kind::Time, "open again")],
};

static KIT: Keys = Keys {
    head: "[[kit]]",
    keys: &[
        key("ensemble", ID, "the ensemble"),
        asked("size", ID, "the size"),
        key("count", COUNT, "how many are on the shelf"),
        key("reserve", COUNT, "how many of them are kept back"),
    ],
};

static RESPIRATOR: Keys = Keys {
    head: "[[respirator]]",
    keys: &[
        key("model", ID, "the model, as the constraint set names it"),
        key("size", ID, "the size"),
        key("count", COUNT, "how many there are"),
        optional("ready_from", Kind::Time, "when they are ready, if later than the start: on charge, being cleaned"),
    ],
};

static WEAR_LOG: Keys = Keys {
    head: "[[wear_log]]",
    keys: &[
        key("person", PERSON, "who"),
        key("kit", ID, "the ensemble worn"),
        key("on", Kind::Time, "from when it counts as wear"),
        key("off", Kind::Time, "the last item off"),
    ],
};

static DUTY_LOG: Keys = Keys {
    head: "[[duty_log]]",
    keys: &[
        key("person", PERSON, "who"),
        key("on_duty", Kind::Time, "the start of duty"),
        key("off_duty", Kind::Time, "the end of duty, before tonight's begins"),
    ],
};

static APART: Keys = Keys {
    head: "[[apart]]",
    keys: &[
        key("people", Kind::Pair(&PERSON), "the two people"),
        key(
            "never",
            Kind::List(&Kind::OneOf(&["room", "observer", "assistant"])),
            "in the same room; watching the other; assisting the other",
        ),
    ],
};

static HUDDLE: Keys = Keys {
    head: "[[huddle]]",
    keys: &[key("crew", ID, "the crew"), key("from", Kind::Time, "the start"), key("to", Kind::Time, "the end")],
};

pub(in crate::read) static PIN: Keys = Keys {
    head: "[[pin]]",
    keys: &[
        key("person", PERSON, "who"),
        when("task", ID, "room and in are not given", "the task: it is done, and this person is inside throughout"),
        when("room", ID, "task is not given", "the room of the entry"),
        when("in", Kind::Time, "task is not given", "through the door at this time, on the grid"),
    ],
};

static FORBID: Keys = Keys {
    head: "[[forbid]]",
    keys: &[
        key("person", PERSON, "who"),
        key("duties", Kind::List(&Kind::OneOf(DUTIES)), "the duties"),
        key("from", Kind::Time, "none of them shares a minute with the time from here"),
        key("to", Kind::Time, "to here"),
    ],
};

/// A stretch of time.
const STRETCH: &[Key] = &[key("from", Kind::Time, "the start"), key("to", Kind::Time, "the end")];

static PREFERRED_BREAK: Keys = Keys { head: "[[preferred_break]]", keys: STRETCH };

static BREAK_WINDOW: Keys = Keys { head: "[[break_window]]", keys: STRETCH };
