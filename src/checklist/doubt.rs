//! Entries that look like a slip are questioned before they are taken (D28; decisions 7). Ask, never silently change.

use serde_json::json;

use crate::calc;
use crate::checklist::{Ask, AskKind, EntryValue, Outputs, Window};

/// A value that looks like a slip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doubt {
    /// The ask that was answered.
    pub ask: String,
    /// What was typed.
    pub typed: String,
    /// The question put to the person.
    pub question: String,
    /// The likely slip by name, when one fits.
    pub slip: Option<String>,
}

/// Returns a doubt when a value leaves its expected window, or when it does not agree with its repeats.
pub(super) fn doubt_about(
    ask: &Ask,
    typed: &str,
    value: &EntryValue,
    last_of_another_ask: Option<f64>,
) -> Option<Doubt> {
    let number = value.number()?;
    let outside = ask.expected.is_some_and(|window| !holds(ask, window, number));
    let disagrees = disagrees_with_repeats(ask, number);
    if !outside && !disagrees {
        return None;
    }
    let slip = likely_slip(ask, number, last_of_another_ask);
    let why = if outside { window_words(ask) } else { repeats_words(ask) };
    let hint = slip.as_deref().map(slip_words).unwrap_or_default();
    let question = format!("{value}: {why}{hint} Is it right all the same?");
    Some(Doubt { ask: ask.id.to_owned(), typed: typed.trim().to_owned(), question, slip })
}

fn holds(ask: &Ask, window: Window, number: f64) -> bool {
    if ask.kind == AskKind::Angle { window.holds_angle(number) } else { window.holds(number) }
}

fn disagrees_with_repeats(ask: &Ask, number: f64) -> bool {
    if ask.range_limit <= 0.0 || ask.others.is_empty() {
        return false;
    }
    let all = ask.others.iter().copied().chain([number]);
    let (low, high) = all.fold((number, number), |(low, high), one| (low.min(one), high.max(one)));
    high - low > ask.range_limit
}

/// Names the slip that would explain the value, by the catalogue's ratio and digit-swap checks.
fn likely_slip(ask: &Ask, number: f64, last_of_another_ask: Option<f64>) -> Option<String> {
    let reference = reference_value(ask)?;
    if ask.kind == AskKind::Length {
        let readings = json!({"readings": [reference, reference, number]});
        let answered = readings.as_object().and_then(|inputs| calc::reckon("typing-slip", inputs).ok());
        let name = answered.and_then(|map| Outputs { role: String::new(), map }.word("slip_name").map(str::to_owned));
        if let Some(name) = name.filter(|name| name != "as-expected" && name != "unexplained") {
            return Some(name);
        }
    }
    if last_of_another_ask.is_some_and(|last| (last - number).abs() < 1e-9) {
        return Some("copied-field".to_owned());
    }
    digits_swapped(ask, reference, number).then(|| "digits-swapped".to_owned())
}

fn digits_swapped(ask: &Ask, reference: f64, number: f64) -> bool {
    if ask.display_step <= 0.0 {
        return false;
    }
    let inputs = json!({"first_value": number, "second_value": reference, "least_count": ask.display_step});
    let answered = inputs.as_object().and_then(|inputs| calc::reckon("typing-transposition", inputs).ok());
    answered.and_then(|map| Outputs { role: String::new(), map }.flag("swap_likely")).unwrap_or(false)
}

/// Returns what the value should be near to: the middle of its repeats, else the middle of its window.
fn reference_value(ask: &Ask) -> Option<f64> {
    if ask.others.is_empty() {
        return ask.expected.map(|window| f64::midpoint(window.low, window.high));
    }
    let mut sorted = ask.others.clone();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied()
}

fn window_words(ask: &Ask) -> String {
    ask.expected_shown.map_or_else(
        || "not where it was expected.".to_owned(),
        |window| format!("expected {} to {} {}.", shown(ask, window.low), shown(ask, window.high), ask.unit),
    )
}

fn repeats_words(ask: &Ask) -> String {
    format!("it does not agree with {} taken before.", if ask.others.len() == 1 { "the one" } else { "those" })
}

fn shown(ask: &Ask, value: f64) -> String {
    let digits = if ask.unit == "in" { 4 } else { 3 };
    format!("{value:.digits$}")
}

fn slip_words(slip: &str) -> String {
    let words = match slip {
        "times-10" | "divided-by-10" => "A decimal place slipped?",
        "times-25.4" | "divided-by-25.4" => "Inch and millimetre mixed?",
        "opposite-sign" => "The sign the other way?",
        "times-2" | "divided-by-2" => {
            "Twice or half of it: a diameter for a radius, or half a reading for a whole one?"
        }
        "zero" => "A reading of nothing?",
        "copied-field" => "It is the same number as the entry before: copied?",
        "digits-swapped" => "Two digits swapped?",
        _ => return String::new(),
    };
    format!(" {words}")
}
