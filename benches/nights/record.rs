//! The record: one run a line, so that a long measurement can be made in pieces.

use std::fs::{self, OpenOptions};
use std::io::Write as _;
use std::path::Path;

use crate::outcome::Outcome;

/// Everything recorded so far; nothing if there is no record yet.
///
/// # Errors
/// A line that is no run.
pub fn read(path: &Path) -> Result<Vec<Outcome>, String> {
    if !path.exists() {
        return Ok(vec![]);
    }
    let text = fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let read = |(place, line): (usize, &str)| {
        serde_json::from_str(line).map_err(|error| format!("{}:{}: {error}", path.display(), place + 1))
    };
    text.lines().enumerate().map(read).collect()
}

/// Starts anew.
///
/// # Errors
/// A record that cannot be removed.
pub fn clear(path: &Path) -> Result<(), String> {
    if path.exists() { fs::remove_file(path).map_err(|error| format!("{}: {error}", path.display())) } else { Ok(()) }
}

/// Adds a run.
///
/// # Errors
/// A record that cannot be written.
pub fn add(path: &Path, outcome: &Outcome) -> Result<(), String> {
    let line = serde_json::to_string(outcome).map_err(|error| error.to_string())? + "\n";
    let told = |error: std::io::Error| format!("{}: {error}", path.display());
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(told)?;
    }
    let mut file = OpenOptions::new().create(true).append(true).open(path).map_err(told)?;
    file.write_all(line.as_bytes()).map_err(told)
}
