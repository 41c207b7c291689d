//! The limits this rota was made or checked under, as the unit signed them.

use super::table::table;
use crate::night::{CleanDuty, CleanedBy, ConstraintSet, Ensemble, EnsembleIx, Minutes, Respirator, WornIn};
use crate::show::View;
use crate::show::text::{hanging, heading, paragraph, plain};
use crate::show::view::NONE;
use crate::show::words;

/// Approval, clock definition, kits, rest and everything else the unit set.
#[must_use]
pub fn limits(view: &View<'_>) -> String {
    let set = &view.night.limits;
    heading("LIMITS USED")
        + &approval(set)
        + &paragraph(words::wear_from(set.wear_from))
        + &paragraph("Waiting at the door and waiting for a lane count. All figures are minutes.")
        + "\n"
        + &kits(set)
        + "\n"
        + &rests(set)
        + "\n"
        + &respirators(set)
        + &table(&[], &in_two_columns(&figures(set)))
        + &in_words(set)
        + &shower_places(view)
}

/// Said only where the roster limits them.
fn shower_places(view: &View<'_>) -> String {
    let places =
        view.night.roster.shower_places.map(|places| format!("{places}, for {} each", view.night.limits.shower));
    places.map_or_else(String::new, |places| hanging("  shower places: ", &places))
}

fn approval(set: &ConstraintSet) -> String {
    let (by, on) = (&set.approval.by, set.approval.on.format("%-d %b %Y"));
    let review = set.approval.review_by.format("%-d %b %Y");
    let sources = if set.sources.is_empty() { "not stated".to_owned() } else { set.sources.join("; ") };
    hanging("  limits    ", &set.name)
        + &hanging("  approved  ", &format!("by {by} on {on}; to be reviewed by {review}"))
        + &hanging("  sources   ", &sources)
}

fn kits(set: &ConstraintSet) -> String {
    let header = ["kit", "worn in", "donning", "sealed", "removal", "wear", "margin", "recovery", "counts"];
    table(&header, &set.ensembles.iter().map(kit).collect::<Vec<_>>())
}

fn kit(e: &Ensemble) -> Vec<String> {
    let place = match e.worn_in {
        WornIn::Room => "room",
        WornIn::DoffingArea => "doffing area",
    };
    let figures = [e.donning, e.sealed, e.removal, e.max_wear, e.margin, e.recovery];
    let mut row = vec![e.id.clone(), place.to_owned()];
    row.extend(figures.iter().map(Minutes::to_string));
    row.push(format!("{} %", e.cumulative_percent));
    row
}

/// Models whose units come back into use, where the unit has any.
fn respirators(set: &ConstraintSet) -> String {
    if set.respirators.is_empty() {
        return String::new();
    }
    let row = |r: &Respirator| {
        let run = r.run.map_or_else(|| NONE.to_owned(), |run| run.to_string());
        vec![r.model.clone(), run, r.run_margin.to_string(), r.reprocess.to_string(), r.charge.to_string()]
    };
    let rows: Vec<_> = set.respirators.iter().map(row).collect();
    table(&["respirator", "runs", "margin", "cleaning", "charging"], &rows) + "\n"
}

fn rests(set: &ConstraintSet) -> String {
    (0..set.ensembles.len()).map(|worn| rest_after(set, EnsembleIx(worn))).collect()
}

fn rest_after(set: &ConstraintSet, worn: EnsembleIx) -> String {
    let before = |next: usize| {
        let rest = set.rest_between(worn, EnsembleIx(next));
        format!("{rest} before {}", set.ensembles[next].id)
    };
    let rests: Vec<_> = (0..set.ensembles.len()).map(before).collect();
    hanging(&format!("  rest after {}: ", plain(&set.ensemble(worn).id)), &rests.join(", "))
}

