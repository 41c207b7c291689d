//! Where an answer is written to.

use std::path::{Path, PathBuf};

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
