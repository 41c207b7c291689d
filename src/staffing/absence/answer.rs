//! What all nights together come to.

use std::collections::BTreeMap;

use super::list::{Crew, List, Missing};
use super::outcome::Proof;
use super::work::{Known, Settled};
use crate::night::{Minutes, Night, Role};
use crate::staffing::Missed;

/// A role held by fewer people is not counted by itself: it would say of a person what is said of the role.
const FEWEST_HOLDERS: usize = 3;

/// What is certain about a case.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum State {
    /// Nothing is missed: there is a checked rota.
    Covered,
    /// Something is missed in the best rota found; there may be one that misses nothing.
    Unproven,
    /// Something is missed with every rota; the amount is the best found.
    Gap,
    /// No rota misses less.
    GapProven,
}

/// A case after all cases are known.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Final {
    missed: Missed,
    state: State,
    /// Whether it is covered because a night with more people missing is.
    follows: bool,
}

/// Nights counted together.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Tally {
    /// Nights.
    pub nights: u32,
    /// Those on which nothing is missed.
    pub covered: u32,
    /// Person-minutes of presence short on all of them.
    pub minutes: i64,
}

impl Tally {
    fn add(&mut self, case: &Final) {
        self.nights += 1;
        self.covered += u32::from(case.state == State::Covered);
        self.minutes += case.missed.person_minutes().0;
    }
}

/// One of the nights.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct OneNight {
    /// How many of the crew are missing.
    pub missing: usize,
    /// What is certain about it.
    pub state: State,
    /// Person-minutes of presence short.
    pub minutes: i64,
}

/// What all nights of one crew come to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Answer {
    /// People of the crew.
    pub people: usize,
    /// All nights.
    pub all: Tally,
    /// Nights by what is certain about them.
    pub states: BTreeMap<State, u32>,
    /// Nights by person-minutes of presence short.
    pub by_minutes: BTreeMap<i64, u32>,
    /// Nights by how many of the crew are missing.
    pub by_missing: BTreeMap<usize, Tally>,
    /// Nights by role, with how many of the crew hold it, and by how many of those are missing.
    pub by_role: Vec<(Role, usize, BTreeMap<usize, Tally>)>,
    /// Nights on which standby or early-exit cover is missing, where the unit has it reported.
    pub rescue: u32,
    /// Nights on which presence is short.
    pub short: u32,
    /// Nights with a must-do task not done.
    pub must: u32,
    /// Nights with a skill missing inside.
    pub skill: u32,
    /// Nights with a wanted task not done.
    pub wanted: u32,
    /// Every night, in order.
    pub nights: Vec<OneNight>,
}

/// What all crews come to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Answers {
    /// Crew by crew.
    pub crews: Vec<Answer>,
    /// Cases: nights on which the same people are there are one.
    pub cases: usize,
    /// Cases that are covered because others are on which fewer people are there.
    pub follow: usize,
}

/// A case that is not known, or follows from none: the results are not those of this list.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Unsettled(pub usize);

/// Puts together what is known of every case.
///
/// A case is covered if one on which fewer people are there is; no case misses more than such a one; and a gap that is
/// certain with more people there is certain. So the answer is the same whichever cases were planned and whichever
/// followed.
///
/// # Errors
/// A case is not settled.
pub fn answers(night: &Night, crews: &[Crew], list: &List, known: &Known) -> Result<Answers, Unsettled> {
    let number = list.cases().len();
    let cases: Vec<Final> = (0..number).map(|case| last(list.cases(), known, case)).collect::<Result<_, _>>()?;
    let answer = |(place, crew): (usize, &Crew)| {
        let mut answer = Answer::nothing(night, &crew.without);
        for &case in list.nights(place) {
            answer.add(night, &(&list.cases()[case] - &crew.without), &cases[case]);
        }
        answer
    };
    Ok(Answers {
        crews: crews.iter().enumerate().map(answer).collect(),
        cases: number,
        follow: cases.iter().filter(|case| case.follows).count(),
    })
}

impl Answer {
    /// No night yet.
    fn nothing(night: &Night, without: &Missing) -> Self {
        Self {
            people: night.roster.people.len() - without.len(),
            all: Tally::default(),
            states: BTreeMap::new(),
            by_minutes: BTreeMap::new(),
            by_missing: BTreeMap::new(),
            by_role: roles(night, without),
            rescue: 0,
            short: 0,
            must: 0,
            skill: 0,
            wanted: 0,
            nights: vec![],
        }
    }

