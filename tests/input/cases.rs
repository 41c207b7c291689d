//! One change each to a right file, by what it makes wrong.

/// One change to a base file; an empty `from` replaces the whole file.
pub struct Edit {
    pub file: &'static str,
    pub from: &'static str,
    pub to: &'static str,
}

/// One mistake a person can make.
pub struct Case {
    pub name: &'static str,
    pub edits: &'static [Edit],
}

const fn roster(from: &'static str, to: &'static str) -> Edit {
    Edit { file: "roster.toml", from, to }
}

const fn limits(from: &'static str, to: &'static str) -> Edit {
    Edit { file: "limits.toml", from, to }
}

const fn private(from: &'static str, to: &'static str) -> Edit {
    Edit { file: "private.toml", from, to }
}

const fn rota(from: &'static str, to: &'static str) -> Edit {
    Edit { file: "rota.toml", from, to }
}

const fn case(name: &'static str, edits: &'static [Edit]) -> Case {
    Case { name, edits }
}

/// A base text that many cases put something before.
const FIRST_LANE: &str = "[[lane]]\nid = \"1\"\n";

pub const TEXT: &[Case] = &[
    case("a quote is not closed", &[roster("unit = \"Larch\"", "unit = \"Larch")]),
    case(
        "two slips in one file, each told once",
        &[roster("[[room]]", "[[room]"), roster("skills = []", "skills = [1 2]")],
    ),
    case("a remark without its sign", &[roster("id = \"MR\"", "id = \"MR\" new here")]),
    case("a key without a value", &[roster("unit = \"Larch\"", "unit")]),
    case("a word without quotes", &[roster("need = \"must\"", "need = must")]),
    case("a key twice", &[roster("skills = [\"line\"]", "skills = [\"line\"]\nskills = []")]),
    case("single brackets where there may be several", &[roster("[[lane]]", "[lane]")]),
    case("double brackets where there is one", &[limits("[wear]", "[[wear]]")]),
    case("another format", &[roster("format = 1", "format = 2")]),
    case("an empty file", &[rota("", "")]),
    case("an empty roster", &[roster("", "# nothing\n")]),
    case("a misspelt key", &[limits("cleaning_min = 10", "cleaning_mim = 10")]),
    case("a key that means nothing here", &[roster("[[lane]]", "[[lane]]\ncolour = \"red\"")]),
    case("a key in the wrong table", &[limits("[wear]", "[wear]\nshower_min = 5")]),
    case("a key that belongs at the top", &[roster(FIRST_LANE, "[[lane]]\nid = \"1\"\nzone = \"UTC\"\n")]),
    case("no word about entries in a shift", &[limits("entries_max = 2\n", "")]),
    case("recency of a role that is none", &[limits("[room]", "[recency_days]\nentrants = 30\n\n[room]")]),
    case("recency of no days", &[limits("[room]", "[recency_days]\nassistant = 0\n\n[room]")]),
    case("recency without days", &[limits("[room]", "[recency_days]\nassistant = \"none\"\n\n[room]")]),
    case(
        "nights in a row, and which are nights is not said",
        &[limits("[room]", "[nights_in_a_row]\nmax = 3\n\n[room]")],
    ),
    case("minutes for the hours of a week", &[limits("shift_gap_h = 11", "shift_gap_h = 11\nweek_max_min = 2880")]),
    case("no entries at all", &[limits("entries_max = 2", "entries_max = 0")]),
    case("a relief style that is none", &[limits("min_inside = 2", "min_inside = 2\nrelief = \"pairs\"")]),
    case("hours for minutes in the key", &[limits("max_wear_min = 180", "max_wear_h = 3")]),
    case("no unit in the key", &[limits("max_wear_min = 180", "max_wear = 180")]),
    case("minutes for hours in the key", &[limits("shift_gap_h = 11", "shift_gap_min = 660")]),
    case("a limit is missing", &[limits("max_wear_min = 180\n", "")]),
    case("a table is missing", &[limits("[donning]\nobserver_capacity = 1\n", "")]),
    case("nothing said about watching", &[limits("[watching]\nmax_min = 120\npause_min = 15\n", "")]),
    case("nobody approved it", &[limits("approved_by = \"EXAMPLE, nobody\"\n", "")]),
    case("a date of removal without the kit", &[roster("last_kit = \"F\"\nworn_before_min = 60\n", "")]),
    case(
        "a long line with tabs and wide characters",
        &[roster(
            "unit = \"Larch\"",
            "unit\t=\t\"ラーチ・ラーチ・ラーチ・ラーチ・ラーチ・ラーチ・ラーチ・ラーチ・ラーチ\" x",
        )],
    ),
];

