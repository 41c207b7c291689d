//! The manager's questions: which crew is enough, and what each missing person costs (H8); what absence does; how
//! long supplies last.
//!
//! `Question -> crews -> Night each -> cover -> check -> smallest crew, hand arithmetic, what binds`
//!
//! Every figure comes from a rota that was planned and passed the check, from arithmetic that holds for every rota, or
//! from another crew of which one of the two is true; and each says which.

mod answer;
mod arithmetic;
mod binds;
mod cover;
mod hand;
mod known;
mod smallest;
mod uses;

pub mod absence;
pub mod interval;
pub mod supply;

pub use crate::check::Missed;
pub use crate::night::crew;
pub use answer::{Answer, Fewer, Row, Scope, StyleBound, answer};
pub use arithmetic::{Arithmetic, Work};
pub use binds::{Effect, Relaxed};
pub use cover::{Cover, Load, Wrong};
pub use hand::{Bound, short};
pub use known::{Point, Short, Verdict};
pub use smallest::{Before, Smallest};
pub use uses::{Overlap, Stretch, Use};
