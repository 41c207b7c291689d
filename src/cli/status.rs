//! How a run ends.

use std::process::ExitCode;

/// The exit statuses, as scripts see them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Status {
    /// Everything asked for is covered and no fault was found.
    Covered,
    /// No fault, and something is not covered.
    Gaps,
    /// The input cannot be used, or a file cannot be read or written.
    Refused,
    /// The check found faults in the rota.
    Faults,
    /// anteroom itself is wrong.
    Internal,
}

impl Status {
    /// The number that the shell sees.
    pub const fn code(self) -> u8 {
        match self {
            Self::Covered => 0,
            Self::Gaps => 1,
            Self::Refused => 2,
            Self::Faults => 3,
            Self::Internal => 70,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(status.code())
    }
}

/// Why a run ends without an answer, in words for the user.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Failure {
    /// What the user gave cannot be used.
    Refused(String),
    /// A mistake in anteroom.
    Internal(String),
}

impl Failure {
    /// A refusal: what is wrong, what follows, how to put it right.
    pub fn refused(words: impl Into<String>) -> Self {
        Self::Refused(words.into())
    }

    /// What to tell the user.
    pub fn words(&self) -> &str {
        match self {
            Self::Refused(words) | Self::Internal(words) => words,
        }
    }

    /// The status it ends with.
    pub const fn status(&self) -> Status {
        match self {
            Self::Refused(_) => Status::Refused,
            Self::Internal(_) => Status::Internal,
        }
    }
}
