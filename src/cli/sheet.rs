//! `anteroom sheet`.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use chrono::{DateTime, NaiveDate, TimeZone, Utc};

use super::args::SheetArgs;
use super::browser::Browser;
use super::console::Console;
use super::files::{Content, Outputs};
use super::parts::Parts;
use super::plan::{internal, night, rota, status, today};
use super::status::{Failure, Status};
use crate::night::{Minute, Night, PersonIx, Rota};
use crate::show::calendar::{self, Issue};
use crate::show::sheet::{self, Before, Part, Print};
use crate::show::{View, csv};

/// The file of everybody in a folder of calendars. No ID of a person is in small letters.
const WHOLE_UNIT: &str = "whole-unit.ics";

/// Reads night and rota, checks, explains, and writes what is to be printed.
pub fn sheet(args: &SheetArgs, parts: &dyn Parts, console: &mut Console<'_>) -> Result<Status, Failure> {
    let browser = args.pdf.as_ref().map(|_| Browser::found()).transpose()?;
    let night = night(&args.night, day(args)?, parts, console)?;
    let files = Files::of(args, &night)?;
    let printed = printed(args, &night)?;
    let rota = rota(&args.rota, &night, parts, console)?;
    let old = args.changed_from.as_deref().map(|path| rota_before(path, &night, parts, console)).transpose()?;
    let (issue, replaces) = issues(args, &rota, old.as_ref().map(|(rota, _)| rota))?;
    let review = parts.review(&night, &rota);
    let out_by = parts.out_by(&night, &rota);
    let explained = parts.explain(&night, &rota, &review);
    let (night, rota, today) = (&night, &rota, day(args)?);
    let view = View { night, rota, review: &review, out_by: &out_by, explained: &explained, search: None, today };
    let before = old.as_ref().map(|(rota, out_by)| Before { rota, out_by });
    let parts: BTreeSet<Part> = args.parts.iter().copied().collect();
    let print = Print { view, paper: args.paper, parts, issue, replaces, printed, before };
    files.outputs.write(&contents(args, &files, &print, browser.as_ref())?)?;
    console.answer(&answer(args, &print, &files))?;
    Ok(status(&print.view))
}

/// The day for reviews: given, or that of printing, or the machine's.
fn day(args: &SheetArgs) -> Result<NaiveDate, Failure> {
    match (args.night.today, args.printed) {
        (None, Some(printed)) => Ok(printed.date()),
        _ => today(&args.night),
    }
}

/// The time of printing: given in the unit's local time, or the machine's.
fn printed(args: &SheetArgs, night: &Night) -> Result<Minute, Failure> {
    let Some(local) = args.printed else {
        return Ok(Minute(DateTime::<Utc>::from(std::time::SystemTime::now()).timestamp().div_euclid(60)));
    };
    // Where a time happens twice, printing it as the first does no harm.
    let at = night.roster.clock.zone().from_local_datetime(&local).earliest();
    at.map(|at| Minute(at.timestamp().div_euclid(60))).ok_or_else(|| {
        Failure::refused(format!(
            "--printed {local}: the clocks jump over that time. Nothing was written. Give another."
        ))
    })
}

/// The rota of the sheet before, with its OUT-BY.
fn rota_before(
    path: &Path,
    night: &Night,
    parts: &dyn Parts,
    console: &mut Console<'_>,
) -> Result<(Rota, Vec<Minute>), Failure> {
    let rota = rota(path, night, parts, console)?;
    let out_by = parts.out_by(night, &rota);
    Ok((rota, out_by))
}

/// The number of this sheet and of the one that is void from now on (I6).
fn issues(args: &SheetArgs, rota: &Rota, old: Option<&Rota>) -> Result<(u32, Option<u32>), Failure> {
    let issue = args.issue.unwrap_or(rota.issue);
    let replaces = args.replaces.or(old.map(|old| old.issue));
    match replaces {
        Some(old) if old >= issue => Err(Failure::refused(format!(
            "This would be issue {issue} and replace issue {old}: two sheets could hang side by side and nobody could tell \
             which holds. Nothing was written. Give --issue {}.",
            old.saturating_add(1)
        ))),
        _ => Ok((issue, replaces)),
    }
}

