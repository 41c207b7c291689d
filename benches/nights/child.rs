//! One run in a process of its own.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anteroom::night::Night;
use anteroom::show::rota_toml;

use crate::args::Args;
use crate::generator::Named;
use crate::levels;
use crate::ours;
use crate::outcome::Outcome;

/// The folder of a night in one order, with everything that is handed to opponents and back.
pub fn folder(night: &Named, order: u64) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("target/bench").join(format!("{}-{order}", night.name))
}

/// Writes a text file whole.
pub fn put(path: &Path, text: &str) -> Result<(), String> {
    fs::write(path, text).map_err(|error| format!("{}: {error}", path.display()))
}

/// Reads the night of a folder, writing its files there first.
pub fn prepared(named: &Named, order: u64) -> Result<(Night, PathBuf), String> {
    let (files, folder) = (named.files(order)?, folder(named, order));
    fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    put(&folder.join("roster.toml"), &files.roster)?;
    put(&folder.join("constraints.toml"), &files.limits)?;
    Ok((files.night()?, folder))
}

/// What the child does: plans one night and prints what it came to.
pub fn plan_one(named: &Named, args: &Args) -> Result<(), String> {
    let (night, folder) = prepared(named, args.order)?;
    let (mut outcome, rota) = ours::run(&night, &args.marks(), args.work_on(named))?;
    named.name.clone_into(&mut outcome.night);
    outcome.order = args.order;
    put(&folder.join("ours.toml"), &rota_toml::write(&night, &rota))?;
    // What the opponents' models have to come to when that rota is held in them.
    let values = ours::checked(&night, &levels::of(&night), &rota)?;
    let claims: BTreeMap<&String, i64> = outcome.levels.iter().zip(values).collect();
    put(&folder.join("ours.json"), &serde_json::to_string(&claims).map_err(|error| error.to_string())?)?;
    println!("{}", serde_json::to_string(&outcome).map_err(|error| error.to_string())?);
    Ok(())
}

/// Starts the child and reads what it printed.
///
/// # Errors
/// Whatever the child came to grief on; a fault in a rota is such a thing.
pub fn ours(named: &Named, order: u64, args: &Args) -> Result<Outcome, String> {
    let program = std::env::current_exe().map_err(|error| error.to_string())?;
    let seconds: Vec<String> = args.marks().iter().map(u32::to_string).collect();
    let child = Command::new(program)
        .args(["--one", "--nights", named.name, "--order", &order.to_string()])
        .args(["--seconds", &seconds.join(","), "--work", &args.work_on(named).to_string()])
        .stderr(Stdio::inherit())
        .output()
        .map_err(|error| error.to_string())?;
    let printed = String::from_utf8_lossy(&child.stdout);
    if !child.status.success() {
        return Err(format!("{}: the planner's run ended with {}", named.name, child.status));
    }
    serde_json::from_str(printed.trim()).map_err(|error| format!("{}: {error}: {printed}", named.name))
}
