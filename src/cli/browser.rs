//! Paper through a browser: the sheet is HTML, and a Chromium on the machine makes PDF of it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::status::Failure;

/// The names under which it is installed.
const NAMES: [&str; 2] = ["chromium", "chromium-browser"];

/// How long it may take: it starts slowly on an old machine.
const PATIENCE: Duration = Duration::from_mins(2);

/// A browser that can print.
pub struct Browser {
    program: PathBuf,
}

impl Browser {
    /// The first that is found on the search path.
    pub fn found() -> Result<Self, Failure> {
        let path = std::env::var_os("PATH").unwrap_or_default();
        let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
        let program = NAMES.iter().flat_map(|name| folders.iter().map(move |folder| folder.join(name)));
        program.into_iter().find(|program| program.is_file()).map(|program| Self { program }).ok_or_else(|| {
            Failure::refused(
                "--pdf: no Chromium is on this machine. Nothing was written. Install one, or write the sheet with --out \
                 and print it to PDF from any browser.",
            )
        })
    }

    /// The document as PDF.
    pub fn pdf(&self, html: &str) -> Result<Vec<u8>, Failure> {
        let failed = |why: String| Failure::refused(format!("--pdf: {why}. No file was written."));
        let folder = tempfile::tempdir().map_err(|error| failed(format!("no folder to work in: {error}")))?;
        let (from, to) = (folder.path().join("sheet.html"), folder.path().join("sheet.pdf"));
        fs::write(&from, html).map_err(|error| failed(format!("the sheet cannot be handed over: {error}")))?;
        let started = Instant::now();
        let mut child = self
            .command(folder.path(), &from, &to)
            .spawn()
            .map_err(|error| failed(format!("{} does not start: {error}", self.program.display())))?;
        loop {
            match child.try_wait() {
                Ok(Some(_)) => break,
                Ok(None) if started.elapsed() < PATIENCE => sleep(Duration::from_millis(50)),
                Ok(None) | Err(_) => {
                    let killed = child.kill().and_then(|()| child.wait().map(drop));
                    let more = killed.err().map_or_else(String::new, |error| format!(" and does not end: {error}"));
                    return Err(failed(format!("{} does not answer{more}", self.program.display())));
                }
            }
        }
        fs::read(&to).map_err(|error| failed(format!("{} made no file: {error}", self.program.display())))
    }

    fn command(&self, folder: &Path, from: &Path, to: &Path) -> Command {
        let mut command = Command::new(&self.program);
        let profile = folder.join("profile");
        command
            // The document is our own and loads nothing; in a container as root there is no sandbox to be had.
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-pdf-header-footer"])
            .arg(format!("--user-data-dir={}", profile.display()))
            .arg(format!("--print-to-pdf={}", to.display()))
            .arg(from)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        command
    }
}
