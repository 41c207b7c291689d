//! A9: a role was done or drilled lately enough, a second date beside the sign-off.
//!
//! The days are counted on a calendar, by hand: 2031 is no leap year, 2032 is; February 2031 has 28 days.

use anteroom::check::{By, review};
use anteroom::night::{Minutes, Night, PersonIx, Recency, Role, Rule, SignOff};
use chrono::NaiveDate;

use crate::common::*;

/// The unit asks for a role within so many days; everybody did everything on 1 March but this person this role.
fn asked(night: Night, days: u32, person: PersonIx, role: Role, done: Option<NaiveDate>) -> Night {
    let mut night = night;
    night.limits.recency = vec![Recency { role, days }];
    for someone in &mut night.roster.people {
        someone.sign_offs.iter_mut().for_each(|s| s.last_done = Some(day(2031, 3, 1)));
    }
    let own = night.roster.people[person.0].sign_offs.iter_mut().filter(|s| s.role == role);
    own.for_each(|s| s.last_done = done);
    night
}

#[test]
fn a9_is_good_to_the_end_of_its_day_and_not_a_step_longer() {
    // Done on 2 February, 30 days: 28 of February less 2 are 26, and 4 of March. The last item is off at 21:20 in the
    // plain visit: 160 minutes later that is 24:00 on 4 March.
    let night = asked(plain_night(), 30, KB, Role::Entrant, Some(day(2031, 2, 2)));
    accepted(&night, &later(plain_visit(), 160));
    let faults = refused(&night, &later(plain_visit(), 165), &[Rule::A9]);
    assert_eq!(faults[0].by, Some(By::Minutes(Minutes(5))));
    assert_eq!(faults[0].people, [KB]);
    assert_eq!(
        faults[0].what,
        "KB as entrant: last done 2031-02-02, recency 30 days, good through 2031-03-04; this duty ends 00:05, 5 min \
         later."
    );
    let a_day_more = asked(plain_night(), 31, KB, Role::Entrant, Some(day(2031, 2, 2)));
    accepted(&a_day_more, &later(plain_visit(), 165));
    // From the leap day of 2028, the 60th of 366: 306 days are left of that year, and 4 March 2031 is the 63rd of its.
    let over_years = |days| asked(plain_night(), days, DW, Role::DoffingObserver, Some(day(2028, 2, 29)));
    accepted(&over_years(306 + 365 + 365 + 63), &plain_visit());
    refused(&over_years(306 + 365 + 365 + 62), &plain_visit(), &[Rule::A9, Rule::B3]);
}

#[test]
fn a9_holds_for_each_helper_to_the_end_of_the_own_duty() {
    let cases = [(EN, Role::DonningObserver, 240), (DW, Role::DoffingObserver, 145), (AL, Role::Assistant, 145)];
    for (helper, role, late) in cases {
        let night = asked(assisted_night(), 30, helper, role, Some(day(2031, 2, 2)));
        accepted(&night, &later(assisted_visit(), late));
        // Whoever helps with the removal bounds OUT-BY too.
        let rules: &[Rule] = if helper == EN { &[Rule::A9] } else { &[Rule::A9, Rule::B3] };
        refused(&night, &later(assisted_visit(), late + 5), rules);
    }
}

#[test]
fn a9_a_day_that_is_not_known_is_not_lately_enough() {
    let night = asked(plain_night(), 3_660, DW, Role::DoffingObserver, None);
    let faults = refused(&night, &plain_visit(), &[Rule::A9]);
    assert_eq!(faults[0].by, None);
    assert_eq!(
        faults[0].what,
        "It is not known when DW last did doffing-observer; within 3660 days is asked for, planned 21:00-21:20."
    );
    // Where the unit does not ask nobody has to know, and asking for one role asks for no other.
    let mut other = night.clone();
    other.limits.recency = vec![Recency { role: Role::Assistant, days: 30 }];
    accepted(&other, &plain_visit());
}

#[test]
fn a9_the_earlier_of_two_dates_counts() {
    let mut night = asked(plain_night(), 365, KB, Role::Entrant, Some(day(2031, 3, 3)));
    let entrant = |s: &&mut SignOff| s.role == Role::Entrant;
    let lapsed = night.roster.people[KB.0].sign_offs.iter_mut().find(entrant).expect("everybody holds everything");
    lapsed.valid_through = day(2031, 3, 4);
    refused(&night, &later(plain_visit(), 165), &[Rule::A1]);
    // Both over: each is told.
    night.limits.recency[0].days = 1;
    let both = refused(&night, &later(plain_visit(), 165), &[Rule::A1, Rule::A9]);
    assert_eq!(both.len(), 2);
    // A role that is not signed off is A1 alone.
    night.roster.people[KB.0].sign_offs.retain(|s| s.role != Role::Entrant && s.role != Role::SupervisedEntrant);
    refused(&night, &plain_visit(), &[Rule::A1]);
}

/// Somebody who was not inside lately enters as supervised where they hold that too.
#[test]
fn a9_whoever_is_out_of_practice_enters_beside_a_preceptor() {
    let night = |done| asked(plain_night(), 30, KB, Role::Entrant, Some(done));
    assert!(!night(day(2031, 2, 2)).is_supervised(KB));
    let out = night(day(2031, 2, 1));
    // 3 March is over when the shift starts.
    assert!(out.is_supervised(KB));
    accepted(&out, &plain_visit());
    let mut alone = out.clone();
    alone.limits.recency.push(Recency { role: Role::Preceptor, days: 1 });
    refused(&alone, &plain_visit(), &[Rule::A5]);
}

#[test]
fn a9_what_the_unit_does_not_ask_is_not_checked() {
    let said = |night: &Night| {
        let all = review(night, &plain_visit()).not_checked;
        all.into_iter().filter(|n| n.what.starts_with("A9")).map(|n| n.what).collect::<Vec<_>>()
    };
    let mut night = plain_night();
    assert_eq!(said(&night), ["A9 when a role was last done"]);
    night.limits.recency = Role::ALL[..5].iter().map(|&role| Recency { role, days: 9 }).collect();
    assert_eq!(said(&night), ["A9 when last done, as preceptor, coordinator"]);
    night.limits.recency = Role::ALL.iter().map(|&role| Recency { role, days: 9 }).collect();
    assert_eq!(said(&night), [""; 0]);
}
