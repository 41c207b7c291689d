//! `anteroom check`.

use std::path::Path;

use super::args::{CheckArgs, sections};
use super::console::Console;
use super::files::{Content, Outputs};
use super::parts::Parts;
use super::plan::{internal, night, rota, status, today};
use super::status::{Failure, Status};
use crate::show::{View, json, terminal};

/// Reads night and rota, checks, explains, writes and shows.
pub fn check(args: &CheckArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let outputs = claimed(args)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let rota = rota(&args.rota, &night, parts, console)?;
    let review = parts.review(&night, &rota);
    let out_by = parts.out_by(&night, &rota);
    let explained = parts.explain(&night, &rota, &review);
    let view = View {
        night: &night,
        rota: &rota,
        review: &review,
        out_by: &out_by,
        explained: &explained,
        search: None,
        today,
    };
    let written = contents(args, &view).and_then(|contents| outputs.write(&contents));
    console.answer(&terminal::render(&view, &sections(&args.show)))?;
    written.map(|()| status(&view))
}

fn claimed(args: &CheckArgs) -> Result<Outputs, Failure> {
    let wanted: Vec<&Path> = args.json.iter().map(AsRef::as_ref).collect();
    let mut inputs = args.night.files();
    inputs.push(&args.rota);
    Outputs::claimed(&wanted, &inputs, args.force)
}

fn contents<'a>(args: &'a CheckArgs, view: &View<'_>) -> Result<Vec<Content<'a>>, Failure> {
    let Some(path) = &args.json else { return Ok(Vec::new()) };
    Ok(vec![(path.as_path(), json::write(view).map_err(|e| internal(&e))?.into_bytes())])
}