pub const VALUES: &[Case] = &[
    case("text for a number", &[limits("max_wear_min = 180", "max_wear_min = \"3 h\"")]),
    case("a number with a point", &[limits("max_wear_min = 180", "max_wear_min = 180.0")]),
    case("text for true or false", &[roster("enter_today = true", "enter_today = \"yes\"")]),
    case("a number for a name", &[roster("[[lane]]\nid = \"1\"", "[[lane]]\nid = 1")]),
    case("text for a list", &[roster("skills = [\"line\"]", "skills = \"line\"")]),
    case("sizes as text", &[roster("kits = { F = \"M\", D = \"M\" }", "kits = \"M\"")]),
    case("a size as a number", &[roster("kits = { F = \"M\", D = \"M\" }", "kits = { F = 5, D = \"M\" }")]),
    case("a date without quotes", &[roster("valid_through = \"2031-09-30\"", "valid_through = 2031-09-30")]),
    case("a time without quotes", &[roster("from = \"2031-03-04T19:00\"", "from = 2031-03-04T19:00")]),
    case("a number out of range", &[limits("waiting_places = 2", "waiting_places = -1")]),
    case("a number beyond all bounds", &[limits("max_wear_min = 180", "max_wear_min = 99999999999999999999999")]),
    case("more than a week of minutes", &[limits("max_wear_min = 180", "max_wear_min = 18000")]),
    case("a misspelt word", &[roster("need = \"must\"", "need = \"wantd\"")]),
    case("a role that does not exist", &[roster("\"entrant\", \"assistant\"", "\"entrant\", \"observer\"")]),
    case("an empty name", &[roster("unit = \"Larch\"", "unit = \" \"")]),
    case("the word for nothing as a name", &[roster("[[lane]]\nid = \"1\"", "[[lane]]\nid = \"none\"")]),
    case("a role twice", &[roster("\"entrant\", \"assistant\"", "\"entrant\", \"entrant\"")]),
    case(
        "neither a table nor none",
        &[
            limits("[watching]\nmax_min = 120\npause_min = 15\n", ""),
            limits("grid_min = 5", "grid_min = 5\nwatching = 120"),
        ],
    ),
];

pub const TIMES: &[Case] = &[
    case("a date that could be two", &[roster("valid_through = \"2031-09-30\"", "valid_through = \"03/04/25\"")]),
    case("a date that is none", &[roster("valid_through = \"2031-09-30\"", "valid_through = \"2031-02-30\"")]),
    case("a date with words", &[roster("valid_through = \"2031-09-30\"", "valid_through = \"end of June\"")]),
    case("a time that is none", &[roster("from = \"2031-03-04T19:00\"", "from = \"2031-03-04T24:00\"")]),
    case("a time without a date", &[roster("from = \"2031-03-04T19:00\"", "from = \"19:00\"")]),
    case("a year far away", &[roster("valid_through = \"2031-09-30\"", "valid_through = \"3031-09-30\"")]),
    case("an unknown zone", &[roster("Europe/London", "Europe/Londn")]),
    case("a time that happens twice", &[roster("from = \"2031-03-05T05:00\"", "from = \"2031-10-26T01:30\"")]),
    case("a time that never happens", &[roster("from = \"2031-03-05T05:00\"", "from = \"2031-03-30T01:30\"")]),
    case(
        "an offset that the zone does not have",
        &[roster("from = \"2031-03-05T05:00\"", "from = \"2031-03-05T05:00+02:00\"")],
    ),
    case("an offset that is none", &[roster("from = \"2031-03-05T05:00\"", "from = \"2031-03-05T05:00+2\"")]),
    case(
        "a night typed with one date",
        &[roster("off_duty = \"2031-03-05T07:30\"", "off_duty = \"2031-03-04T07:30\"")],
    ),
    case("an end before its start by days", &[roster("to = \"2031-03-05T05:30\"", "to = \"2031-03-01T05:30\"")]),
    case("a shift of two weeks", &[roster("to = \"2031-03-05T07:30\"", "to = \"2031-03-19T07:30\"")]),
    case("a duty of two weeks", &[roster("off_duty = \"2031-03-05T07:30\"", "off_duty = \"2031-03-19T07:30\"")]),
    case("a shift that starts off the grid", &[roster("from = \"2031-03-04T19:00\"", "from = \"2031-03-04T19:03\"")]),
    case("presence outside the shift", &[roster("from = \"2031-03-04T20:00\"", "from = \"2031-03-04T18:00\"")]),
    case(
        "presence given twice",
        &[roster(
            "[[task]]",
            "[[presence]]\nroom = \"1\"\nfrom = \"2031-03-05T02:00\"\nto = \"2031-03-05T04:00\"\npeople = 3\nclass = 1\n\n[[task]]",
        )],
    ),
    case("a task longer than its window", &[roster("length_min = 60", "length_min = 150")]),
    case(
        "a wanted start that is too late",
        &[roster("wanted = \"2031-03-05T02:00\"", "wanted = \"2031-03-05T03:30\"")],
    ),
];

