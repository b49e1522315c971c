//! What a number means: exact lengths, units and their dimensions, reading what a person types, and printing.
//!
//! Nothing here can hold a NaN or an infinity. Lengths are integers; every other quantity is a finite decimal.

mod amount;
mod entry_json;
mod exact;
mod length;
pub mod print;
pub mod typed;
mod unit;

pub use amount::{Amount, Decimal, NotADecimal, Quantity};
pub use entry_json::EntryFault;
pub use length::{Length, LengthOutOfRange};
pub use typed::Misread;
pub use unit::{Dimension, UNITS, Unit};
