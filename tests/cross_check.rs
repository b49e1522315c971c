//! Another library, not ours, answers the same questions: `cross_check.py` goes to `SciPy`.
//!
//! `SETWRIGHT_TEST_PYTHON` names the interpreter when `python3` is not the one that has `SciPy`.
#![allow(clippy::print_stdout, clippy::disallowed_methods, reason = "a test may say what it found and with what")]

use std::path::Path;
use std::process::Command;

#[test]
fn a_general_purpose_library_gives_the_same_numbers() {
    /// What the script ends with when `SciPy` is missing.
    const MISSING: i32 = 77;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cross_check.py");
    let interpreter = std::env::var("SETWRIGHT_TEST_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let Ok(output) = Command::new(&interpreter).arg(script).arg(env!("CARGO_BIN_EXE_setwright")).output() else {
        println!("SKIPPED: {interpreter} cannot be run here");
        return;
    };
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    if output.status.code() == Some(MISSING) {
        println!("SKIPPED: {said}");
        return;
    }
    println!("{said}");
    assert!(output.status.success(), "{said}");
    assert!(said.contains("agree with SciPy"), "{said}");
}
