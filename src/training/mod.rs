//! The educator's questions: whether every donning and removal is watched by somebody in date, what lapses, whom to train.

mod against;
mod enough;
mod first_entry;
mod lapse;
mod loss;
mod outlook;
mod proof;
mod renewed;
mod rests;
mod takeover;

pub use enough::{Enough, SignOffToDo, ToDo};
pub use first_entry::{FirstEntry, Found, Lack, Stay, first_entries};
pub use lapse::{Band, Held, Kind, Lapse};
pub use loss::Loss;
pub use outlook::{Coming, NightAhead, Outlook, RoleAhead, Tried, look_ahead};
pub use proof::{Count, Ground, Proof, Watched, What, proof};
pub use rests::Rests;
