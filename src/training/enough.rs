//! The smallest set of sign-offs to renew or train, so that every coming night has enough people to spare.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::lapse::lapses_before;
use super::outlook::{Coming, Ready};
use crate::night::Role;
use crate::plan::{Want, fewest};

/// What is to be done about a sign-off.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum ToDo {
    /// It lapses.
    Renew,
    /// The role was last done too long ago, or nobody knows when (A9).
    Drill,
    /// Both.
    RenewAndDrill,
    /// The person never held it, as far as the rosters know.
    Train,
}

/// One sign-off to see to.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct SignOffToDo {
    /// The day of the night by whose start it is to be in force.
    pub by: NaiveDate,
    /// Which.
    pub role: Role,
    /// Whose.
    pub person: String,
    /// What it takes.
    pub todo: ToDo,
}

/// What it takes.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Enough {
    /// The fewest sign-offs, in order of date. Proven: no smaller set does it.
    pub sign_offs: Vec<SignOffToDo>,
    /// Watches and spells that stay short however many of these people are trained: night, role, how many more people
    /// it takes.
    pub short: Vec<(usize, Role, usize)>,
}

/// A sign-off that could be seen to.
type Choice = (Role, String);

/// One watch or spell: on which night, who can do it without more, and who could with a sign-off.
struct Asked {
    night: usize,
    role: Role,
    missing: usize,
    by: Vec<usize>,
}

/// Everything that could be renewed or trained, and every watch that asks for it.
struct Question {
    choices: Vec<Choice>,
    dear: Vec<bool>,
    asked: Vec<Asked>,
}

/// The answer, counted once more. `None` is a mistake of this program.
pub(super) fn enough(nights: &[Coming], ready: &[Ready], spare: usize) -> Option<Enough> {
    let question = question(nights, ready, spare);
    let wants: Vec<Want> = question.asked.iter().map(|a| Want { missing: a.missing, by: a.by.clone() }).collect();
    let answer = fewest(&question.dear, &wants)?;
    let chosen: BTreeSet<usize> = answer.chosen.iter().copied().collect();
    let from = as_late_as_possible(&question, &chosen);
    if !is_enough(&question, &from) {
        return None;
    }
    let day = |night: usize| nights[night].night.roster.clock.date(nights[night].night.roster.shift.from);
    let mut sign_offs: Vec<SignOffToDo> = from
        .iter()
        .map(|(&choice, &night)| SignOffToDo {
            by: day(night),
            role: question.choices[choice].0,
            person: question.choices[choice].1.clone(),
            todo: if question.dear[choice] { ToDo::Train } else { todo(&nights[night..], &question.choices[choice]) },
        })
        .collect();
    sign_offs.sort();
    let mut short: BTreeMap<(usize, Role), usize> = BTreeMap::new();
    for (asked, &by) in question.asked.iter().zip(&answer.short).filter(|(_, by)| **by > 0) {
        let most = short.entry((asked.night, asked.role)).or_default();
        *most = by.max(*most);
    }
    let short = short.into_iter().map(|((night, role), by)| (night, role, by)).collect();
    Some(Enough { sign_offs, short })
}

/// What somebody who held a role needs for it from the first of these nights on.
fn todo(nights: &[Coming], (role, id): &Choice) -> ToDo {
    let (mut to_renew, mut to_drill) = (false, false);
    for night in nights.iter().map(|coming| &coming.night) {
        for person in night.roster.people.iter().filter(|p| p.id == *id) {
            let signed = person.signed_through(*role).is_some_and(|last| lapses_before(night, person, last));
            let asked = night.limits.recency_of(*role).is_some();
            let recent = night.recent_through(person, *role).is_none_or(|last| lapses_before(night, person, last));
            to_renew = to_renew || signed;
            to_drill = to_drill || (asked && recent);
        }
    }
    match (to_renew, to_drill) {
        (true, true) => ToDo::RenewAndDrill,
        (false, true) => ToDo::Drill,
        (_, false) => ToDo::Renew,
    }
}

fn question(nights: &[Coming], ready: &[Ready], spare: usize) -> Question {
    let mut choices: BTreeSet<Choice> = BTreeSet::new();
    let id = |night: usize, person: crate::night::PersonIx| nights[night].night.roster.person(person).id.clone();
    for (night, ready) in ready.iter().enumerate() {
        for one in &ready.pieces {
            choices.extend(one.could.iter().map(|&person| (one.role, id(night, person))));
        }
    }
    let choices: Vec<Choice> = choices.into_iter().collect();
    let place: BTreeMap<&Choice, usize> = choices.iter().enumerate().map(|(at, choice)| (choice, at)).collect();
    let mut asked = Vec::new();
    for (night, ready) in ready.iter().enumerate() {
        for one in &ready.pieces {
            let by = one.could.iter().filter_map(|&person| place.get(&(one.role, id(night, person))).copied());
            let mut by: Vec<usize> = by.collect();
            by.sort_unstable();
            let missing = (1 + spare).saturating_sub(one.can.len());
            if missing > 0 {
                asked.push(Asked { night, role: one.role, missing, by });
            }
        }
    }
    let held = |choice: &Choice| {
        nights.iter().any(|coming| {
            coming.night.roster.people.iter().any(|p| p.id == choice.1 && p.signed_through(choice.0).is_some())
        })
    };
    let dear = choices.iter().map(|choice| !held(choice)).collect();
    Question { choices, dear, asked }
}

/// From which night on each chosen sign-off is needed, if all stay that are needed sooner: the last first night with
/// which everything still has what it can have.
fn as_late_as_possible(question: &Question, chosen: &BTreeSet<usize>) -> BTreeMap<usize, usize> {
    let mut from: BTreeMap<usize, usize> = chosen.iter().map(|&choice| (choice, 0)).collect();
    let nights = question.asked.iter().map(|a| a.night).max().unwrap_or(0);
    for &choice in chosen {
        for night in (0..=nights).rev() {
            from.insert(choice, night);
            if is_enough(question, &from) {
                break;
            }
        }
    }
    from
}

/// Whether every watch has what it can have: counted, not solved.
fn is_enough(question: &Question, from: &BTreeMap<usize, usize>) -> bool {
    question.asked.iter().all(|asked| {
        let in_force = |choice: &&usize| from.get(choice).is_some_and(|&night| night <= asked.night);
        asked.by.iter().filter(in_force).count() >= asked.missing.min(asked.by.len())
    })
}
