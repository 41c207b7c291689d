//! The columns of a file of sign-offs and fit tests.

use super::{ID, Key, Keys, Kind, NAME, PERSON, ROLES, key, optional, when};

/// What a row is about.
pub(in super::super) const KINDS: &[&str] = &[SIGN_OFF, FIT_TEST];
/// A row with the role somebody is signed off for.
pub(in super::super) const SIGN_OFF: &str = "sign-off";
/// A row with a respirator that fits somebody.
pub(in super::super) const FIT_TEST: &str = "fit-test";

const COLUMNS: &[Key] = &[
    key("id", PERSON, "the person, as on the roster"),
    key("kind", Kind::OneOf(KINDS), "what the row is about"),
    when("role", Kind::OneOf(ROLES), "the row is a sign-off", "one role to a row"),
    when("respirator", NAME, "the row is a fit-test", "the model, as the constraint set names it"),
    when("size", ID, "the row is a fit-test", "the size that fits"),
    key(
        "valid_through",
        Kind::Day,
        "the last day it is good, to 24:00. Left empty, or `unknown`: it counts as not held, and that is said",
    ),
    optional(
        "last_done",
        Kind::Day,
        "of a sign-off: the day on which the role was last done or drilled. Left empty, or `unknown`: not known. Without \
         this column the roster's days stay",
    ),
];

/// The columns, in any order.
pub(in super::super) const SIGN_OFFS: Keys = Keys { head: "", keys: COLUMNS };
