//! What the charge nurse has settled before planning: pins and what is forbidden (H6).

use super::clock::{Minute, Span};
use super::roster::{PersonIx, Role, RoomIx, TaskIx};

/// Which pin, as an index into [`super::Roster::pins`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct PinIx(pub usize);

/// What a person is pinned to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PinTo {
    /// Through the door of a room at a time.
    Entry {
        /// Which room.
        room: RoomIx,
        /// When.
        door_in: Minute,
    },
    /// Inside throughout a task, which is done.
    Task(TaskIx),
}

/// One person pinned to an entry or a task.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Pin {
    /// Who.
    pub person: PersonIx,
    /// To what.
    pub to: PinTo,
}

/// Duties that one person does not have in a stretch of time.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Forbidden {
    /// Who.
    pub person: PersonIx,
    /// Which duties, by role.
    pub roles: Vec<Role>,
    /// When: no duty of these shares a minute with it.
    pub span: Span,
}
