//! The manager's questions: which crew is enough, and what each missing person costs (H8); what absence does; how
//! long supplies last.
//!
//! `Question -> crews -> Night each -> cover -> check -> smallest crew, hand arithmetic, what binds`

pub mod absence;
pub mod interval;
pub mod supply;

pub use crate::night::crew;
