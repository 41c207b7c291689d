//! `anteroom outlook`.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use super::args::OutlookArgs;
use super::console::Console;
use super::files::{Outputs, given};
use super::parts::{NightFiles, Parts};
use super::plan::{today, tried};
use super::progress::Progress;
use super::status::{Failure, Status};
use crate::night::Night;
use crate::show::ahead::{self, Ahead};
use crate::show::report;
use crate::training::{Coming, Outlook, look_ahead};

/// The most nights that are looked at in one run: a season.
const MOST_NIGHTS: usize = 100;

/// Reads every roster of the folder, plans each night as it is and as it would be, checks, and shows what is ahead.
pub fn outlook(args: &OutlookArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let rosters = rosters(&args.folder)?;
    let mut inputs: Vec<&Path> = rosters.iter().map(PathBuf::as_path).collect();
    inputs.push(&args.limits);
    inputs.extend(args.private.as_deref());
    inputs.extend(args.sign_offs.as_deref());
    let outputs = Outputs::claimed(&args.files.wanted(), &inputs, args.files.force)?;
    let today = today(&args.night(args.folder.clone()))?;
    let (nights, past) = coming(args, &rosters, today, parts, console)?;
    let mut progress = Progress::start(console);
    let found = look_ahead(&nights, today, usize::from(args.spare), &mut |night: &Night| {
        tried(night, args.effort(), today, parts, &mut progress)
    });
    drop(progress);
    let found = found?.ok_or_else(unproven)?;
    let ahead = Ahead { nights: &nights, found: &found, today, past };
    let written = args
        .files
        .contents(|| report::outlook::page(&ahead), || ahead::csv(&ahead), || ahead::json(&ahead))
        .and_then(|contents| outputs.write(&contents));
    console.answer(&ahead::screen(&ahead))?;
    written.map(|()| status(&found))
}

fn unproven() -> Failure {
    Failure::Internal(
        "INTERNAL ERROR: the smallest set of sign-offs could not be proven. Nothing is shown and nothing written. Report \
         it with your files."
            .to_owned(),
    )
}

/// The rosters in a folder, by name.
fn rosters(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let name = folder.display();
    let cannot = |error: std::io::Error| Failure::refused(format!("{name}: cannot be read: {error}. Give a folder."));
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).map_err(cannot)? {
        let path = entry.map_err(cannot)?.path();
        let file = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let other = [".rota.toml", ".private.toml"].iter().any(|end| file.ends_with(end));
        let is_toml = path.extension().is_some_and(|ext| ext.eq_ignore_ascii_case("toml"));
        if is_toml && !other && path.is_file() {
            found.push(path);
        }
    }
    found.sort();
    match found.len() {
        0 => {
            Err(Failure::refused(format!("{name}: there is no roster in this folder. Put one .toml file to a night.")))
        }
        1..=MOST_NIGHTS => Ok(found),
        more => {
            Err(Failure::refused(format!("{name}: {more} rosters are more than the {MOST_NIGHTS} that are looked at.")))
        }
    }
}

/// Every night that is not over, in order of time, and how many are. Mistakes of all files are told at once, those of
/// the limits, which are the same each time, once.
fn coming(
    args: &OutlookArgs,
    rosters: &[PathBuf],
    today: NaiveDate,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<(Vec<Coming>, usize), Failure> {
    let limits = given(&args.limits)?;
    let sign_offs = args.sign_offs.as_deref().map(given).transpose()?;
    let files = |path: &PathBuf| {
        let (limits, sign_offs, elsewhere) = (limits.clone(), sign_offs.clone(), Vec::new());
        Ok(NightFiles { roster: given(path)?, limits, private: None, elsewhere, sign_offs, today })
    };
    let mut all: Vec<NightFiles> = rosters.iter().map(files).collect::<Result<_, Failure>>()?;
    let (mut nights, mut warnings) = every(&all, parts)?;
    if let Some(private) = args.private.as_deref().map(given).transpose()? {
        // Somebody in that file need not be on every roster, only on one of them.
        let everybody: BTreeSet<String> =
            nights.iter().flat_map(|coming| &coming.night.roster.people).map(|person| person.id.clone()).collect();
        for files in &mut all {
            files.private = Some(private.clone());
            files.elsewhere = everybody.iter().cloned().collect();
        }
        (nights, warnings) = every(&all, parts)?;
    }
    console.note_if_any(&warnings.join("\n\n"));
    nights.sort_by(|a, b| (a.night.roster.shift.from, &a.file).cmp(&(b.night.roster.shift.from, &b.file)));
    let all = nights.len();
    nights.retain(|coming| coming.night.roster.clock.date(coming.night.roster.shift.to) >= today);
    if nights.is_empty() {
        let name = args.folder.display();
        return Err(Failure::refused(format!("{name}: every night in this folder is before {today}. Give --today.")));
    }
    let past = all - nights.len();
    Ok((nights, past))
}

/// Every night as it is read, and what is to be told of them.
fn every(all: &[NightFiles], parts: &dyn Parts) -> Result<(Vec<Coming>, Vec<String>), Failure> {
    let (mut nights, mut wrong, mut warnings) = (Vec::new(), Vec::new(), Vec::new());
    for files in all {
        match parts.night(files) {
            Ok((night, told)) => {
                add_new(&mut warnings, &told, |block| block.contains("warning: "));
                nights.push(Coming { file: files.roster.name.clone(), night });
            }
            Err(told) => add_new(&mut wrong, &told, |_| true),
        }
    }
    if wrong.is_empty() { Ok((nights, warnings)) } else { Err(Failure::Refused(wrong.join("\n\n") + "\n")) }
}

/// Adds the findings that are not there yet. Findings have an empty line between them.
fn add_new(all: &mut Vec<String>, told: &str, wanted: impl Fn(&str) -> bool) {
    for block in told.split("\n\n").map(|block| block.trim_end().to_owned()) {
        if !block.is_empty() && wanted(&block) && !all.contains(&block) {
            all.push(block);
        }
    }
}

/// Nothing lost, nothing missing, and enough to spare every night.
fn status(found: &Outlook) -> Status {
    let calm = found.nights.iter().all(|night| night.losses.is_empty() && night.missing == (0, 0));
    if calm && found.enough.sign_offs.is_empty() && found.enough.short.is_empty() {
        Status::Covered
    } else {
        Status::Gaps
    }
}
