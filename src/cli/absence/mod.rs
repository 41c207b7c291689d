//! `anteroom absence`: how often the crew covers the night when people are missing.

mod given;
mod shares;

use chrono::NaiveDate;

use super::args::AbsenceArgs;
use super::console::Console;
use super::files::Outputs;
use super::parts::Parts;
use super::plan::{today, wrong};
use super::progress::Counter;
use super::status::{Failure, Status};
use crate::show::absence::{View, csv, json, terminal};
use crate::show::report;
use crate::staffing::absence::answer::answers;
use crate::staffing::absence::work::{Ended, Job, Known, Share};
use given::Given;

/// Reads, draws, plans what is to be planned, and answers; or writes the list; or settles a share.
pub fn absence(args: &AbsenceArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let wanted = args.files.wanted();
    let outputs = Outputs::claimed(&wanted, &args.read(), args.files.force)?;
    let today = today(&args.night)?;
    let given = given::read(args, today, parts, console)?;
    if let Some(folder) = &args.write_nights {
        return shares::write_list(folder, &given, args, console);
    }
    let known = if args.gather.is_empty() {
        settled(args, &given, today, parts, console)?
    } else {
        shares::gathered(&args.gather, &given, console)?
    };
    if let Some(share) = args.share {
        console.answer(&shares::told(share, &given, &known, args))?;
        return Ok(Status::Covered);
    }
    let answers = answers(&given.night, &given.crews, &given.list, &known).map_err(|case| {
        Failure::refused(format!(
            "The results do not settle case {}. Nothing is answered. Run its share again.",
            case.0
        ))
    })?;
    let view = View {
        night: &given.night,
        crews: &given.crews,
        answers: &answers,
        how: given.how,
        seed: args.seed,
        effort: args.effort,
        example: given.example,
        today,
    };
    let written = args
        .files
        .contents(|| report::absence::page(&view), || csv::write(&view), || json::write(&view))
        .and_then(|contents| outputs.write(&contents));
    console.answer(&terminal::render(&view))?;
    written.map(|()| Status::Covered)
}

/// Plans every case, or those of the share, and keeps what is known in the file for it.
fn settled(
    args: &AbsenceArgs,
    given: &Given,
    today: NaiveDate,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<Known, Failure> {
    let share = args.share.unwrap_or(Share::WHOLE);
    let keep = shares::Keep::start(args, given, share, console)?;
    let job = Job { night: &given.night, cases: given.list.cases(), share, effort: args.effort() };
    let counter = Counter::start(console, "nights that differ");
    let mut told = |known: &Known, all: usize| {
        counter.at(known.len(), all);
        keep.write(known)
    };
    let done = job.run(keep.known(), &mut told);
    drop(counter);
    done.map_err(|ended| match ended {
        Ended::Told(failure) => failure,
        Ended::Wrong(found) => wrong(&found, today, parts),
    })
}
