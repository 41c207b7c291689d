//! The front end: from the arguments to a status.
//!
//! This is the only place that prints, reads files, writes files or knows of the
//! command line.

mod absence;
mod args;
mod browser;
mod check;
mod console;
mod cost;
mod crews;
mod files;
mod first_entries;
mod observers;
mod outlook;
mod parts;
mod plan;
mod progress;
mod reference;
mod sheet;
mod status;
mod supply;
#[cfg(test)]
mod tests;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};
use console::Console;
use parts::{Parts, Real};
use status::{Failure, Status};

/// Runs the program with the arguments of the process.
#[must_use]
pub fn run() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => return usage(&error).into(),
    };
    let mut console = Console::standard();
    // The default hook has already told where; what is left is the status that scripts look at.
    let status = catch_unwind(AssertUnwindSafe(|| act(&args, &Real, &mut console))).unwrap_or(Status::Internal);
    status.into()
}

/// Does what the arguments ask for and tells of what went wrong.
fn act(args: &Args, parts: &dyn Parts, console: &mut Console<'_>) -> Status {
    let done = match &args.command {
        Command::Plan(plan_args) => plan::plan(plan_args, parts, console),
        Command::Check(check_args) => check::check(check_args, parts, console),
        Command::Sheet(sheet_args) => sheet::sheet(sheet_args, parts, console),
        Command::Cost(cost_args) => cost::cost(cost_args, parts, console),
        Command::Absence(absence_args) => absence::absence(absence_args, parts, console),
        Command::Supply(supply_args) => supply::run(supply_args, parts, console),
        Command::Crews(crews_args) => crews::crews(crews_args, parts, console),
        Command::Observers(observers_args) => observers::observers(observers_args, parts, console),
        Command::Outlook(outlook_args) => outlook::outlook(outlook_args, parts, console),
        Command::FirstEntries(first_args) => first_entries::first(first_args, parts, console),
        Command::Keys => reference::keys(parts, console),
        Command::Rules { id } => reference::rules(id.as_deref(), parts, console),
    };
    done.unwrap_or_else(|failure| told(&failure, console))
}

fn told(failure: &Failure, console: &mut Console<'_>) -> Status {
    console.note(failure.words());
    failure.status()
}

/// Help and version come this way too: they are no mistake.
fn usage(error: &clap::Error) -> Status {
    let told = error.print();
    if error.use_stderr() || told.is_err() { Status::Refused } else { Status::Covered }
}
