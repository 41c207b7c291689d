//! The constraint set of a night, as text.

use super::unit::{Family, Figures};

/// `constraints.toml` for these figures. Every figure is invented.
pub fn text(f: &Figures) -> String {
    let every = f.family == Family::FullRule;
    [head(f), if every { every_rule_tables() } else { no_tables() }, tables(f, every), ensembles(f, every), rests(f)]
        .concat()
}

fn head(f: &Figures) -> String {
    format!(
        "# Written by the benchmark. Every figure is invented; none is a recommendation.\n\
         format = 1\nname = \"{}\"\nexample = true\nsources = [\"invented for the benchmark\"]\n\
         approved_by = \"EXAMPLE, nobody\"\napproved_on = \"2031-01-10\"\nreview_by = \"2032-01-10\"\n\
         grid_min = 5\n",
        f.name
    )
}

fn no_tables() -> String {
    ["standby", "early_exit", "low_hours", "watching", "breaks"].map(|key| format!("{key} = \"none\"\n")).concat()
}

fn every_rule_tables() -> String {
    "
[standby]
responders = 1
where_short = \"report\"

[early_exit]
within_min = 30
where_short = \"report\"

[low_hours]
from = \"03:00\"
to = \"06:00\"
watch_max_min = 60

[watching]
max_min = 120
pause_min = 15

[breaks]
length_min = 30
work_max_min = 360
recovery_counts = false
"
    .to_owned()
}

fn tables(f: &Figures, every: bool) -> String {
    format!(
        "
[wear]
from = \"{}\"
cumulative_max_min = {}

[people]
changeover_min = {}
coordinator = {every}
shower_min = {}
shift_gap_h = {}
entries_max = {}
inside_rest = [{}]

[room]
min_inside = {}
overlap_min = {}
min_stay_min = 15

[donning]
observer_capacity = {}

[removal]
waiting_places = {}
observer_ready_min = {}
observer_reset_min = {}
observer_kit = \"none\"
assistant_kit = \"D\"
cleaning_min = {}
cleaned_by = \"{}\"
spare_min = {}
",
        f.wear_from,
        f.cumulative,
        f.changeover,
        f.shower,
        if every { 11 } else { 0 },
        if every { "3" } else { "\"none\"" },
        if f.both_inside_rest { "\"donning-observer\", \"doffing-observer\"" } else { "\"donning-observer\"" },
        f.min_inside,
        f.overlap,
        f.donning_capacity,
        f.waiting_places,
        f.ready,
        f.reset,
        f.cleaning,
        if every { "assistant" } else { "other" },
        if every { 15 } else { 0 },
    )
}

fn ensembles(f: &Figures, every: bool) -> String {
    let low = |minutes: i64| if every { format!("low_hours_max_wear_min = {minutes}\n") } else { String::new() };
    let mut text = format!(
        "
[[ensemble]]
id = \"F\"
worn_in = \"room\"
respirators = [\"RA\"]
fit_test = true
donning_min = {}
sealed_min = {}
donning_watched = true
removal_min = {}
removal_watched = true
assistant = true
max_wear_min = {}
{}margin_min = {}
recovery_min = {}
cumulative_percent = 100

[[ensemble]]
id = \"D\"
worn_in = \"doffing-area\"
respirators = []
fit_test = false
donning_min = 10
sealed_min = 5
donning_watched = false
removal_min = 10
removal_watched = true
assistant = false
max_wear_min = {}
{}margin_min = 0
recovery_min = {}
cumulative_percent = {}
",
        f.donning,
        f.sealed,
        f.removal,
        f.wear,
        low(f.wear - 30),
        f.margin,
        f.recovery,
        f.kit_wear,
        low(f.kit_wear - 30),
        f.kit_recovery,
        f.kit_percent,
    );
    if every {
        text += "
[[rolling_wear]]
window_h = 24
max_wear_min = 420

[[rolling_wear]]
window_h = 168
max_wear_min = 1500

[[respirator]]
model = \"RA\"
run_min = 300
run_margin_min = 60
reprocess_min = 45
charge_min = 120
";
    }
    text
}

fn rests(f: &Figures) -> String {
    let pairs = [("F", "F", f.rest), ("F", "D", f.rest_before_kit), ("D", "F", f.kit_rest), ("D", "D", f.kit_recovery)];
    let table = |(after, before, min)| format!("\n[[rest]]\nafter = \"{after}\"\nbefore = \"{before}\"\nmin = {min}\n");
    pairs.map(table).concat()
}
