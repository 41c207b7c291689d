//! Crews: the smallest by search against hand arithmetic and published figures, bounds against every rota there is,
//! questions as people write them, and the command.

mod bounds;
#[expect(dead_code, reason = "of the best of all rotas only its values are compared here")]
#[path = "../planner/brute/mod.rs"]
mod brute;
mod command;
#[path = "../levels/mod.rs"]
mod levels;
#[expect(dead_code, reason = "the nights of the planner's tests, of which some are asked about here")]
#[path = "../planner/nights.rs"]
mod nights;
mod questions;
#[expect(dead_code, reason = "the same")]
#[path = "../planner/random.rs"]
mod random;
mod scenarios;
