//! Small files made by hand: written onto, read back, and taken apart again.

mod kept;
mod locked;
mod named;
mod places;
mod refused;
mod sample;
mod sheets;
