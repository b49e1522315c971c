//! A simulated shop: machine, rotary, fixture, part, instruments and operator with a hidden truth that the workbook
//! never sees. For rehearsal, benches and tests.
//!
//! Everything here is a model with invented noise, not measurements of a machine. The same seed gives the same shop.

mod chance;
pub mod creep_up;
pub mod pickup;
pub mod seat;
mod tally;
mod whole;

pub use chance::Chance;
pub use tally::{Share, at_rank};
pub use whole::{PLANTS, Plant, Shop, Typed, rehearsal_card};
