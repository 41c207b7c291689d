//! The planner against answers known from elsewhere: hand arithmetic, enumeration, another solver, the check.

mod brute;
mod brute_force;
mod doors;
mod edges;
mod larger;
#[path = "../levels/mod.rs"]
mod levels;
mod nights;
mod on_the_way;
mod planned_is_clean;
mod random;
mod scenarios;
mod second_solver;
