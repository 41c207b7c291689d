//! General solvers on the same nights: their scripts in `benches/opponents`, run in an environment of their own.

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::process::ExitStatusExt;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};

use anteroom::night::Night;
use anteroom::plan::Counted;
use anteroom::read::{self, Source};
use serde::Deserialize;

use crate::child::{prepared, put};
use crate::generator::Named;
use crate::levels;
use crate::ours::{check_micros, checked};
use crate::outcome::{Found, Outcome, Who};
use crate::program;

/// What a script answers, by name of the level.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Answer {
    out: Option<String>,
    found: Vec<Claim>,
    bounds: BTreeMap<String, i64>,
    peak_kib: u64,
    disagreements: Vec<String>,
}

/// A better solution, as the script counts it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Claim {
    ms: u64,
    values: BTreeMap<String, i64>,
}

impl Answer {
    /// Of a script that the system killed.
    fn killed(signal: i32) -> Self {
        let out = format!("the system killed it (signal {signal}; 9 is mostly want of memory)");
        Self { out: Some(out), found: vec![], bounds: BTreeMap::new(), peak_kib: 0, disagreements: vec![] }
    }
}

fn here(inside: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(inside)
}

/// The Python with the solvers, installed first if it is not there.
///
/// # Errors
/// No Python, or a package that could not be installed.
pub fn python() -> Result<PathBuf, String> {
    let (home, wanted) = (here("target/opponents"), here("benches/opponents/requirements.txt"));
    let (python, stamp) = (home.join("bin/python"), home.join("installed.txt"));
    let text = fs::read_to_string(&wanted).map_err(|error| format!("{}: {error}", wanted.display()))?;
    if python.exists() && fs::read_to_string(&stamp).is_ok_and(|installed| installed == text) {
        return Ok(python);
    }
    eprintln!("Installing the general solvers in {}.", home.display());
    ran(Command::new("python3").args(["-m", "venv"]).arg(&home)).map_err(|error| {
        format!(
            "{error}\nOpponents need Python 3.11 or later with its venv module: apt-get install python3 python3-venv. \
             Without it, leave out --opponents."
        )
    })?;
    ran(Command::new(&python).args(["-m", "pip", "install", "--quiet", "-r"]).arg(&wanted))?;
    put(&stamp, &text)?;
    Ok(python)
}

fn ran(command: &mut Command) -> Result<(), String> {
    let status = ended(command)?;
    if status.success() { Ok(()) } else { Err(format!("{command:?} ended with {status}")) }
}

fn ended(command: &mut Command) -> Result<ExitStatus, String> {
    // Solvers print their name; what a script has to say stands in its file.
    command.stdout(Stdio::null()).status().map_err(|error| format!("{command:?}: {error}"))
}

/// One opponent on one night.
///
/// # Errors
/// A script that fails, or an answer that cannot be read.
pub fn run(who: Who, named: &Named, order: u64, marks: &[u32]) -> Result<Outcome, String> {
    let seconds = u64::from(*marks.last().ok_or("no time was given")?);
    let python = python()?;
    let (night, folder) = prepared(named, order)?;
    let script = match who {
        Who::HighsPlain | Who::HighsMerged => {
            let counted = if who == Who::HighsPlain { Counted::Alone } else { Counted::Alike };
            put(&folder.join("program.txt"), &program::text(&night, counted))?;
            "benches/opponents/highs_levels.py"
        }
        Who::CpSat => "benches/opponents/cp_sat.py",
        Who::Ours => return Err("this program is no opponent of itself".to_owned()),
    };
    let answer = folder.join(format!("{}.json", who.word()));
    remove_old(&folder, who)?;
    let mut command = Command::new(python);
    // Compiled scripts would lie among the sources.
    command.arg("-B");
    command.arg(here(script)).arg(&folder).arg(who.word()).args([seconds.to_string(), order.to_string()]);
    let status = ended(&mut command)?;
    let answer = match status.signal() {
        Some(signal) => Answer::killed(signal),
        None if !status.success() => return Err(format!("{}: {command:?} ended with {status}", named.name)),
        None => {
            let text = fs::read_to_string(&answer).map_err(|error| format!("{}: {error}", answer.display()))?;
            serde_json::from_str(&text).map_err(|error| format!("{}: {error}", answer.display()))?
        }
    };
    outcome(&night, &folder, (who, marks), answer).map(|outcome| Outcome {
        night: named.name.to_owned(),
        order,
        seconds,
        ..outcome
    })
}

