//! JSON as it stands in a card: every number as its decimal text, no key twice, no deep nesting.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

use super::CardFault;
use crate::quantity::print;

/// A card needs six levels; an embedded one must stay below the log's sixteen.
const MOST_DEPTH: usize = 12;

/// A value of a card.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Json {
    Null,
    Flag(bool),
    Number(String),
    Text(String),
    List(Vec<Self>),
    Object(Vec<(String, Self)>),
}

impl Json {
    /// Names the kind for a person.
    pub(super) const fn kind(&self) -> &'static str {
        match self {
            Self::Null => "null",
            Self::Flag(_) => "true or false",
            Self::Number(_) => "a number",
            Self::Text(_) => "text",
            Self::List(_) => "a list",
            Self::Object(_) => "an object",
        }
    }
}

/// Parses the text of a card.
pub(super) fn parse(text: &str) -> Result<Json, CardFault> {
    if text.starts_with('\u{feff}') {
        let hint = "Save the file as UTF-8 without a byte order mark.";
        return Err(CardFault::new("card", "an invisible mark stands before the card", hint));
    }
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let parsed = Depth(0).deserialize(&mut deserializer).and_then(|json| deserializer.end().map(|()| json));
    parsed.map_err(|error| {
        let hint = "Look there and just before it: a comma, a quote or a bracket may be missing.";
        CardFault::new("card", format!("this is no readable JSON: {error}"), hint)
    })
}

/// Deserialises one value at a depth.
struct Depth(usize);

impl<'de> DeserializeSeed<'de> for Depth {
    type Value = Json;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Json, D::Error> {
        if self.0 > MOST_DEPTH {
            return Err(D::Error::custom(format!("more than {MOST_DEPTH} levels of brackets")));
        }
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Depth {
    type Value = Json;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E: Error>(self) -> Result<Json, E> {
        Ok(Json::Null)
    }

    fn visit_bool<E: Error>(self, flag: bool) -> Result<Json, E> {
        Ok(Json::Flag(flag))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Json, E> {
        Ok(Json::Number(number.to_string()))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Json, E> {
        Ok(Json::Number(number.to_string()))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Json, E> {
        Ok(Json::Number(print::shortest(number)))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Json, E> {
        Ok(Json::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut sequence: A) -> Result<Json, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = sequence.next_element_seed(Self(self.0 + 1))? {
            list.push(item);
        }
        Ok(Json::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Json, A::Error> {
        let mut object: Vec<(String, Json)> = Vec::new();
        while let Some(key) = map.next_key::<String>()? {
            if object.iter().any(|(known, _)| *known == key) {
                return Err(A::Error::custom(format!("the key \"{key}\" stands twice")));
            }
            object.push((key, map.next_value_seed(Self(self.0 + 1))?));
        }
        Ok(Json::Object(object))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_decimals() {
        let json = parse(r#"{"a": [1.7394, -5, 1e-5, 12]}"#).unwrap();
        let numbers = ["1.7394", "-5", "0.00001", "12"].map(|text| Json::Number(text.to_owned()));
        assert_eq!(json, Json::Object(vec![("a".to_owned(), Json::List(numbers.to_vec()))]));
    }

    #[test]
    fn what_a_lenient_reader_would_swallow_is_refused() {
        for (text, expected) in [
            (r#"{"a": 1, "a": 2}"#, "stands twice"),
            ("{} {}", "trailing"),
            ("\u{feff}{}", "byte order mark"),
            (r#"{"a": NaN}"#, "no readable JSON"),
            (r#"{"a": 1e999}"#, "out of range"),
            ("", "EOF"),
        ] {
            let fault = parse(text).unwrap_err().to_string();
            assert!(fault.contains(expected), "{text}: {fault}");
        }
        let deep = "[".repeat(1000) + &"]".repeat(1000);
        assert!(parse(&deep).unwrap_err().what.contains("levels of brackets"));
    }
}
