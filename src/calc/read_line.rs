//! JSON text that carries the inputs of a calculation, and its answer.

use serde_json::{Map, Value};

use super::refused::Refused;

/// Reads text that must be one JSON object.
///
/// A number that is well formed but too large for a double (1e400) is kept as text, so that the input that carries it
/// is blamed rather than the whole object.
pub(super) fn object(text: &str) -> Option<Map<String, Value>> {
    let value = serde_json::from_str(text).or_else(|_| serde_json::from_str(&quote_endless_numbers(text)));
    match value {
        Ok(Value::Object(map)) => Some(map),
        _ => None,
    }
}

/// Takes the name and the inputs out of the object of a line.
pub(super) fn name_and_inputs(line: &Map<String, Value>) -> Result<(&str, &Map<String, Value>), Refused> {
    let name = line.get("name").and_then(Value::as_str);
    let name =
        name.ok_or_else(|| Refused::new("name", "The line does not say which calculation is wanted: give its name."))?;
    let inputs = line.get("inputs").and_then(Value::as_object);
    let inputs = inputs.ok_or_else(|| Refused::new("inputs", "The inputs must be one JSON object in braces."))?;
    Ok((name, inputs))
}

/// Puts quotation marks round every number outside text that a double cannot hold.
fn quote_endless_numbers(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 8);
    let mut rest = text;
    while let Some(start) = rest.find(|letter: char| letter == '"' || letter == '-' || letter.is_ascii_digit()) {
        let (before, token) = rest.split_at(start);
        quoted.push_str(before);
        let length = if token.starts_with('"') { text_length(token) } else { number_length(token) };
        let (token, after) = token.split_at(length);
        let endless = !token.starts_with('"') && token.parse::<f64>().is_ok_and(f64::is_infinite);
        let marks = if endless { "\"" } else { "" };
        quoted.extend([marks, token, marks]);
        rest = after;
    }
    quoted.push_str(rest);
    quoted
}

fn number_length(token: &str) -> usize {
    token.find(|letter: char| !matches!(letter, '0'..='9' | '+' | '-' | '.' | 'e' | 'E')).unwrap_or(token.len())
}

/// Returns the length of a text with its quotation marks; a backslash takes the next byte with it.
fn text_length(token: &str) -> usize {
    let mut escaped = false;
    for (index, byte) in token.bytes().enumerate().skip(1) {
        match byte {
            _ if escaped => escaped = false,
            b'\\' => escaped = true,
            b'"' => return index + 1,
            _ => {}
        }
    }
    token.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_numbers_beyond_a_double_are_put_in_quotation_marks() {
        let text = r#"{"a\"1e999":[1e999,-1e999,1e-999,12.5],"b":"1e999","c":1E+400}"#;
        let quoted = r#"{"a\"1e999":["1e999","-1e999",1e-999,12.5],"b":"1e999","c":"1E+400"}"#;
        assert_eq!(quote_endless_numbers(text), quoted);
        assert_eq!(quote_endless_numbers("\"unended 1e999"), "\"unended 1e999");
    }

    #[test]
    fn only_one_object_is_an_object() {
        for text in ["", "[]", "3", "null", "{} {}", "{", "{\"a\":NaN}", "{'a':1}", "\"{}\""] {
            assert!(object(text).is_none(), "{text}");
        }
        assert!(object(" {} \r\n").is_some());
    }
}
