//! Shares of the work: the list for them, what each comes to, and all of them gathered.

use std::fs;
use std::path::{Path, PathBuf};

use super::given::Given;
use crate::cli::args::AbsenceArgs;
use crate::cli::console::Console;
use crate::cli::files::{Outputs, given};
use crate::cli::parts::{source, told as in_words};
use crate::cli::status::{Failure, Status};
use crate::read::{self, ResultRow};
use crate::show::absence::results;
use crate::staffing::Missed;
use crate::staffing::absence::outcome::{Outcome, Proof};
use crate::staffing::absence::part::{Part, Refusal, Wanted};
use crate::staffing::absence::work::{Known, Settled, Share};

/// Where what is known is kept while the work goes on, if anywhere.
pub struct Keep<'a> {
    file: Option<&'a Path>,
    given: &'a Given,
    share: Share,
    known: Known,
}

impl<'a> Keep<'a> {
    /// Refuses a file that is there already, or reads it where the work is to go on from it.
    pub fn start(
        args: &'a AbsenceArgs,
        given: &'a Given,
        share: Share,
        console: &mut Console<'_>,
    ) -> Result<Self, Failure> {
        let mut keep = Keep { file: args.results.as_deref(), given, share, known: Known::new() };
        let Some(path) = keep.file else { return Ok(keep) };
        let there = fs::symlink_metadata(path).is_ok();
        if args.resume && there {
            keep.known = resumed(path, given, share, console)?;
        }
        let outputs = args.files.wanted().into_iter();
        let all: Vec<&Path> = outputs.chain([path]).collect();
        Outputs::claimed(&all, &args.read(), args.files.force || args.resume)?;
        keep.write(&keep.known)?;
        Ok(keep)
    }

    /// What was known at the start.
    pub fn known(&self) -> Known {
        self.known.clone()
    }

    /// Writes the file anew, whole.
    pub fn write(&self, known: &Known) -> Result<(), Failure> {
        let Some(path) = self.file else { return Ok(()) };
        let text = results::results(&self.given.made_from, self.share, known);
        // It is this run's own file by now, or was given to go on from.
        Outputs::claimed(&[path], &[], true)?.write(&[(path, text.into_bytes())])
    }
}

/// What an earlier run of the same share came to.
fn resumed(path: &Path, given: &Given, share: Share, console: &mut Console<'_>) -> Result<Known, Failure> {
    let part = part(path, console)?;
    if part.share != share {
        return Err(Failure::refused(format!(
            "{}: it has share {}, and share {} is to be worked on. Nothing was planned. Name the file of this share, \
             or another one.",
            part.file,
            shown(part.share),
            shown(share)
        )));
    }
    match wanted(given).against(&part) {
        None => Ok(part.known),
        Some(refusal) => Err(Failure::Refused(words(&refusal) + "\nNothing was planned.")),
    }
}

fn wanted(given: &Given) -> Wanted<'_> {
    let classes = given.night.roster.classes().len();
    Wanted { made_from: &given.made_from, cases: given.list.cases().len(), classes }
}

/// Reads one results file.
fn part(path: &Path, console: &mut Console<'_>) -> Result<Part, Failure> {
    let file = given(path)?;
    let read = console.noted(in_words(read::results(&source(&file))))?;
    let share = Share::new(read.share.0, read.share.1).ok_or_else(|| {
        Failure::refused(format!(
            "{}: there is no share {} of {}. Run it again.",
            file.name, read.share.0, read.share.1
        ))
    })?;
    let known = read.cases.into_iter().map(|(case, row)| (case, settled(row))).collect();
    Ok(Part { file: file.name, made_from: read.made_from, share, known })
}

fn settled(row: ResultRow) -> Settled {
    match row {
        ResultRow::Follows => Settled::Follows,
        ResultRow::Planned { certain, minutes: [rescue, skill], counts: [must, wanted], uncovered } => {
            let proof = match certain.as_str() {
                "amount" => Proof::Amount,
                "gap" => Proof::Gap,
                // The reader lets in no other word than `no`.
                _ => Proof::None,
            };
            // Pins are left aside in every case.
            let missed = Missed { pins: 0, rescue, uncovered, must, skill, wanted };
            Settled::Planned(Outcome { missed, proof })
        }
    }
}

