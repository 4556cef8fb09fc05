//! The pages of the report.

pub mod maps;
pub mod mark;
