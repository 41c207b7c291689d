//! The four nights on which formulations were first tried, with the few rules those trials had: one duty at a time,
//! rest, wear, an observer for each donning and removal, an assistant on post in a kit of their own, lanes.

use super::named::Trial;
use super::roster::{id, roles};
use super::unit::{Demand, Family, Figures, Member, Unit};

const LENGTH: i64 = 12 * 60;

/// The night of a row of the table of trials. Everyone is on duty for all of it; room enough is left before and after
/// the demand to dress and to undress.
pub fn unit(trial: &Trial) -> Unit {
    let figures = figures(trial);
    let span = (30, LENGTH - 60);
    Unit {
        name: trial.name,
        length: LENGTH,
        people: (0..trial.people).map(|place| member(trial, place)).collect(),
        rooms: trial.rooms,
        max_inside: 4,
        lanes: trial.rooms,
        presence: (0..trial.rooms).map(|room| Demand { room, span, people: 2, class: 1 }).collect(),
        jobs: vec![],
        kits: [200, 200],
        respirators: 200,
        apart: vec![],
        pin: None,
        forbid: None,
        figures,
    }
}

fn member(trial: &Trial, place: usize) -> Member {
    let roles = roles(place, trial.people, trial.may);
    Member { id: id(place), on_duty: (0, LENGTH), roles, size: "M", skilled: false, carried_in: None }
}

fn figures(trial: &Trial) -> Figures {
    let (donning, removal, rest, wear) = trial.minutes;
    Figures {
        name: "trial, benchmark",
        family: Family::Temperate,
        donning,
        sealed: donning / 2 / 5 * 5,
        removal,
        wear,
        wear_from: "donning-start",
        margin: 0,
        recovery: 0,
        rest,
        rest_before_kit: 0,
        // No limit over the shift: more than anyone can wear in it.
        cumulative: 1_440,
        kit_wear: 120,
        kit_recovery: 0,
        kit_rest: 0,
        kit_percent: 0,
        min_inside: 1,
        overlap: 0,
        donning_capacity: 1,
        waiting_places: 0,
        ready: 0,
        reset: 0,
        cleaning: 0,
        changeover: 0,
        shower: 0,
        both_inside_rest: true,
    }
}
