//! Which resource binds: one thing more, or one rule less, and what that does to what is missed.

use super::cover::{Cover, Wrong, cover};
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
    /// What the crew misses then.
    pub cover: Cover,
}

/// Relaxes each thing alone for one crew, two at a time. What makes no sense there, such as an assistant where none is
/// needed or known, is left out.
///
/// # Errors
/// A rota failed the check.
pub fn effects(night: &Night, crew: &Crew<'_>, effort: Effort, watch: &dyn Watch) -> Result<Vec<Effect>, Box<Wrong>> {
    let base = crew.night(night);
    let changed: Vec<(Relaxed, Night)> =
        ALL.into_iter().filter_map(|relaxed| Some((relaxed, relax(night, crew, &base, relaxed)?))).collect();
    let mut effects = Vec::new();
    for pair in changed.chunks(2) {
        let covers = side_by_side(pair.iter().map(|(_, night)| move || cover(night, effort, watch)));
        for ((relaxed, _), cover) in pair.iter().zip(covers) {
            effects.push(Effect { relaxed: *relaxed, cover: cover? });
        }
    }
    Ok(effects)
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
