//! The educator's questions: whether every donning and removal is watched by somebody in date, what lapses, whom to train.

mod against;
pub mod proof;

pub use proof::{Ground, Proof, Watched, What, proof};
