//! `anteroom crews`: how many people a roster takes.

use super::args::CrewsArgs;
use super::console::Console;
use super::files::{Outputs, given};
use super::parts::Parts;
use super::plan::{night, today, wrong};
use super::progress::Progress;
use super::status::{Failure, Status};
use crate::night::{Night, Question};
use crate::show::crews::{self, CrewsView};
use crate::show::report;
use crate::staffing::{Answer, Wrong};

/// Reads the question and the night, looks for crews, writes and shows.
pub fn crews(args: &CrewsArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let wanted = args.files.wanted();
    let mut inputs = args.night.files();
    inputs.push(&args.question);
    let outputs = Outputs::claimed(&wanted, &inputs, args.files.force)?;
    let today = today(&args.night)?;
    let night = night(&args.night, today, parts, console)?;
    let question = console.noted(parts.question(&given(&args.question)?, &night))?;
    let answer = answered(&night, &question, args, parts, console).map_err(|found| wrong(&found, today, parts))?;
    let view = CrewsView { night: &night, question: &question, answer: &answer, today };
    // A file that cannot be written must not cost the answer on the screen.
    let written = args
        .files
        .contents(|| report::crews::page(&view), || crews::csv::write(&view), || crews::json::write(&view))
        .and_then(|contents| outputs.write(&contents));
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
