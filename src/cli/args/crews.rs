//! The arguments of `anteroom crews`.

use std::path::PathBuf;

use super::{AnswerFiles, NightArgs, work};
use crate::plan::Effort;
use crate::staffing::Scope;

#[derive(clap::Args, Debug)]
pub struct CrewsArgs {
    /// The question: groups of people who are alike, and how many of each.
    pub question: PathBuf,
    #[command(flatten)]
    pub night: NightArgs,
    /// Look for the smallest crew only, and not at every crew in the range.
    #[arg(long)]
    pub smallest: bool,
    #[command(flatten)]
    pub files: AnswerFiles,
    /// How long to look at each crew, as for `plan`.
    #[arg(long, default_value = "small", value_parser = work)]
    pub effort: u64,
}

impl CrewsArgs {
    pub const fn effort(&self) -> Effort {
        Effort { work: self.effort, seconds: None }
    }

    pub const fn scope(&self) -> Scope {
        if self.smallest { Scope::Smallest } else { Scope::Table }
    }
}
