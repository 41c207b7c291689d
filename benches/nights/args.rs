//! The arguments.

use std::path::PathBuf;

use clap::Parser;

use crate::generator::{Family, Named, all};

/// Plans named nights and compares. See benches/README.md.
#[derive(Parser, Debug)]
#[command(name = "nights", max_term_width = 80)]
pub struct Args {
    /// Only nights of this family: temperate, hot, full-rule, example.
    #[arg(long, value_parser = family)]
    pub family: Option<Family>,
    /// Only these nights, with commas between.
    #[arg(long, value_delimiter = ',', value_name = "NAMES", value_parser = known)]
    pub nights: Vec<String>,
    /// Only tell the names.
    #[arg(long)]
    pub list: bool,
    /// Write each night to a folder of its name in this one, and do nothing else.
    #[arg(long, value_name = "DIR")]
    pub write: Option<PathBuf>,
    /// Which order people are listed in; 0 is the night itself.
    #[arg(long, default_value_t = 0)]
    pub order: u64,
    /// Given by cargo.
    #[arg(long, hide = true)]
    pub bench: bool,
}

impl Args {
    /// The nights asked for.
    pub fn chosen(&self) -> Vec<Named> {
        let mut nights = all();
        nights.retain(|night| self.family.is_none_or(|family| night.family == family));
        nights.retain(|night| self.nights.is_empty() || self.nights.iter().any(|name| name == night.name));
        nights
    }
}

fn family(word: &str) -> Result<Family, String> {
    let families = [Family::Temperate, Family::Hot, Family::FullRule, Family::Example];
    let found = families.into_iter().find(|family| family.word() == word);
    found.ok_or_else(|| format!("there is: {}", families.map(Family::word).join(", ")))
}

fn known(name: &str) -> Result<String, String> {
    let names: Vec<&str> = all().iter().map(|night| night.name).collect();
    if names.contains(&name) { Ok(name.to_owned()) } else { Err(format!("there is: {}", names.join(", "))) }
}
