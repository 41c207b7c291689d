//! The keys of the constraint set.

use crate::night::Relief;

use super::{ID, Keys, Kind, NAME, key, optional, when};

/// The constraint set.
pub(in crate::read) static LIMITS: Keys = Keys {
    head: "",
    keys: &[
        key("format", Kind::Format, "the format of the file: 1"),
        key("name", NAME, "the name by which rosters and rotas refer to this set"),
        optional(
            "example",
            Kind::Flag,
            "true marks invented figures: all that is printed says TRAINING - NOT FOR USE; left out: false",
        ),
        optional("sources", Kind::List(&Kind::Text(300)), "where the figures come from, in the unit's words"),
        key("approved_by", NAME, "who approved the figures, name or office"),
        key("approved_on", Kind::Day, "the day of approval"),
        key("review_by", Kind::Day, "the day by which the figures are to be looked at again"),
        key(
            "grid_min",
            Kind::Minutes(1),
            "the planning grid, a divisor of 60; durations round up to it, limits round down",
        ),
        key("wear", Kind::Table(&WEAR), "what is counted as wear"),
        key("people", Kind::Table(&PEOPLE), "what one person may do in a row"),
        key("room", Kind::Table(&ROOM_LIMITS), "what holds inside a room"),
        key("donning", Kind::Table(&DONNING), "dressing"),
        key("removal", Kind::Table(&REMOVAL), "undressing, lanes, and who helps"),
        key(
            "watching",
            Kind::OrNone(&Kind::Table(&WATCHING)),
            "the limit on watching in a row; watching = \"none\" for no limit",
        ),
        key(
            "standby",
            Kind::OrNone(&Kind::Table(&STANDBY)),
            "responders held back, rested, while anyone is inside; standby = \"none\" for none",
        ),
        key(
            "early_exit",
            Kind::OrNone(&Kind::Table(&EARLY_EXIT)),
            "cover for somebody who has to come out early; early_exit = \"none\" for none",
        ),
        key(
            "low_hours",
            Kind::OrNone(&Kind::Table(&LOW_HOURS)),
            "hours in which people tire soonest; low_hours = \"none\" for no rule",
        ),
        key("breaks", Kind::OrNone(&Kind::Table(&BREAKS)), "meal and rest breaks; breaks = \"none\" for no rule"),
        optional(
            "recency_days",
            Kind::Table(&RECENCY),
            "within how many days somebody must last have done or drilled a role; roles left out: not asked",
        ),
        optional(
            "nights_in_a_row",
            Kind::Table(&NIGHTS),
            "the most nights in a row of one person, tonight included; left out: no such limit",
        ),
        optional(
            "rolling_wear",
            Kind::Tables(&ROLLING_WEAR),
            "a limit on the wear of one person over a day or more, earlier shifts included; none: no such limit",
        ),
        optional(
            "respirator",
            Kind::Tables(&RESPIRATOR),
            "a model whose units are worn, cleaned, charged and worn again; of others it is only asked whether there \
             are some",
        ),
        key("ensemble", Kind::Tables(&ENSEMBLE), "one set of protective equipment"),
        key(
            "rest",
            Kind::Tables(&REST),
            "the rest between one wear and the next; one for every ordered pair of ensembles",
        ),
    ],
};

static WEAR: Keys = Keys {
    head: "[wear]",
    keys: &[
        key(
            "from",
            Kind::OneOf(&["sealed", "donning-start", "door-in"]),
            "from when wear is counted; it always ends with the last item off",
        ),
        key(
            "cumulative_max_min",
            Kind::Minutes(1),
            "the most wear of one person in one shift, wear carried in included",
        ),
    ],
};

static PEOPLE: Keys = Keys {
    head: "[people]",
    keys: &[
        key("changeover_min", Kind::Minutes(0), "between two different duties of one person"),
        key("coordinator", Kind::Flag, "whether a named coordinator leads from the clean side while anyone is inside"),
        key("shower_min", Kind::Minutes(0), "shower and change after the last removal, inside paid time"),
        key("shift_gap_h", Kind::Hours, "the least time since the last actual off-duty"),
        optional(
            "week_max_h",
            Kind::Hours,
            "the most time on duty in the 7 times 24 hours that end with tonight's duty; left out: no such limit",
        ),
        key(
            "entries_max",
            Kind::OrNone(&Kind::Whole(1, 100)),
            "the most entries of one person in one shift; \"none\" for no limit",
        ),
        key(
            "inside_rest",
            Kind::List(&Kind::OneOf(&["donning-observer", "doffing-observer"])),
            "duties allowed after recovery while rest is not over; [] for none",
        ),
    ],
};