/// Every file that is to be written.
struct Files {
    outputs: Outputs,
    /// Calendars: of whom, where to. `None` is the whole unit.
    calendars: Vec<(Option<PersonIx>, PathBuf)>,
}

impl Files {
    fn of(args: &SheetArgs, night: &Night) -> Result<Self, Failure> {
        let calendars = args.calendar.as_deref().map_or_else(Vec::new, |path| calendars(path, night));
        let single = [&args.out, &args.timeline, &args.pdf, &args.csv].into_iter().flatten();
        let wanted: Vec<&Path> =
            single.map(PathBuf::as_path).chain(calendars.iter().map(|(_, path)| path.as_path())).collect();
        let mut inputs = args.night.files();
        inputs.push(&args.rota);
        inputs.extend(args.changed_from.as_deref());
        Ok(Self { outputs: Outputs::claimed(&wanted, &inputs, args.force)?, calendars })
    }
}

/// One file of that name, or a file to a person and one for all in that folder.
fn calendars(path: &Path, night: &Night) -> Vec<(Option<PersonIx>, PathBuf)> {
    if path.extension().is_some_and(|ext| ext.eq_ignore_ascii_case("ics")) {
        return vec![(None, path.to_owned())];
    }
    let person = |ix| (Some(ix), path.join(format!("{}.ics", night.roster.person(ix).id)));
    std::iter::once((None, path.join(WHOLE_UNIT))).chain(night.roster.person_indices().map(person)).collect()
}

fn contents<'a>(
    args: &'a SheetArgs,
    files: &'a Files,
    print: &Print<'_>,
    browser: Option<&Browser>,
) -> Result<Vec<Content<'a>>, Failure> {
    let mut contents: Vec<Content<'a>> = Vec::new();
    if args.out.is_some() || args.pdf.is_some() {
        let html = sheet::html(print);
        if let (Some(path), Some(browser)) = (&args.pdf, browser) {
            contents.push((path, browser.pdf(&html)?));
        }
        contents.extend(args.out.as_ref().map(|path| (path.as_path(), html.into_bytes())));
    }
    if let Some(path) = &args.timeline {
        contents.push((path, sheet::timeline_svg(print).into_bytes()));
    }
    if let Some(path) = &args.csv {
        contents.push((path, csv::write(&print.view).map_err(|e| internal(&e))?.into_bytes()));
    }
    contents.extend(calendar_contents(files, print));
    Ok(contents)
}

fn calendar_contents<'a>(files: &'a Files, print: &Print<'_>) -> Vec<Content<'a>> {
    if files.calendars.is_empty() {
        return Vec::new();
    }
    let issue = Issue { number: print.issue, printed: print.printed };
    let people = calendar::of_people(&print.view, issue);
    let text = |of: Option<PersonIx>| {
        let found = people.iter().find(|(ix, _)| Some(*ix) == of).map(|(_, text)| text.clone());
        found.unwrap_or_else(|| calendar::of_unit(&print.view, issue))
    };
    files.calendars.iter().map(|(of, path)| (path.as_path(), text(*of).into_bytes())).collect()
}

/// What was written, and what must not be overlooked.
fn answer(args: &SheetArgs, print: &Print<'_>, files: &Files) -> String {
    let pages: Vec<String> =
        sheet::page_counts(print).iter().map(|(part, pages)| format!("{} {pages}", part.word())).collect();
    let single = [&args.out, &args.pdf, &args.timeline, &args.csv].into_iter().flatten();
    let written = single.chain(files.calendars.iter().map(|(_, path)| path).take(1));
    let written: Vec<String> = written.map(|path| format!("written  {}\n", path.display())).collect();
    let faults = print.view.review.faults.len();
    let checked = if faults == 0 { "0 faults".to_owned() } else { format!("FAULTS {faults}: DO NOT USE") };
    format!(
        "{}issue    {}\npages    {}, on {}\nchecked  {checked}\n\
         PLANNING AID ONLY: your unit's procedures and your own judgement come first.\n",
        written.concat(),
        print.issue,
        pages.join(", "),
        print.paper.word()
    )
}
