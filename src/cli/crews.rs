//! `anteroom crews`: how many people a roster takes.

use super::args::CrewsArgs;
use super::console::Console;
use super::files::{Content, Outputs, given};
use super::parts::Parts;
use super::plan::{checked, internal, night, today};
use super::progress::Progress;
use super::status::{Failure, Status};
use crate::night::{Night, Question};
use crate::show::crews::{self, CrewsView};
use crate::show::report;
use crate::staffing::{Answer, Wrong};
use chrono::NaiveDate;

/// Reads the question and the night, looks for crews, writes and shows.
pub fn crews(args: &CrewsArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let wanted = args.files.wanted();
    let mut inputs = args.night.files();
    inputs.push(&args.question);
    let outputs = Outputs::claimed(&wanted, &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let (question, warnings) = parts.question(&given(&args.question)?, &night).map_err(Failure::Refused)?;
    console.note_if_any(&warnings);
    let answer = answered(&night, &question, args, parts, console).map_err(|wrong| fault(&wrong, today, parts))?;
    let view = CrewsView { night: &night, question: &question, answer: &answer, today };
    // A file that cannot be written must not cost the answer on the screen.
    let written = contents(args, &view).and_then(|contents| outputs.write(&contents));
    console.answer(&crews::render(&view))?;
    written.map(|()| if answer.leading.is_some() { Status::Covered } else { Status::Gaps })
}

fn answered(
    night: &Night,
    question: &Question,
    args: &CrewsArgs,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<Answer, Box<Wrong>> {
    let progress = Progress::start(console);
    parts.crews(night, question, args.scope(), args.effort(), &progress)
}

/// The planner and the check disagree on one of the crews.
fn fault(wrong: &Wrong, today: NaiveDate, parts: &dyn Parts) -> Failure {
    let told = checked(&wrong.night, &wrong.rota, today, parts);
    told.err().unwrap_or_else(|| Failure::Internal("INTERNAL ERROR: a rota was refused, then accepted.".to_owned()))
}

fn contents<'a>(args: &'a CrewsArgs, view: &CrewsView<'_>) -> Result<Vec<Content<'a>>, Failure> {
    let mut contents = Vec::new();
    if let Some(path) = &args.files.out {
        contents.push((path.as_path(), report::crews::page(view).into_bytes()));
    }
    if let Some(path) = &args.files.csv {
        contents.push((path.as_path(), crews::csv::write(view).map_err(|e| internal(&e))?.into_bytes()));
    }
    if let Some(path) = &args.files.json {
        contents.push((path.as_path(), crews::json::write(view).map_err(|e| internal(&e))?.into_bytes()));
    }
    Ok(contents)
}
