//! Whether the figures of a constraint set can stand together.
//!
//! Every check looks only at figures that could be read, so that one mistake
//! does not hide another.

use std::collections::BTreeMap;

use crate::night::{Minutes, WearFrom, WornIn};

use super::finding::Mistakes;
use super::keys;
use super::limits::{wear_from, worn_in};
use super::mistake::{LengthMistake, LimitMistake, Mistake, NameMistake, Parts};
use super::names::Names;
use super::near;
use super::record::{Maybe, Record};
use super::shape::missing_when;
use super::source::Spot;

/// More ensembles than this are not planned: the rest matrix would be a wall of figures.
pub(super) const MOST_ENSEMBLES: usize = 50;

/// Checks everything about the figures.
pub(super) fn check(set: &Record, ensembles: &Names, out: &mut Mistakes) {
    if let Some(first_too_many) = set.tables("ensemble").get(MOST_ENSEMBLES) {
        let what = format!("{} ensembles", set.tables("ensemble").len());
        out.add(first_too_many.spot, Mistake::Name(NameMistake::TooMany { what, most: MOST_ENSEMBLES }));
    }
    check_grid(set, out);
    check_overlap(set, out);
    for ensemble in set.tables("ensemble") {
        check_ensemble(ensemble, out);
        check_wear(set, ensemble, out);
        if set.table("low_hours").is_some() {
            missing_when(ensemble, &keys::ENSEMBLE, "low_hours_max_wear_min", out);
        }
    }
    check_kits(set, ensembles, out);
    check_watching(set, out);
    check_rest(set, ensembles, out);
    check_respirators(set, out);
    for rolling in set.tables("rolling_wear") {
        if let Some(window) = rolling.minutes("window_h").filter(|window| window.0 < 24 * 60) {
            let hours = window.0 / 60;
            out.add(rolling.spot_of("window_h"), Mistake::Limit(LimitMistake::WindowUnderADay { hours }));
        }
    }
}

/// Each model once, worn with some ensemble, and charged for long enough to go in and come out.
fn check_respirators(set: &Record, out: &mut Mistakes) {
    let mut first: BTreeMap<&str, Spot> = BTreeMap::new();
    for respirator in set.tables("respirator") {
        let Some(model) = respirator.text("model") else { continue };
        if let Some(&earlier) = first.get(model.value) {
            let twice = LimitMistake::RespiratorTwice { model: model.value.to_owned() };
            out.add_with(model.spot, earlier, Mistake::Limit(twice));
            continue;
        }
        first.insert(model.value, model.spot);
        let wearing =
            |e: &&Record| e.texts("respirators").is_some_and(|all| all.iter().any(|m| m.value == model.value));
        let worn: Vec<&Record> = set.tables("ensemble").iter().filter(wearing).collect();
        if worn.is_empty() {
            let known = set.tables("ensemble").iter().filter_map(|e| e.texts("respirators")).flatten();
            let nearest = near::word(model.value, known.map(|m| m.value)).map(str::to_owned);
            let model_name = model.value.to_owned();
            out.add(model.spot, Mistake::Limit(LimitMistake::RespiratorNotWorn { model: model_name, nearest }));
        }
        worn.iter().for_each(|ensemble| check_run(set, respirator, ensemble, out));
    }
}

/// The shortest wear of an ensemble fits into the run time.
fn check_run(set: &Record, respirator: &Record, ensemble: &Record, out: &mut Mistakes) {
    let Some(Maybe::Some(run)) = respirator.minutes_or_none("run_min") else { return };
    let (Some(margin), Some(model)) = (respirator.minutes("run_margin_min"), respirator.name("model")) else { return };
    let (Some(sealed), Some(removal)) = (ensemble.minutes("sealed_min"), ensemble.minutes("removal_min")) else {
        return;
    };
    let mut parts: Parts = vec![("donning seal", sealed), ("doffing", removal)];
    if worn_in(ensemble) == Some(WornIn::Room) {
        let Some(stay) = set.table("room").and_then(|room| room.minutes("min_stay_min")) else { return };
        parts.insert(0, ("care", stay));
    }
    if total(&parts) > run - margin {
        let short = LengthMistake::RunTooShort { model, run, margin, parts };
        out.add(respirator.spot_of("run_min"), Mistake::Length(short));
    }
}

