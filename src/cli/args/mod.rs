//! The arguments.

mod absence;
mod answer;
mod crews;
mod training;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use chrono::{NaiveDate, NaiveDateTime};
use clap::{Parser, Subcommand};

pub use absence::{AbsenceArgs, SupplyArgs};
pub use answer::AnswerFiles;
pub use crews::CrewsArgs;
pub use training::{FirstEntriesArgs, ObserversArgs, OutlookArgs};

use crate::plan::Effort;
use crate::show::Section;
use crate::show::sheet::{Paper, Part};

const AFTER_HELP: &str = "\
Exit status: 0 covered and no fault, 1 gaps, 2 input or files refused,
3 faults found by the check, 70 a mistake in anteroom itself.

PLANNING AID ONLY. Your unit's procedures, occupational health and your own
judgement come first. The limits are the ones your unit writes and signs.";

/// Plans a shift's room entries for staff in full protective equipment, and
/// checks any rota against the unit's own limits.
#[derive(Parser, Debug)]
#[command(name = "anteroom", version, about, after_help = AFTER_HELP, max_term_width = 80)]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Subcommand, Debug)]
pub enum Command {
    /// Plan a rota, check it and show it.
    Plan(PlanArgs),
    /// Check a rota, planned or made by hand.
    Check(CheckArgs),
    /// Write a rota as a sheet for the wall, with timeline, observers' sheet and cards.
    Sheet(SheetArgs),
    /// What a rule costs tonight: the night planned with it and without it, side by side.
    Cost(CostArgs),
    /// How often the crew covers the night when people are missing as often as they are.
    Absence(AbsenceArgs),
    /// How long the kits last: what a rota takes, hour by hour, and for how many nights there is enough.
    Supply(SupplyArgs),
    /// How many people a roster takes: the smallest crew that covers, and what each missing person costs.
    Crews(CrewsArgs),
    /// Whether every donning and removal of a rota is watched by somebody in date, rested and free.
    Observers(ObserversArgs),
    /// The coming nights: what lapses, which nights lose a removal by it, and whom to renew or train.
    Outlook(OutlookArgs),
    /// Where those who enter only beside a preceptor could make a first entry tonight.
    FirstEntries(FirstEntriesArgs),
    /// Every key of the files: unit, meaning, required or not.
    Keys,
    /// What each rule means and what the check counts.
    Rules {
        /// One rule, e.g. B4. All of them without it.
        id: Option<String>,
    },
}

#[derive(clap::Args, Debug)]
pub struct PlanArgs {
    #[command(flatten)]
    pub night: NightArgs,
    /// Write the rota to this file, to be edited and checked.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Write every duty to this file, for a spreadsheet.
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
    /// Write everything to this file, for a script.
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Replace files that are already there.
    #[arg(long)]
    pub force: bool,
    /// How long to look: small, usual, large, or a number of work units. The
    /// same effort gives the same rota on every machine.
    #[arg(long, default_value = "usual", value_parser = work)]
    pub effort: u64,
    /// Stop after so many seconds with the best rota so far. It may differ from run to run.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..))]
    pub seconds: Option<u32>,
    /// What to show, with commas between: limits, entries, people, timeline,
    /// gaps, totals, check, caution, or all.
    #[arg(long, value_name = "LIST", value_delimiter = ',', default_value = "all", value_parser = shown)]
    pub show: Vec<Shown>,
}

#[derive(clap::Args, Debug)]
pub struct CheckArgs {
    /// The rota to check.
    pub rota: PathBuf,
    #[command(flatten)]
    pub night: NightArgs,
    /// Write everything to this file, for a script.
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Replace files that are already there.
    #[arg(long)]
    pub force: bool,
    /// What to show, with commas between, as for `plan`.
    #[arg(long, value_name = "LIST", value_delimiter = ',', default_value = "gaps,check,caution", value_parser = shown)]
    pub show: Vec<Shown>,
}

