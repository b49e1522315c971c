//! The job card: part, features, machine, instruments, fixture, tools and limits, read from a JSON file and checked.

mod card;

pub use card::*;
