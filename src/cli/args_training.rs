//! The arguments of the educator's commands.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use super::args::{NightArgs, work};
use crate::plan::Effort;

/// The files that an answer is written to.
#[derive(clap::Args, Debug)]
pub struct AnswerFiles {
    /// Write the answer as a page to this file: one HTML file that needs no network.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Write its rows to this file, for a spreadsheet.
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
    /// Write all of it to this file, for a script.
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Replace files that are already there.
    #[arg(long)]
    pub force: bool,
}

impl AnswerFiles {
    /// Every file that is to be written.
    pub fn wanted(&self) -> Vec<&Path> {
        [&self.out, &self.csv, &self.json].into_iter().flatten().map(PathBuf::as_path).collect()
    }
}

#[derive(clap::Args, Debug)]
pub struct ObserversArgs {
    /// The rota to look at, planned or made by hand.
    pub rota: PathBuf,
    #[command(flatten)]
    pub night: NightArgs,
    #[command(flatten)]
    pub files: AnswerFiles,
}

#[derive(clap::Args, Debug)]
pub struct OutlookArgs {
    /// A folder with the rosters of the coming nights: every file in it that ends in .toml, but for .rota.toml and
    /// .private.toml.
    pub folder: PathBuf,
    /// The unit's limits.
    pub limits: PathBuf,
    /// Sign-offs and fit tests as CSV, in the place of what the rosters say of these people.
    #[arg(long, value_name = "FILE")]
    pub sign_offs: Option<PathBuf>,
    /// The day to take for today, as 2031-03-04: from it the days to each lapse are counted.
    #[arg(long, value_name = "DATE")]
    pub today: Option<NaiveDate>,
    /// How many more people than the one in the rota are to be able to watch and assist, each time.
    #[arg(long, default_value = "1", value_parser = clap::value_parser!(u8).range(0..=20))]
    pub spare: u8,
    /// How long to look at each night, as for `plan`.
    #[arg(long, default_value = "small", value_parser = work)]
    pub effort: u64,
    #[command(flatten)]
    pub files: AnswerFiles,
}

impl OutlookArgs {
    /// One of the nights as if it were given alone.
    pub fn night(&self, roster: PathBuf) -> NightArgs {
        NightArgs {
            roster,
            limits: self.limits.clone(),
            private: None,
            sign_offs: self.sign_offs.clone(),
            today: self.today,
        }
    }

    pub const fn effort(&self) -> Effort {
        Effort { work: self.effort, seconds: None }
    }
}

#[derive(clap::Args, Debug)]
pub struct FirstEntriesArgs {
    #[command(flatten)]
    pub night: NightArgs,
    /// Look at the stays of this rota; without it, the night is planned first.
    #[arg(long, value_name = "FILE")]
    pub rota: Option<PathBuf>,
    /// How long to look at each try, as for `plan`.
    #[arg(long, default_value = "small", value_parser = work)]
    pub effort: u64,
    #[command(flatten)]
    pub files: AnswerFiles,
}

impl FirstEntriesArgs {
    pub const fn effort(&self) -> Effort {
        Effort { work: self.effort, seconds: None }
    }
}
