//! How often a crew covers the night when people are missing, checked against counting all that can happen.

#[expect(dead_code, reason = "small nights serve several tests, each in part")]
#[path = "../common/mod.rs"]
mod common;

mod draws;
mod exact;
mod history;
mod runs;
mod shares;
