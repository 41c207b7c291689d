//! The arguments of the educator's commands.

use std::path::{Path, PathBuf};

use super::args::NightArgs;

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
