//! The manager's questions: which crew is enough, which resource binds, what absence does, how long supplies last.

pub mod absence;
pub mod interval;