    fn add(&mut self, night: &Night, missing: &Missing, case: &Final) {
        let missed = &case.missed;
        self.all.add(case);
        *self.states.entry(case.state).or_default() += 1;
        *self.by_minutes.entry(missed.person_minutes().0).or_default() += 1;
        self.by_missing.entry(missing.len()).or_default().add(case);
        for (role, _, tallies) in &mut self.by_role {
            let holders = missing.iter().filter(|&&ix| night.roster.person(ix).signed_through(*role).is_some());
            tallies.entry(holders.count()).or_default().add(case);
        }
        let counts = [
            (&mut self.rescue, missed.rescue > Minutes::ZERO),
            (&mut self.short, missed.person_minutes() > Minutes::ZERO),
            (&mut self.must, missed.must > 0),
            (&mut self.skill, missed.skill > Minutes::ZERO),
            (&mut self.wanted, missed.wanted > 0),
        ];
        counts.into_iter().for_each(|(count, is_missed)| *count += u32::from(is_missed));
        self.nights.push(OneNight { missing: missing.len(), state: case.state, minutes: missed.person_minutes().0 });
    }

    /// Whether each night is covered, in order.
    #[must_use]
    pub fn covered(&self) -> Vec<bool> {
        self.nights.iter().map(|night| night.state == State::Covered).collect()
    }

    /// Person-minutes short of each night, in order.
    #[must_use]
    pub fn minutes(&self) -> Vec<i64> {
        self.nights.iter().map(|night| night.minutes).collect()
    }

    /// Nights in a state.
    #[must_use]
    pub fn in_state(&self, state: State) -> u32 {
        self.states.get(&state).copied().unwrap_or(0)
    }

    /// The least amount that is not exceeded on at least `percent` of 100 nights: the nearest rank, no figure between
    /// two nights is made up.
    #[must_use]
    pub fn percentile(&self, percent: u32) -> i64 {
        let rank = (u64::from(self.all.nights) * u64::from(percent)).div_ceil(100).max(1);
        let mut seen = 0;
        let reached = self.by_minutes.iter().find(|(_, nights)| {
            seen += u64::from(**nights);
            seen >= rank
        });
        reached.map_or(0, |(minutes, _)| *minutes)
    }
}

/// Every role that enough people of a crew hold to be counted by itself.
fn roles(night: &Night, without: &Missing) -> Vec<(Role, usize, BTreeMap<usize, Tally>)> {
    let crew = || night.roster.person_indices().filter(|ix| !without.contains(ix));
    let holders = |role| crew().filter(|&ix| night.roster.person(ix).signed_through(role).is_some()).count();
    let held = Role::ALL.into_iter().map(|role| (role, holders(role), BTreeMap::new()));
    held.filter(|(_, holders, _)| *holders >= FEWEST_HOLDERS).collect()
}

/// What is certain about a case when all are known.
fn last(cases: &[Missing], known: &Known, case: usize) -> Result<Final, Unsettled> {
    let more = || known.iter().filter(|(other, _)| cases[case].is_subset(&cases[**other]));
    let whole = |(other, settled): (&usize, &Settled)| settled.is_planned_whole().then_some(*other);
    let covered: Vec<usize> = more().filter_map(whole).collect();
    let Some(Settled::Planned(own)) = known.get(&case) else {
        let Some(by) = covered.first() else { return Err(Unsettled(case)) };
        let nothing = known.get(by).and_then(planned).map(|outcome| outcome.missed.clone()).ok_or(Unsettled(case))?;
        return Ok(Final { missed: nothing, state: State::Covered, follows: true });
    };
    let least = more().filter_map(|(_, settled)| planned(settled)).map(|outcome| &outcome.missed).min();
    let missed = least.unwrap_or(&own.missed).clone();
    let fewer = known.iter().filter(|(other, _)| cases[**other].is_subset(&cases[case]));
    let is_gap =
        fewer.filter_map(|(_, settled)| planned(settled)).any(|o| !o.missed.is_nothing() && o.proof >= Proof::Gap);
    let state = match (missed.is_nothing(), is_gap) {
        (true, _) => State::Covered,
        (false, true) if own.proof == Proof::Amount => State::GapProven,
        (false, true) => State::Gap,
        (false, false) => State::Unproven,
    };
    Ok(Final { missed, state, follows: covered.iter().any(|&other| other != case) })
}

const fn planned(settled: &Settled) -> Option<&super::outcome::Outcome> {
    match settled {
        Settled::Planned(outcome) => Some(outcome),
        Settled::Follows => None,
    }
}
