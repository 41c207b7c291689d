//! Where the rules put what they find.

use super::{By, Fault};
use crate::night::{PersonIx, Rule, Span};

/// The faults found so far. A quick check only asks whether there are any, and then no sentence is made.
pub(super) struct Faults {
    list: Vec<Fault>,
    found: bool,
    worded: bool,
}

impl Faults {
    /// Collects every fault with its sentence.
    pub(super) const fn worded() -> Self {
        Self { list: Vec::new(), found: false, worded: true }
    }

    /// Notices only that there is a fault.
    pub(super) const fn noticed() -> Self {
        Self { list: Vec::new(), found: false, worded: false }
    }

    /// Whether anything more could change the answer.
    pub(super) const fn settled(&self) -> bool {
        self.found && !self.worded
    }

    /// Whether any rule was broken.
    pub(super) const fn any(&self) -> bool {
        self.found
    }

    /// One rule broken at one place; `what` is asked for its sentence only when one is wanted.
    pub(super) fn add(
        &mut self,
        rule: Rule,
        span: Span,
        people: &[PersonIx],
        by: Option<By>,
        what: impl FnOnce() -> String,
    ) {
        self.found = true;
        if self.worded {
            self.list.push(Fault { span, rule, people: people.to_vec(), by, what: what() });
        }
    }

    /// The faults in order of time, then rule; each once.
    pub(super) fn in_order(mut self) -> Vec<Fault> {
        self.list.sort();
        self.list.dedup();
        self.list
    }
}
