//! The benchmark: named nights, planned by this program and by general solvers. See benches/README.md.
#![expect(clippy::print_stdout, clippy::print_stderr, reason = "it is a command with no other way to answer")]

mod args;
#[path = "../generator/mod.rs"]
mod generator;
mod write;

use std::process::ExitCode;

use clap::Parser;

use args::Args;
use generator::{Named, Tightness};

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn run(args: &Args) -> Result<(), String> {
    let nights = args.chosen();
    if nights.is_empty() {
        return Err("No night is of that family and has one of those names.".to_owned());
    }
    if args.list {
        nights.iter().for_each(|night| println!("{}", told(night)));
        return Ok(());
    }
    if let Some(folder) = &args.write {
        return write::files(&nights, args.order, folder);
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
