//! The keys of the private file and of the rota.

use super::{AT_LEAST_ONE, ID, Key, Keys, Kind, MOST_COUNT, NAME, PERSON, key, optional};

/// The private file.
pub(in crate::read) static PRIVATE: Keys = Keys {
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
pub(in crate::read) static ROTA: Keys = Keys {
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
        optional("coordinator", Kind::Tables(&COORDINATOR), "who coordinates, and when"),
        optional("standby", Kind::Tables(&STANDBY), "who stands by, and when"),
        optional("exit_observer", Kind::Tables(&EXIT_OBSERVER), "who would watch an early exit, and when"),
        optional("exit_assistant", Kind::Tables(&EXIT_ASSISTANT), "who would assist an early exit, and when"),
        optional("shower", Kind::Tables(&SHOWER), "who showers, and when"),
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
        optional("respirator", ID, "the respirator model, where the limits say how its units come back"),
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
        optional("respirator", ID, "the respirator model, where the limits say how its units come back"),
    ],
};

/// Someone, for a while.
const STINT: &[Key] =
    &[key("person", PERSON, "who"), key("from", Kind::Time, "the start"), key("to", Kind::Time, "the end")];

static BREAK: Keys = Keys { head: "[[break]]", keys: STINT };

static COORDINATOR: Keys = Keys { head: "[[coordinator]]", keys: STINT };

static STANDBY: Keys = Keys { head: "[[standby]]", keys: STINT };

static EXIT_OBSERVER: Keys = Keys { head: "[[exit_observer]]", keys: STINT };

static EXIT_ASSISTANT: Keys = Keys { head: "[[exit_assistant]]", keys: STINT };
static SHOWER: Keys = Keys { head: "[[shower]]", keys: STINT };

static TASK_DONE: Keys = Keys {
    head: "[[task]]",
    keys: &[key("task", ID, "which task of the roster"), key("start", Kind::Time, "its start")],
};