pub const LIMITS: &[Case] = &[
    case("a grid that does not divide the hour", &[limits("grid_min = 5", "grid_min = 7")]),
    case("hours for minutes", &[limits("max_wear_min = 180", "max_wear_min = 3")]),
    case("only the room time counted as wear", &[limits("min_stay_min = 15", "min_stay_min = 150")]),
    case("a helper's kit too short to be of use", &[limits("max_wear_min = 120", "max_wear_min = 35")]),
    case(
        "an observer's kit too short to be of use",
        &[limits("max_wear_min = 120", "max_wear_min = 45"), limits("observer_kit = \"none\"", "observer_kit = \"D\"")],
    ),
    case(
        "standby by halves, and no word on a coordinator",
        &[
            limits("standby = \"none\"\n", ""),
            limits("coordinator = false\n", ""),
            limits("[wear]", "[standby]\nresponders = 0\nwhere_short = \"ignore\"\n[wear]"),
        ],
    ),
    case(
        "early exit by halves",
        &[
            limits("early_exit = \"none\"\n", ""),
            limits("[wear]", "[early_exit]\nwithin_min = \"ten\"\nwhere_short = \"later\"\n[wear]"),
        ],
    ),
    case(
        "respirators in turn: one that nobody wears, one twice, one that runs too short",
        &[limits(
            "[[ensemble]]\nid = \"F\"",
            "[[respirator]]\nmodel = \"RX\"\nrun_min = 30\nrun_margin_min = 0\nreprocess_min = 45\ncharge_min = 0\n\
             [[respirator]]\nmodel = \"RA\"\nrun_min = 40\nrun_margin_min = 10\nreprocess_min = 45\n\
             [[respirator]]\nmodel = \"RA\"\nrun_min = \"none\"\nrun_margin_min = 0\nreprocess_min = 45\n\
             charge_min = 0\n[[ensemble]]\nid = \"F\"",
        )],
    ),
    case(
        "a limit over less than a day",
        &[limits(
            "[[ensemble]]\nid = \"F\"",
            "[[rolling_wear]]\nwindow_h = 12\nmax_wear_min = 300\n[[ensemble]]\nid = \"F\"",
        )],
    ),
    case(
        "low hours without a longest wear of theirs",
        &[
            limits("low_hours = \"none\"\n", ""),
            limits("[wear]", "[low_hours]\nfrom = \"03:00\"\nto = \"06:00\"\nwatch_max_min = 60\n[wear]"),
        ],
    ),
    case(
        "a longer wear in low hours, and a time with a date",
        &[
            limits("low_hours = \"none\"\n", ""),
            limits("[wear]", "[low_hours]\nfrom = \"2031-03-05T03:00\"\nto = \"06:00\"\nwatch_max_min = 60\n[wear]"),
            limits("margin_min = 10", "margin_min = 10\nlow_hours_max_wear_min = 185"),
        ],
    ),
    case(
        "low hours limit the watch, and no pause ends one",
        &[
            limits("low_hours = \"none\"\n", "watching = \"none\"\n"),
            limits("[watching]\nmax_min = 120\npause_min = 15\n", ""),
            limits("[wear]", "[low_hours]\nfrom = \"03:00\"\nto = \"06:00\"\nwatch_max_min = 60\n[wear]"),
            limits("margin_min = 10", "margin_min = 10\nlow_hours_max_wear_min = 120"),
        ],
    ),
    case("a margin as long as the wear", &[limits("margin_min = 10", "margin_min = 180")]),
    case("sealed longer than donning", &[limits("sealed_min = 10", "sealed_min = 25")]),
    case("an overlap longer than the stay", &[limits("overlap_min = 10", "overlap_min = 20")]),
    case("hours for minutes in the shift's wear", &[limits("cumulative_max_min = 360", "cumulative_max_min = 6")]),
    case("recovery longer than rest", &[limits("recovery_min = 30", "recovery_min = 90")]),
    case("a watch too short for one removal", &[limits("max_min = 120", "max_min = 2")]),
    case("a pair without rest", &[limits("[[rest]]\nafter = \"D\"\nbefore = \"F\"\nmin = 30\n", "")]),
    case("a pair twice", &[limits("after = \"D\"\nbefore = \"F\"", "after = \"F\"\nbefore = \"F\"")]),
    case("an ensemble nobody knows", &[limits("after = \"D\"\nbefore = \"F\"", "after = \"DD\"\nbefore = \"F\"")]),
    case(
        "a removal of entrants unwatched",
        &[limits("removal_watched = true\nassistant = true", "removal_watched = false\nassistant = true")],
    ),
    case("a fit test of nothing", &[limits("respirators = [\"RA\"]", "respirators = []")]),
    case("a helper's removal assisted", &[limits("assistant = false", "assistant = true")]),
    case("an assistant without a kit", &[limits("assistant_kit = \"D\"", "assistant_kit = \"none\"")]),
    case("a helper in the room's ensemble", &[limits("assistant_kit = \"D\"", "assistant_kit = \"F\"")]),
    case("review before approval", &[limits("review_by = \"2032-01-10\"", "review_by = \"2030-01-10\"")]),
    case("two ensembles of one name", &[limits("id = \"D\"", "id = \"F\"")]),
];

