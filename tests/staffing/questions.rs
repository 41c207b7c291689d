//! Questions as people write them, right and wrong, and the exact words they are told.
