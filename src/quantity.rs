//! What a number means: exact lengths, units and their dimensions, reading what a person types, and printing.
//!
//! Nothing here can hold a NaN or an infinity. Lengths are integers; every other quantity is a finite decimal.

mod length;
mod unit;

pub use length::{Length, LengthOutOfRange};
pub use unit::{Dimension, UNITS, Unit};
