//! Where an answer is written to.

use std::error::Error;
use std::path::{Path, PathBuf};

use crate::cli::files::Content;
use crate::cli::plan::internal;
use crate::cli::status::Failure;

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
    /// What goes into the files that are wanted. Each is worked out only if it is.
    pub fn contents<C: Error, J: Error>(
        &self,
        page: impl FnOnce() -> String,
        csv: impl FnOnce() -> Result<String, C>,
        json: impl FnOnce() -> Result<String, J>,
    ) -> Result<Vec<Content<'_>>, Failure> {
        let mut contents: Vec<Content<'_>> = Vec::new();
        if let Some(path) = &self.out {
            contents.push((path, page().into_bytes()));
        }
        if let Some(path) = &self.csv {
            contents.push((path, csv().map_err(|e| internal(&e))?.into_bytes()));
        }
        if let Some(path) = &self.json {
            contents.push((path, json().map_err(|e| internal(&e))?.into_bytes()));
        }
        Ok(contents)
    }

    /// Every file that is to be written.
    pub fn wanted(&self) -> Vec<&Path> {
        [&self.out, &self.csv, &self.json].into_iter().flatten().map(PathBuf::as_path).collect()
    }
}
