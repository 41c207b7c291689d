//! A crew that is not there yet: how many people of which kind are asked about (H8).

use std::collections::BTreeSet;

use super::clock::Minutes;
use super::constraint_set::EnsembleIx;
use super::roster::{Lane, Person, RespiratorStock, Role, Roster, looks};
use super::{Night, PersonalLimits, Relief};

/// People who are alike. Who holds several roles stands in one group with all of them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Group {
    /// Its name.
    pub id: String,
    /// What each of them is signed off for.
    pub roles: Vec<Role>,
    /// The fewest that are asked about.
    pub from: u32,
    /// The most that are asked about; not below `from`.
    pub to: u32,
    /// One of them: rested, nothing worn before, without limits of their own. The id is not used.
    pub one: Person,
}

/// Something other than people that is tried with several figures.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Lever {
    /// Doffing lanes; the first ones of the roster, with more like them where there are too few.
    Lanes,
    /// The most people inside any one room, relief included.
    MaxInside,
    /// The relief style, as its place in [`Relief::ALL`].
    Relief,
    /// The longest continuous wear of an ensemble, in minutes.
    MaxWear(EnsembleIx),
    /// Respirators of one model and size, all of them ready when the shift starts.
    Respirators {
        /// The model.
        model: String,
        /// The size.
        size: String,
    },
}

impl Lever {
    /// Whether the second figure allows everything that the first one does.
    #[must_use]
    pub fn allows_no_less(&self, one: u32, other: u32) -> bool {
        match self {
            // Neither style allows what the other does; without one everything is allowed.
            Self::Relief => one == other || !Relief::at(other).is_forced(),
            Self::Lanes | Self::MaxInside | Self::MaxWear(_) | Self::Respirators { .. } => one <= other,
        }
    }
}

/// The figures that a lever is tried with, in rising order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tried {
    /// What is changed.
    pub lever: Lever,
    /// To what; never empty.
    pub values: Vec<u32>,
}

/// What a manager asks: which crews, on this roster, under these limits.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Question {
    /// Its name.
    pub name: String,
    /// Marked EXAMPLE (L5).
    pub example: bool,
    /// Whether the people of the roster are there too.
    pub keep_people: bool,
    /// The groups, in the order of the file; at least one.
    pub groups: Vec<Group>,
    /// What else is tried, each figure with each.
    pub tried: Vec<Tried>,
}

/// One crew of a question: how many of each group, and one figure of each lever.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Crew<'q> {
    /// What was asked.
    pub question: &'q Question,
    /// How many of each group, in the order of the groups.
    pub counts: Vec<u32>,
    /// A figure for each lever, in the order of the levers.
    pub settings: Vec<u32>,
}

impl Question {
    /// How many crews it asks about, at most `u64::MAX`.
    #[must_use]
    pub fn combinations(&self) -> u64 {
        let groups = self.groups.iter().map(|g| u64::from(g.to - g.from) + 1);
        let levers = self.tried.iter().map(|t| u64::try_from(t.values.len()).unwrap_or(u64::MAX));
        groups.chain(levers).fold(1, u64::saturating_mul)
    }

    /// Every number of each group with every other, the last group changing fastest.
    #[must_use]
    pub fn every_count(&self) -> Vec<Vec<u32>> {
        each_with_each(self.groups.iter().map(|group| group.from..=group.to))
    }

    /// A crew of so many of each group under the first figure of each lever.
    #[must_use]
    pub fn crew(&self, counts: Vec<u32>) -> Crew<'_> {
        let settings = self.tried.iter().map(|t| t.values.first().copied().unwrap_or(0)).collect();
        Crew { question: self, counts, settings }
    }

    /// Ids for the most people of every group: unlike each other and unlike those of the roster (J6).
    /// They do not depend on how many are asked about in one crew. `None` where ids run out.
    #[must_use]
    pub fn ids(&self, night: &Night) -> Option<Vec<Vec<String>>> {
        let kept = night.roster.people.iter().filter(|_| self.keep_people);
        let mut taken: BTreeSet<String> = kept.map(|person| looks(&person.id)).collect();
        let group = |group: &Group| (0..group.to).map(|_| next_id(letter(group), &mut taken)).collect();
        self.groups.iter().map(group).collect()
    }
}

/// Every choice of one figure from each, the last one changing fastest.
pub fn each_with_each<I: IntoIterator<Item = u32> + Clone>(all: impl IntoIterator<Item = I>) -> Vec<Vec<u32>> {
    all.into_iter().fold(vec![vec![]], |so_far, figures| {
        let longer = |chosen: &Vec<u32>| {
            let chosen = chosen.clone();
            figures.clone().into_iter().map(move |figure| [chosen.as_slice(), &[figure]].concat())
        };
        so_far.iter().flat_map(longer).collect()
    })
}

