//! Who enters under supervision, and beside whom (A5).

use super::roster::{Apart, PersonIx, Role, Roster};

impl Roster {
    /// The sign-off under which a person enters tonight, all night (A5):
    /// `entrant` if that is in date when the shift starts, else
    /// `supervised-entrant` if that is ever held.
    #[must_use]
    pub fn enters_as(&self, ix: PersonIx) -> Role {
        let person = self.person(ix);
        if person.signed_through(Role::SupervisedEntrant).is_none() {
            return Role::Entrant;
        }
        let alone = person.signed_through(Role::Entrant).is_some_and(|day| self.end_of_day(day) > self.shift.from);
        if alone { Role::Entrant } else { Role::SupervisedEntrant }
    }

    /// Whether a person enters tonight only beside a preceptor (A5).
    #[must_use]
    pub fn is_supervised(&self, ix: PersonIx) -> bool {
        self.enters_as(ix) == Role::SupervisedEntrant
    }

    /// Preceptors who share time on duty, in date, with a supervised entrant
    /// and may be in one room with them (A5, A6).
    #[must_use]
    pub fn preceptors_for(&self, supervised: PersonIx) -> Vec<PersonIx> {
        let duty = self.person(supervised).on_duty.intersection(self.shift);
        let may = |&ix: &PersonIx| {
            let person = self.person(ix);
            let together = person.on_duty.intersection(duty);
            let in_date = |role| person.signed_through(role).is_some_and(|day| self.end_of_day(day) > together.from);
            let enters = person.enter_today && in_date(Role::Entrant) && in_date(Role::Preceptor);
            enters && !together.is_empty() && !self.is_supervised(ix) && !self.kept_apart(ix, supervised, Apart::Room)
        };
        self.person_indices().filter(|&ix| ix != supervised).filter(may).collect()
    }
}
