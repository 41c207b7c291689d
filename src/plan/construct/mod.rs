//! A rota built duty by duty, and improved by taking some out and building them anew.
//!
//! It is quick where the solver is slow: on nights so tight that hardly a
//! rota is worth anything. It proves nothing; the program's rows say what is
//! allowed, and the search that follows says what is best.

mod build;
mod crew;
mod duty;
mod enter;
mod fill;
mod follow;
mod help;
mod ledger;
mod lists;
mod pins;
mod resume;
mod score;
mod take;
mod taken;

pub use build::{Builder, PATIENCE};
pub use follow::{Visit, visits};
pub use score::Score;
