//! `anteroom first-entries`.

use super::args::FirstEntriesArgs;
use super::console::Console;
use super::files::{Content, Outputs, given};
use super::parts::Parts;
use super::plan::{checked, internal, night, today};
use super::progress::Progress;
use super::status::{Failure, Status};
use crate::check::Review;
use crate::explain::Explained;
use crate::night::{Night, Rota};
use crate::show::{View, first, report};
use crate::training::{FirstEntry, Found, Tried, first_entries};

/// Reads or plans a rota, and tries where people under supervision could go in beside a preceptor.
pub fn first(args: &FirstEntriesArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let mut inputs = args.night.files();
    inputs.extend(args.rota.as_deref());
    let outputs = Outputs::claimed(&args.files.wanted(), &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let given = args.rota.is_some().then(|| rota(args, &night, parts, console)).transpose()?;
    let mut progress = Progress::start(console);
    let mut cover = |night: &Night| {
        let planned = parts.cover(night, args.effort(), &mut progress);
        let review = checked(night, &planned.rota, today, parts)?;
        Ok(Tried { rota: planned.rota, review, levels: planned.levels })
    };
    let (rota, review) = match given {
        Some(given) => given,
        None => cover(&night).map(|tried| (tried.rota, tried.review))?,
    };
    let all = first_entries(&night, &rota, &review, &mut cover)?;
    drop(progress);
    let explained = &Explained::default();
    let view = View { night: &night, rota: &rota, review: &review, out_by: &[], explained, search: None, today };
    let written = contents(args, &view, &all).and_then(|contents| outputs.write(&contents));
    console.answer(&first::screen(&view, &all))?;
    let found = all.iter().all(|one| !matches!(one.found, Found::None(_)));
    written.map(|()| if found { Status::Covered } else { Status::Gaps })
}

/// The rota given. Beside stays of one with faults nothing is suggested.
fn rota(
    args: &FirstEntriesArgs,
    night: &Night,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<(Rota, Review), Failure> {
    let file = args.rota.as_deref().map(given).transpose()?;
    let Some(file) = file else { return Err(Failure::refused("--rota: no file was given.")) };
    let (rota, warnings) = parts.rota(&file, night).map_err(Failure::Refused)?;
    console.note_if_any(&warnings);
    let review = parts.review(night, &rota);
    if review.faults.is_empty() {
        return Ok((rota, review));
    }
    Err(Failure::refused(format!(
        "{}: the check finds {} in this rota, so no entry is suggested beside one of it. Put them right first: anteroom check.",
        file.name,
        first::faults(&review)
    )))
}

fn contents<'a>(args: &'a FirstEntriesArgs, view: &View<'_>, all: &[FirstEntry]) -> Result<Vec<Content<'a>>, Failure> {
    let mut contents: Vec<Content<'a>> = Vec::new();
    if let Some(path) = &args.files.out {
        contents.push((path, report::first::page(view, all).into_bytes()));
    }
    if let Some(path) = &args.files.csv {
        contents.push((path, first::csv(view, all).map_err(|e| internal(&e))?.into_bytes()));
    }
    if let Some(path) = &args.files.json {
        contents.push((path, first::json(view, all).map_err(|e| internal(&e))?.into_bytes()));
    }
    Ok(contents)
}
