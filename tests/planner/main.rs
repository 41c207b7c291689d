//! The planner against answers known from elsewhere: hand arithmetic, enumeration, another solver, the check.

mod brute;
mod brute_force;
mod nights;
mod random;
mod scenarios;