/// Removes what an earlier run left, so that it cannot be taken for this one's.
fn remove_old(folder: &Path, who: Who) -> Result<(), String> {
    let entries = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    for path in entries.flatten().map(|entry| entry.path()) {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if name.strip_prefix(who.word()).is_some_and(|rest| rest.starts_with('.')) {
            fs::remove_file(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        }
    }
    Ok(())
}

fn outcome(night: &Night, folder: &Path, (who, marks): (Who, &[u32]), answer: Answer) -> Result<Outcome, String> {
    let levels = levels::of(night);
    let names: Vec<String> = levels.iter().map(|&level| levels::name(level)).collect();
    let mut outcome = Outcome {
        night: String::new(),
        order: 0,
        who,
        seconds: 0,
        out: answer.out,
        bounds: names.iter().map(|name| answer.bounds.get(name).copied()).collect(),
        found: vec![],
        counted: vec![],
        peak_kib: answer.peak_kib,
        check_us: None,
        disagreements: answer.disagreements,
        levels: names,
    };
    match who {
        _ if outcome.out.is_some() => {}
        Who::HighsPlain => program::read_points(night, &points(folder, who)?, &mut outcome)?,
        Who::CpSat => {
            for claim in &answer.found {
                read_rota(night, folder, claim, &mut outcome)?;
            }
        }
        // Counts are no rota: those that were best at a mark are given names, by this program, if there are any.
        Who::HighsMerged => {
            outcome.counted = answer.found.iter().map(|claim| taken(claim, &outcome.levels)).collect();
            program::name_points(night, &points(folder, who)?, marks, &mut outcome)?;
        }
        Who::Ours => {}
    }
    Ok(outcome)
}

/// Every better solution of HiGHS, a line each.
fn points(folder: &Path, who: Who) -> Result<String, String> {
    let path = folder.join(format!("{}.points", who.word()));
    fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))
}

fn taken(claim: &Claim, levels: &[String]) -> Found {
    let value = |level: &str| claim.values.get(level).copied().unwrap_or(0);
    // Where nothing is uncovered nothing is long, though the solver may not have measured it yet.
    let no_gap = |level: &str| level.strip_prefix("longest").is_some_and(|of| value(&format!("uncovered{of}")) == 0);
    let values = levels.iter().map(|level| if no_gap(level) { 0 } else { value(level) }).collect();
    Found { ms: claim.ms, values }
}

/// Reads the rota file that belongs to a claim, checks it, and compares what it is worth.
fn read_rota(night: &Night, folder: &Path, claim: &Claim, outcome: &mut Outcome) -> Result<(), String> {
    let path = folder.join(format!("{}.{}.toml", Who::CpSat.word(), claim.ms));
    let bytes = fs::read(&path).map_err(|error| format!("{}: {error}", path.display()))?;
    let source = Source::new(&path.display().to_string(), &bytes);
    let rota = read::rota(&source, night).map_err(|findings| findings.render())?.0;
    outcome.check_us = Some(check_micros(night, &rota));
    match checked(night, &levels::of(night), &rota) {
        Ok(values) => {
            let claimed = taken(claim, &outcome.levels).values;
            // Levels it has not come to yet may be measured too high, never too low.
            if values.iter().zip(&claimed).any(|(measured, claimed)| measured > claimed) {
                let told = format!("{}: the check measures {values:?}, the model {claimed:?}", path.display());
                outcome.disagreements.push(told);
            }
            outcome.found.push(Found { ms: claim.ms, values });
        }
        Err(faults) => outcome.disagreements.push(format!("{}: {faults}", path.display())),
    }
    Ok(())
}
