//! Reading of all files: rosters, constraint sets, private limits, rotas.
//!
//! `bytes -> Source -> TOML -> Record (known keys, right types) -> Night or Rota`
//!
//! Every mistake of one run is told of, each drawn under the user's own line.
//! Whatever the bytes, reading ends soon and does not panic.

mod advice;
mod csv_text;
mod demand;
mod draw;
mod duty_log;
mod finding;
mod history;
mod key_reference;
mod keys;
mod limit_check;
mod limits;
mod mistake;
mod names;
mod near;
mod people;
mod pins;
mod private;
mod question;
mod record;
mod results;
mod roster;
mod rota;
mod rows;
mod shape;
mod sign_offs;
mod skill_cover;
mod source;
mod stock;
mod time;
mod value;
mod words;

use chrono::NaiveDate;

use crate::night::{Night, Question, Rota};

pub use finding::{Finding, Findings};
pub use history::History;
pub use key_reference::key_reference;
pub use mistake::Severity;
pub use results::{ResultRow, Results};
pub use source::{File, MOST_BYTES, Source};

use finding::Mistakes;
use mistake::{Mistake, TextMistake};
use source::Spot;

/// What was read, with warnings and notes; or, when anything forbids going on,
/// everything that was found.
pub type Reading<T> = Result<(T, Findings), Findings>;

/// Reads tonight's files. `today` decides whether the limits are overdue for review.
///
/// # Errors
/// Everything found in all files, when at least one finding is an error.
pub fn night(roster: &Source, limits: &Source, private: Option<&Source>, today: NaiveDate) -> Reading<Night> {
    night_with(roster, limits, Beside { private, ..Beside::default() }, today)
}

/// Files that stand beside the roster and the limits.
#[derive(Clone, Copy, Debug, Default)]
pub struct Beside<'a> {
    /// Stricter limits of single people.
    pub private: Option<&'a Source>,
    /// People of other rosters, of whom that file may have limits too.
    pub elsewhere: &'a [String],
    /// Sign-offs and fit tests from a spreadsheet, in the place of the roster's.
    pub sign_offs: Option<&'a Source>,
}

/// The same with all files there may be.
///
/// # Errors
/// Everything found in all files, when at least one finding is an error.
pub fn night_with(roster: &Source, limits: &Source, beside: Beside<'_>, today: NaiveDate) -> Reading<Night> {
    let mut out = Mistakes::default();
    let limits_file = limits::read(limits, today, &mut out);
    let mut roster_file = roster::read(roster, &limits_file, &mut out);
    if let Some(sign_offs) = beside.sign_offs {
        let set = limits_file.set.as_ref();
        sign_offs::read(sign_offs, &roster_file.people, roster_file.roster.as_mut(), set, &mut out);
    }
    if let Some(private) = beside.private {
        let set = limits_file.set.as_ref();
        let people = private::People { here: &roster_file.people, elsewhere: beside.elsewhere };
        private::read(private, people, roster_file.roster.as_mut(), set, &mut out);
    }
    let night = roster_file.roster.zip(limits_file.set).map(|(roster, limits)| Night { roster, limits });
    if let Some(night) = night.as_ref().filter(|_| !out.any_error()) {
        advice::give(night, &roster_file.record, &mut out);
        pins::refuse(night, &roster_file.record, &mut out);
    }
    let mut sources = vec![(File::Roster, roster), (File::Limits, limits)];
    sources.extend(beside.private.map(|private| (File::Private, private)));
    sources.extend(beside.sign_offs.map(|sign_offs| (File::SignOffs, sign_offs)));
    finish(night, out, &sources)
}

/// Reads a rota, planned or made by hand, for a night.
///
/// # Errors
/// Everything found, when at least one finding is an error.
pub fn rota(source: &Source, night: &Night) -> Reading<Rota> {
    let mut out = Mistakes::default();
    let rota = rota::read(source, night, &mut out);
    finish(rota, out, &[(File::Rota, source)])
}

/// Reads a question about crews that is asked of a night.
///
/// # Errors
/// Everything found, when at least one finding is an error.
pub fn question(source: &Source, night: &Night) -> Reading<Question> {
    let mut out = Mistakes::default();
    let question = question::read(source, night, &mut out);
    finish(question, out, &[(File::Question, source)])
}

/// Reads a history of absence. No finding quotes anything of it.
///
/// # Errors
/// Everything found, when at least one finding is an error.
pub fn history(source: &Source) -> Reading<History> {
    let mut out = Mistakes::default();
    let history = history::read(source, &mut out);
    finish(history, out, &[(File::History, source)])
}

/// Reads what a share of many nights came to.
///
/// # Errors
/// Everything found, when at least one finding is an error.
pub fn results(source: &Source) -> Reading<Results> {
    let mut out = Mistakes::default();
    let results = results::read(source, &mut out);
    finish(results, out, &[(File::Results, source)])
}

fn finish<T>(value: Option<T>, mut out: Mistakes, sources: &[(File, &Source)]) -> Reading<T> {
    if value.is_none() && !out.any_error() {
        // Silence here would be a wrong answer: say loudly that the reader failed.
        let file = sources.first().map_or(File::Roster, |(file, _)| *file);
        out.add(Spot { file, from: 0, to: 0 }, Mistake::Text(TextMistake::Unexplained));
    }
    let failed = out.any_error();
    let findings = out.into_findings(sources);
    match value {
        Some(value) if !failed => Ok((value, findings)),
        _ => Err(findings),
    }
}
