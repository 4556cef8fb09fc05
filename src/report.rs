//! What the user is given to read.

pub mod pages;
pub mod pdf;
