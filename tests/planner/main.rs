//! The planner against answers known from elsewhere: hand arithmetic, enumeration, another solver, the check.

mod nights;
mod scenarios;
