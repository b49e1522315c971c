//! The `setwright` command: parse, call, exit code.

fn main() {}
