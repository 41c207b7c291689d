//! The manager's question: which crew is enough, and what each missing person costs (H8).
//!
//! `Question -> crews -> Night each -> cover -> check -> smallest crew, hand arithmetic, what binds`

pub use crate::night::crew;