pub const PEOPLE: &[Case] = &[
    case("two people, same ID", &[roster("id = \"TN\"", "id = \"KB\"")]),
    case("two IDs that look alike", &[roster("id = \"TN\"", "id = \"K8\"")]),
    case("an ID that is too long", &[roster("id = \"MR\"", "id = \"Mary\"")]),
    case("a crew that does not exist", &[roster("crew = \"night\"", "crew = \"nihgt\"")]),
    case("an excluded pair with a stranger", &[roster("people = [\"KB\", \"TN\"]", "people = [\"KB\", \"MX\"]")]),
    case("an excluded pair of three", &[roster("people = [\"KB\", \"TN\"]", "people = [\"KB\", \"TN\", \"MR\"]")]),
    case("an excluded pair of one", &[roster("people = [\"KB\", \"TN\"]", "people = [\"KB\", \"KB\"]")]),
    case("a pair kept apart in no way", &[roster("never = [\"room\", \"observer\", \"assistant\"]", "never = []")]),
    case(
        "crew and own times",
        &[roster(
            "on_duty = \"2031-03-04T19:00\"\noff_duty = \"2031-03-05T07:30\"\nlast",
            "crew = \"night\"\noff_duty = \"2031-03-05T07:30\"\nlast",
        )],
    ),
    case("no times of duty", &[roster("crew = \"night\"\n", "")]),
    case(
        "a last removal in the shift",
        &[roster("last_removal = \"2031-03-04T16:00\"", "last_removal = \"2031-03-04T20:00\"")],
    ),
    case(
        "a last shift that ends in this one",
        &[roster("last_off_duty = \"2031-03-04T07:30\"", "last_off_duty = \"2031-03-04T19:30\"")],
    ),
    case("wear carried in from nothing", &[roster("last_removal = \"2031-03-04T16:00\"", "last_removal = \"none\"")]),
    case("a sign-off without a role", &[roster("roles = [\"donning-observer\"], ", "")]),
    case("a preceptor who is no entrant", &[roster("\"entrant\", \"assistant\"", "\"preceptor\", \"assistant\"")]),
    case("a sign-off with an empty list", &[roster("roles = [\"donning-observer\"]", "roles = []")]),
    case("a kit nobody knows", &[roster("kits = { F = \"S\" }", "kits = { G = \"S\" }")]),
    case(
        "a log of somebody else, of another kit, backwards, and of tonight",
        &[roster(
            "[[room]]",
            "[[wear_log]]\nperson = \"KX\"\nkit = \"G\"\non = \"2031-03-03T10:00\"\noff = \"2031-03-03T09:00\"\n\n\
             [[wear_log]]\nperson = \"KB\"\nkit = \"F\"\non = \"2031-03-04T18:00\"\noff = \"2031-03-04T20:00\"\n\n\
             [[room]]",
        )],
    ),
    case(
        "last done on a day to come",
        &[roster("[\"donning-observer\"], valid", "[\"donning-observer\"], last_done = \"2031-03-05\", valid")],
    ),
    case(
        "a log of shifts of somebody else, backwards",
        &[roster(
            "[[room]]",
            "[[duty_log]]\nperson = \"KX\"\non_duty = \"2031-03-03T19:00\"\noff_duty = \"2031-03-03T07:30\"\n\n[[room]]",
        )],
    ),
    case(
        "a log of shifts into the coming one, and one over the other",
        &[roster(
            "[[room]]",
            "[[duty_log]]\nperson = \"MR\"\non_duty = \"2031-03-04T07:00\"\noff_duty = \"2031-03-04T19:05\"\n\n\
             [[duty_log]]\nperson = \"KB\"\non_duty = \"2031-03-03T19:00\"\noff_duty = \"2031-03-04T07:30\"\n\n\
             [[duty_log]]\nperson = \"KB\"\non_duty = \"2031-03-04T07:00\"\noff_duty = \"2031-03-04T08:00\"\n\n\
             [[room]]",
        )],
    ),
    case(
        "a log of shifts that leaves out the last one",
        &[roster("unit = \"Larch\"", "unit = \"Larch\"\nduty_log_from = \"2031-02-20T07:00\"")],
    ),
    case(
        "a log of shifts with one after the last",
        &[
            roster("unit = \"Larch\"", "unit = \"Larch\"\nduty_log_from = \"2031-03-04T07:31\""),
            roster(
                "[[room]]",
                "[[duty_log]]\nperson = \"MR\"\non_duty = \"2031-03-04T07:00\"\noff_duty = \"2031-03-04T08:00\"\n\n[[room]]",
            ),
        ],
    ),
    case(
        "pins against what was last done too long ago, or nobody knows when",
        &[
            limits("[room]", "[recency_days]\nentrant = 30\n\n[room]"),
            roster(
                "[\"entrant\", \"assistant\"], valid",
                "[\"entrant\", \"assistant\"], last_done = \"2031-02-02\", valid",
            ),
            roster(
                FIRST_LANE,
                "[[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-04T23:45\"\n\n\
                 [[pin]]\nperson = \"TN\"\nroom = \"1\"\nin = \"2031-03-04T23:15\"\n\n[[lane]]\nid = \"1\"\n",
            ),
        ],
    ),
    case(
        "a pin of somebody whose week is full",
        &[
            limits("shift_gap_h = 11", "shift_gap_h = 11\nweek_max_h = 12"),
            roster(
                FIRST_LANE,
                "[[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-04T23:15\"\n\n[[lane]]\nid = \"1\"\n",
            ),
        ],
    ),
    case(
        "a huddle of a crew that is not there, and one that ends before it starts",
        &[roster(
            FIRST_LANE,
            "[[huddle]]\ncrew = \"nigth\"\nfrom = \"2031-03-04T19:00\"\nto = \"2031-03-04T19:15\"\n\n\
             [[huddle]]\ncrew = \"night\"\nfrom = \"2031-03-04T19:30\"\nto = \"2031-03-04T19:15\"\n\n\
             [[lane]]\nid = \"1\"\n",
        )],
    ),
    case(
        "a pin to somebody at rest",
        &[
            roster("last_removal = \"2031-03-04T16:00\"", "last_removal = \"2031-03-04T18:50\""),
            roster(
                FIRST_LANE,
                "[[pin]]\nperson = \"TN\"\nroom = \"1\"\nin = \"2031-03-04T21:05\"\n\n[[lane]]\nid = \"1\"\n",
            ),
        ],
    ),
    case(
        "pins against a flag, a skill and the shift",
        &[roster(
            FIRST_LANE,
            "[[pin]]\nperson = \"MR\"\nroom = \"1\"\nin = \"2031-03-04T21:05\"\n\n\
             [[pin]]\nperson = \"TN\"\ntask = \"line change\"\n\n\
             [[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-05T07:00\"\n\n\
             [[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-04T19:15\"\n\n[[lane]]\nid = \"1\"\n",
        )],
    ),
    case(
        "pins against a sign-off, the gap between shifts and what is forbidden",
        &[
            roster(
                "roles = [\"entrant\"], valid_through = \"2031-09-30\"",
                "roles = [\"entrant\"], valid_through = \"2031-03-04\"",
            ),
            roster("last_off_duty = \"2031-03-04T07:30\"", "last_off_duty = \"2031-03-04T12:00\""),
            roster(
                FIRST_LANE,
                "[[pin]]\nperson = \"TN\"\nroom = \"1\"\nin = \"2031-03-04T23:45\"\n\n\
                 [[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-04T23:15\"\n\n\
                 [[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-05T02:00\"\n\n\
                 [[forbid]]\nperson = \"KB\"\nduties = [\"entrant\"]\nfrom = \"2031-03-05T02:00\"\nto = \"2031-03-05T03:00\"\n\n\
                 [[lane]]\nid = \"1\"\n",
            ),
        ],
    ),
    case(
        "a pin to two things, to half a thing and beside the grid; a forbidding of nothing",
        &[roster(
            FIRST_LANE,
            "[[pin]]\nperson = \"KB\"\ntask = \"line change\"\nroom = \"1\"\n\n\
             [[pin]]\nperson = \"KB\"\nroom = \"1\"\n\n\
             [[pin]]\nperson = \"KB\"\nroom = \"1\"\nin = \"2031-03-05T02:02\"\n\n\
             [[forbid]]\nperson = \"KX\"\nduties = []\nfrom = \"2031-03-05T02:00\"\nto = \"2031-03-05T03:00\"\n\n\
             [[lane]]\nid = \"1\"\n",
        )],
    ),
];

