//! `anteroom first-entries`.

use std::path::Path;

use super::args::FirstEntriesArgs;
use super::console::Console;
use super::files::Outputs;
use super::parts::Parts;
use super::plan::{night, rota, today, tried};
use super::progress::Progress;
use super::status::{Failure, Status};
use crate::check::Review;
use crate::explain::Explained;
use crate::night::{Night, Rota};
use crate::show::{View, first, report};
use crate::training::{Found, first_entries};

/// Reads or plans a rota, and tries where people under supervision could go in beside a preceptor.
pub fn first(args: &FirstEntriesArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let mut inputs = args.night.files();
    inputs.extend(args.rota.as_deref());
    let outputs = Outputs::claimed(&args.files.wanted(), &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let given = args.rota.as_deref().map(|path| clean(path, &night, parts, console)).transpose()?;
    let mut progress = Progress::start(console);
    let mut cover = |night: &Night| tried(night, args.effort(), today, parts, &mut progress);
    let (rota, review) = match given {
        Some(given) => given,
        None => cover(&night).map(|tried| (tried.rota, tried.review))?,
    };
    let all = first_entries(&night, &rota, &review, &mut cover)?;
    drop(progress);
    let explained = &Explained::default();
    let view = View { night: &night, rota: &rota, review: &review, out_by: &[], explained, search: None, today };
    let written = args
        .files
        .contents(|| report::first::page(&view, &all), || first::csv(&view, &all), || first::json(&view, &all))
        .and_then(|contents| outputs.write(&contents));
    console.answer(&first::screen(&view, &all))?;
    let found = all.iter().all(|one| !matches!(one.found, Found::None(_)));
    written.map(|()| if found { Status::Covered } else { Status::Gaps })
}

/// The rota given. Beside stays of one with faults nothing is suggested.
fn clean(path: &Path, night: &Night, parts: &dyn Parts, console: &mut Console<'_>) -> Result<(Rota, Review), Failure> {
    let rota = rota(path, night, parts, console)?;
    let review = parts.review(night, &rota);
    if review.faults.is_empty() {
        return Ok((rota, review));
    }
    Err(Failure::refused(format!(
        "{}: the check finds {} in this rota, so no entry is suggested beside one of it. Put them right first: anteroom check.",
        path.display(),
        first::faults(&review)
    )))
}
