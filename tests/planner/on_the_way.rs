//! Rotas that are known while the planner still looks: each is whole, and passes the check.

use anteroom::check::{measure, review};
use anteroom::night::{Ensemble, Minutes, Night, Role, Rota, Standby};
use anteroom::plan::{Effort, Watch, plan, stated_stretches_hold};

use crate::larger::larger;
use crate::nights::*;

/// Remembers every rota.
#[derive(Default)]
struct Remembers(Vec<Rota>);

impl Watch for Remembers {
    fn progress(&mut self, _uncovered: i64, _at_least: i64) {}

    fn found(&mut self, rota: &Rota) {
        self.0.push(rota.clone());
    }

    fn stop(&self) -> bool {
        false
    }
}

fn on_the_way(night: &Night, work: u64) -> Vec<Rota> {
    let mut remembers = Remembers::default();
    let _ = plan(night, Effort { work, seconds: None }, &mut remembers);
    remembers.0
}

/// A pair, one lane that is cleaned for 10 minutes, one observer and one assistant who stays dressed for both.
fn a_pair_and_one_lane(stay: i64) -> Night {
    let room = Ensemble { assistant: true, ..room_ensemble(10, 20, 25, 120) };
    let mut night = empty_night(5, 300, room, doffing_kit(5, 10, 15, 120));
    night.limits.assistant_kit = Some(D);
    night.limits.min_inside = 2;
    night.limits.cleaning = Minutes(10);
    night.limits.waiting_places = 1;
    night.roster.presence = vec![presence(60, 60 + stay, 2)];
    add_lanes(&mut night, 1);
    add_people(&mut night, 2, &[Role::Entrant]);
    add_people(&mut night, 2, &[Role::DonningObserver, Role::DoffingObserver]);
    add_people(&mut night, 1, &[Role::Assistant]);
    night
}

#[test]
fn the_first_rota_brings_a_pair_out_through_one_lane() {
    // The second waits 25 + 10 and wears 10 + stay + 35 + 25, so 50 is the longest stay for 120.
    let uncovered = |stay| {
        let night = a_pair_and_one_lane(stay);
        let first = on_the_way(&night, 0).into_iter().next().expect("a rota is known before any work is spent");
        assert_eq!(review(&night, &first).faults, vec![]);
        measure(&night, &first).uncovered.values().map(|minutes| minutes.0).sum::<i64>()
    };
    assert_eq!(uncovered(50), 0);
    assert!(uncovered(55) >= 10, "nobody may stay five minutes longer");
}

/// The same with one to coordinate and one to stand by.
fn a_pair_and_their_rescue(but: Option<Role>) -> Night {
    let mut night = a_pair_and_one_lane(50);
    night.limits.coordinator = true;
    night.limits.standby = Some(Standby { responders: 1, report: false });
    for role in [Role::Coordinator, Role::Entrant] {
        add_people(&mut night, usize::from(but != Some(role)), &[role]);
    }
    night
}

#[test]
fn the_first_rota_leaves_somebody_for_a_rescue() {
    let first = |night: &Night| on_the_way(night, 0).into_iter().next().expect("a rota is known at once");
    let night = a_pair_and_their_rescue(None);
    let rota = first(&night);
    let review = review(&night, &rota);
    assert_eq!((review.faults, review.measures.uncovered.values().map(|m| m.0).sum::<i64>()), (vec![], 0));
    assert!(!rota.coordinators.is_empty() && !rota.standby.is_empty());
    // Without one of them nobody goes in: 50 minutes of two people are uncovered.
    for role in [Role::Coordinator, Role::Entrant] {
        let night = a_pair_and_their_rescue(Some(role));
        let uncovered: i64 = measure(&night, &first(&night)).uncovered.values().map(|minutes| minutes.0).sum();
        assert_eq!(uncovered, 100, "{role:?}");
    }
}

#[test]
fn every_rota_on_the_way_passes_the_check() {
    let nights = (60..66).map(|seed| larger(seed, seed % 2 == 1)).chain([a_pair_and_one_lane(120)]);
    for (place, night) in nights.enumerate() {
        for rota in on_the_way(&night, 600) {
            assert_eq!(review(&night, &rota).faults, vec![], "night {place}");
        }
    }
}

#[test]
fn a_rota_by_name_is_one_of_people_counted_together_and_of_every_stretch() {
    // What counts, or a stretch of the night alone, are said to be unable to do must be out of reach of every rota.
    let (mut rotas, mut with_entries) = (0, 0);
    for (place, night) in (60..66).map(|seed| larger(seed, seed % 2 == 1)).chain([a_pair_and_one_lane(50)]).enumerate()
    {
        let Some(rota) = on_the_way(&night, 600).pop() else { continue };
        for width in [1, 7, 48] {
            assert_ne!(stated_stretches_hold(&night, &rota, width), Some(false), "night {place}, {width} slots");
        }
        rotas += i32::from(stated_stretches_hold(&night, &rota, 24) == Some(true));
        with_entries += i32::from(!rota.entries.is_empty());
    }
    assert!(rotas >= 5 && with_entries >= 4, "{rotas} rotas looked at, {with_entries} with entries");
}
