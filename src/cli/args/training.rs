//! The arguments of the educator's commands.

use std::path::PathBuf;

use chrono::NaiveDate;

use super::{AnswerFiles, NightArgs, work};
use crate::plan::Effort;

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
    /// Stricter limits of single people on any of these rosters. They are kept and never shown.
    #[arg(long, value_name = "FILE")]
    pub private: Option<PathBuf>,
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
            private: self.private.clone(),
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
