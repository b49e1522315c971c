//! What comes in on the wire: one member a line, each of its own form, nothing doubled and nothing left over.

use serde::Deserialize;
use serde_json::{Map, Value};

/// One line of a rig.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) enum Said {
    /// Who enters from now on.
    By(String),
    /// An answer, typed in the shop's grammar.
    Enter(String),
    /// One of the words that are offered.
    Choose(String),
    /// An answer that was written on paper before.
    Late { enter: String, paper: String },
    /// Why the doubted value is right all the same.
    Sure(String),
    /// An entry is crossed out.
    Strike { seq: u64, why: String },
    /// A gate is passed with a reason.
    Concede { gate: String, why: String, by: String },
    /// All that a failed gate rests on is crossed out.
    Again { gate: String, why: String },
    /// Something happened at the machine.
    Happened(String),
    /// A note.
    Note(String),
    /// Who was told the head, and where it was written down.
    Witness(String),
    /// A review is signed.
    Review(String),
    /// The session is closed for good; only with `true`.
    Seal(bool),
    /// The session is left; only with `true`.
    Leave(bool),
}

/// Every member that is known, for those who send another.
const MEMBERS: &[&str] = &[
    "by", "enter", "choose", "late", "sure", "strike", "concede", "again", "happened", "note", "witness", "review",
    "seal", "leave",
];

/// Reads a line, or says what would be right.
pub(super) fn hear(line: &str) -> Result<Said, String> {
    serde_json::from_str(line).map_err(|error| explained(line, &error))
}

fn explained(line: &str, error: &serde_json::Error) -> String {
    let Ok(object) = serde_json::from_str::<Map<String, Value>>(line) else {
        return "That is not one JSON object on one line.".to_owned();
    };
    let mut members = object.keys();
    match (members.next(), members.next()) {
        // A syntax error in an object that can be read: one member stands there twice, and the last would have won.
        (Some(_), None) if error.is_syntax() => "Send one thing a line: a member stands there twice.".to_owned(),
        (Some(key), None) if MEMBERS.contains(&key.as_str()) => format!("\"{key}\" cannot be taken so: {error}."),
        (Some(key), None) => {
            format!(
                "`{key}` is not known on this wire: one of {}. See DEVELOPERS.md, wire version 1.",
                MEMBERS.join(", ")
            )
        }
        _ => "Send one thing a line, such as {\"enter\":\"0.111 mm\"}.".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_member_is_known_by_its_name() {
        for key in MEMBERS {
            let why = hear(&format!("{{\"{key}\":null}}")).unwrap_err();
            assert!(why.starts_with(&format!("\"{key}\"")), "{why}");
        }
        assert!(hear("{\"entre\":\"1\"}").unwrap_err().contains("enter"));
    }

    #[test]
    fn nothing_doubled_or_left_over_is_taken() {
        for (line, word) in [
            ("{\"note\":\"one\",\"note\":\"two\"}", "twice"),
            ("{\"by\":\"KT\",\"enter\":\"1\"}", "one thing"),
            ("{}", "one thing"),
            ("{\"strike\":{\"seq\":1,\"seq\":2,\"why\":\"a reason\"}}", "duplicate"),
            ("{\"strike\":{\"seq\":1,\"why\":\"a reason\",\"piece\":2}}", "piece"),
            ("{\"strike\":{\"seq\":-1,\"why\":\"a reason\"}}", "strike"),
            ("{\"strike\":{\"seq\":1}}", "why"),
            ("{\"enter\":5}", "enter"),
            ("{\"seal\":\"true\"}", "seal"),
            ("\"seal\"", "one JSON object"),
            ("{\"note\":\"a\"} {\"note\":\"b\"}", "one JSON object"),
            ("", "one JSON object"),
        ] {
            let why = hear(line).unwrap_err();
            assert!(why.contains(word), "{line}: {why}");
        }
        assert_eq!(hear(" {\"enter\":\"1-3/8\"} \r\n"), Ok(Said::Enter("1-3/8".to_owned())));
    }
}
