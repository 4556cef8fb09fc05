//! What the user is given to read.

pub mod pdf;
