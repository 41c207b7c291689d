//! What lapses in the coming weeks, and on which nights that matters (A10).

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::outlook::Coming;
use crate::night::{Minute, Night, Person, Role};

/// What somebody holds until the end of a day.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Held {
    /// A sign-off.
    Role(Role),
    /// That a role was done or drilled lately enough (A9).
    Recent(Role),
    /// A fit test.
    Fit {
        /// The model.
        respirator: String,
        /// The size.
        size: String,
    },
}

/// What nights lose when it lapses.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Kind {
    /// Somebody who may watch donnings.
    WatchDonnings,
    /// Somebody who may watch removals.
    WatchRemovals,
    /// Somebody who may assist removals.
    Assist,
    /// Somebody who may go in, or lead.
    Enter,
}

impl Kind {
    /// Every kind, in order.
    pub const ALL: [Self; 4] = [Self::WatchRemovals, Self::Assist, Self::WatchDonnings, Self::Enter];
}

impl Held {
    /// What nights lose when it lapses.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match self {
            Self::Role(role) | Self::Recent(role) => match role {
                Role::DonningObserver => Kind::WatchDonnings,
                Role::DoffingObserver => Kind::WatchRemovals,
                Role::Assistant => Kind::Assist,
                Role::Entrant | Role::SupervisedEntrant | Role::Preceptor | Role::Coordinator => Kind::Enter,
            },
            Self::Fit { .. } => Kind::Enter,
        }
    }
}

/// How soon.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Band {
    /// Its last day is before today.
    Over,
    /// Its last day is today or one of the next 7.
    Within7,
    /// One of the next 14.
    Within14,
    /// One of the next 30.
    Within30,
    /// Later, and before the end of a coming duty.
    Later,
}

impl Band {
    /// The band of something whose last day is so many days after today.
    #[must_use]
    pub const fn of(days_left: i64) -> Self {
        match days_left {
            ..0 => Self::Over,
            0..=7 => Self::Within7,
            8..=14 => Self::Within14,
            15..=30 => Self::Within30,
            _ => Self::Later,
        }
    }
}

/// A sign-off, recency or fit test that is over, or soon will be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lapse {
    /// The last day on which it is good.
    pub last: NaiveDate,
    /// Whose.
    pub person: String,
    /// What.
    pub held: Held,
    /// Days from today to the last day; below zero when it is over.
    pub days_left: i64,
    /// The coming nights of which its holder's duty is not covered to the end, as places in the list of nights.
    pub nights: Vec<usize>,
}

impl Lapse {
    /// How soon.
    #[must_use]
    pub const fn band(&self) -> Band {
        Band::of(self.days_left)
    }
}

/// Everything a person holds, with its last day. What was last done on a day that is not known has none.
pub(super) fn everything<'a>(night: &'a Night, person: &'a Person) -> impl Iterator<Item = (Held, NaiveDate)> + 'a {
    let recent =
        Role::ALL.into_iter().filter_map(|role| Some((Held::Recent(role), night.recent_through(person, role)?)));
    let signed = person.sign_offs.iter().map(|s| (Held::Role(s.role), s.valid_through));
    let fitted = person
        .fit_tests
        .iter()
        .map(|f| (Held::Fit { respirator: f.respirator.clone(), size: f.size.clone() }, f.valid_through));
    signed.chain(recent).chain(fitted)
}

/// The minute by which a person's duty of this night is over.
pub(super) fn end_of_duty(night: &Night, person: &Person) -> Minute {
    person.on_duty.intersection(night.roster.shift).to
}

/// Whether something good through `last` is over before the duty is.
pub(super) fn lapses_before(night: &Night, person: &Person, last: NaiveDate) -> bool {
    let duty = person.on_duty.intersection(night.roster.shift);
    !duty.is_empty() && night.roster.end_of_day(last) < duty.to
}

/// What is over, lapses within 30 days of today, or lapses before a coming duty ends; in order of its last day.
///
/// Rosters may disagree, as when one was written before a renewal: each day that is written is listed.
pub(super) fn lapses(nights: &[Coming], today: NaiveDate) -> Vec<Lapse> {
    let mut found: BTreeMap<(NaiveDate, String, Held), Vec<usize>> = BTreeMap::new();
    for (at, coming) in nights.iter().enumerate() {
        for person in &coming.night.roster.people {
            for (held, last) in latest(&coming.night, person) {
                let bites = lapses_before(&coming.night, person, last);
                let soon = (last - today).num_days() <= 30;
                if bites || soon {
                    let nights = found.entry((last, person.id.clone(), held)).or_default();
                    nights.extend(bites.then_some(at));
                }
            }
        }
    }
    let lapse = |((last, person, held), nights)| {
        let days_left = NaiveDate::signed_duration_since(last, today).num_days();
        Lapse { last, person, held, days_left, nights }
    };
    found.into_iter().map(lapse).collect()
}

/// What a person holds, each with the later day where it is written twice.
fn latest(night: &Night, person: &Person) -> BTreeMap<Held, NaiveDate> {
    let mut all = BTreeMap::new();
    for (held, last) in everything(night, person) {
        let day = all.entry(held).or_insert(last);
        *day = last.max(*day);
    }
    all
}

/// Who holds what until different days by different rosters.
pub(super) fn disagreements(nights: &[Coming]) -> Vec<(String, Held, Vec<NaiveDate>)> {
    let mut found: BTreeMap<(String, Held), Vec<NaiveDate>> = BTreeMap::new();
    let people = nights.iter().flat_map(|coming| coming.night.roster.people.iter().map(move |p| (&coming.night, p)));
    for (night, person) in people {
        for (held, last) in latest(night, person) {
            let days = found.entry((person.id.clone(), held)).or_default();
            days.push(last);
            days.sort_unstable();
            days.dedup();
        }
    }
    found.into_iter().filter(|(_, days)| days.len() > 1).map(|((person, held), days)| (person, held, days)).collect()
}
