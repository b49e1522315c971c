//! The outputs of a calculation and how they are printed.

use serde_json::{Map, Value};

use super::contract::{Output, OutputKind};
use super::refused::Refused;

/// One output of a calculation.
#[derive(Debug, Clone, PartialEq)]
pub enum Reckoned {
    /// A quantity, a count, or degrees of freedom (infinity for "infinite").
    Number(f64),
    /// A list of quantities.
    Numbers(Vec<f64>),
    /// True or false.
    Flag(bool),
    /// One of the declared words.
    Word(&'static str),
    /// A list of texts.
    Texts(Vec<String>),
    /// Does not exist in this situation.
    Absent,
}

impl From<f64> for Reckoned {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<Option<f64>> for Reckoned {
    fn from(number: Option<f64>) -> Self {
        number.map_or(Self::Absent, Self::Number)
    }
}

impl From<u32> for Reckoned {
    fn from(count: u32) -> Self {
        Self::Number(f64::from(count))
    }
}

impl From<usize> for Reckoned {
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    fn from(count: usize) -> Self {
        Self::Number(count as f64)
    }
}

impl From<Vec<f64>> for Reckoned {
    fn from(numbers: Vec<f64>) -> Self {
        Self::Numbers(numbers)
    }
}

impl From<bool> for Reckoned {
    fn from(flag: bool) -> Self {
        Self::Flag(flag)
    }
}

impl From<&'static str> for Reckoned {
    fn from(word: &'static str) -> Self {
        Self::Word(word)
    }
}

impl From<Vec<String>> for Reckoned {
    fn from(texts: Vec<String>) -> Self {
        Self::Texts(texts)
    }
}

/// The outputs of a calculation, in any order.
///
/// ```
/// use setwright::calc::Answer;
///
/// let answer = Answer::new().with("slip_torque", 72.4).with("inside", true).with("diameter_from_gap", None);
/// assert_ne!(answer, Answer::new());
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Answer {
    outputs: Vec<(&'static str, Reckoned)>,
}

impl Answer {
    /// Begins without outputs.
    pub fn new() -> Self {
        Self { outputs: Vec::with_capacity(8) }
    }

    /// Adds an output: a number, a list, a flag, a word, texts, or `None` for what does not exist.
    #[must_use]
    pub fn with(mut self, key: &'static str, output: impl Into<Reckoned>) -> Self {
        self.outputs.push((key, output.into()));
        self
    }

    /// Tells whether a number came out as nothing, or so small that a double has no longer all its digits.
    pub(super) fn has_vanished(&self) -> bool {
        let is_nothing = |number: &f64| number.abs() < f64::MIN_POSITIVE;
        self.outputs.iter().any(|(_, reckoned)| match reckoned {
            Reckoned::Number(number) => is_nothing(number),
            Reckoned::Numbers(numbers) => numbers.iter().any(is_nothing),
            Reckoned::Flag(_) | Reckoned::Word(_) | Reckoned::Texts(_) | Reckoned::Absent => false,
        })
    }

    /// Prints the outputs in their declared order and form.
    ///
    /// Refuses a number that is not finite, blaming "inputs".
    pub(super) fn into_map(self, declared: &[Output]) -> Result<Map<String, Value>, Refused> {
        let mut map = Map::with_capacity(declared.len());
        for output in declared {
            let reckoned = self.outputs.iter().find(|(key, _)| *key == output.key).map(|(_, reckoned)| reckoned);
            let printed =
                reckoned.map_or_else(|| Err(Refused::undeclared(output.key)), |value| print(output, value))?;
            map.insert(output.key.to_owned(), printed);
        }
        match self.outputs.iter().find(|(key, _)| !map.contains_key(*key)) {
            Some((key, _)) => Err(Refused::undeclared(key)),
            None => Ok(map),
        }
    }
}

fn print(output: &Output, reckoned: &Reckoned) -> Result<Value, Refused> {
    match (output.kind, reckoned) {
        (_, Reckoned::Absent) if output.null_when.is_some() => Ok(Value::Null),
        (OutputKind::DegreesOfFreedom, Reckoned::Number(f64::INFINITY)) => Ok(Value::from("infinite")),
        (OutputKind::Quantity | OutputKind::DegreesOfFreedom, Reckoned::Number(number)) => quantity(output, *number),
        (OutputKind::Quantities, Reckoned::Numbers(numbers)) => {
            numbers.iter().map(|number| quantity(output, *number)).collect::<Result<Vec<_>, _>>().map(Value::Array)
        }
        (OutputKind::Count, Reckoned::Number(number)) => count(output, *number),
        (OutputKind::Flag, Reckoned::Flag(flag)) => Ok(Value::Bool(*flag)),
        (OutputKind::Word(choices), Reckoned::Word(word)) if choices.contains(word) => Ok(Value::from(*word)),
        (OutputKind::Texts, Reckoned::Texts(texts)) => Ok(Value::from(texts.as_slice())),
        _ => Err(Refused::undeclared(output.key)),
    }
}

fn quantity(output: &Output, number: f64) -> Result<Value, Refused> {
    let number = finite(output, number)?;
    let mut map = Map::with_capacity(2);
    map.insert("value".to_owned(), Value::from(number));
    map.insert("unit".to_owned(), Value::from(output.unit));
    Ok(Value::Object(map))
}

/// Prints whole numbers without a decimal point as long as a double holds every one of them.
fn count(output: &Output, number: f64) -> Result<Value, Refused> {
    const LARGEST_EXACT: f64 = 9_007_199_254_740_992.0;
    let number = finite(output, number)?;
    if number.abs() > LARGEST_EXACT {
        return Ok(Value::from(number));
    }
    #[expect(clippy::cast_possible_truncation, reason = "the range was checked above")]
    Ok(Value::from(number as i64))
}

/// Adding zero turns minus zero into zero, which reads better.
fn finite(output: &Output, number: f64) -> Result<f64, Refused> {
    if number.is_finite() {
        return Ok(number + 0.0);
    }
    let reason =
        format!("These inputs lead to no finite {}: look for a number that is far too large or small.", output.key);
    Err(Refused::new("inputs", reason))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    const OUTPUTS: &[Output] = &[
        Output::quantity("gap", "mm", "a gap").null_when("there is none"),
        Output::count("pieces", "a number of pieces"),
        Output::word("verdict", &["good", "bad"], "a word"),
    ];

    #[test]
    fn outputs_are_printed_in_their_declared_order() {
        let answer = Answer::new().with("verdict", "good").with("gap", -0.0).with("pieces", 12.0);
        let printed = Value::Object(answer.into_map(OUTPUTS).unwrap()).to_string();
        assert_eq!(printed, r#"{"gap":{"value":0.0,"unit":"mm"},"pieces":12,"verdict":"good"}"#);
    }

    #[test]
    fn what_does_not_exist_is_null_and_only_where_that_is_declared() {
        let answer = Answer::new().with("gap", None).with("pieces", 3_u32).with("verdict", "bad");
        assert_eq!(answer.into_map(OUTPUTS).unwrap().get("gap"), Some(&json!(null)));
        let answer = Answer::new().with("gap", 1.0).with("pieces", None).with("verdict", "bad");
        assert_eq!(answer.into_map(OUTPUTS).unwrap_err().input, "inputs");
    }

    #[test]
    fn faults_of_a_calculation_are_refused() {
        let missing = Answer::new().with("gap", 1.0).with("pieces", 1.0);
        let extra = Answer::new().with("gap", 1.0).with("pieces", 1.0).with("verdict", "good").with("more", 1.0);
        let endless = Answer::new().with("gap", f64::NAN).with("pieces", 1.0).with("verdict", "good");
        let unheard_of = Answer::new().with("gap", 1.0).with("pieces", 1.0).with("verdict", "splendid");
        for answer in [missing, extra, endless, unheard_of] {
            assert_eq!(answer.into_map(OUTPUTS).unwrap_err().input, "inputs");
        }
    }
}