type Setting = (&'static str, String);

fn figures(set: &ConstraintSet) -> Vec<Setting> {
    let minutes = [
        ("wear of one person in the shift", set.cumulative_wear),
        ("changeover between two duties", set.changeover),
        ("shower after the last removal", set.shower),
        ("gap between shifts", set.shift_gap),
        ("relief overlap", set.overlap),
        ("shortest useful stay", set.min_stay),
        ("planning grid", set.grid),
        ("observer at the lane before", set.observer_ready),
        ("observer writes up after", set.observer_reset),
        ("cleaning a lane", set.cleaning),
        ("spare before OUT-BY", set.spare),
    ];
    let minutes = minutes.into_iter().map(|(name, figure)| (name, figure.to_string()));
    let counts = [
        ("inside: nobody, or at least", set.min_inside),
        ("donnings watched at once", set.donning_capacity),
        ("places to wait for a lane", set.waiting_places),
    ];
    minutes.chain(counts.into_iter().map(|(name, count)| (name, count.to_string()))).collect()
}

fn in_two_columns(settings: &[Setting]) -> Vec<Vec<String>> {
    let cells = |setting: Option<&Setting>| {
        setting.map_or_else(|| [String::new(), String::new()], |(name, value)| [(*name).to_owned(), value.clone()])
    };
    let half = settings.len().div_ceil(2);
    (0..half).map(|row| [cells(settings.get(row)), cells(settings.get(row + half))].concat()).collect()
}

/// What is said in words and not in figures.
fn in_words(set: &ConstraintSet) -> String {
    let kit = |kit: Option<EnsembleIx>| kit.map_or_else(|| NONE.to_owned(), |k| set.ensemble(k).id.clone());
    let cleaner = match set.cleaned_by {
        CleanedBy::Assistant => "the assistant",
        CleanedBy::Other => "someone not planned here",
    };
    hanging(
        "  kits worn in the doffing area: ",
        &format!("assistant {}, observer {}", kit(set.assistant_kit), kit(set.observer_kit)),
    ) + &hanging("  lanes are cleaned by: ", cleaner)
        + &hanging("  allowed after recovery, before rest is over: ", &inside_rest(set))
        + &hanging("  entries of one person in the shift: ", &entries(set))
        + &relief(set)
        + &hanging("  wear over the days before: ", &rolling(set))
        + &hanging("  nights in a row: ", &nights(set))
        + &hanging("  hours in a week: ", &week(set))
        + &hanging("  last done or drilled: ", &recency(set))
        + &hanging("  longest watch: ", &watching(set))
        + &hanging("  breaks: ", &breaks(set))
        + &hanging("  low hours: ", &low_hours(set))
        + &hanging("  while anyone is inside: ", &clean_side(set))
}

fn clean_side(set: &ConstraintSet) -> String {
    let coordinator = if set.coordinator { "a coordinator leads" } else { "no coordinator asked for" };
    let standby = set.standby.map_or_else(
        || "nobody has to stand by".to_owned(),
        |s| {
            let short = if s.report { "a shortage is reported" } else { "nobody goes in without" };
            format!("{} stand by, {short}", s.responders)
        },
    );
    let exit = set.early_exit.map_or_else(
        || "no cover asked for an early exit".to_owned(),
        |e| {
            let short = if e.report { "a shortage is reported" } else { "nobody goes in without" };
            format!("an early exit can start within {}, {short}", e.within)
        },
    );
    format!("{coordinator}; {standby}; {exit}")
}

fn low_hours(set: &ConstraintSet) -> String {
    set.low_hours.as_ref().map_or_else(
        || NO_LIMIT.to_owned(),
        |low| {
            let wears = set.ensembles.iter().zip(&low.max_wear).map(|(e, max)| format!("{max} in {}", plain(&e.id)));
            let (from, to) = (low.from.format("%H:%M"), low.to.format("%H:%M"));
            let wears = wears.collect::<Vec<_>>().join(", ");
            format!("{from}-{to}: wear at most {wears}; watch at most {}", low.watch_max)
        },
    )
}

fn inside_rest(set: &ConstraintSet) -> String {
    let word = |duty: &CleanDuty| match duty {
        CleanDuty::DonningObserver => "watching donnings",
        CleanDuty::DoffingObserver => "watching removals",
    };
    if set.inside_rest.is_empty() {
        return NONE.to_owned();
    }
    set.inside_rest.iter().map(word).collect::<Vec<_>>().join(", ")
}

fn entries(set: &ConstraintSet) -> String {
    set.entries_max.map_or_else(|| NO_LIMIT.to_owned(), |most| format!("at most {most}"))
}

/// Said only where the unit forces one.
fn relief(set: &ConstraintSet) -> String {
    words::relief(set.relief).map_or_else(String::new, |words| hanging("  relief: ", words))
}

fn rolling(set: &ConstraintSet) -> String {
    let each = set.rolling_wear.iter().map(|r| format!("at most {} in any {} h", r.max, r.window.0 / 60));
    let all = each.collect::<Vec<_>>().join(", ");
    if all.is_empty() { NO_LIMIT.to_owned() } else { all }
}

fn nights(set: &ConstraintSet) -> String {
    set.nights_in_a_row.map_or_else(
        || NO_LIMIT.to_owned(),
        |n| {
            format!("at most {}, each with duty between {} and {}", n.max, n.from.format("%H:%M"), n.to.format("%H:%M"))
        },
    )
}

fn week(set: &ConstraintSet) -> String {
    set.week_max
        .map_or_else(|| NO_LIMIT.to_owned(), |most| format!("at most {} on duty in any 7 days", most.in_hours()))
}

fn recency(set: &ConstraintSet) -> String {
    let each = set.recency.iter().map(|r| format!("{} within {} days", r.role.word().replace('-', " "), r.days));
    let all = each.collect::<Vec<_>>().join(", ");
    if all.is_empty() { NO_LIMIT.to_owned() } else { all }
}

fn watching(set: &ConstraintSet) -> String {
    set.watching.map_or_else(|| NO_LIMIT.to_owned(), |w| format!("{}, then a pause of {}", w.max, w.pause))
}

fn breaks(set: &ConstraintSet) -> String {
    set.breaks.map_or_else(
        || NO_LIMIT.to_owned(),
        |b| {
            let recovery = if b.recovery_counts { "counts" } else { "does not count" };
            format!("{} after at most {} of work; recovery {recovery} as a break", b.length, b.work_max)
        },
    )
}

const NO_LIMIT: &str = "no limit set by the unit";
