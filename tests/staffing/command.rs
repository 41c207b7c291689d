//! The command, as a shell sees it.
