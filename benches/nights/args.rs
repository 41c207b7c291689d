//! The arguments.

use std::path::PathBuf;

use clap::Parser;

use crate::generator::{Family, Named, all};
use crate::outcome::Who;

/// Work units that two cores do in a second,
const WORK_A_SECOND: u64 = 1_000;

/// and on nights of few people, whose programs are small.
const WORK_ON_FEW: u64 = 2_500;

/// Few people.
const FEW: usize = 12;

/// Plans named nights and compares. See benches/README.md.
#[derive(Parser, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch of the command line")]
#[command(name = "nights", max_term_width = 80)]
pub struct Args {
    /// Only nights of this family: temperate, hot, full-rule, example.
    #[arg(long, value_parser = family)]
    pub family: Option<Family>,
    /// Only these nights, with commas between.
    #[arg(long, value_delimiter = ',', value_name = "NAMES", value_parser = known)]
    pub nights: Vec<String>,
    /// Wall-clock marks at which results are compared; the last is the time allowed.
    #[arg(long, value_delimiter = ',', default_value = "1,5,20,60", value_parser = clap::value_parser!(u32).range(1..))]
    pub seconds: Vec<u32>,
    /// How many times each night is run, people listed in another order each time.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u64).range(1..))]
    pub seeds: u64,
    /// Who else plans: none, all, or some of highs-plain, highs-merged, cp-sat.
    #[arg(long, value_delimiter = ',', default_value = "none", value_parser = opponents)]
    pub opponents: Vec<Opponents>,
    /// Leave out runs that are in the record already.
    #[arg(long)]
    pub append: bool,
    /// Keep the table, with this day on it.
    #[arg(long, value_name = "DAY")]
    pub date: Option<chrono::NaiveDate>,
    /// Where it is kept.
    #[arg(long, value_name = "FILE", default_value = "benches/results.md")]
    pub table: PathBuf,
    /// Work units allowed to the planner of this program; about what it does in the time if not given.
    #[arg(long)]
    pub work: Option<u64>,
    /// The record: one run a line.
    #[arg(long, value_name = "FILE", default_value = "target/bench/record.jsonl")]
    pub record: PathBuf,
    /// Only tell the names.
    #[arg(long)]
    pub list: bool,
    /// Write each night to a folder of its name in this one, and do nothing else.
    #[arg(long, value_name = "DIR")]
    pub write: Option<PathBuf>,
    /// Which order people are listed in; 0 is the night itself. With --write.
    #[arg(long, default_value_t = 0)]
    pub order: u64,
    /// Plan the one night named, and print what it came to.
    #[arg(long, hide = true)]
    pub one: bool,
    /// Given by cargo.
    #[arg(long, hide = true)]
    pub bench: bool,
}

/// A word of `--opponents`.
#[derive(Clone, Debug)]
pub enum Opponents {
    None,
    All,
    One(Who),
}

impl Args {
    /// The nights asked for.
    pub fn chosen(&self) -> Vec<Named> {
        let mut nights = all();
        nights.retain(|night| self.family.is_none_or(|family| night.family == family));
        nights.retain(|night| self.nights.is_empty() || self.nights.iter().any(|name| name == night.name));
        nights
    }

    /// The marks in order.
    pub fn marks(&self) -> Vec<u32> {
        let mut marks = self.seconds.clone();
        marks.sort_unstable();
        marks.dedup();
        marks
    }

    /// The time allowed.
    pub fn longest(&self) -> u64 {
        self.marks().last().copied().unwrap_or(1).into()
    }

    /// Work units allowed to the planner on a night: its search divides them up, so they must be about what the time
    /// allows.
    pub fn work_on(&self, night: &Named) -> u64 {
        let few = night.size().is_some_and(|(people, ..)| people <= FEW);
        self.work.unwrap_or(self.longest() * if few { WORK_ON_FEW } else { WORK_A_SECOND })
    }

    /// Who else plans.
    pub fn others(&self) -> Vec<Who> {
        let mut others: Vec<Who> = Vec::new();
        for word in &self.opponents {
            match word {
                Opponents::None => {}
                Opponents::All => others.extend(Who::OPPONENTS),
                Opponents::One(who) => others.push(*who),
            }
        }
        others.sort_unstable();
        others.dedup();
        others
    }
}

fn family(word: &str) -> Result<Family, String> {
    let families = [Family::Temperate, Family::Hot, Family::FullRule, Family::Example];
    let found = families.into_iter().find(|family| family.word() == word);
    found.ok_or_else(|| format!("there is: {}", families.map(Family::word).join(", ")))
}

fn opponents(word: &str) -> Result<Opponents, String> {
    let known = Who::OPPONENTS.into_iter().find(|who| who.word() == word).map(Opponents::One);
    match word {
        "none" => Ok(Opponents::None),
        "all" => Ok(Opponents::All),
        _ => known.ok_or_else(|| format!("there is: none, all, {}", Who::OPPONENTS.map(Who::word).join(", "))),
    }
}

fn known(name: &str) -> Result<String, String> {
    let names: Vec<&str> = all().iter().map(|night| night.name).collect();
    if names.contains(&name) { Ok(name.to_owned()) } else { Err(format!("there is: {}", names.join(", "))) }
}
