//! The arguments of `anteroom absence` and `anteroom supply`.

use std::path::{Path, PathBuf};

use super::{AnswerFiles, NightArgs, work};
use crate::plan::Effort;
use crate::staffing::absence::draw::Chance;
use crate::staffing::absence::work::Share;

/// Work units for each night: enough for nearly every night that can be covered, and no more.
const EACH: &str = "5000";

#[derive(clap::Args, Debug)]
#[command(group = clap::ArgGroup::new("how_often").required(true).multiple(true))]
pub struct AbsenceArgs {
    #[command(flatten)]
    pub night: NightArgs,
    /// How often each person is missing, in percent of shifts, e.g. 6 or 6.25.
    #[arg(long, value_name = "PERCENT", value_parser = percent, group = "how_often")]
    pub missing_percent: Option<Chance>,
    /// How often each person was missing: a CSV file with the columns person, shifts, absences, or person, date, absent.
    /// With --missing-percent too, that is taken for those who are not in it.
    #[arg(long, value_name = "FILE", group = "how_often")]
    pub history: Option<PathBuf>,
    /// Crews to compare: a question file, of which the numbers of people are tried.
    #[arg(long, value_name = "FILE")]
    pub question: Option<PathBuf>,
    /// How many nights to draw.
    #[arg(long, default_value_t = 1_000, value_parser = clap::value_parser!(u32).range(2..=1_000_000))]
    pub nights: u32,
    /// Draw other nights. The same number gives the same nights.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// How long to look at each night: small, usual, large as for `plan`, or a number of work units.
    #[arg(long, default_value = EACH, value_parser = work)]
    pub effort: u64,
    #[command(flatten)]
    pub files: AnswerFiles,
    /// Only write the list of nights and cases into this folder, as CSV.
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["share", "results", "gather", "out", "csv", "json"])]
    pub write_nights: Option<PathBuf>,
    /// Work on one share of the cases only, as 3/8, and write what it comes to into --results.
    #[arg(long, value_name = "K/N", value_parser = share, requires = "results",
          conflicts_with_all = ["gather", "out", "csv", "json"])]
    pub share: Option<Share>,
    /// Keep what is known in this file while it is worked out.
    #[arg(long, value_name = "FILE", conflicts_with = "gather")]
    pub results: Option<PathBuf>,
    /// Go on from what is in the --results file.
    #[arg(long, requires = "results")]
    pub resume: bool,
    /// Answer from the results files of all shares.
    #[arg(long, value_name = "FILES", num_args = 1..)]
    pub gather: Vec<PathBuf>,
}

#[derive(clap::Args, Debug)]
pub struct SupplyArgs {
    /// The rota to look at, planned or made by hand.
    pub rota: PathBuf,
    #[command(flatten)]
    pub night: NightArgs,
    /// How many nights like this one to look ahead, this one included.
    #[arg(long, default_value_t = 14, value_parser = clap::value_parser!(u32).range(1..=366))]
    pub coming: u32,
    /// Entries a night that nobody planned, each with the kits of its helpers.
    #[arg(long, default_value_t = 0, value_parser = clap::value_parser!(u32).range(0..=100))]
    pub unplanned: u32,
    #[command(flatten)]
    pub files: AnswerFiles,
}

impl AbsenceArgs {
    pub const fn effort(&self) -> Effort {
        Effort { work: self.effort, seconds: None }
    }

    /// Every file that is read.
    pub fn read(&self) -> Vec<&Path> {
        let mut files = self.night.files();
        files.extend([&self.history, &self.question].into_iter().flatten().map(PathBuf::as_path));
        files.extend(self.gather.iter().map(PathBuf::as_path));
        files
    }
}

/// A percentage with up to two decimals, kept in ten-thousandths.
fn percent(word: &str) -> Result<Chance, String> {
    let wrong = || "say a percentage from 0 to 100, with two decimals at most, e.g. 6 or 6.25".to_owned();
    let (whole, part) = word.split_once('.').map_or((word, ""), |(whole, part)| (whole, part));
    let figures = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if whole.is_empty() || part.len() > 2 || !figures(whole) || !figures(part) || word.ends_with('.') {
        return Err(wrong());
    }
    let hundredths = format!("{whole}{part:0<2}").parse::<u32>().map_err(|_| wrong())?;
    Chance::new(hundredths, 10_000).ok_or_else(wrong)
}

fn share(word: &str) -> Result<Share, String> {
    let numbers = word.split_once('/').and_then(|(number, of)| Some((number.parse().ok()?, of.parse().ok()?)));
    let share = numbers.filter(|&(_, of)| of <= 100_000).and_then(|(number, of)| Share::new(number, of));
    share.ok_or_else(|| "say which of how many, from 1 on, e.g. 3/8".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percentages_are_kept_whole() {
        let parts = |word| percent(word).map(|chance| (chance.times(), chance.of())).ok();
        assert_eq!(parts("6"), Some((600, 10_000)));
        assert_eq!(parts("6.2"), Some((620, 10_000)));
        assert_eq!(parts("06.25"), Some((625, 10_000)));
        assert_eq!((parts("0"), parts("100")), (Some((0, 10_000)), Some((10_000, 10_000))));
        for word in ["", "-1", "100.01", "6.255", "6,5", "6.", ".5", "6%", "1e1", "99999999999"] {
            assert_eq!(parts(word), None, "{word}");
        }
    }

    #[test]
    fn shares_are_counted_from_one() {
        assert_eq!(share("3/8").map(|share| (share.number(), share.of())), Ok((3, 8)));
        for word in ["0/8", "9/8", "3", "3/", "/8", "3/8/2", "-1/8", "1/0", "1/999999"] {
            assert!(share(word).is_err(), "{word}");
        }
    }
}
