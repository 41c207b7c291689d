//! Which resource binds: one thing more, or one rule less, and what that does to what is missed.

use super::cover::{Cover, Wrong, cover};
use super::hand::{Bound, short};
use crate::check::Missed;
use crate::night::{Crew, Group, Night, Person, Role, Rule};
use crate::plan::{Effort, Watch, side_by_side};

/// One thing that is relaxed, everything else as it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Relaxed {
    /// One more person who holds this role and no other.
    Person(Role),
    /// One more doffing lane.
    Lane,
    /// No rest between two wears; recovery stays.
    Rest,
    /// No limit on wear in the shift.
    WearInShift,
    /// Kits and respirators without end.
    Stock,
}

/// Everything that is relaxed, in the order in which it is shown.
pub const ALL: [Relaxed; 8] = [
    Relaxed::Person(Role::Entrant),
    Relaxed::Person(Role::DonningObserver),
    Relaxed::Person(Role::DoffingObserver),
    Relaxed::Person(Role::Assistant),
    Relaxed::Lane,
    Relaxed::Rest,
    Relaxed::WearInShift,
    Relaxed::Stock,
];

/// What one relaxation came to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Effect {
    /// What was relaxed.
    pub relaxed: Relaxed,
    /// Why it does not close by itself, where arithmetic says so.
    pub still: Option<Bound>,
    /// What the crew misses then; `None` where arithmetic was enough.
    pub cover: Option<Cover>,
}

impl Effect {
    /// Whether nothing is missed any more.
    #[must_use]
    pub fn closes(&self) -> bool {
        self.cover.as_ref().is_some_and(|cover| cover.missed.is_nothing())
    }
}

/// How things are relaxed.
#[derive(Clone, Copy)]
pub struct Relaxing<'a> {
    /// The night as the roster has it.
    pub night: &'a Night,
    /// How long to look at each.
    pub effort: Effort,
    /// Whether also to plan what arithmetic shows to stay short.
    pub all: bool,
    /// Who follows.
    pub watch: &'a dyn Watch,
}

impl Relaxing<'_> {
    /// Relaxes each thing alone for one crew that misses `before`, two at a time. What makes no sense there, such as an
    /// assistant where none is needed or known, is left out.
    ///
    /// # Errors
    /// A rota failed the check.
    pub fn effects(self, crew: &Crew<'_>, before: &Missed) -> Result<Vec<Effect>, Box<Wrong>> {
        let base = crew.night(self.night);
        let relaxed = ALL.into_iter().filter_map(|relaxed| Some((relaxed, relax(self.night, crew, &base, relaxed)?)));
        let changed: Vec<(Relaxed, Night)> = relaxed.collect();
        let mut effects = Vec::new();
        for pair in changed.chunks(2) {
            let looked = side_by_side(pair.iter().map(|(relaxed, night)| move || self.effect(*relaxed, night, before)));
            for effect in looked {
                effects.push(effect?);
            }
        }
        Ok(effects)
    }

    fn effect(self, relaxed: Relaxed, night: &Night, before: &Missed) -> Result<Effect, Box<Wrong>> {
        let still = short(night);
        let cover = if self.all || still.is_none() {
            Some(no_worse(cover(night, self.effort, self.watch)?, before))
        } else {
            None
        };
        Ok(Effect { relaxed, still, cover })
    }
}

/// The rota of the crew as it is keeps every rule that is left: a search that was less lucky must not say otherwise.
fn no_worse(cover: Cover, before: &Missed) -> Cover {
    if cover.missed > *before { Cover { missed: before.clone(), proven_best: false, ..cover } } else { cover }
}

fn relax(night: &Night, crew: &Crew<'_>, base: &Night, relaxed: Relaxed) -> Option<Night> {
    match relaxed {
        Relaxed::Person(role) => one_more(night, crew, base, role),
        Relaxed::Lane => {
            let mut more = base.clone();
            more.set_lanes(base.roster.lanes.len() + 1);
            Some(more)
        }
        Relaxed::Rest => base.without(Rule::B4),
        Relaxed::WearInShift => base.without(Rule::B6),
        Relaxed::Stock => base.without(Rule::G1)?.without(Rule::G2),
    }
}

/// The night with one more person of one role, like one of the first group that holds it, or of the roster.
fn one_more(night: &Night, crew: &Crew<'_>, base: &Night, role: Role) -> Option<Night> {
    let needed = role != Role::Assistant || base.limits.assistant_kit.is_some();
    let groups = crew.question.groups.iter().map(|group| &group.one);
    let holds = |person: &&Person| person.signed_through(role).is_some();
    let model = groups.chain(&night.roster.people).find(holds).filter(|_| needed)?;
    let mut more = base.clone();
    let id = crate::night::free_id(&more.roster)?;
    more.roster.people.push(Person { id, ..Group::like(model, &[role]) });
    Some(more)
}
