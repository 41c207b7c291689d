//! The same night with other sign-offs: what would be if something had been renewed.

use chrono::{Days, NaiveDate};

use super::lapse::{Held, end_of_duty, lapses_before};
use crate::night::{Night, Person, Role, SignOff};

/// The roles by which somebody watches or assists.
pub(super) const HELPING: [Role; 3] = [Role::DoffingObserver, Role::Assistant, Role::DonningObserver];

/// The night with everything renewed that lapses before its holder's duty ends and that `which` names.
pub(super) fn renewed(night: &Night, which: impl Fn(&Held, NaiveDate) -> bool) -> Night {
    let mut new = night.clone();
    for (person, old) in new.roster.people.iter_mut().zip(&night.roster.people) {
        let far = far(night, old);
        let lapses = |held: &Held, last| lapses_before(night, old, last) && which(held, last);
        for sign_off in &mut person.sign_offs {
            if lapses(&Held::Role(sign_off.role), sign_off.valid_through) {
                sign_off.valid_through = far;
            }
            // A day that is not known is like one long past: a drill is what it takes.
            let recent = night.recent_through(old, sign_off.role).unwrap_or(NaiveDate::MIN);
            let asked = night.limits.recency_of(sign_off.role).is_some();
            if asked && lapses(&Held::Recent(sign_off.role), recent) {
                sign_off.last_done = Some(far);
            }
        }
        for test in &mut person.fit_tests {
            let held = Held::Fit { respirator: test.respirator.clone(), size: test.size.clone() };
            if lapses(&held, test.valid_through) {
                test.valid_through = far;
            }
        }
    }
    new
}

/// A day after the duty is over.
fn far(night: &Night, person: &Person) -> NaiveDate {
    let end = night.roster.clock.date(end_of_duty(night, person));
    end.checked_add_days(Days::new(2)).unwrap_or(end)
}

/// The night as if everybody were signed off to watch and to assist.
pub(super) fn everybody_helps(night: &Night) -> Night {
    let mut new = night.clone();
    for (person, old) in new.roster.people.iter_mut().zip(&night.roster.people) {
        let valid_through = far(night, old);
        person.sign_offs.retain(|s| !HELPING.contains(&s.role));
        let fresh = |role| SignOff { role, valid_through, last_done: Some(valid_through) };
        person.sign_offs.extend(HELPING.map(fresh));
    }
    new
}

/// The night with one person's sign-offs for a role as `from` has them.
pub(super) fn as_it_is(night: &Night, from: &Night, at: usize, role: Role) -> Night {
    let mut new = night.clone();
    let own = from.roster.people[at].sign_offs.iter().filter(|s| s.role == role).copied();
    let person = &mut new.roster.people[at];
    person.sign_offs.retain(|s| s.role != role);
    person.sign_offs.extend(own);
    new
}

/// The night without one person's sign-off for a role.
pub(super) fn without(night: &Night, at: usize, role: Role) -> Night {
    let mut new = night.clone();
    new.roster.people[at].sign_offs.retain(|s| s.role != role);
    new
}
