//! Every key of every file: the one list by which files are read and from
//! which the reference page is written, so that the two cannot differ.

/// What a value looks like.
#[derive(Clone, Copy)]
pub(super) enum Kind {
    /// Text of at most so many characters.
    Text(usize),
    /// The file format: 1.
    Format,
    /// A whole number from the first to the second.
    Whole(i64, i64),
    /// Whole minutes, at least so many, at most a week.
    Minutes(i64),
    /// Whole hours, at most a week.
    Hours,
    /// `true` or `false`.
    Flag,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// A day, `2031-03-04`.
    Day,
    /// A local time, `2031-03-04T19:00`; in a rota also `19:00`.
    Time,
    /// The name of a time zone.
    Zone,
    /// The word `none`, or this.
    OrNone(&'static Kind),
    /// A list of these.
    List(&'static Kind),
    /// A table from an ensemble's id to a size.
    Sizes,
    /// One table.
    Table(&'static Keys),
    /// Any number of tables.
    Tables(&'static Keys),
}

/// Whether a key has to be there.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    /// It has to.
    Required,
    /// It has to; what is said when it is not depends on the rest of the table.
    Asked,
    /// It may be left out; what that means is in the text.
    Optional,
    /// It has to in the case that the text names.
    When(&'static str),
}

/// One key.
pub(super) struct Key {
    pub(super) name: &'static str,
    pub(super) kind: Kind,
    pub(super) need: Need,
    pub(super) meaning: &'static str,
}

/// The keys of one table.
pub(super) struct Keys {
    /// As the user writes its head: `[wear]`, `[[person]]`; empty for the top of the file.
    pub(super) head: &'static str,
    pub(super) keys: &'static [Key],
}

impl Keys {
    pub(super) fn find(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// The tables directly inside this one.
    pub(super) fn inner(&self) -> impl Iterator<Item = &'static Keys> + use<> {
        self.keys.iter().filter_map(|key| key.kind.table())
    }
}

impl Kind {
    /// The table that a value of this kind is, or is a list of.
    pub(super) const fn table(self) -> Option<&'static Keys> {
        match self {
            Self::Table(keys) | Self::Tables(keys) => Some(keys),
            Self::OrNone(kind) => kind.table(),
            _ => None,
        }
    }
}

const fn key(name: &'static str, kind: Kind, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::Required, meaning }
}

const fn asked(name: &'static str, kind: Kind, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::Asked, meaning }
}

const fn optional(name: &'static str, kind: Kind, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::Optional, meaning }
}

const fn when(name: &'static str, kind: Kind, case: &'static str, meaning: &'static str) -> Key {
    Key { name, kind, need: Need::When(case), meaning }
}

/// The most of any duration: a week, in minutes.
pub(super) const MOST_MINUTES: i64 = 10_080;
/// The most of any duration: a week, in hours.
pub(super) const MOST_HOURS: i64 = 168;
/// The most of any count.
const MOST_COUNT: i64 = 10_000;

const NAME: Kind = Kind::Text(80);
const ID: Kind = Kind::Text(24);
const PERSON: Kind = Kind::Text(24);
const COUNT: Kind = Kind::Whole(0, MOST_COUNT);
const AT_LEAST_ONE: Kind = Kind::Whole(1, MOST_COUNT);
const ROLES: &[&str] = &["entrant", "donning-observer", "doffing-observer", "assistant"];

/// The constraint set.
pub(super) static LIMITS: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        key("name", NAME, "the name by which rosters and rotas refer to this set"),
        optional("example", Kind::Flag, "true marks invented figures: all that is printed says TRAINING - NOT FOR USE; left out: false"),
        optional("sources", Kind::List(&Kind::Text(300)), "where the figures come from, in the unit's words"),
        key("approved_by", NAME, "who approved the figures, name or office"),
        key("approved_on", Kind::Day, "the day of approval"),
        key("review_by", Kind::Day, "the day by which the figures are to be looked at again"),
        key("grid_min", Kind::Minutes(1), "the planning grid, a divisor of 60; durations round up to it, limits round down"),
        key("wear", Kind::Table(&WEAR), "what is counted as wear"),
        key("people", Kind::Table(&PEOPLE), "what one person may do in a row"),
        key("room", Kind::Table(&ROOM_LIMITS), "what holds inside a room"),
        key("donning", Kind::Table(&DONNING), "dressing"),
        key("removal", Kind::Table(&REMOVAL), "undressing, lanes, and who helps"),
        key("watching", Kind::OrNone(&Kind::Table(&WATCHING)), "the limit on watching in a row; watching = \"none\" for no limit"),
        key("breaks", Kind::OrNone(&Kind::Table(&BREAKS)), "meal and rest breaks; breaks = \"none\" for no rule"),
        key("ensemble", Kind::Tables(&ENSEMBLE), "one set of protective equipment"),
        key("rest", Kind::Tables(&REST), "the rest between one wear and the next; one for every ordered pair of ensembles"),
    ],
};

static WEAR: Keys = Keys {
    head: "[wear]",
    keys: &[
        key("from", Kind::OneOf(&["sealed", "donning-start", "door-in"]), "from when wear is counted; it always ends with the last item off"),
        key("cumulative_max_min", Kind::Minutes(1), "the most wear of one person in one shift, wear carried in included"),
    ],
};

static PEOPLE: Keys = Keys {
    head: "[people]",
    keys: &[
        key("changeover_min", Kind::Minutes(0), "between two different duties of one person"),
        key("shower_min", Kind::Minutes(0), "shower and change after the last removal, inside paid time"),
        key("shift_gap_h", Kind::Hours, "the least time since the last actual off-duty"),
        key("inside_rest", Kind::List(&Kind::OneOf(&["donning-observer", "doffing-observer"])), "duties allowed after recovery while rest is not over; [] for none"),
    ],
};

static ROOM_LIMITS: Keys = Keys {
    head: "[room]",
    keys: &[
        key("min_inside", Kind::Whole(1, 20), "inside a room are nobody or at least this many"),
        key("overlap_min", Kind::Minutes(0), "relief and relieved are inside together for this long"),
        key("min_stay_min", Kind::Minutes(1), "the shortest useful stay; at least the overlap"),
    ],
};

static DONNING: Keys = Keys {
    head: "[donning]",
    keys: &[key("observer_capacity", Kind::Whole(1, 2), "donnings that one observer may watch at once")],
};

static REMOVAL: Keys = Keys {
    head: "[removal]",
    keys: &[
        key("waiting_places", Kind::Whole(0, 100), "places where dressed people may wait for a lane"),
        key("observer_ready_min", Kind::Minutes(0), "the observer is at the lane this long before a removal starts"),
        key("observer_reset_min", Kind::Minutes(0), "the observer writes up this long after a removal"),
        key("observer_kit", Kind::OrNone(&ID), "the ensemble that observers of removals wear"),
        key("assistant_kit", Kind::OrNone(&ID), "the ensemble that assistants wear"),
        key("cleaning_min", Kind::Minutes(0), "cleaning of a lane between two people"),
        key("cleaned_by", Kind::OneOf(&["assistant", "other"]), "who cleans: the assistant of that removal, or someone not planned here"),
    ],
};

static WATCHING: Keys = Keys {
    head: "[watching]",
    keys: &[
        key("max_min", Kind::Minutes(1), "the longest time on watch, donnings and removals together"),
        key("pause_min", Kind::Minutes(1), "the pause that ends a time on watch; a shorter one counts as watching"),
    ],
};

static BREAKS: Keys = Keys {
    head: "[breaks]",
    keys: &[
        key("length_min", Kind::Minutes(1), "how long a break is at least"),
        key("work_max_min", Kind::Minutes(1), "the longest time on duty without a break"),
        key("recovery_counts", Kind::Flag, "whether recovery may count as a break"),
    ],
};

static ENSEMBLE: Keys = Keys {
    head: "[[ensemble]]",
    keys: &[
        key("id", ID, "the unit's short name for it"),
        key("worn_in", Kind::OneOf(&["room", "doffing-area"]), "where it is worn"),
        key("respirators", Kind::List(&ID), "the respirator models it is worn with, in order of choice; [] for none"),
        key("fit_test", Kind::Flag, "whether the respirator needs an in-date fit test"),
        key("donning_min", Kind::Minutes(1), "the whole of donning"),
        key("sealed_min", Kind::Minutes(0), "the part of donning after the ensemble is closed"),
        key("donning_watched", Kind::Flag, "whether an observer watches donning; true for worn_in = \"room\""),
        key("removal_min", Kind::Minutes(1), "the whole of removal"),
        key("removal_watched", Kind::Flag, "whether an observer watches removal; true for worn_in = \"room\""),
        key("assistant", Kind::Flag, "whether removal needs a doffing assistant; only for worn_in = \"room\""),
        key("max_wear_min", Kind::Minutes(1), "the longest wear without a rest, lane wait and removal included"),
        key("margin_min", Kind::Minutes(0), "the unit's planning margin below the longest wear"),
        key("recovery_min", Kind::Minutes(0), "no duty of any sort for this long after removal"),
        key("cumulative_percent", Kind::Whole(0, 1000), "percent of each minute that counts in the wear of a shift; 100 counts in full"),
    ],
};

static REST: Keys = Keys {
    head: "[[rest]]",
    keys: &[
        key("after", ID, "the ensemble taken off"),
        key("before", ID, "the ensemble put on next"),
        key("min", Kind::Minutes(0), "from the last item off to the start of donning; at least the recovery"),
    ],
};

/// The roster.
pub(super) static ROSTER: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        key("name", NAME, "the name by which rotas refer to this roster"),
        optional("example", Kind::Flag, "true marks an invented roster: all that is printed says TRAINING - NOT FOR USE; left out: false"),
        key("constraint_set", NAME, "the name of the constraint set this roster is meant for"),
        key("unit", NAME, "the unit's name on the sheet"),
        key("zone", Kind::Zone, "the unit's time zone, e.g. \"Europe/London\"; all times are local to it"),
        key("from", Kind::Time, "the start of the shift, on the grid"),
        key("to", Kind::Time, "the end of the shift, at most 7 days later"),
        optional("crew", Kind::Tables(&CREW), "people who share on-duty and off-duty times"),
        optional("person", Kind::Tables(&PERSON_KEYS), "one person; at most 500"),
        optional("room", Kind::Tables(&ROOM), "one patient room"),
        optional("presence", Kind::Tables(&PRESENCE), "people that are to be inside a room all the time"),
        optional("task", Kind::Tables(&TASK), "something to be done inside, at a time or in a window"),
        optional("lane", Kind::Tables(&LANE), "one doffing lane"),
        optional("closure", Kind::Tables(&CLOSURE), "a lane that is shut for a while"),
        optional("kit", Kind::Tables(&KIT), "kits on the shelf, by ensemble and size"),
        optional("respirator", Kind::Tables(&RESPIRATOR), "respirators on the shelf, by model and size"),
        optional("apart", Kind::Tables(&APART), "two people who are kept apart; no reason exists in any file"),
        optional("break_window", Kind::Tables(&BREAK_WINDOW), "a stretch in which breaks must lie; none: anywhere on duty"),
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

static PERSON_KEYS: Keys = Keys {
    head: "[[person]]",
    keys: &[
        key("id", PERSON, "two or three capitals or digits, not to be confused with another's"),
        when("crew", ID, "on_duty and off_duty are not given", "the crew whose times are this person's"),
        when("on_duty", Kind::Time, "crew is not given", "the start of duty"),
        when("off_duty", Kind::Time, "crew is not given", "the end of duty"),
        key("last_off_duty", Kind::OrNone(&Kind::Time), "when the shift before this one actually ended"),
        key("last_removal", Kind::OrNone(&Kind::Time), "when the last item of the last wear came off"),
        when("last_kit", ID, "last_removal is a time", "the ensemble of that wear"),
        when("worn_before_min", Kind::Minutes(0), "last_removal is a time", "wear carried in from the same duty period, as it counts in the wear of a shift"),
        key("enter_today", Kind::Flag, "whether this person may be planned to enter today; no reason is stored"),
        key("doffing_area_today", Kind::Flag, "whether this person may assist and watch removals today; no reason is stored"),
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
    keys: &[
        key("lane", ID, "the lane"),
        key("from", Kind::Time, "shut from"),
        key("to", Kind::Time, "open again"),
    ],
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
    ],
};

static APART: Keys = Keys {
    head: "[[apart]]",
    keys: &[
        key("people", Kind::List(&PERSON), "the two people"),
        key("never", Kind::List(&Kind::OneOf(&["room", "observer", "assistant"])), "in the same room; watching the other; assisting the other"),
    ],
};

static BREAK_WINDOW: Keys = Keys {
    head: "[[break_window]]",
    keys: &[key("from", Kind::Time, "the start"), key("to", Kind::Time, "the end")],
};

/// The private file.
pub(super) static PRIVATE: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        optional("limit", Kind::Tables(&LIMIT), "the stricter limits of one person; no reason exists in any file"),
    ],
};

