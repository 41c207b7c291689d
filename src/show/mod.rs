//! From a night and its rota to words: the terminal, the rota file, CSV and JSON.
//!
//! Nothing here decides anything. Personal limits are never shown: they appear,
//! if at all, as the times that follow from them.

pub mod cost;
pub mod csv;
pub mod duties;
pub mod json;
pub mod page;
pub mod rota_toml;
pub mod terminal;
mod text;
mod view;
mod wall;
mod words;

pub use terminal::Section;
pub use text::WIDTH;
pub use view::{Search, View};
pub use wall::Wall;
