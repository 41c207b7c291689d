//! Nights as files, so that the program can be run on them by hand.

use std::fs::{self, OpenOptions};
use std::io::Write as _;
use std::path::Path;

use crate::generator::Named;

/// Writes `FOLDER/name/roster.toml` and `constraints.toml` of each night. A file that is there already is kept.
///
/// # Errors
/// A night that cannot be read by the program, or a file that cannot be written.
pub fn files(nights: &[Named], order: u64, folder: &Path) -> Result<(), String> {
    for night in nights {
        let files = night.files(order)?;
        files.night().map_err(|findings| format!("{}:\n{findings}", night.name))?;
        let folder = folder.join(night.name);
        fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
        new_file(&folder.join("roster.toml"), &files.roster)?;
        new_file(&folder.join("constraints.toml"), &files.limits)?;
        println!("{}", folder.display());
    }
    Ok(())
}

/// Writes a file that is not there yet, or is there with just this text.
fn new_file(path: &Path, text: &str) -> Result<(), String> {
    if fs::read_to_string(path).is_ok_and(|there| there == text) {
        return Ok(());
    }
    let new = OpenOptions::new().write(true).create_new(true).open(path);
    let written = new.and_then(|mut file| file.write_all(text.as_bytes()));
    written.map_err(|error| format!("{}: {error}. It was not written.", path.display()))
}

/// Keeps the table in a file of the project, in the place of the one before.
///
/// # Errors
/// A file that cannot be written.
pub fn table(text: &str, file: &Path) -> Result<(), String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
    fs::write(&path, text).map_err(|error| format!("{}: {error}", path.display()))
}
