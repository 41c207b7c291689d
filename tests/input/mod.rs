//! The cases of `tests/input_mistakes.rs`.
pub mod cases;
