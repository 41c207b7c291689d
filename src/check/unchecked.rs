//! What this check does not look at: said on every output (section 9, row 46).

use super::{NotChecked, rolling};
use crate::night::Night;

/// Rules that the trade has and this release does not, and why.
const NOT_BUILT: &[(&str, &str)] = &[
    ("F8 nights and hours in a row", "no log of shifts is read"),
    ("I1-I6 changes during the shift, K1-K2 what really happened", "only the plan is checked"),
];

/// Everything that was not checked on this night.
pub(super) fn not_checked(night: &Night) -> Vec<NotChecked> {
    let limits = &night.limits;
    let none = "the unit's constraint set says none";
    let mut list: Vec<(&str, &str)> = NOT_BUILT.to_vec();
    if limits.rolling_wear.is_empty() {
        list.push(("B7 wear over the days before", none));
    }
    if limits.entries_max.is_none() {
        list.push(("B8 entries of one person in the shift", none));
    }
    if night.shower_places().is_none() {
        let sets_places = night.roster.shower_places.is_some();
        let why = if sets_places { "the unit's shower takes no time" } else { "the roster sets no number of them" };
        list.push(("F2 shower places", why));
    }
    if night.roster.huddles.is_empty() {
        list.push(("F1 handover huddle", "the roster names none"));
    }
    if limits.standby.is_none() {
        list.push(("E1 standby responders", none));
    }
    let mut worn = limits.ensembles.iter().flat_map(|ensemble| &ensemble.respirators);
    if worn.any(|model| limits.respirator(model).is_none()) {
        list.push(("G2 respirators in turn, run time", "not in the constraint set for some model; see A2 for stock"));
    }
    if limits.early_exit.is_none() {
        list.push(("C8 early-exit cover", none));
    }
    if !limits.coordinator {
        list.push(("F7 clean-side coordinator", none));
    }
    if limits.low_hours.is_none() {
        list.push(("B10 low hours", none));
    }
    if limits.watching.is_none() {
        list.push(("C11 longest watch", none));
    }
    if limits.breaks.is_none() {
        list.push(("F3 that there are breaks", none));
    }
    let list = list.into_iter().map(|(what, why)| NotChecked { what: what.to_owned(), why: why.to_owned() });
    rolling::not_checked(night).into_iter().chain(list).collect()
}