pub const ROOMS: &[Case] = &[
    case("two rooms of one name", &[roster("[[presence]]", "[[room]]\nid = \"1\"\nmax_inside = 2\n\n[[presence]]")]),
    case("a room nobody knows", &[roster("[[presence]]\nroom = \"1\"", "[[presence]]\nroom = \"2\"")]),
    case("no room for relief", &[roster("max_inside = 4", "max_inside = 2")]),
    case(
        "no room for relief in pairs",
        &[
            roster("max_inside = 4", "max_inside = 3"),
            limits("min_inside = 2", "min_inside = 2\nrelief = \"in-pairs\""),
        ],
    ),
    case(
        "a room for one where nobody goes in alone",
        &[
            roster("max_inside = 4", "max_inside = 1"),
            limits("min_inside = 2", "min_inside = 1\nrelief = \"in-pairs\""),
        ],
    ),
    case("a room for fewer than may be inside", &[roster("max_inside = 4", "max_inside = 1")]),
    case("more people than the room holds", &[roster("people = 2\nclass", "people = 6\nclass")]),
    case(
        "one skill asked for twice",
        &[roster(
            FIRST_LANE,
            "[[skill_cover]]\nroom = \"1\"\nfrom = \"2031-03-04T20:00\"\nto = \"2031-03-04T22:00\"\nskill = \"line\"\npeople = 1\n[[skill_cover]]\nroom = \"1\"\nfrom = \"2031-03-04T21:00\"\nto = \"2031-03-04T23:00\"\nskill = \"line\"\npeople = 2\n[[lane]]\nid = \"1\"\n",
        )],
    ),
    case(
        "skill cover outside the shift",
        &[roster(
            FIRST_LANE,
            "[[skill_cover]]\nroom = \"1\"\nfrom = \"2031-03-04T17:00\"\nto = \"2031-03-04T22:00\"\nskill = \"line\"\npeople = 1\n[[lane]]\nid = \"1\"\n",
        )],
    ),
    case("a task for more people than the room holds", &[roster("people = 2\nskill", "people = 6\nskill")]),
    case("kits without sizes", &[roster("size = \"M\"\ncount = 14", "count = 14")]),
    case("more kept back than there are", &[roster("reserve = 2", "reserve = 20")]),
    case(
        "kits counted twice",
        &[roster(
            "[[respirator]]",
            "[[kit]]\nensemble = \"F\"\nsize = \"M\"\ncount = 3\nreserve = 0\n\n[[respirator]]",
        )],
    ),
    case("no shower places", &[roster("unit = \"Larch\"", "unit = \"Larch\"\nshower_places = 0")]),
    case("shower places of half a room", &[roster("unit = \"Larch\"", "unit = \"Larch\"\nshower_places = 1.5")]),
    case("a closure of no lane", &[roster("lane = \"1\"", "lane = \"2\"")]),
];

