//! What earlier sessions have learned of a machine.

use serde_json::{Map, Value, json};

use super::card::WorkTurns;

/// What is known of a machine from earlier sessions; everything may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Learned {
    /// The sense in which the work turns for A plus.
    pub work_turns: Option<WorkTurns>,
    /// Play of the rotary when an angle is approached from both sides, degrees.
    pub play_deg: Option<f64>,
    /// How far the indicator's needle moves for what is jogged, shown over true.
    pub indicator_factor: Option<f64>,
}

impl Learned {
    /// Returns whether nothing is known.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Writes it as JSON members; numbers as text that reads back to the same bits.
    pub fn to_json(&self) -> Map<String, Value> {
        let text = |number: f64| json!(crate::quantity::print::shortest(number));
        let members = [
            ("work_turns", self.work_turns.map(|turns| json!(turns.word()))),
            ("play_deg", self.play_deg.map(text)),
            ("indicator_factor", self.indicator_factor.map(text)),
        ];
        members.into_iter().filter_map(|(key, value)| Some((key.to_owned(), value?))).collect()
    }

    /// Reads it from JSON members; what cannot be read is not known.
    pub fn from_json(members: &Map<String, Value>) -> Self {
        let word = members.get("work_turns").and_then(Value::as_str);
        let number = |key: &str| {
            let number = members.get(key).and_then(Value::as_str)?.parse::<f64>().ok()?;
            number.is_finite().then_some(number)
        };
        Self {
            work_turns: word.and_then(WorkTurns::named),
            play_deg: number("play_deg").filter(|play| (0.0..10.0).contains(play)),
            indicator_factor: number("indicator_factor").filter(|factor| (0.01..100.0).contains(factor)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_reads_back_and_nonsense_is_not_known() {
        let learned =
            Learned { work_turns: Some(WorkTurns::RightHand), play_deg: Some(0.1 + 0.2), indicator_factor: None };
        assert_eq!(Learned::from_json(&learned.to_json()), learned);
        let nonsense = json!({"work_turns": "up", "play_deg": 4, "indicator_factor": "NaN"});
        assert!(Learned::from_json(nonsense.as_object().unwrap()).is_empty());
    }
}
