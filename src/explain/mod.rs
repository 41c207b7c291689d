//! Placeholder until the folder is filled.