/// In these the personal figure is 77, and must not be seen.
pub const PRIVATE: &[Case] = &[
    case("looser than the unit's", &[private("max_wear_min = 90", "max_wear_min = 777")]),
    case("looser in the shift", &[private("cumulative_max_min = 240", "cumulative_max_min = 777")]),
    case("rest shorter than the unit's", &[private("rest_min = 150", "rest_min = 7"), limits("min = 15", "min = 77")]),
    case("nobody on the roster", &[private("person = \"KB\"", "person = \"ZZ\"")]),
    case(
        "one person twice",
        &[private("rest_min = 150", "rest_min = 150\n[[limit]]\nperson = \"KB\"\nrest_min = 177")],
    ),
    case("no limit at all", &[private("", "format = 1\n[[limit]]\nperson = \"KB\"\n")]),
    case("a reason, for which there is no key", &[private("rest_min = 150", "rest_min = 150\nreason = \"77\"")]),
    case("text for a number", &[private("max_wear_min = 90", "max_wear_min = \"77\"")]),
    case("a number out of range", &[private("max_wear_min = 90", "max_wear_min = 77777777")]),
    case("not TOML", &[private("max_wear_min = 90", "max_wear_min = 77 KB")]),
    case("a key twice", &[private("max_wear_min = 90", "max_wear_min = 77\nmax_wear_min = 78")]),
    case("the person is missing", &[private("person = \"KB\"\n", "")]),
    case("single brackets", &[private("[[limit]]", "[limit]")]),
    case("an empty name", &[private("person = \"KB\"", "person = \"\"")]),
    case("another format", &[private("format = 1", "format = 77")]),
];

