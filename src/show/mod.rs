//! From a night and its rota to words: the terminal, the printed sheet, the rota file, CSV, JSON and calendars.
//!
//! Nothing here decides anything. Personal limits are never shown: they appear,
//! if at all, as the times that follow from them.

pub mod absence;
mod after;
pub mod ahead;
pub mod calendar;
pub mod cost;
pub mod crews;
pub mod csv;
pub mod duties;
pub mod first;
pub mod json;
mod mine;
pub mod observed;
pub mod page;
mod relief;
pub mod report;
pub mod rota_toml;
pub mod sheet;
mod stock;
pub mod supply;
pub mod terminal;
mod text;
mod view;
mod wall;
mod warnings;
mod words;

pub use terminal::Section;
pub use text::WIDTH;
pub use view::{Search, View};
pub use wall::Wall;
