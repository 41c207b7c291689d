//! `anteroom plan`.

use std::path::Path;

use super::args::{NightArgs, PlanArgs, sections};
use super::console::Console;
use super::files::{Content, Outputs, given};
use super::parts::{NightFiles, Parts};
use super::progress::Progress;
use super::status::{Failure, Status};
use crate::check::Review;
use crate::explain::{Explained, Severity};
use crate::night::{Night, Rota};
use crate::plan::{Effort, Planned};
use crate::show::{Search, View, csv, json, rota_toml, terminal};
use crate::staffing::Wrong;
use crate::training::Tried;
use chrono::{DateTime, NaiveDate, Utc};

/// Reads, plans, checks, explains, writes and shows.
pub fn plan(args: &PlanArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let wanted: Vec<&Path> = [&args.out, &args.csv, &args.json].into_iter().flatten().map(AsRef::as_ref).collect();
    let outputs = Outputs::claimed(&wanted, &args.night.files(), args.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let planned = searched(&night, args, parts, console);
    let review = checked(&night, &planned.rota, today, parts)?;
    let out_by = parts.out_by(&night, &planned.rota);
    let explained = parts.explain(&night, &planned.rota, &review);
    let view = View {
        night: &night,
        rota: &planned.rota,
        review: &review,
        out_by: &out_by,
        explained: &explained,
        search: Some(Search { levels: &planned.levels, ended: planned.ended }),
        today,
    };
    // A file that cannot be written must not cost the answer on the screen.
    let written = contents(args, &view).and_then(|contents| outputs.write(&contents));
    console.answer(&terminal::render(&view, &sections(&args.show)))?;
    written.map(|()| status(&view))
}

fn searched(night: &Night, args: &PlanArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Planned {
    let mut progress = Progress::start(console);
    parts.plan(night, args.effort(), &mut progress)
}

/// Reads the files of a night and tells the warnings.
pub fn night(
    args: &NightArgs,
    today: NaiveDate,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<Night, Failure> {
    console.noted(parts.night(&files(args, today)?))
}

/// The files of a night, each read once.
pub fn files(args: &NightArgs, today: NaiveDate) -> Result<NightFiles, Failure> {
    Ok(NightFiles {
        roster: given(&args.roster)?,
        limits: given(&args.limits)?,
        elsewhere: Vec::new(),
        private: args.private.as_deref().map(given).transpose()?,
        sign_offs: args.sign_offs.as_deref().map(given).transpose()?,
        today,
    })
}

/// Reads a rota and tells the warnings.
pub fn rota(path: &Path, night: &Night, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Rota, Failure> {
    console.noted(parts.rota(&given(path)?, night))
}

/// Plans a night as far as cover goes, and checks the rota.
pub fn tried(
    night: &Night,
    effort: Effort,
    today: NaiveDate,
    parts: &dyn Parts,
    progress: &mut Progress,
) -> Result<Tried, Failure> {
    let planned = parts.cover(night, effort, progress);
    let review = checked(night, &planned.rota, today, parts)?;
    Ok(Tried { rota: planned.rota, review, levels: planned.levels })
}

/// What is told of a rota that failed the check while an answer was worked out.
pub fn wrong(wrong: &Wrong, today: NaiveDate, parts: &dyn Parts) -> Failure {
    let told = checked(&wrong.night, &wrong.rota, today, parts);
    told.err().unwrap_or_else(|| Failure::Internal("INTERNAL ERROR: a rota was refused, then accepted.".to_owned()))
}

/// The day given, or the machine's, by UTC.
pub fn today(args: &NightArgs) -> Result<NaiveDate, Failure> {
    let machine = || DateTime::<Utc>::from(std::time::SystemTime::now()).date_naive();
    let today = args.today.unwrap_or_else(machine);
    // Dates outside these years are a slip of the hand or a machine without a clock.
    let year = chrono::Datelike::year(&today);
    if (2000..=2199).contains(&year) {
        Ok(today)
    } else {
        Err(Failure::refused(format!("Today cannot be {today}. Reviews could not be told. Give --today.")))
    }
}

/// Whether everything asked for is covered. Tight is covered.
pub fn status(view: &View<'_>) -> Status {
    let explained = view.explained.gaps.iter().any(|gap| gap.severity != Severity::Tight);
    match (view.review.faults.is_empty(), explained || view.has_gaps()) {
        (false, _) => Status::Faults,
        (true, true) => Status::Gaps,
        (true, false) => Status::Covered,
    }
}

fn contents<'a>(args: &'a PlanArgs, view: &View<'_>) -> Result<Vec<Content<'a>>, Failure> {
    let mut contents = Vec::new();
    if let Some(path) = &args.out {
        contents.push((path.as_path(), rota_toml::write(view.night, view.rota).into_bytes()));
    }
    if let Some(path) = &args.csv {
        contents.push((path.as_path(), csv::write(view).map_err(|e| internal(&e))?.into_bytes()));
    }
    if let Some(path) = &args.json {
        contents.push((path.as_path(), json::write(view).map_err(|e| internal(&e))?.into_bytes()));
    }
    Ok(contents)
}

/// A writer that failed where none can.
pub fn internal(error: &dyn std::error::Error) -> Failure {
    Failure::Internal(format!("INTERNAL ERROR: a file could not be put together: {error}. It was not written."))
}

/// Looks at a planned rota before anything of it is shown: a fault is a mistake of the planner.
pub fn checked(night: &Night, rota: &Rota, today: NaiveDate, parts: &dyn Parts) -> Result<Review, Failure> {
    let review = parts.review(night, rota);
    if review.faults.is_empty() {
        return Ok(review);
    }
    let (out_by, explained) = (parts.out_by(night, rota), Explained::default());
    let view = View { night, rota, review: &review, out_by: &out_by, explained: &explained, search: None, today };
    Err(Failure::Internal(bug(&view)))
}

/// The planner and the check disagree: nobody may go in by such a rota.
fn bug(view: &View<'_>) -> String {
    format!(
        "INTERNAL ERROR: the planned rota failed the independent check.\n\
         No rota is shown and no file is written. Your files are not to blame.\n\
         Plan this shift by hand, and report what follows with anteroom {}.\n\n{}",
        env!("CARGO_PKG_VERSION"),
        terminal::verdict(view),
    )
}