pub const ROTAS: &[Case] = &[
    case("made for another constraint set", &[rota("temperate v1", "night v3")]),
    case("made for another roster", &[rota("Larch, night", "Birch, night")]),
    case("out before in", &[rota("out = \"21:50\"", "out = \"19:40\"")]),
    case("a bare time before the shift", &[rota("don = \"19:30\"", "don = \"18:30\"")]),
    case("a person nobody knows", &[rota("observer = \"MR\"\nassistant", "observer = \"MX\"\nassistant")]),
    case("a room nobody knows", &[rota("room = \"1\"", "room = \"2\"")]),
    case("a task nobody knows", &[rota("task = \"line change\"", "task = \"line chang\"")]),
    case("a lane for an observer", &[rota("as = \"assistant\"", "as = \"observer\"")]),
    case("a break that ends before it starts", &[rota("to = \"01:30\"", "to = \"00:30\"")]),
    case(
        "a shower of nobody, and one that ends before it starts",
        &[rota(
            "[[break]]",
            "[[shower]]\nperson = \"KX\"\nfrom = \"07:00\"\nto = \"07:15\"\n\n\
             [[shower]]\nperson = \"KB\"\nfrom = \"07:15\"\nto = \"07:00\"\n\n[[break]]",
        )],
    ),
    case("a shower at no time", &[rota("[[break]]", "[[shower]]\nperson = \"KB\"\nfrom = \"07:15\"\n\n[[break]]")]),
    case("a time that is none", &[rota("in = \"19:50\"", "in = \"7pm\"")]),
    case(
        "a bare time in a long shift",
        &[
            roster("to = \"2031-03-05T07:30\"", "to = \"2031-03-06T07:30\""),
            rota("in = \"19:50\"", "in = \"2031-03-04T19:50\""),
        ],
    ),
];

