//! A night on which some people are missing.

use std::collections::BTreeSet;

use super::{Night, PersonIx};

impl Night {
    /// The same night without these people, and without any pin: pins are settled for one night, with the people who
    /// are there. What is forbidden to those left, their wear before and who is kept apart from whom stays.
    ///
    /// Without pins a night with more people can always be worked as one with fewer of them: whoever is added has no
    /// duty. So what is missed never grows when somebody comes.
    #[must_use]
    pub fn with_missing(&self, missing: &BTreeSet<PersonIx>) -> Self {
        let mut night = self.clone();
        let roster = &mut night.roster;
        let mut next = 0;
        let new: Vec<Option<PersonIx>> = self
            .roster
            .person_indices()
            .map(|ix| {
                let here = !missing.contains(&ix);
                next += usize::from(here);
                here.then(|| PersonIx(next - 1))
            })
            .collect();
        let mut stays = new.iter().map(Option::is_some);
        roster.people.retain(|_| stays.next().unwrap_or(true));
        roster.pins.clear();
        keep(&mut roster.forbidden, &new, |forbidden| [&mut forbidden.person]);
        keep(&mut roster.wear_log, &new, |wear| [&mut wear.person]);
        keep(&mut roster.duty_log, &new, |duty| [&mut duty.person]);
        keep(&mut roster.apart, &new, |pair| [&mut pair.one, &mut pair.other]);
        for huddle in &mut roster.huddles {
            keep(&mut huddle.people, &new, |person| [person]);
        }
        roster.huddles.retain(|huddle| !huddle.people.is_empty());
        night
    }
}

/// Gives each its new people, and drops those that name somebody who is missing.
fn keep<T, const N: usize>(list: &mut Vec<T>, new: &[Option<PersonIx>], people: impl Fn(&mut T) -> [&mut PersonIx; N]) {
    list.retain_mut(|one| {
        let people = people(one);
        let here = people.iter().all(|person| new[person.0].is_some());
        people.into_iter().for_each(|person| *person = new[person.0].unwrap_or(*person));
        here
    });
}
