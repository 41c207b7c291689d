//! On how many people a night rests, any one of whom could be missed by nobody else.

use super::outlook::{Planner, Tried};
use super::renewed::{HELPING, without};
use super::takeover::{handed_over, pieces};
use crate::check::is_clean;
use crate::night::{Night, PersonIx, Role, Rota};

/// How many people are needed, each of them, in a role. Never who.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Rests {
    /// In which role.
    pub role: Role,
    /// How many.
    pub people: usize,
}

/// For each role of those who watch and assist, the people without whose sign-off the night would lose something:
/// nobody can take over from them in the rota, and no other rota was found that loses nothing.
pub(super) fn rests<E>(night: &Night, now: &Tried, planner: &mut Planner<'_, E>) -> Result<Vec<Rests>, E> {
    let mut all = Vec::new();
    for role in HELPING {
        let mut people = 0;
        for person in night.roster.person_indices() {
            people += usize::from(is_needed(night, now, person, role, planner)?);
        }
        if people > 0 {
            all.push(Rests { role, people });
        }
    }
    Ok(all)
}

fn is_needed<E>(
    night: &Night,
    now: &Tried,
    person: PersonIx,
    role: Role,
    planner: &mut Planner<'_, E>,
) -> Result<bool, E> {
    let less = without(night, person.0, role);
    if can_be_done_without(&less, &now.rota, person, role) {
        return Ok(false);
    }
    let other = planner.cover(&less)?;
    Ok(other.missed() > now.missed())
}

/// Whether others take over everything this person does in the role, one piece after another.
fn can_be_done_without(less: &Night, rota: &Rota, person: PersonIx, role: Role) -> bool {
    let mut rota = rota.clone();
    // Until the last piece is handed over the rota breaks A1 by those that are left, so each is tried in a night in
    // which only this person is signed off besides.
    let mut left: Vec<_> = pieces(less, &rota).into_iter().filter(|p| p.by == person && p.role == role).collect();
    while let Some(piece) = left.pop() {
        let others = less.roster.person_indices().filter(|&other| other != person);
        let mut tries = others.map(|to| handed_over(less, &rota, &piece, to));
        let done = |new: &Rota| only_this_is_left(less, new, person, role);
        let Some(new) = tries.find(done) else { return false };
        rota = new;
    }
    is_clean(less, &rota)
}

/// Whether nothing is wrong with the rota but that this person still has pieces of the role.
fn only_this_is_left(less: &Night, rota: &Rota, person: PersonIx, role: Role) -> bool {
    let mut lenient = less.clone();
    let valid_through = chrono::NaiveDate::MAX;
    lenient.roster.people[person.0].sign_offs.push(crate::night::SignOff {
        role,
        valid_through,
        last_done: Some(valid_through),
    });
    is_clean(&lenient, rota)
}
