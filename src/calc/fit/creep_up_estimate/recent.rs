//! The last few answers: between two readings the same question is asked again by every look at the step.

use std::cell::RefCell;

use crate::calc::{Answer, Refused};

/// Two slots, each with its look before.
const KEPT: usize = 4;

thread_local! {
    static RECENT: RefCell<Vec<(Vec<u64>, Answer)>> = const { RefCell::new(Vec::new()) };
}

/// Returns the answer to a question that was answered just before, or works it out and keeps it.
pub(super) fn answered(
    question: Vec<u64>,
    work_out: impl FnOnce() -> Result<Answer, Refused>,
) -> Result<Answer, Refused> {
    let known =
        RECENT.with_borrow(|recent| recent.iter().find(|(asked, _)| *asked == question).map(|(_, one)| one.clone()));
    if let Some(answer) = known {
        return Ok(answer);
    }
    let answer = work_out()?;
    RECENT.with_borrow_mut(|recent| {
        recent.truncate(KEPT - 1);
        recent.insert(0, (question, answer.clone()));
    });
    Ok(answer)
}