/// Everything that the shares came to, or all that is wrong with them.
pub fn gathered(paths: &[PathBuf], given: &Given, console: &mut Console<'_>) -> Result<Known, Failure> {
    let mut wrong = Vec::new();
    let mut parts = Vec::new();
    for path in paths {
        match part(path, console) {
            Ok(part) => parts.push(part),
            Err(failure) => wrong.push(failure.words().trim_end().to_owned()),
        }
    }
    let known = wanted(given).gathered(&parts);
    match known {
        Ok(known) if wrong.is_empty() => Ok(known),
        Ok(_) => Err(refused(&wrong)),
        Err(refusals) => {
            // A file that cannot be read may be the share that is not there.
            let unread = !wrong.is_empty();
            let told = refusals.iter().filter(|r| !(unread && matches!(r, Refusal::NotThere { .. })));
            wrong.extend(told.map(words));
            Err(refused(&wrong))
        }
    }
}

fn refused(wrong: &[String]) -> Failure {
    Failure::Refused(wrong.join("\n") + "\nNothing is answered.")
}

fn shown(share: Share) -> String {
    format!("{} of {}", share.number(), share.of())
}

/// Why results cannot be used: what is wrong, and how to put it right.
fn words(refusal: &Refusal) -> String {
    match refusal {
        Refusal::Other { file, names } => format!(
            "{file}: made from something else than is given now. Not the same: {}. Give what it was made from, or run \
             the share again.",
            names.join(", ")
        ),
        Refusal::Foreign { file } => {
            format!("{file}: it has a case that is not of its share, or not of this night. Run the share again.")
        }
        Refusal::Unfinished { file, known, all } => {
            format!("{file}: not finished: {known} of {all} cases. Run the share again with --resume.")
        }
        Refusal::OtherSplit { file, of, first, first_of } => format!(
            "{file}: it is a share of {of}, and {first} one of {first_of}. Gather shares that were split alike."
        ),
        Refusal::Twice { file, first, number } => {
            format!("{file}: share {number} is in {first} too. Name one of the two.")
        }
        Refusal::NotThere { numbers, of } => {
            let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
            format!("No file has share {} of {of}. Run what is missing, and name all files.", numbers.join(", "))
        }
    }
}

/// What is said when a share is done.
pub fn told(share: Share, given: &Given, known: &Known, args: &AbsenceArgs) -> String {
    let planned = known.values().filter(|settled| matches!(settled, Settled::Planned(_))).count();
    let file = args.results.as_deref().map_or_else(String::new, |path| path.display().to_string());
    format!(
        "Share {}: {} of {} cases, {planned} planned and checked. Kept in {file}\n",
        shown(share),
        known.len(),
        given.list.cases().len(),
    )
}

/// Writes the nights, the cases and what they were made from into a folder, which is made if it is not there.
pub fn write_list(
    folder: &Path,
    given: &Given,
    args: &AbsenceArgs,
    console: &mut Console<'_>,
) -> Result<Status, Failure> {
    let shown = folder.display();
    fs::create_dir_all(folder)
        .map_err(|error| Failure::refused(format!("{shown}: cannot be made: {error}. Nothing was written.")))?;
    let files = [
        ("nights.csv", results::nights(&given.crews, &given.list)),
        ("cases.csv", results::cases(&given.list)),
        ("made-from.csv", results::made_from(&given.made_from)),
    ];
    let files = files.map(|(name, text)| (folder.join(name), text.into_bytes()));
    let paths: Vec<&Path> = files.iter().map(|(path, _)| path.as_path()).collect();
    let outputs = Outputs::claimed(&paths, &args.read(), args.files.force)?;
    outputs.write(&files.each_ref().map(|(path, bytes)| (path.as_path(), bytes.clone())))?;
    console.answer(&format!("{} cases written to {shown}\n", given.list.cases().len()))?;
    Ok(Status::Covered)
}
