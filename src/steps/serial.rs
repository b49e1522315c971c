//! The serial of the piece in the ring: everything measured on it is kept under it (A4).

use crate::checklist::{AskKind, AskSpec, GateCheck, GateKind, Question, SERIAL, Worksheet};
use crate::job::Depth;
use crate::steps::voids::LOADED;

pub(super) static SERIAL_ON_PIECE: AskSpec =
    AskSpec::new(SERIAL, AskKind::Text, "Serial of the piece in the ring, read off the piece.", LOADED);

/// Asks for the serial, but in a quick run, where the number of the piece stands for it.
pub(super) fn of_this_piece(sheet: &mut Worksheet<'_>) -> Option<()> {
    if sheet.card().depth == Depth::Quick {
        return Some(());
    }
    let piece = sheet.at().piece.unwrap_or(1);
    let entry = sheet.answer(Question::of(&SERIAL_ON_PIECE))?;
    let serial = entry.word();
    let before = sheet.at().run.serials.iter().find(|(of, _, other)| *of != piece && same(other, serial));
    let says = before.map_or_else(String::new, |(of, ..)| {
        format!(
            "{serial} was in the ring before, as piece {of}. The same piece loaded again? Then go on with the reason, and level it anew. Another piece? Read its serial again."
        )
    });
    sheet.hand_word("tram.serial-loaded", serial);
    sheet.gate(GateCheck {
        id: "tram.serial-new",
        about: serial.to_owned(),
        kind: GateKind::Ask,
        pass: before.is_none(),
        measured: None,
        limit: None,
        says: (format!("{serial} is on the machine for the first time."), says),
        rests_on: vec![entry.seq],
    })
}

/// Compares two marks as a person reads them: case, blanks and dashes do not count.
pub(super) fn same(one: &str, other: &str) -> bool {
    let letters = |text: &str| -> String {
        text.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    letters(one) == letters(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_compared_as_a_person_reads_them() {
        assert!(same("RING 48", "ring-48"));
        assert!(!same("ring-48", "ring-84"));
        assert!(!same("SN 7", "SN 17"));
    }
}