static ROOM_LIMITS: Keys = Keys {
    head: "[room]",
    keys: &[
        key("min_inside", Kind::Whole(1, 20), "inside a room are nobody or at least this many"),
        optional(
            "relief",
            Kind::OneOf(&Relief::WORDS),
            "in-pairs: nobody passes the door alone; one-by-one: one at a time while others stay inside; either, or left \
             out: both are allowed",
        ),
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
        key("spare_min", Kind::Minutes(0), "less than this between planned out and OUT-BY is TIGHT; 0 for no figure"),
        key("cleaning_min", Kind::Minutes(0), "cleaning of a lane between two people"),
        key(
            "cleaned_by",
            Kind::OneOf(&["assistant", "other"]),
            "who cleans: the assistant of that removal, or someone not planned here",
        ),
    ],
};

static WATCHING: Keys = Keys {
    head: "[watching]",
    keys: &[
        key("max_min", Kind::Minutes(1), "the longest time on watch, donnings and removals together"),
        key("pause_min", Kind::Minutes(1), "the pause that ends a time on watch; a shorter one counts as watching"),
    ],
};

static STANDBY: Keys = Keys {
    head: "[standby]",
    keys: &[
        key("responders", Kind::Whole(1, 20), "how many"),
        key(
            "where_short",
            Kind::OneOf(&["no-entry", "report"]),
            "nobody goes in without them, or people go in and every answer says NO RESCUE",
        ),
    ],
};

static EARLY_EXIT: Keys = Keys {
    head: "[early_exit]",
    keys: &[
        key("within_min", Kind::Minutes(0), "a removal can start this soon while anyone is inside"),
        key(
            "where_short",
            Kind::OneOf(&["no-entry", "report"]),
            "nobody goes in without it, or people go in and every answer says NO RESCUE",
        ),
    ],
};

static LOW_HOURS: Keys = Keys {
    head: "[low_hours]",
    keys: &[
        key("from", Kind::TimeOfDay, "they begin at this local time, every day"),
        key("to", Kind::TimeOfDay, "they end at this local time, the next day if that is not later"),
        key("watch_max_min", Kind::Minutes(1), "the longest time on watch that shares a minute with them"),
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

static RECENCY: Keys = Keys {
    head: "[recency_days]",
    keys: &[
        optional("entrant", RECENCY_DAYS, "for going in; done on the 1st with 30 days, it is good through the 31st"),
        optional("donning-observer", RECENCY_DAYS, "for watching donnings"),
        optional("doffing-observer", RECENCY_DAYS, "for watching removals"),
        optional("assistant", RECENCY_DAYS, "for assisting removals"),
        optional("supervised-entrant", RECENCY_DAYS, "for going in beside a preceptor"),
        optional("preceptor", RECENCY_DAYS, "for going in beside somebody supervised"),
        optional("coordinator", RECENCY_DAYS, "for leading from the clean side"),
    ],
};

const RECENCY_DAYS: Kind = Kind::Whole(1, 3_660);

static NIGHTS: Keys = Keys {
    head: "[nights_in_a_row]",
    keys: &[
        key("max", Kind::Whole(1, 60), "how many"),
        key("from", Kind::TimeOfDay, "a duty with a minute between this local time"),
        key("to", Kind::TimeOfDay, "and this one, the next day if that is not later, is a night"),
    ],
};

static ROLLING_WEAR: Keys = Keys {
    head: "[[rolling_wear]]",
    keys: &[
        key("window_h", Kind::Hours, "over how many hours; 24 or more"),
        key("max_wear_min", Kind::Minutes(1), "the most wear of one person in any stretch of so many hours"),
    ],
};

static RESPIRATOR: Keys = Keys {
    head: "[[respirator]]",
    keys: &[
        key("model", ID, "the model, as ensembles list it"),
        key("run_min", Kind::OrNone(&Kind::Minutes(1)), "how long a charged unit runs, or \"none\" without a battery"),
        key("run_margin_min", Kind::Minutes(0), "the unit's planning margin below the run time"),
        key("reprocess_min", Kind::Minutes(0), "from the last item off until a unit is clean and checked"),
        key("charge_min", Kind::Minutes(0), "and charged after that; 0 where batteries are swapped"),
    ],
};

pub(in crate::read) static ENSEMBLE: Keys = Keys {
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
        when(
            "low_hours_max_wear_min",
            Kind::Minutes(1),
            "low_hours is a table",
            "the longest wear that shares a minute with low hours; not over max_wear_min",
        ),
        key("margin_min", Kind::Minutes(0), "the unit's planning margin below the longest wear"),
        key("recovery_min", Kind::Minutes(0), "no duty of any sort for this long after removal"),
        key(
            "cumulative_percent",
            Kind::Whole(0, 1000),
            "percent of each minute that counts in the wear of a shift; 100 counts in full",
        ),
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