#[derive(clap::Args, Debug)]
#[command(group = clap::ArgGroup::new("written").required(true).multiple(true))]
pub struct SheetArgs {
    /// The rota to print, planned or made by hand.
    pub rota: PathBuf,
    #[command(flatten)]
    pub night: NightArgs,
    /// Write the sheet to this file: one HTML file that needs no network.
    #[arg(long, value_name = "FILE", group = "written")]
    pub out: Option<PathBuf>,
    /// Write the sheet as PDF to this file, where a Chromium is on the machine.
    #[arg(long, value_name = "FILE", group = "written")]
    pub pdf: Option<PathBuf>,
    /// Write the timeline alone to this SVG file.
    #[arg(long, value_name = "FILE", group = "written")]
    pub timeline: Option<PathBuf>,
    /// Write duties for the calendars of phones: to one file that ends in .ics, or a file to a person into this folder.
    #[arg(long, value_name = "FILE", group = "written")]
    pub calendar: Option<PathBuf>,
    /// Write every duty to this file, for a spreadsheet.
    #[arg(long, value_name = "FILE", group = "written")]
    pub csv: Option<PathBuf>,
    /// Replace files that are already there.
    #[arg(long)]
    pub force: bool,
    /// The paper: a4, a3, letter or tabloid.
    #[arg(long, default_value = "a4", value_parser = paper)]
    pub paper: Paper,
    /// What to print, with commas between: wall, timeline, observers, gaps, cards.
    #[arg(long, value_name = "LIST", value_delimiter = ',', value_parser = part,
          default_value = "wall,timeline,observers,gaps,cards")]
    pub parts: Vec<Part>,
    /// The number of this sheet; without it, the one in the rota.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..))]
    pub issue: Option<u32>,
    /// The number of the sheet that is void from now on.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..))]
    pub replaces: Option<u32>,
    /// The time of printing, local, as 2031-03-04T18:45; without it, now.
    #[arg(long, value_name = "TIME", value_parser = local_time)]
    pub printed: Option<NaiveDateTime>,
    /// The rota of the sheet before: what differs from it is marked CHANGED.
    #[arg(long, value_name = "ROTA")]
    pub changed_from: Option<PathBuf>,
}

#[derive(clap::Args, Debug)]
pub struct CostArgs {
    /// The rule, e.g. B10.
    pub rule: String,
    #[command(flatten)]
    pub night: NightArgs,
    /// How long to look, each time, as for `plan`.
    #[arg(long, default_value = "usual", value_parser = work)]
    pub effort: u64,
}

#[derive(clap::Args, Debug)]
pub struct NightArgs {
    /// Tonight: people, rooms, lanes, stock.
    pub roster: PathBuf,
    /// The unit's limits.
    pub limits: PathBuf,
    /// Stricter limits of single people. They are kept and never shown.
    #[arg(long, value_name = "FILE")]
    pub private: Option<PathBuf>,
    /// Sign-offs and fit tests as CSV, in the place of what the roster says of these people.
    #[arg(long, value_name = "FILE")]
    pub sign_offs: Option<PathBuf>,
    /// The day to take for today, as 2031-03-04, when looking whether the limits are due for review.
    #[arg(long, value_name = "DATE")]
    pub today: Option<NaiveDate>,
}

/// One word of `--show`.
#[derive(Clone, Copy, Debug)]
pub enum Shown {
    All,
    One(Section),
}

impl NightArgs {
    /// Every file that is read.
    pub fn files(&self) -> Vec<&Path> {
        let mut files = vec![self.roster.as_path(), self.limits.as_path()];
        files.extend(self.private.as_deref());
        files.extend(self.sign_offs.as_deref());
        files
    }
}

impl CostArgs {
    pub const fn effort(&self) -> Effort {
        Effort { work: self.effort, seconds: None }
    }
}

impl PlanArgs {
    pub const fn effort(&self) -> Effort {
        Effort { work: self.effort, seconds: self.seconds }
    }
}

/// The sections that the words of `--show` stand for.
pub fn sections(words: &[Shown]) -> BTreeSet<Section> {
    let sections = words.iter().flat_map(|word| match word {
        Shown::All => Section::ALL.to_vec(),
        Shown::One(section) => vec![*section],
    });
    sections.collect()
}

/// Work units behind the words of `--effort`.
const EFFORTS: [(&str, u64); 3] = [("small", 15_000), ("usual", 48_000), ("large", 250_000)];

fn work(word: &str) -> Result<u64, String> {
    let named = EFFORTS.iter().find(|(name, _)| *name == word).map(|&(_, work)| work);
    let number = || word.parse::<u64>().ok().filter(|&work| work > 0);
    named.or_else(number).ok_or_else(|| "say small, usual, large, or a number of work units above 0".to_owned())
}

fn shown(word: &str) -> Result<Shown, String> {
    if word == "all" {
        return Ok(Shown::All);
    }
    let section = Section::ALL.into_iter().find(|section| section.word() == word);
    section.map(Shown::One).ok_or_else(|| {
        let known: Vec<_> = Section::ALL.iter().map(|section| section.word()).collect();
        format!("there is: {}, all", known.join(", "))
    })
}

fn paper(word: &str) -> Result<Paper, String> {
    let found = Paper::ALL.into_iter().find(|paper| paper.word() == word.to_ascii_lowercase());
    found.ok_or_else(|| format!("there is: {}", Paper::ALL.map(Paper::word).join(", ")))
}

fn part(word: &str) -> Result<Part, String> {
    let found = Part::ALL.into_iter().find(|part| part.word() == word);
    found.ok_or_else(|| format!("there is: {}", Part::ALL.map(Part::word).join(", ")))
}

fn local_time(word: &str) -> Result<NaiveDateTime, String> {
    let time = NaiveDateTime::parse_from_str(word, "%Y-%m-%dT%H:%M").ok();
    // Other years are a slip of the hand.
    let time = time.filter(|time| (2000..=2199).contains(&chrono::Datelike::year(time)));
    time.ok_or_else(|| "write it as 2031-03-04T18:45".to_owned())
}
