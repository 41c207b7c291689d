//! The constraint set: from its file to the unit's limits.

use chrono::NaiveDate;

use crate::night::{
    Approval, Breaks, CleanDuty, CleanedBy, ConstraintSet, EarlyExit, Ensemble, EnsembleIx, LowHours, Minutes,
    NightsInARow, Recency, Relief, Respirator, Role, RollingWear, Standby, Watching, WearFrom, WornIn,
};

use super::finding::Mistakes;
use super::keys;
use super::limit_check::{self, MOST_ENSEMBLES};
use super::mistake::{Advice, LimitMistake, Mistake};
use super::names::Names;
use super::record::{Maybe, Record};
use super::shape::{self, Shaper};
use super::source::{File, Source};
use super::time::Wall;

/// A constraint set as it was read.
pub(super) struct LimitsFile {
    pub(super) record: Record,
    pub(super) ensembles: Names,
    /// Built only as far as the file is right.
    pub(super) set: Option<ConstraintSet>,
}

/// Reads a constraint set. `today` decides whether its review is overdue.
pub(super) fn read(source: &Source, today: NaiveDate, out: &mut Mistakes) -> LimitsFile {
    let table = shape::parse(File::Limits, source, out);
    // No time of day stands in this file, so the zone does not matter.
    let wall = Wall { zone: chrono_tz::UTC, shift: None };
    let shaper = Shaper { file: File::Limits, root: &keys::LIMITS, wall };
    let record = shaper.shape(&table, out);
    let ensembles = Names::of(&record, "ensemble", "in the constraint set", out);
    limit_check::check(&record, &ensembles, out);
    check_dates(&record, today, out);
    let set = build(&record, &ensembles);
    LimitsFile { record, ensembles, set }
}

fn check_dates(record: &Record, today: NaiveDate, out: &mut Mistakes) {
    if record.flag("example") == Some(true) {
        out.add(record.spot_of("example"), Mistake::Advice(Advice::Example { noun: "constraint set" }));
    }
    let Some(review) = record.day("review_by") else { return };
    if record.day("approved_on").is_some_and(|approved| review.value < approved.value) {
        out.add(review.spot, Mistake::Limit(LimitMistake::ReviewBeforeApproval));
    } else if review.value < today {
        out.add(review.spot, Mistake::Advice(Advice::ReviewOverdue { review_by: review.value }));
    }
}

fn build(record: &Record, ensembles: &Names) -> Option<ConstraintSet> {
    let people = record.table("people")?;
    let room = record.table("room")?;
    let removal = record.table("removal")?;
    let wear = record.table("wear")?;
    Some(ConstraintSet {
        name: record.name("name")?,
        example: record.flag("example").unwrap_or(false),
        sources: names(record, "sources"),
        approval: approval(record)?,
        grid: record.minutes("grid_min")?,
        wear_from: wear_from(wear)?,
        cumulative_wear: wear.minutes("cumulative_max_min")?,
        changeover: people.minutes("changeover_min")?,
        shower: people.minutes("shower_min")?,
        shift_gap: people.minutes("shift_gap_h")?,
        nights_in_a_row: if record.has("nights_in_a_row") {
            Some(nights(record.table("nights_in_a_row")?)?)
        } else {
            None
        },
        week_max: if people.has("week_max_h") { Some(people.minutes("week_max_h")?) } else { None },
        recency: if record.has("recency_days") { recency(record.table("recency_days")?)? } else { Vec::new() },
        entries_max: people.count_or_none("entries_max")?.some(),
        inside_rest: inside_rest(people)?,
        min_inside: room.count("min_inside")?,
        relief: relief(room)?,
        overlap: room.minutes("overlap_min")?,
        min_stay: room.minutes("min_stay_min")?,
        donning_capacity: record.table("donning")?.count("observer_capacity")?,
        waiting_places: removal.count("waiting_places")?,
        observer_ready: removal.minutes("observer_ready_min")?,
        observer_reset: removal.minutes("observer_reset_min")?,
        observer_kit: kit(removal, "observer_kit", ensembles)?.some(),
        assistant_kit: kit(removal, "assistant_kit", ensembles)?.some(),
        cleaning: removal.minutes("cleaning_min")?,
        cleaned_by: if removal.word("cleaned_by")? == "assistant" { CleanedBy::Assistant } else { CleanedBy::Other },
        spare: removal.minutes("spare_min")?,
        coordinator: people.flag("coordinator")?,
        standby: standby(record)?.some(),
        early_exit: early_exit(record)?.some(),
        low_hours: low_hours(record)?.some(),
        watching: watching(record)?.some(),
        breaks: breaks(record)?.some(),
        rolling_wear: record.tables("rolling_wear").iter().map(rolling_wear).collect::<Option<_>>()?,
        respirators: record.tables("respirator").iter().map(respirator).collect::<Option<_>>()?,
        ensembles: record.tables("ensemble").iter().map(ensemble).collect::<Option<_>>()?,
        rest: rest(record, ensembles)?,
    })
}

/// The texts of a list; none when it is absent.
pub(super) fn names(record: &Record, key: &str) -> Vec<String> {
    record.texts(key).unwrap_or_default().into_iter().map(|at| at.value.to_owned()).collect()
}

fn approval(record: &Record) -> Option<Approval> {
    Some(Approval {
        by: record.name("approved_by")?,
        on: record.day("approved_on")?.value,
        review_by: record.day("review_by")?.value,
    })
}

/// From when wear counts.
pub(super) fn wear_from(wear: &Record) -> Option<WearFrom> {
    Some(match wear.word("from")? {
        "sealed" => WearFrom::Sealed,
        "donning-start" => WearFrom::DonningStart,
        _ => WearFrom::DoorIn,
    })
}

