//! Shares that were settled elsewhere are put together again, or refused.

use std::collections::BTreeMap;

use super::work::{Known, Settled, Share};

/// What results were made from, by name: only results made from the same may be put together.
pub type MadeFrom = Vec<(String, String)>;

/// One results file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Part {
    /// The name of the file.
    pub file: String,
    /// What it was made from.
    pub made_from: MadeFrom,
    /// Which share it is.
    pub share: Share,
    /// What is known of the cases of this share.
    pub known: Known,
}

/// Why results cannot be used.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Refusal {
    /// Made from something else: what differs, by name.
    Other { file: String, names: Vec<String> },
    /// It has a case that is not of its share, or misses what this night does not ask for.
    Foreign { file: String },
    /// Not every case of the share is in it yet.
    Unfinished { file: String, known: usize, all: usize },
    /// The night was split into another number of shares.
    OtherSplit { file: String, of: usize, first: String, first_of: usize },
    /// Another file has the same share.
    Twice { file: String, first: String, number: usize },
    /// These shares are in no file.
    NotThere { numbers: Vec<usize>, of: usize },
}

/// What a list of cases asks of results.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// What they are to be made from.
    pub made_from: &'a MadeFrom,
    /// How many cases there are.
    pub cases: usize,
    /// How many acuity classes the night has.
    pub classes: usize,
}

impl Wanted<'_> {
    /// Why a part cannot be used by itself, if it cannot. It may be unfinished.
    #[must_use]
    pub fn against(&self, part: &Part) -> Option<Refusal> {
        let file = part.file.clone();
        let names = differing(self.made_from, &part.made_from);
        if !names.is_empty() {
            return Some(Refusal::Other { file, names });
        }
        let belongs = |(&case, settled): (&usize, &Settled)| {
            let classes = match settled {
                Settled::Planned(outcome) => outcome.missed.uncovered.len(),
                Settled::Follows => self.classes,
            };
            case < self.cases && part.share.has(case) && classes == self.classes
        };
        (!part.known.iter().all(belongs)).then_some(Refusal::Foreign { file })
    }

    /// Everything that is known, from all shares; or all that is wrong with them.
    ///
    /// # Errors
    /// Every reason against it, in the order of the files.
    pub fn gathered(&self, parts: &[Part]) -> Result<Known, Vec<Refusal>> {
        let mut wrong: Vec<Refusal> = parts.iter().filter_map(|part| self.alone(part)).collect();
        let mut seen: BTreeMap<Share, &str> = BTreeMap::new();
        for part in parts {
            let (file, first) = (part.file.clone(), &parts[0]);
            if part.share.of() != first.share.of() {
                let (first, first_of) = (first.file.clone(), first.share.of());
                wrong.push(Refusal::OtherSplit { file, of: part.share.of(), first, first_of });
            } else if let Some(first) = seen.get(&part.share) {
                wrong.push(Refusal::Twice { file, first: (*first).to_owned(), number: part.share.number() });
            } else {
                seen.insert(part.share, &part.file);
            }
        }
        let of = parts.first().map_or(1, |first| first.share.of());
        let there = |number: &usize| Share::new(*number, of).is_some_and(|share| seen.contains_key(&share));
        let numbers: Vec<usize> = (1..=of).filter(|number| !there(number)).collect();
        if !numbers.is_empty() {
            wrong.push(Refusal::NotThere { numbers, of });
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        Ok(parts.iter().flat_map(|part| part.known.clone()).collect())
    }

    /// What is wrong with one part that should be whole.
    fn alone(&self, part: &Part) -> Option<Refusal> {
        let all = (0..self.cases).filter(|&case| part.share.has(case)).count();
        let unfinished = || {
            let (file, known) = (part.file.clone(), part.known.len());
            (known < all).then_some(Refusal::Unfinished { file, known, all })
        };
        self.against(part).or_else(unfinished)
    }
}

/// The names under which two differ, those of `ours` first.
fn differing(ours: &MadeFrom, theirs: &MadeFrom) -> Vec<String> {
    let value = |all: &MadeFrom, name: &str| all.iter().find(|(n, _)| n == name).map(|(_, value)| value.clone());
    let mut names: Vec<String> = Vec::new();
    for (name, _) in ours.iter().chain(theirs) {
        if !names.contains(name) && value(ours, name) != value(theirs, name) {
            names.push(name.clone());
        }
    }
    names
}
