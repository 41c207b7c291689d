//! The replay itself: every rule in turn over the facts of a rota.

use super::facts::Facts;
use super::faults::Faults;
use super::measures::Found;
use super::reach::within_reach;
use super::{Measures, Review};
use super::{
    apart, available, breaks, donning, doors, duties, early_exit, entry, helpers, hours, lanes, low_hours, measures,
    outby, pins, removal, rescue, respirators, rest, rolling,
};
use super::{room, showers, sign_off, stock, supervised, tasks, unchecked, watching, wear};
use crate::night::{Night, Rota};

/// Every rule, each in the function that knows it. D4 and D6 are no faults: see [`presence`] and [`skill`].
const RULES: &[fn(&Facts, &mut Faults)] = &[
    sign_off::signed_off,
    sign_off::fitted,
    available::on_duty,
    available::flags,
    available::shift_gap,
    hours::not_too_much,
    available::huddles,
    supervised::beside_preceptor,
    apart::kept_apart,
    duties::one_at_a_time,
    duties::one_way,
    entry::in_order,
    entry::not_too_many,
    entry::shortest_stay,
    wear::continuous,
    low_hours::shorter_wear,
    wear::cumulative,
    rolling::over_days,
    outby::not_too_late,
    rest::rested,
    removal::watched,
    removal::one_to_one,
    removal::three_people,
    removal::exit_reserved,
    helpers::assisted,
    helpers::kit_for_post,
    helpers::observer_dressed,
    donning::donning_watched,
    lanes::lanes,
    watching::not_too_long,
    room::rooms,
    doors::relief_style,
    tasks::truly_done,
    showers::showers,
    breaks::breaks,
    stock::kits,
    respirators::in_turn,
    pins::forbidden,
    rescue::rescue,
    early_exit::covered,
];

/// Checks `rota` against the night's roster and constraint set.
///
/// Times of the rota may be anything; those weeks away from everyone's time on
/// duty are taken as the nearest minute that is still within reach.
#[must_use]
pub fn review(night: &Night, rota: &Rota) -> Review {
    let rota = within_reach(night, rota);
    let facts = Facts::of(night, &rota);
    let mut faults = Faults::worded();
    for rule in RULES {
        rule(&facts, &mut faults);
    }
    let found = Found::of(&facts);
    let measures = measures::measured(&facts, &found);
    let Found { shortages, skill_shortages, tasks, rescue, exits, pins } = found;
    let not_checked = unchecked::not_checked(night);
    Review { faults: faults.in_order(), shortages, skill_shortages, tasks, rescue, exits, pins, measures, not_checked }
}

/// Whether `rota` breaks no rule: as [`review`] would say, without the sentences.
#[must_use]
pub fn is_clean(night: &Night, rota: &Rota) -> bool {
    let rota = within_reach(night, rota);
    let facts = Facts::of(night, &rota);
    let mut faults = Faults::noticed();
    for rule in RULES {
        rule(&facts, &mut faults);
        if faults.settled() {
            break;
        }
    }
    !faults.any()
}

/// The rota's value at each level, as [`review`] would say, without looking for faults.
#[must_use]
pub fn measure(night: &Night, rota: &Rota) -> Measures {
    let rota = within_reach(night, rota);
    let facts = Facts::of(night, &rota);
    measures::measured(&facts, &Found::of(&facts))
}
