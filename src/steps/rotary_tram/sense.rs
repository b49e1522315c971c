//! The sense test: never assumed, tested by hand (T1, D1); whoever cannot see it lets the first move show it.

use crate::checklist::{GateCheck, GateKind, Question, Worksheet};
use crate::job::WorkTurns;
use crate::steps::rotary_tram::SENSE_TEST;
use crate::steps::rotary_tram::tries::Level;

/// Returns the turning sense: tested on the first piece, handed on for the others; `Some(None)` while it is unknown.
#[expect(clippy::option_option, reason = "the outer one stops the walk, the inner one says that it is unknown")]
pub(super) fn sense(sheet: &mut Worksheet<'_>) -> Option<Option<WorkTurns>> {
    if sheet.at().piece.is_some_and(|piece| piece > 1) {
        let word = sheet.at().handed.word_of(Some(1), "tram.sense")?;
        return Some(Some(named(word)));
    }
    let answer = sheet.answer(Question::of(&SENSE_TEST))?;
    let found = match answer.word() {
        "rises" => WorkTurns::RightHand,
        "falls" => WorkTurns::LeftHand,
        _ => return Some(None),
    };
    agrees(sheet, found, vec![answer.seq])?;
    Some(Some(found))
}

fn named(word: &str) -> WorkTurns {
    if word == WorkTurns::RightHand.word() { WorkTurns::RightHand } else { WorkTurns::LeftHand }
}

/// Returns the sense after the tries: what was known, or what they have settled.
pub(super) fn settled(sheet: &mut Worksheet<'_>, known: Option<WorkTurns>, level: &Level) -> Option<WorkTurns> {
    if known.is_some() {
        return known;
    }
    let rests_on: Vec<u64> = sheet.standing(SENSE_TEST.id, 0).iter().map(|entry| entry.seq).collect();
    let Some(found) = level.turns else {
        sheet.gate(GateCheck {
            id: "tram.sense",
            about: String::new(),
            kind: GateKind::Stop,
            pass: false,
            measured: None,
            limit: None,
            says: (
                String::new(),
                "The part stood level before any turn had shown which way the work turns. Do the sense test with the indicator away, or the hole pattern may be mirrored."
                    .to_owned(),
            ),
            rests_on,
        })?;
        return None;
    };
    agrees(sheet, found, rests_on)?;
    Some(found)
}

/// Holds the sense found against the machine's profile and hands it on.
fn agrees(sheet: &mut Worksheet<'_>, found: WorkTurns, rests_on: Vec<u64>) -> Option<()> {
    let on_card = sheet.card().machine.work_turns;
    let profile = on_card.or(sheet.at().run.learned.work_turns);
    sheet.gate(GateCheck {
        id: "tram.sense",
        about: String::new(),
        // What was only learned may have changed with the rotary; what the card says must be put right there.
        kind: if on_card.is_some() { GateKind::Stop } else { GateKind::Ask },
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
        rests_on,
    })?;
    sheet.hand_word("tram.sense", found.word());
    Some(())
}
