//! `anteroom observers`.

use super::args::{AnswerFiles, ObserversArgs};
use super::console::Console;
use super::files::{Content, Outputs, given};
use super::parts::Parts;
use super::plan::{internal, night, today};
use super::status::{Failure, Status};
use crate::explain::Explained;
use crate::show::report;
use crate::show::{View, observed};
use crate::training::{Proof, proof};

/// Reads night and rota, checks, and proves or does not that every donning and removal is watched.
pub fn observers(args: &ObserversArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let mut inputs = args.night.files();
    inputs.push(&args.rota);
    let outputs = Outputs::claimed(&args.files.wanted(), &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let (rota, warnings) = parts.rota(&given(&args.rota)?, &night).map_err(Failure::Refused)?;
    console.note_if_any(&warnings);
    let review = parts.review(&night, &rota);
    let (night, rota, review) = (&night, &rota, &review);
    // Gaps are another question: nothing of them is shown here.
    let explained = &Explained::default();
    let view = View { night, rota, review, out_by: &[], explained, search: None, today };
    let proof = proof(night, rota, review);
    let written = contents(&args.files, &view, &proof).and_then(|contents| outputs.write(&contents));
    console.answer(&observed::screen(&view, &proof))?;
    let status = if review.faults.is_empty() { Status::Covered } else { Status::Faults };
    written.map(|()| status)
}

fn contents<'a>(files: &'a AnswerFiles, view: &View<'_>, proof: &Proof) -> Result<Vec<Content<'a>>, Failure> {
    let mut contents: Vec<Content<'a>> = Vec::new();
    if let Some(path) = &files.out {
        contents.push((path, report::observers::page(view, proof).into_bytes()));
    }
    if let Some(path) = &files.csv {
        contents.push((path, observed::csv(view, proof).map_err(|e| internal(&e))?.into_bytes()));
    }
    if let Some(path) = &files.json {
        contents.push((path, observed::json(view, proof).map_err(|e| internal(&e))?.into_bytes()));
    }
    Ok(contents)
}
