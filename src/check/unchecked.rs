//! What this check does not look at: said on every output (section 9, row 46).

use super::{NotChecked, hours, rolling};
use crate::night::{Minute, Night, Role};

/// Rules that the trade has and this release does not, and why.
const NOT_BUILT: &[(&str, &str)] =
    &[("I1-I6 changes during the shift, K1-K2 what really happened", "only the plan is checked")];

/// Everything that was not checked on this night.
pub(super) fn not_checked(night: &Night) -> Vec<NotChecked> {
    let limits = &night.limits;
    let none = "the unit's constraint set says none";
    let mut list: Vec<(&str, &str)> = NOT_BUILT.to_vec();
    if limits.nights_in_a_row.is_none() {
        list.push(("F8 nights in a row", none));
    }
    if limits.week_max.is_none() {
        list.push(("F8 hours in a week", none));
    }
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
    hours::not_checked(night).into_iter().chain(rolling::not_checked(night)).chain(recency(night)).chain(list).collect()
}

/// The roles of which the unit does not ask how lately they were done.
fn recency(night: &Night) -> Option<NotChecked> {
    let roles: Vec<&str> =
        Role::ALL.into_iter().filter(|&role| night.limits.recency_of(role).is_none()).map(Role::word).collect();
    let what = if roles.len() == Role::ALL.len() {
        "A9 when a role was last done".to_owned()
    } else {
        format!("A9 when last done, as {}", roles.join(", "))
    };
    let why = "the unit's constraint set says none".to_owned();
    (!roles.is_empty()).then_some(NotChecked { what, why })
}

/// Why a limit over days cannot be checked with a log that is whole only from here on.
pub(super) fn why_unread(night: &Night, log_from: Option<Minute>) -> String {
    let clock = night.roster.clock;
    log_from.map_or_else(
        || "a limit is set but no log was read".to_owned(),
        |log| format!("the log only reaches back to {} {}", clock.date(log).format("%-d %b"), clock.hhmm(log)),
    )
}