/// The letter that new people of a group are known by: that of what they are there for.
fn letter(group: &Group) -> char {
    match group.roles.first() {
        Some(Role::Entrant) | None => 'E',
        Some(Role::DonningObserver) => 'N',
        Some(Role::DoffingObserver) => 'W',
        Some(Role::Assistant) => 'A',
        Some(Role::SupervisedEntrant) => 'T',
        Some(Role::Preceptor) => 'P',
        Some(Role::Coordinator) => 'C',
    }
}

/// The next id that begins with `first`, or with the letters after it, and looks like none that is taken.
fn next_id(first: char, taken: &mut BTreeSet<String>) -> Option<String> {
    const LETTERS: &str = "ACDEFGHJKMNPRTUVWXY";
    let start = LETTERS.find(first).unwrap_or(0);
    let letters = LETTERS[start..].chars().chain(LETTERS[..start].chars());
    let mut ids = letters.flat_map(|letter| (1..100).map(move |number| format!("{letter}{number}")));
    ids.find(|id| taken.insert(looks(id)))
}

/// An id that looks like none on a roster (J6); `None` where ids run out.
#[must_use]
pub fn free_id(roster: &Roster) -> Option<String> {
    next_id('X', &mut roster.people.iter().map(|person| looks(&person.id)).collect())
}

impl Crew<'_> {
    /// How many people are asked about, those of the roster left aside.
    #[must_use]
    pub fn heads(&self) -> u32 {
        self.counts.iter().sum()
    }

    /// The night with this crew. Where the people of the roster are not kept, nothing that names one of them is
    /// either: pins, what is forbidden, people kept apart, huddles and the logs of earlier wear and shifts.
    ///
    /// # Panics
    /// When there are more people than ids, which no reader lets in.
    #[must_use]
    pub fn night(&self, night: &Night) -> Night {
        let mut changed = night.clone();
        let roster = &mut changed.roster;
        if !self.question.keep_people {
            roster.people.clear();
            roster.wear_log.clear();
            roster.duty_log.clear();
            roster.apart.clear();
            roster.huddles.clear();
            roster.pins.clear();
            roster.forbidden.clear();
        }
        let ids = self.question.ids(night).expect("readers let in no more people than there are ids");
        for ((group, &count), ids) in self.question.groups.iter().zip(&self.counts).zip(ids) {
            let count = usize::try_from(count).unwrap_or(usize::MAX);
            let new = ids.into_iter().take(count).map(|id| Person { id, ..group.one.clone() });
            roster.people.extend(new);
        }
        for (tried, &value) in self.question.tried.iter().zip(&self.settings) {
            changed.set(&tried.lever, value);
        }
        changed
    }
}

impl Group {
    /// Somebody like `model`, signed off for `roles` alone as long as `model` is.
    #[must_use]
    pub fn like(model: &Person, roles: &[Role]) -> Person {
        let sign_offs = model.sign_offs.iter().copied().filter(|s| roles.contains(&s.role));
        Person {
            last_off_duty: None,
            last_removal: None,
            worn_before: Minutes::ZERO,
            enter_today: true,
            doffing_area_today: true,
            sign_offs: sign_offs.collect(),
            own: PersonalLimits::default(),
            ..model.clone()
        }
    }
}

impl Night {
    /// Puts one lever to one figure.
    fn set(&mut self, lever: &Lever, value: u32) {
        match lever {
            Lever::Lanes => self.set_lanes(usize::try_from(value).unwrap_or(usize::MAX)),
            Lever::MaxInside => self.roster.rooms.iter_mut().for_each(|room| room.max_inside = value),
            Lever::Relief => self.limits.relief = Relief::at(value),
            Lever::MaxWear(ensemble) => self.limits.ensembles[ensemble.0].max_wear = Minutes(i64::from(value)),
            Lever::Respirators { model, size } => {
                let other = |r: &RespiratorStock| r.respirator != *model || r.size != *size;
                self.roster.respirators.retain(other);
                let units =
                    RespiratorStock { respirator: model.clone(), size: size.clone(), count: value, ready_from: None };
                self.roster.respirators.push(units);
            }
        }
    }

    /// The first so many lanes, or all and more that are never shut.
    pub(crate) fn set_lanes(&mut self, count: usize) {
        let lanes = &mut self.roster.lanes;
        lanes.truncate(count);
        let mut number = 1;
        while lanes.len() < count {
            let id = number.to_string();
            if lanes.iter().all(|lane| lane.id != id) {
                lanes.push(Lane { id, closures: vec![] });
            }
            number += 1;
        }
    }
}
