//! The other parts of the program as the front end calls them.
//!
//! They are called through a trait so that the front end's own ways, and above
//! all what it does when the planner is wrong, can be tested without them.

use chrono::NaiveDate;

use super::files::Given;
use crate::check::{self, Review};
use crate::explain::{self, Explained};
use crate::night::{Minute, Night, Question, Rota};
use crate::plan::{self, Effort, Planned, Watch};
use crate::read::{self, Beside, Source};
use crate::staffing::{self, Answer, Scope, Wrong};

/// The files that make a night.
pub struct NightFiles {
    /// Tonight.
    pub roster: Given,
    /// The unit's limits.
    pub limits: Given,
    /// Personal limits.
    pub private: Option<Given>,
    /// People of other rosters, of whom the file of personal limits may speak too.
    pub elsewhere: Vec<String>,
    /// Sign-offs and fit tests from a spreadsheet.
    pub sign_offs: Option<Given>,
    /// The day on which they are looked at.
    pub today: NaiveDate,
}

/// What was read, and the warnings to tell; or what has to be put right first.
pub type Read<T> = Result<(T, String), String>;

/// One method for each part that the front end calls.
pub trait Parts {
    /// Reads roster, limits and personal limits.
    fn night(&self, files: &NightFiles) -> Read<Night>;
    /// Reads a rota.
    fn rota(&self, file: &Given, night: &Night) -> Read<Rota>;
    /// Plans.
    fn plan(&self, night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned;
    /// Reads a question about crews.
    fn question(&self, file: &Given, night: &Night) -> Read<Question>;
    /// Answers it.
    fn crews(
        &self,
        night: &Night,
        question: &Question,
        scope: Scope,
        effort: Effort,
        watch: &dyn Watch,
    ) -> Result<Answer, Box<Wrong>>;
    /// Plans as far as cover goes.
    fn cover(&self, night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned;
    /// Checks.
    fn review(&self, night: &Night, rota: &Rota) -> Review;
    /// OUT-BY of every entry.
    fn out_by(&self, night: &Night, rota: &Rota) -> Vec<Minute>;
    /// Says why there are gaps and what closes them.
    fn explain(&self, night: &Night, rota: &Rota, review: &Review) -> Explained;
    /// Every key of the files.
    fn key_reference(&self) -> String;
    /// A page for every rule, each under a heading `## ID words`.
    fn rule_pages(&self) -> String;
}

/// The parts themselves.
pub struct Real;

/// A file as the reader takes it.
pub fn source(file: &Given) -> Source {
    Source::new(&file.name, &file.bytes)
}

/// What was read in words.
pub fn told<T>(reading: read::Reading<T>) -> Read<T> {
    match reading {
        Ok((value, findings)) => Ok((value, findings.render())),
        Err(findings) => Err(findings.render()),
    }
}

impl Parts for Real {
    fn night(&self, files: &NightFiles) -> Read<Night> {
        let private = files.private.as_ref().map(source);
        let sign_offs = files.sign_offs.as_ref().map(source);
        let beside = Beside { private: private.as_ref(), elsewhere: &files.elsewhere, sign_offs: sign_offs.as_ref() };
        told(read::night_with(&source(&files.roster), &source(&files.limits), beside, files.today))
    }

    fn rota(&self, file: &Given, night: &Night) -> Read<Rota> {
        told(read::rota(&source(file), night))
    }

    fn plan(&self, night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
        plan::plan(night, effort, watch)
    }

    fn question(&self, file: &Given, night: &Night) -> Read<Question> {
        told(read::question(&source(file), night))
    }

    fn crews(
        &self,
        night: &Night,
        question: &Question,
        scope: Scope,
        effort: Effort,
        watch: &dyn Watch,
    ) -> Result<Answer, Box<Wrong>> {
        staffing::answer(night, question, scope, effort, watch)
    }

    fn cover(&self, night: &Night, effort: Effort, watch: &mut dyn Watch) -> Planned {
        plan::cover(night, effort, watch)
    }

    fn review(&self, night: &Night, rota: &Rota) -> Review {
        check::review(night, rota)
    }

    fn out_by(&self, night: &Night, rota: &Rota) -> Vec<Minute> {
        check::out_by(night, rota)
    }

    fn explain(&self, night: &Night, rota: &Rota, review: &Review) -> Explained {
        explain::explain(night, rota, review)
    }

    fn key_reference(&self) -> String {
        read::key_reference()
    }

    fn rule_pages(&self) -> String {
        check::rule_pages()
    }
}
