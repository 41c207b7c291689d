//! `anteroom supply`: how long the kits last.

use super::args::SupplyArgs;
use super::console::Console;
use super::files::Outputs;
use super::parts::Parts;
use super::plan::{night, rota, today};
use super::status::{Failure, Status};
use crate::show::report;
use crate::show::supply::{View, csv, json, terminal};
use crate::staffing::supply::supply;

/// Reads night and rota, checks the rota, counts what it takes, writes and shows.
pub fn run(args: &SupplyArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let wanted = args.files.wanted();
    let mut inputs = args.night.files();
    inputs.push(&args.rota);
    let outputs = Outputs::claimed(&wanted, &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let rota = rota(&args.rota, &night, parts, console)?;
    let faults = parts.review(&night, &rota).faults.len();
    let supply = supply(&night, &rota);
    let view = View { night: &night, supply: &supply, coming: args.coming, unplanned: args.unplanned, faults, today };
    let written = args
        .files
        .contents(|| report::supply::page(&view), || csv::write(&view), || json::write(&view))
        .and_then(|contents| outputs.write(&contents));
    console.answer(&terminal::render(&view))?;
    written.map(|()| if faults > 0 { Status::Faults } else { Status::Covered })
}
