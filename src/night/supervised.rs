//! Who enters under supervision, and beside whom (A5).

use super::Night;
use super::roster::{Apart, PersonIx, Role};

impl Night {
    /// The sign-off under which a person enters tonight, all night (A5):
    /// `entrant` if that is in date when the shift starts, else
    /// `supervised-entrant` if that is ever held.
    #[must_use]
    pub fn enters_as(&self, ix: PersonIx) -> Role {
        let person = self.roster.person(ix);
        if person.signed_through(Role::SupervisedEntrant).is_none() {
            return Role::Entrant;
        }
        let alone = self.good_until(person, Role::Entrant).is_some_and(|until| until > self.roster.shift.from);
        if alone { Role::Entrant } else { Role::SupervisedEntrant }
    }

    /// Whether a person enters tonight only beside a preceptor (A5).
    #[must_use]
    pub fn is_supervised(&self, ix: PersonIx) -> bool {
        self.enters_as(ix) == Role::SupervisedEntrant
    }

    /// Preceptors who share time on duty, in date and with duties left (F8), with a supervised entrant
    /// and may be in one room with them (A5, A6).
    #[must_use]
    pub fn preceptors_for(&self, supervised: PersonIx) -> Vec<PersonIx> {
        let roster = &self.roster;
        let duty = roster.person(supervised).on_duty.intersection(roster.shift);
        let may = |&ix: &PersonIx| {
            let person = roster.person(ix);
            let together = person.on_duty.intersection(duty);
            let in_date = |role| self.good_until(person, role).is_some_and(|until| until > together.from);
            let enters = person.enter_today && in_date(Role::Entrant) && in_date(Role::Preceptor);
            let enters = enters && !self.works_too_much(ix);
            enters && !together.is_empty() && !self.is_supervised(ix) && !roster.kept_apart(ix, supervised, Apart::Room)
        };
        roster.person_indices().filter(|&ix| ix != supervised).filter(may).collect()
    }
}