/// How people relieve each other; either way where the unit says nothing. `None` is a mistake.
pub(super) fn relief(room: &Record) -> Option<Relief> {
    if room.has("relief") { Relief::of(room.word("relief")?) } else { Some(Relief::Either) }
}

fn inside_rest(people: &Record) -> Option<Vec<CleanDuty>> {
    let duty = |word| if word == "donning-observer" { CleanDuty::DonningObserver } else { CleanDuty::DoffingObserver };
    Some(people.words("inside_rest")?.into_iter().map(|at| duty(at.value)).collect())
}

/// `None` is a mistake; the word `none` is not.
fn kit(removal: &Record, key: &str, ensembles: &Names) -> Option<Maybe<EnsembleIx>> {
    match removal.text_or_none(key)? {
        Maybe::Nothing => Some(Maybe::Nothing),
        Maybe::Some(id) => ensembles.find(id.value).map(|position| Maybe::Some(EnsembleIx(position))),
    }
}

fn watching(record: &Record) -> Option<Maybe<Watching>> {
    let Maybe::Some(table) = record.table_or_none("watching")? else { return Some(Maybe::Nothing) };
    Some(Maybe::Some(Watching { max: table.minutes("max_min")?, pause: table.minutes("pause_min")? }))
}

fn standby(record: &Record) -> Option<Maybe<Standby>> {
    let Maybe::Some(table) = record.table_or_none("standby")? else { return Some(Maybe::Nothing) };
    let report = table.word("where_short")? == "report";
    Some(Maybe::Some(Standby { responders: table.count("responders")?, report }))
}

fn early_exit(record: &Record) -> Option<Maybe<EarlyExit>> {
    let Maybe::Some(table) = record.table_or_none("early_exit")? else { return Some(Maybe::Nothing) };
    let report = table.word("where_short")? == "report";
    Some(Maybe::Some(EarlyExit { within: table.minutes("within_min")?, report }))
}

fn low_hours(record: &Record) -> Option<Maybe<LowHours>> {
    let Maybe::Some(table) = record.table_or_none("low_hours")? else { return Some(Maybe::Nothing) };
    let ensembles = record.tables("ensemble").iter();
    Some(Maybe::Some(LowHours {
        from: table.time_of_day("from")?,
        to: table.time_of_day("to")?,
        watch_max: table.minutes("watch_max_min")?,
        max_wear: ensembles.map(|e| e.minutes("low_hours_max_wear_min")).collect::<Option<_>>()?,
    }))
}

fn breaks(record: &Record) -> Option<Maybe<Breaks>> {
    let Maybe::Some(table) = record.table_or_none("breaks")? else { return Some(Maybe::Nothing) };
    Some(Maybe::Some(Breaks {
        length: table.minutes("length_min")?,
        work_max: table.minutes("work_max_min")?,
        recovery_counts: table.flag("recovery_counts")?,
    }))
}

fn nights(table: &Record) -> Option<NightsInARow> {
    Some(NightsInARow { max: table.count("max")?, from: table.time_of_day("from")?, to: table.time_of_day("to")? })
}

fn recency(table: &Record) -> Option<Vec<Recency>> {
    let asked = Role::ALL.into_iter().filter(|role| table.has(role.word()));
    asked.map(|role| Some(Recency { role, days: table.count(role.word())? })).collect()
}

fn rolling_wear(record: &Record) -> Option<RollingWear> {
    Some(RollingWear { window: record.minutes("window_h")?, max: record.minutes("max_wear_min")? })
}

fn respirator(record: &Record) -> Option<Respirator> {
    Some(Respirator {
        model: record.name("model")?,
        run: record.minutes_or_none("run_min")?.some(),
        run_margin: record.minutes("run_margin_min")?,
        reprocess: record.minutes("reprocess_min")?,
        charge: record.minutes("charge_min")?,
    })
}

/// Where an ensemble is worn.
pub(super) fn worn_in(record: &Record) -> Option<WornIn> {
    Some(if record.word("worn_in")? == "room" { WornIn::Room } else { WornIn::DoffingArea })
}

fn ensemble(record: &Record) -> Option<Ensemble> {
    Some(Ensemble {
        id: record.name("id")?,
        worn_in: worn_in(record)?,
        respirators: names(record, "respirators"),
        fit_test: record.flag("fit_test")?,
        donning: record.minutes("donning_min")?,
        sealed: record.minutes("sealed_min")?,
        donning_watched: record.flag("donning_watched")?,
        removal: record.minutes("removal_min")?,
        removal_watched: record.flag("removal_watched")?,
        assistant: record.flag("assistant")?,
        max_wear: record.minutes("max_wear_min")?,
        margin: record.minutes("margin_min")?,
        recovery: record.minutes("recovery_min")?,
        cumulative_percent: record.whole("cumulative_percent")?.value,
    })
}

/// The matrix by worn and next worn; `None` unless every pair is given.
fn rest(record: &Record, ensembles: &Names) -> Option<Vec<Vec<Minutes>>> {
    let count = record.tables("ensemble").len();
    if count > MOST_ENSEMBLES {
        return None;
    }
    let mut matrix = vec![vec![None; count]; count];
    for table in record.tables("rest") {
        let after = ensembles.find(table.text("after")?.value)?;
        let before = ensembles.find(table.text("before")?.value)?;
        matrix[after][before] = Some(table.minutes("min")?);
    }
    matrix.into_iter().map(|row| row.into_iter().collect()).collect()
}
