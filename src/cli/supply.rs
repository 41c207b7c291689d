//! `anteroom supply`: how long the kits last.

use super::args::SupplyArgs;
use super::console::Console;
use super::files::{Content, Outputs, given};
use super::parts::Parts;
use super::plan::{internal, night, today};
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
    let (rota, warnings) = parts.rota(&given(&args.rota)?, &night).map_err(Failure::Refused)?;
    console.note_if_any(&warnings);
    let faults = parts.review(&night, &rota).faults.len();
    let supply = supply(&night, &rota);
    let view = View { night: &night, supply: &supply, coming: args.coming, unplanned: args.unplanned, faults, today };
    let written = contents(args, &view).and_then(|contents| outputs.write(&contents));
    console.answer(&terminal::render(&view))?;
    written.map(|()| if faults > 0 { Status::Faults } else { Status::Covered })
}

fn contents<'a>(args: &'a SupplyArgs, view: &View<'_>) -> Result<Vec<Content<'a>>, Failure> {
    let mut contents = Vec::new();
    if let Some(path) = &args.files.out {
        contents.push((path.as_path(), report::supply::page(view).into_bytes()));
    }
    if let Some(path) = &args.files.csv {
        contents.push((path.as_path(), csv::write(view).map_err(|e| internal(&e))?.into_bytes()));
    }
    if let Some(path) = &args.files.json {
        contents.push((path.as_path(), json::write(view).map_err(|e| internal(&e))?.into_bytes()));
    }
    Ok(contents)
}
