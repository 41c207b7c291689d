//! anteroom plans a shift's room entries for staff in full protective equipment.
//!
//! `argv -> cli -> read -> Night -> plan -> Rota -> check -> explain -> staffing, training -> show`
pub mod check;
pub mod cli;
pub mod explain;
pub mod night;
pub mod plan;
pub mod read;
pub mod show;
pub mod staffing;
pub mod training;

/// The tests inside and outside share a night made by hand, which names the crate.
#[cfg(test)]
extern crate self as anteroom;
