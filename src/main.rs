//! The `setwright` command: parse, call, exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    setwright::cli::run()
}
