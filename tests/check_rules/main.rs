//! The check, rule by rule: a rota exactly on the limit is accepted, one step over is refused by that rule.

#[path = "../common/mod.rs"]
mod common;

mod doors;
mod early_exit;
mod helpers;
mod hours;
mod low_hours;
mod outside;
mod people;
mod pins;
mod properties;
mod recency;
mod removals;
mod rescue;
mod respirators;
mod rooms;
mod scenarios;
mod showers;
mod wear;
