//! Page maps.
pub mod room;