fn check_grid(set: &Record, out: &mut Mistakes) {
    if let Some(grid) = set.minutes("grid_min").filter(|grid| 60 % grid.0 != 0) {
        out.add(set.spot_of("grid_min"), Mistake::Limit(LimitMistake::GridNotDivisor { grid }));
    }
}

fn check_overlap(set: &Record, out: &mut Mistakes) {
    let Some(room) = set.table("room") else { return };
    let (Some(overlap), Some(min_stay)) = (room.minutes("overlap_min"), room.minutes("min_stay_min")) else { return };
    if overlap > min_stay {
        out.add(room.spot_of("overlap_min"), Mistake::Length(LengthMistake::OverlapOverStay { overlap, min_stay }));
    }
}

fn check_ensemble(ensemble: &Record, out: &mut Mistakes) {
    let mut refuse = |key: &str, limit| out.add(ensemble.spot_of(key), Mistake::Limit(limit));
    match worn_in(ensemble) {
        Some(WornIn::Room) => {
            for key in ["donning_watched", "removal_watched"] {
                if ensemble.flag(key) == Some(false) {
                    refuse(key, LimitMistake::RoomNotWatched { key });
                }
            }
        }
        Some(WornIn::DoffingArea) if ensemble.flag("assistant") == Some(true) => {
            refuse("assistant", LimitMistake::AssistantInDoffingArea);
        }
        _ => {}
    }
    let no_respirator = ensemble.texts("respirators").is_some_and(|models| models.is_empty());
    if no_respirator && ensemble.flag("fit_test") == Some(true) {
        refuse("fit_test", LimitMistake::FitTestOfNothing);
    }
    check_donning(ensemble, out);
}

fn check_donning(ensemble: &Record, out: &mut Mistakes) {
    if let (Some(sealed), Some(donning)) = (ensemble.minutes("sealed_min"), ensemble.minutes("donning_min"))
        && sealed > donning
    {
        let wrong = LengthMistake::SealedOverDonning { sealed, donning };
        out.add(ensemble.spot_of("sealed_min"), Mistake::Length(wrong));
    }
}

fn check_margin(ensemble: &Record, max: Minutes, out: &mut Mistakes) {
    if let Some(margin) = ensemble.minutes("margin_min").filter(|margin| *margin >= max) {
        let wrong = LengthMistake::MarginOverWear { margin, max };
        out.add(ensemble.spot_of("margin_min"), Mistake::Length(wrong));
    }
}

/// The minutes of donning that count as wear, by the unit's start of wear.
fn donning_part(set: &Record, ensemble: &Record) -> Option<(&'static str, Minutes)> {
    let sealed = ("donning seal", ensemble.minutes("sealed_min")?);
    Some(match (wear_from(set.table("wear")?)?, worn_in(ensemble)?) {
        (WearFrom::Sealed, _) | (WearFrom::DoorIn, WornIn::DoffingArea) => sealed,
        (WearFrom::DonningStart, _) => ("donning", ensemble.minutes("donning_min")?),
        (WearFrom::DoorIn, WornIn::Room) => ("donning", Minutes::ZERO),
    })
}

fn total(parts: &Parts) -> Minutes {
    parts.iter().map(|(_, minutes)| *minutes).sum()
}

fn check_wear(set: &Record, ensemble: &Record, out: &mut Mistakes) {
    let Some(donning) = donning_part(set, ensemble) else { return };
    let (Some(removal), Some(max)) = (ensemble.minutes("removal_min"), ensemble.minutes("max_wear_min")) else {
        return;
    };
    let spot = ensemble.spot_of("max_wear_min");
    let parts = vec![donning, ("doffing", removal)];
    if total(&parts) >= max {
        out.add(spot, Mistake::Length(LengthMistake::WearTooShort { max, parts }));
        return;
    }
    check_margin(ensemble, max, out);
    if let Some(low) = ensemble.minutes("low_hours_max_wear_min").filter(|low| *low > max) {
        let wrong = LengthMistake::LowOverWear { low, max };
        out.add(ensemble.spot_of("low_hours_max_wear_min"), Mistake::Length(wrong));
    }
    if worn_in(ensemble) == Some(WornIn::Room) {
        check_stay(set, ensemble, &[donning, ("doffing", removal)], out);
    }
}