static LIMIT: Keys = Keys {
    head: "[[limit]]",
    keys: &[
        key("person", PERSON, "the id on the roster"),
        optional("max_wear_min", Kind::Minutes(1), "longest wear without a rest; never longer than the unit's"),
        optional("cumulative_max_min", Kind::Minutes(0), "most wear in the shift; never more than the unit's"),
        optional("rest_min", Kind::Minutes(0), "rest before any next wear; never shorter than the unit's"),
    ],
};

/// The rota.
pub(super) static ROTA: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        key("roster", NAME, "the name of the roster it was made for"),
        key("constraint_set", NAME, "the name of the constraint set it was made for"),
        key("issue", Kind::Whole(1, MOST_COUNT), "the issue number"),
        optional("entry", Kind::Tables(&ENTRY), "one person's way through a room"),
        optional("post", Kind::Tables(&POST), "a spell in a doffing-area kit"),
        optional("break", Kind::Tables(&BREAK), "a break"),
        optional("task", Kind::Tables(&TASK_DONE), "a task that is done"),
    ],
};

static ENTRY: Keys = Keys {
    head: "[[entry]]",
    keys: &[
        optional("number", AT_LEAST_ONE, "its number on the sheet; left out: in order of time"),
        key("person", PERSON, "who"),
        key("room", ID, "where to"),
        key("don", Kind::Time, "donning starts"),
        key("in", Kind::Time, "through the door"),
        key("out", Kind::Time, "out of the room"),
        key("removal", Kind::Time, "removal starts in the lane"),
        key("off", Kind::Time, "the last item is off"),
        optional("lane", Kind::OrNone(&ID), "the lane of the removal"),
        optional("donning_observer", Kind::OrNone(&PERSON), "who watches the donning"),
        optional("observer", Kind::OrNone(&PERSON), "who watches the removal"),
        optional("assistant", Kind::OrNone(&PERSON), "who assists the removal"),
    ],
};

static POST: Keys = Keys {
    head: "[[post]]",
    keys: &[
        key("person", PERSON, "who"),
        key("as", Kind::OneOf(&["assistant", "observer"]), "as what"),
        key("don", Kind::Time, "donning starts"),
        key("removal", Kind::Time, "own removal starts"),
        key("off", Kind::Time, "the last item is off"),
        optional("lane", Kind::OrNone(&ID), "the lane of the own removal; not for observers"),
        optional("donning_observer", Kind::OrNone(&PERSON), "who watches the donning"),
        optional("observer", Kind::OrNone(&PERSON), "who watches the own removal"),
    ],
};

static BREAK: Keys = Keys {
    head: "[[break]]",
    keys: &[
        key("person", PERSON, "who"),
        key("from", Kind::Time, "the start"),
        key("to", Kind::Time, "the end"),
    ],
};

static TASK_DONE: Keys = Keys {
    head: "[[task]]",
    keys: &[key("task", ID, "which task of the roster"), key("start", Kind::Time, "its start")],
};
