//! The benchmark: named nights, planned by this program and by general solvers. See benches/README.md.
#![expect(clippy::print_stdout, clippy::print_stderr, reason = "it is a command with no other way to answer")]

mod args;
mod child;
#[path = "../../tests/levels/mod.rs"]
mod figures;
#[path = "../generator/mod.rs"]
mod generator;
mod levels;
mod opponents;
mod ours;
mod outcome;
mod program;
mod record;
mod summary;
mod table;
mod write;

use std::process::ExitCode;

use clap::Parser;

use args::Args;
use generator::{Named, Tightness};
use outcome::{Outcome, Who};

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

/// True unless somebody's rota or figures did not stand up to the check.
fn run(args: &Args) -> Result<bool, String> {
    let nights = args.chosen();
    if nights.is_empty() {
        return Err("No night is of that family and has one of those names.".to_owned());
    }
    if args.list {
        nights.iter().for_each(|night| println!("{}", told(night)));
        return Ok(true);
    }
    if let Some(folder) = &args.write {
        return write::files(&nights, args.order, folder).map(|()| true);
    }
    if args.one {
        return child::plan_one(&nights[0], args).map(|()| true);
    }
    measured(&nights, args)?;
    let record = record::read(&args.record)?;
    let text = table::text(&record, args)?;
    println!("{text}");
    if args.date.is_some() {
        write::table(&text, &args.table)?;
    }
    let disagreements: Vec<_> = record.iter().flat_map(|run| &run.disagreements).collect();
    disagreements.iter().for_each(|told| eprintln!("DISAGREEMENT: {told}"));
    Ok(disagreements.is_empty())
}

/// Runs everybody on every night, one after another: nobody has to share the machine.
fn measured(nights: &[Named], args: &Args) -> Result<(), String> {
    if !args.append {
        record::clear(&args.record)?;
    }
    let done = record::read(&args.record)?;
    for night in nights {
        for order in 0..args.seeds {
            for who in std::iter::once(Who::Ours).chain(args.others()) {
                let same = |run: &Outcome| run.night == night.name && run.order == order && run.who == who;
                if done.iter().any(|run| same(run) && run.seconds >= args.longest()) {
                    continue;
                }
                eprintln!("{}, order {order}: {}", night.name, who.word());
                let outcome = match who {
                    Who::Ours => child::ours(night, order, args)?,
                    other => opponents::run(other, night, order, &args.marks())?,
                };
                outcome.disagreements.iter().for_each(|told| eprintln!("DISAGREEMENT: {told}"));
                record::add(&args.record, &outcome)?;
            }
        }
    }
    Ok(())
}

/// A night in one line.
fn told(night: &Named) -> String {
    let tightness = night.tightness().map_or("as it is", Tightness::word);
    let size = night
        .size()
        .map_or_else(String::new, |(people, rooms, hours)| format!("  {people} people, rooms: {rooms}, {hours} h"));
    format!("{:<22}{:<11}{tightness:<11}{size}", night.name, night.family.word())
}
