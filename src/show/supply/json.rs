//! How long the kits last, as JSON for scripts.
//!
//! The shape is stable: keys are added, never renamed, while `format` stays 1. Times are ISO 8601, local with offset;
//! `null` says that there is none.
//!
//! - `format`, `caution`, `training`, `review_overdue`, `roster`, `constraint_set`, `faults`, `coming`, `unplanned`
//! - `kits`: `kit`, `size`, `count`, `kept_back`, `used_by_entrants`, `used_by_helpers`, `left`, `reserve_from_the_start`,
//!   `reserve_reached`, `runs_out`, `nights`, `nights_with_unplanned` (tonight included), `short_on`,
//!   `short_on_with_unplanned` (dates; null beyond `coming`); `uses`: times
//! - `respirators`: `model`, `size`, `most_in_use`, `ready`, `at`; `not_counted`: `model`, `size`, `count`; `no_size`

use serde::Serialize;

use super::{View, words};
use crate::show::warnings::is_overdue;
use crate::staffing::supply::{Reached, Shelf};

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    caution: Vec<&'static str>,
    training: bool,
    review_overdue: bool,
    roster: &'a str,
    constraint_set: &'a str,
    faults: usize,
    coming: u32,
    unplanned: u32,
    kits: Vec<KitShape<'a>>,
    respirators: Vec<RespiratorShape<'a>>,
    not_counted: Vec<StockShape<'a>>,
    no_size: u32,
}

#[derive(Serialize)]
struct KitShape<'a> {
    kit: &'a str,
    size: &'a str,
    count: u32,
    kept_back: u32,
    used_by_entrants: usize,
    used_by_helpers: usize,
    left: i64,
    reserve_from_the_start: bool,
    reserve_reached: Option<String>,
    runs_out: Option<String>,
    nights: Option<u32>,
    nights_with_unplanned: Option<u32>,
    short_on: Option<String>,
    short_on_with_unplanned: Option<String>,
    uses: Vec<String>,
}

#[derive(Serialize)]
struct RespiratorShape<'a> {
    model: &'a str,
    size: Option<&'a str>,
    most_in_use: u32,
    ready: u32,
    at: String,
}

#[derive(Serialize)]
struct StockShape<'a> {
    model: &'a str,
    size: &'a str,
    count: u32,
}

/// Writes the answer, indented, with a newline at the end.
///
/// # Errors
/// When the JSON writer fails, which it does for none of these types.
pub fn write(view: &View<'_>) -> Result<String, serde_json::Error> {
    let (roster, limits, supply) = (&view.night.roster, &view.night.limits, view.supply);
    let document = Document {
        format: crate::show::json::FORMAT,
        caution: words::CAUTIONS.to_vec(),
        training: roster.example || limits.example,
        review_overdue: is_overdue(view.night, view.today),
        roster: &roster.name,
        constraint_set: &limits.name,
        faults: view.faults,
        coming: view.coming,
        unplanned: view.unplanned,
        kits: supply.shelves.iter().map(|shelf| kit(view, shelf)).collect(),
        respirators: supply
            .respirators
            .iter()
            .map(|most| RespiratorShape {
                model: &most.model,
                size: most.size.as_deref(),
                most_in_use: most.in_use,
                ready: most.ready,
                at: view.wall().iso(most.at),
            })
            .collect(),
        not_counted: supply
            .not_counted
            .iter()
            .map(|(model, size, count)| StockShape { model, size, count: *count })
            .collect(),
        no_size: supply.no_size,
    };
    crate::show::json::indented(&document)
}

fn kit<'a>(view: &View<'a>, shelf: &'a Shelf) -> KitShape<'a> {
    let iso = |at| view.wall().iso(at);
    let day = |unplanned| view.short_on(shelf, unplanned).map(|day| day.to_string());
    let reached = shelf.reached();
    KitShape {
        kit: &view.night.limits.ensemble(shelf.ensemble).id,
        size: &shelf.size,
        count: shelf.count,
        kept_back: shelf.reserve,
        used_by_entrants: shelf.entrants.len(),
        used_by_helpers: shelf.helpers.len(),
        left: shelf.left(),
        reserve_from_the_start: reached == Reached::AtStart,
        reserve_reached: if let Reached::At(at) = reached { Some(iso(at)) } else { None },
        runs_out: shelf.runs_out().map(iso),
        nights: shelf.nights(0),
        nights_with_unplanned: shelf.nights(view.unplanned),
        short_on: day(0),
        short_on_with_unplanned: day(view.unplanned),
        uses: shelf.uses().into_iter().map(iso).collect(),
    }
}