/// The arithmetic of the shortest stay: it has to fit into one wear and into the shift's.
fn check_stay(set: &Record, ensemble: &Record, fixed: &[(&'static str, Minutes)], out: &mut Mistakes) {
    let Some(stay) = set.table("room").and_then(|room| room.minutes("min_stay_min")) else { return };
    let parts: Parts = std::iter::once(("care", stay)).chain(fixed.iter().copied()).collect();
    let shortest = total(&parts);
    if let (Some(max), Some(margin)) = (ensemble.minutes("max_wear_min"), ensemble.minutes("margin_min"))
        && shortest > max - margin
        && margin < max
    {
        let longest = (max - margin - (shortest - stay)).max(Minutes::ZERO);
        let wrong = LengthMistake::StayTooShort { parts, max, margin, longest };
        out.add(ensemble.spot_of("max_wear_min"), Mistake::Length(wrong));
    }
    let Some(wear) = set.table("wear") else { return };
    if let (Some(cumulative), Some(percent), Some(id)) =
        (wear.minutes("cumulative_max_min"), ensemble.whole("cumulative_percent"), ensemble.name("id"))
        && shortest.0 * percent.value > cumulative.0 * 100
    {
        let shortest = Minutes((shortest.0 * percent.value + 99) / 100);
        let wrong = LengthMistake::CumulativeTooShort { cumulative, shortest, ensemble: id };
        out.add(wear.spot_of("cumulative_max_min"), Mistake::Length(wrong));
    }
}

/// The longest removal of a room ensemble for which `counts` holds.
fn longest_removal(set: &Record, counts: impl Fn(&Record) -> bool) -> Option<Minutes> {
    let in_room = set.tables("ensemble").iter().filter(|ensemble| worn_in(ensemble) == Some(WornIn::Room));
    in_room.filter(|ensemble| counts(ensemble)).filter_map(|ensemble| ensemble.minutes("removal_min")).max()
}

fn check_kits(set: &Record, ensembles: &Names, out: &mut Mistakes) {
    let Some(removal) = set.table("removal") else { return };
    for key in ["observer_kit", "assistant_kit"] {
        let Some(Maybe::Some(id)) = removal.text_or_none(key) else { continue };
        let Some(kit) = ensembles.require(id, out).and_then(|position| set.tables("ensemble").get(position)) else {
            continue;
        };
        if worn_in(kit) == Some(WornIn::Room) {
            let wrong = LimitMistake::KitNotDoffingArea { key, ensemble: id.value.to_owned() };
            out.add(id.spot, Mistake::Limit(wrong));
        } else {
            check_post(set, removal, kit, key, out);
        }
    }
    check_assistant_kit(set, removal, out);
}

fn check_assistant_kit(set: &Record, removal: &Record, out: &mut Mistakes) {
    let assisted = set.tables("ensemble").iter().filter(|ensemble| ensemble.flag("assistant") == Some(true));
    let ensembles: Vec<String> = assisted.filter_map(|ensemble| ensemble.name("id")).collect();
    if removal.text_or_none("assistant_kit") == Some(Maybe::Nothing) && !ensembles.is_empty() {
        let wrong = LimitMistake::AssistantWithoutKit { ensembles };
        out.add(removal.spot_of("assistant_kit"), Mistake::Limit(wrong));
    }
}

/// Whether a helper can dress, see one removal through and undress within the kit's wear.
fn check_post(set: &Record, removal: &Record, kit: &Record, key: &str, out: &mut Mistakes) {
    let Some((who, parts)) = post_parts(set, removal, kit, key) else { return };
    let (Some(max), Some(margin)) = (kit.minutes("max_wear_min"), kit.minutes("margin_min")) else { return };
    if total(&parts) > max - margin && margin < max {
        let wrong = LengthMistake::HelperWearTooShort { who, parts, max, margin };
        out.add(kit.spot_of("max_wear_min"), Mistake::Length(wrong));
    }
}

fn post_parts(set: &Record, removal: &Record, kit: &Record, key: &str) -> Option<(&'static str, Parts)> {
    let donning = donning_part(set, kit)?;
    let own = ("own removal", kit.minutes("removal_min")?);
    if key == "assistant_kit" {
        let one = longest_removal(set, |ensemble| ensemble.flag("assistant") == Some(true))?;
        return Some(("assistant", vec![donning, ("one removal", one), own]));
    }
    let ready = ("getting ready", removal.minutes("observer_ready_min")?);
    let reset = ("writing up", removal.minutes("observer_reset_min")?);
    let one = ("one removal", longest_removal(set, |_| true)?);
    Some(("observer", vec![donning, ready, one, reset, own]))
}

fn check_watching(set: &Record, out: &mut Mistakes) {
    if let (Some(low), Some(Maybe::Nothing)) = (set.table("low_hours"), set.table_or_none("watching")) {
        out.add(low.spot_of("watch_max_min"), Mistake::Limit(LimitMistake::LowWatchWithoutWatching));
    }
    let (Some(watching), Some(removal)) = (set.table("watching"), set.table("removal")) else { return };
    let (Some(max), Some(one)) = (watching.minutes("max_min"), longest_removal(set, |_| true)) else { return };
    let (Some(ready), Some(reset)) = (removal.minutes("observer_ready_min"), removal.minutes("observer_reset_min"))
    else {
        return;
    };
    let parts = vec![("getting ready", ready), ("one removal", one), ("writing up", reset)];
    if total(&parts) > max {
        out.add(watching.spot_of("max_min"), Mistake::Length(LengthMistake::WatchTooShort { max, parts }));
    }
}

fn check_rest(set: &Record, ensembles: &Names, out: &mut Mistakes) {
    let mut given: BTreeMap<(usize, usize), Spot> = BTreeMap::new();
    let mut readable = true;
    for rest in set.tables("rest") {
        let after = ensembles.require_in(rest, "after", out);
        let before = ensembles.require_in(rest, "before", out);
        let (Some(after), Some(before)) = (after, before) else {
            readable = false;
            continue;
        };
        check_recovery(set, rest, after, out);
        if let Some(first) = given.insert((after, before), rest.spot) {
            let (Some(after), Some(before)) = (rest.name("after"), rest.name("before")) else { continue };
            out.add_with(rest.spot, first, Mistake::Limit(LimitMistake::RestTwice { after, before }));
        }
    }
    // A pair whose names are misspelt is told of as that, not as missing too.
    if readable && ensembles.is_complete() && set.tables("ensemble").len() <= MOST_ENSEMBLES {
        check_pairs(set, &given, out);
    }
}

fn check_recovery(set: &Record, rest: &Record, after: usize, out: &mut Mistakes) {
    let recovery = set.tables("ensemble").get(after).and_then(|ensemble| ensemble.minutes("recovery_min"));
    let (Some(recovery), Some(minutes)) = (recovery, rest.minutes("min")) else { return };
    if recovery > minutes {
        let (Some(after), Some(before)) = (rest.name("after"), rest.name("before")) else { return };
        let wrong = LengthMistake::RecoveryOverRest { after, before, recovery, rest: minutes };
        out.add(rest.spot_of("min"), Mistake::Length(wrong));
    }
}

fn check_pairs(set: &Record, given: &BTreeMap<(usize, usize), Spot>, out: &mut Mistakes) {
    let ensembles = set.tables("ensemble");
    let names: Vec<Option<String>> = ensembles.iter().map(|ensemble| ensemble.name("id")).collect();
    let mut pairs = Vec::new();
    for (after, worn) in names.iter().enumerate() {
        for (before, next) in names.iter().enumerate() {
            if let (Some(worn), Some(next), false) = (worn, next, given.contains_key(&(after, before))) {
                pairs.push((worn.clone(), next.clone()));
            }
        }
    }
    if let (Some(last), false) = (ensembles.last(), pairs.is_empty()) {
        out.add(last.spot, Mistake::Limit(LimitMistake::RestMissing { pairs }));
    }
}
