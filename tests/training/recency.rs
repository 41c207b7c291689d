//! What was last done too long ago, among what lapses (A9). The days are counted by hand: February 2031 has 28.

use anteroom::check::review;
use anteroom::night::{Night, PersonIx, Recency, Role};
use anteroom::show::ahead::{Ahead, answer, screen};
use anteroom::training::{Coming, Ground, Held, Kind, Outlook, ToDo, What, proof};
use chrono::NaiveDate;

use super::common::{DW, GH, day, plain_night, plain_visit};
use super::outlook::{ahead, coming, evening, later, set};

/// Evenings of 4 and 13 March under limits that want whoever watches removals to have done so within 30 days.
fn two_evenings(dw: Option<NaiveDate>, gh: Option<NaiveDate>) -> [Night; 2] {
    [0, 9].map(|days| {
        let mut night = later(&evening(), days);
        night.limits.recency = vec![Recency { role: Role::DoffingObserver, days: 30 }];
        done(&mut night, DW, dw);
        done(&mut night, GH, gh);
        night
    })
}

fn done(night: &mut Night, who: PersonIx, on: Option<NaiveDate>) {
    night.roster.people[who.0].sign_offs.iter_mut().for_each(|s| s.last_done = on);
}

fn watching(found: &Outlook) -> Vec<(&str, ToDo, NaiveDate)> {
    let all = found.enough.sign_offs.iter().filter(|s| s.role == Role::DoffingObserver);
    all.map(|s| (s.person.as_str(), s.todo, s.by)).collect()
}

/// Done on 10 February it is good through 12 March, on 20 February through 22 March.
#[test]
fn recency_lapses_like_a_sign_off_and_a_drill_renews_it() {
    let nights = two_evenings(Some(day(2031, 2, 20)), Some(day(2031, 2, 10))).map(coming);
    let found = ahead(&nights, day(2031, 3, 1), 1);
    let lapses: Vec<_> =
        found.lapses.iter().map(|l| (l.person.as_str(), &l.held, l.days_left, &l.nights[..])).collect();
    let recent = Held::Recent(Role::DoffingObserver);
    assert_eq!(lapses, [("GH", &recent, 11, &[1][..]), ("DW", &recent, 21, &[][..])]);
    assert_eq!(watching(&found), [("GH", ToDo::Drill, day(2031, 3, 13))]);
    let shown = screen(&Ahead { nights: &nights, found: &found, today: day(2031, 3, 1), past: 0 });
    assert!(shown.contains("GH   recency as doffing  13 Mar"), "{shown}");
    assert!(shown.contains("  13 Mar 2031  drill  doffing observer  GH\n"), "{shown}");
    let said = answer(&Ahead { nights: &nights, found: &found, today: day(2031, 3, 1), past: 0 });
    assert!(said.iter().any(|line| line.contains(" 1 to drill and ")), "{said:#?}");
}

#[test]
fn a_day_that_nobody_knows_takes_a_drill_at_once() {
    let found = ahead(&two_evenings(Some(day(2031, 2, 20)), None).map(coming), day(2031, 3, 1), 1);
    // There is no last day to list; reading says that it is not known.
    assert_eq!(found.lapses.iter().filter(|l| l.person == "GH").count(), 0);
    assert_eq!(watching(&found), [("GH", ToDo::Drill, day(2031, 3, 4))]);
}

#[test]
fn a_sign_off_that_lapses_too_is_renewed_and_drilled() {
    let mut nights = two_evenings(Some(day(2031, 2, 20)), Some(day(2031, 2, 10)));
    for night in &mut nights {
        set(night, GH, Role::DoffingObserver, day(2031, 3, 8));
        done(night, GH, Some(day(2031, 2, 10)));
    }
    let found = ahead(&nights.map(coming), day(2031, 3, 1), 1);
    assert_eq!(watching(&found), [("GH", ToDo::RenewAndDrill, day(2031, 3, 13))]);
    // Lately done, and the sign-off is over: renewed.
    let mut nights = two_evenings(Some(day(2031, 2, 20)), Some(day(2031, 2, 20)));
    for night in &mut nights {
        set(night, GH, Role::DoffingObserver, day(2031, 3, 8));
        done(night, GH, Some(day(2031, 2, 20)));
    }
    let found = ahead(&nights.map(coming), day(2031, 3, 1), 1);
    assert_eq!(watching(&found), [("GH", ToDo::Renew, day(2031, 3, 13))]);
}

#[test]
fn a_night_loses_its_removals_when_nobody_practised() {
    let nights: [Coming; 2] = two_evenings(Some(day(2031, 2, 10)), Some(day(2031, 2, 10))).map(coming);
    let found = ahead(&nights, day(2031, 3, 1), 0);
    assert_eq!(found.nights[0].losses, []);
    let losses: Vec<_> = found.nights[1].losses.iter().map(|l| (l.kind, l.minutes, l.proven)).collect();
    // Two people, 60 minutes.
    assert_eq!(losses, [(Kind::WatchRemovals, 120, true)]);
    let said = answer(&Ahead { nights: &nights, found: &found, today: day(2031, 3, 1), past: 0 });
    assert_eq!(said[0], "If these 2 lapse, 1 of 2 nights has a removal without observer.");
}

/// The day that is shown beside an observer is the earlier of the two, and past it there is no proof.
#[test]
fn proof_goes_by_the_earlier_day() {
    let mut night = plain_night();
    night.limits.recency = vec![Recency { role: Role::DoffingObserver, days: 30 }];
    let mut until = |on| {
        for person in 0..night.roster.people.len() {
            done(&mut night, PersonIx(person), Some(on));
        }
        let rota = plain_visit();
        let review = review(&night, &rota);
        let proof = proof(&night, &rota, &review);
        let removal = proof.all.iter().find(|one| one.what == What::Removal).expect("two came out").clone();
        (removal.observer_until(&night), removal.is_spoilt(&review, Ground::InDate))
    };
    assert_eq!(until(day(2031, 2, 20)), (Some(day(2031, 3, 22)), false));
    assert_eq!(until(day(2031, 2, 1)), (Some(day(2031, 3, 3)), true));
}
