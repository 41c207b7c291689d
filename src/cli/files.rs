//! Files read whole, and files written whole or not at all.

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::status::Failure;

/// The most that is read of one file. Nothing a unit writes comes near it; a
/// device that never ends does. What is cut off here the reader refuses as too large.
const MOST_READ: u64 = 8 * 1024 * 1024;

/// A file as it was given.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Given {
    /// Its name as the user typed it.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Reads a file.
pub fn given(path: &Path) -> Result<Given, Failure> {
    let name = path.display().to_string();
    let mut bytes = Vec::new();
    File::open(path).and_then(|file| file.take(MOST_READ).read_to_end(&mut bytes)).map_err(|error| {
        Failure::refused(format!("{name}: cannot be read: {error}. Nothing was done. Look at the name."))
    })?;
    Ok(Given { name, bytes })
}

/// The files that are to be written, found fit for it before any work starts.
pub struct Outputs {
    force: bool,
}

/// A file to write and what goes into it.
pub type Content<'a> = (&'a Path, Vec<u8>);

impl Outputs {
    /// Refuses files that are there already (unless `force`), that are also
    /// read, that are named twice, or that have no folder.
    pub fn claimed(outputs: &[&Path], inputs: &[&Path], force: bool) -> Result<Self, Failure> {
        let read: Vec<_> = inputs.iter().filter_map(|path| fs::canonicalize(path).ok()).collect();
        let mut seen: Vec<PathBuf> = Vec::new();
        for path in outputs {
            let place =
                place(path).map_err(|error| refusal(path, &format!("has no folder to be written to: {error}")))?;
            if read.contains(&place) {
                return Err(refusal(path, "is also read: it would be lost"));
            }
            if seen.contains(&place) {
                return Err(refusal(path, "is to be written twice"));
            }
            if place.exists() && !place.is_file() {
                return Err(refusal(path, "is not a file that can be replaced"));
            }
            if !force && fs::symlink_metadata(path).is_ok() {
                return Err(refusal(path, "is there already, and is kept. --force replaces it"));
            }
            seen.push(place);
        }
        Ok(Self { force })
    }

    /// Writes every file beside its place, then puts all of them there.
    pub fn write(&self, contents: &[Content<'_>]) -> Result<(), Failure> {
        let mut staged = Vec::new();
        for (path, bytes) in contents {
            let file = stage(path, bytes).map_err(|error| refusal(path, &format!("cannot be written: {error}")))?;
            staged.push((*path, file));
        }
        for (path, file) in staged {
            let put = if self.force { file.persist(path) } else { file.persist_noclobber(path) };
            put.map_err(|error| refusal(path, &format!("cannot be written: {}", error.error)))?;
        }
        Ok(())
    }
}

fn refusal(path: &Path, why: &str) -> Failure {
    Failure::refused(format!("{}: {why}. It was not written.", path.display()))
}

/// Where a path leads, whether or not the file exists.
fn place(path: &Path) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or_else(|| io::Error::new(io::ErrorKind::InvalidInput, "no file name"))?;
    fs::canonicalize(path).or_else(|_| Ok(fs::canonicalize(folder(path))?.join(name)))
}

fn folder(path: &Path) -> &Path {
    path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// Writes a file that has no name yet, in the folder where it is to be.
fn stage(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".anteroom-");
    readable_as_usual(&mut builder);
    let mut file = builder.tempfile_in(folder(path))?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// As readable as any new file of this user, not only by the user as temporary files are.
#[cfg(unix)]
fn readable_as_usual(builder: &mut tempfile::Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
const fn readable_as_usual(_: &mut tempfile::Builder<'_, '_>) {}
