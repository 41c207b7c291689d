//! `anteroom observers`.

use super::args::ObserversArgs;
use super::console::Console;
use super::files::Outputs;
use super::parts::Parts;
use super::plan::{night, rota, today};
use super::status::{Failure, Status};
use crate::explain::Explained;
use crate::show::report;
use crate::show::{View, observed};
use crate::training::proof;

/// Reads night and rota, checks, and proves or does not that every donning and removal is watched.
pub fn observers(args: &ObserversArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let mut inputs = args.night.files();
    inputs.push(&args.rota);
    let outputs = Outputs::claimed(&args.files.wanted(), &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let rota = rota(&args.rota, &night, parts, console)?;
    let review = parts.review(&night, &rota);
    let (night, rota, review) = (&night, &rota, &review);
    // Gaps are another question: nothing of them is shown here.
    let explained = &Explained::default();
    let view = View { night, rota, review, out_by: &[], explained, search: None, today };
    let proof = proof(night, rota, review);
    let written = args
        .files
        .contents(
            || report::observers::page(&view, &proof),
            || observed::csv(&view, &proof),
            || observed::json(&view, &proof),
        )
        .and_then(|contents| outputs.write(&contents));
    console.answer(&observed::screen(&view, &proof))?;
    let status = if review.faults.is_empty() { Status::Covered } else { Status::Faults };
    written.map(|()| status)
}