pub const ADVICE: &[Case] = &[
    case(
        "files marked as examples",
        &[roster("format = 1", "format = 1\nexample = true"), limits("format = 1", "format = 1\nexample = true")],
    ),
    case("another constraint set than the roster says", &[roster("temperate v1", "night v3")]),
    case("the review is overdue", &[limits("review_by = \"2032-01-10\"", "review_by = \"2031-02-01\"")]),
    case(
        "a sign-off ends at midnight",
        &[roster(
            "[\"doffing-observer\"], valid_through = \"2031-06-30\"",
            "[\"doffing-observer\"], valid_through = \"2031-03-04\"",
        )],
    ),
    case(
        "a sign-off is over",
        &[roster(
            "[\"donning-observer\"], valid_through = \"2031-06-30\"",
            "[\"donning-observer\"], valid_through = \"2031-03-03\"",
        )],
    ),
    case(
        "a fit test is over",
        &[roster("size = \"S\", valid_through = \"2031-11-01\"", "size = \"S\", valid_through = \"2031-03-03\"")],
    ),
    case(
        "last done too long ago, until midnight, and nobody knows when",
        &[
            limits("[room]", "[recency_days]\nentrant = 30\ndonning-observer = 30\ndoffing-observer = 30\n\n[room]"),
            roster(
                "[\"entrant\", \"assistant\"], valid",
                "[\"entrant\", \"assistant\"], last_done = \"2031-02-02\", valid",
            ),
            roster("[\"donning-observer\"], valid", "[\"donning-observer\"], last_done = \"2031-02-01\", valid"),
            roster("[{ roles = [\"entrant\"], valid", "[{ roles = [\"entrant\"], last_done = \"2031-02-03\", valid"),
        ],
    ),
    case(
        "too many nights in a row, and too many hours in a week",
        &[
            limits("shift_gap_h = 11", "shift_gap_h = 11\nweek_max_h = 24"),
            limits("[room]", "[nights_in_a_row]\nmax = 1\nfrom = \"00:00\"\nto = \"05:00\"\n\n[room]"),
            roster("unit = \"Larch\"", "unit = \"Larch\"\nduty_log_from = \"2031-02-20T07:00\""),
            roster(
                "[[room]]",
                "[[duty_log]]\nperson = \"KB\"\non_duty = \"2031-03-03T19:00\"\noff_duty = \"2031-03-04T07:30\"\n\n[[room]]",
            ),
        ],
    ),
    case("nobody assists", &[roster("\"entrant\", \"assistant\"", "\"entrant\"")]),
    case(
        "one person for both",
        &[
            roster("\"donning-observer\"", "\"donning-observer\", \"doffing-observer\""),
            roster("[\"doffing-observer\"]", "[\"donning-observer\"]"),
        ],
    ),
    case(
        "no one may enter",
        &[roster("enter_today = true", "enter_today = false"), roster("enter_today = true", "enter_today = false")],
    ),
    case(
        "no lane",
        &[
            roster(FIRST_LANE, ""),
            roster("[[closure]]\nlane = \"1\"\nfrom = \"2031-03-05T05:00\"\nto = \"2031-03-05T05:30\"\n", ""),
        ],
    ),
    case(
        "back too soon after the last shift",
        &[roster("last_off_duty = \"2031-03-04T07:30\"", "last_off_duty = \"2031-03-04T08:10\"")],
    ),
    case("a skill that nobody has", &[roster("skill = \"line\"", "skill = \"lime\"")]),
    case(
        "skill cover of a skill that nobody has",
        &[roster(
            FIRST_LANE,
            "[[skill_cover]]\nroom = \"1\"\nfrom = \"2031-03-04T20:00\"\nto = \"2031-03-04T22:00\"\nskill = \"lime\"\npeople = 1\n[[lane]]\nid = \"1\"\n",
        )],
    ),
    case(
        "more with a skill than a room holds",
        &[roster(
            FIRST_LANE,
            "[[skill_cover]]\nroom = \"1\"\nfrom = \"2031-03-04T20:00\"\nto = \"2031-03-04T22:00\"\nskill = \"line\"\npeople = 5\n[[lane]]\nid = \"1\"\n",
        )],
    ),
    case(
        "supervised, and no preceptor tonight",
        &[roster("{ roles = [\"entrant\"], valid", "{ roles = [\"supervised-entrant\"], valid")],
    ),
    case(
        "supervised, and kept apart from the preceptor",
        &[
            roster("{ roles = [\"entrant\"], valid", "{ roles = [\"supervised-entrant\"], valid"),
            roster("\"entrant\", \"assistant\"", "\"entrant\", \"preceptor\", \"assistant\""),
            roster(FIRST_LANE, "[[apart]]\npeople = [\"TN\", \"KB\"]\nnever = [\"room\"]\n[[lane]]\nid = \"1\"\n"),
        ],
    ),
];

pub const MANY: &[Edit] = &[
    roster("need = \"must\"", "need = must"),
    roster("id = \"TN\"", "id = \"KB\""),
    roster("reserve = 2", "reserve = 20"),
    roster("[[lane]]", "[[lane]]\ncolour = \"red\""),
    limits("max_wear_min = 180", "max_wear_min = 3"),
    limits("grid_min = 5", "grid_min = 7"),
];
