//! The sense test: never assumed, tested by hand (T1, D1).

use crate::checklist::{GateCheck, GateKind, Question, Worksheet};
use crate::job::WorkTurns;
use crate::steps::rotary_tram::SENSE_TEST;

/// Returns the turning sense: tested on the first piece, handed on for the others.
pub(super) fn sense(sheet: &mut Worksheet<'_>) -> Option<WorkTurns> {
    if sheet.at().piece.is_some_and(|piece| piece > 1) {
        let word = sheet.at().handed.word_of(Some(1), "tram.sense")?;
        return Some(if word == WorkTurns::RightHand.word() { WorkTurns::RightHand } else { WorkTurns::LeftHand });
    }
    let answer = sheet.answer(Question::of(&SENSE_TEST))?;
    let found = if answer.word() == "rises" { WorkTurns::RightHand } else { WorkTurns::LeftHand };
    let profile = sheet.card().machine.work_turns;
    sheet.gate(GateCheck {
        id: "tram.sense",
        about: String::new(),
        kind: GateKind::Stop,
        pass: profile.is_none_or(|known| known == found),
        measured: None,
        limit: None,
        says: (
            format!("The work turns {} about +X for A plus.", found.word()),
            format!(
                "The machine's profile says the work turns {}; the test says {}. Test again. If the rotary was turned end for end, \
                 put BOTH the sense and the facing right on the card: with one of them wrong the pattern is mirrored.",
                profile.map_or("unknown", WorkTurns::word),
                found.word()
            ),
        ),
        rests_on: vec![answer.seq],
    })?;
    sheet.hand_word("tram.sense", found.word());
    Some(found)
}
