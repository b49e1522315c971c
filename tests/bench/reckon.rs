//! How many answers a second `reckon --lines` gives on one core: `cargo bench --bench reckon`. Simple answers must come
//! at 100,000 a second. Each calculation answers its own example again and again, from a line of text to a line of text.
#![allow(
    clippy::unwrap_used,
    clippy::cast_precision_loss,
    clippy::print_stdout,
    reason = "a bench may stop at what it did not expect"
)]

use std::time::Instant;

use serde_json::{Value, json};
use setwright::calc::{self, Calculation};

const LINES: usize = 20_000;
const LEAST: f64 = 100_000.0;

/// Answers out of one formula, without a fit, a table or a distribution.
const SIMPLE: [&str; 5] =
    ["flip-centreline", "tram-correction", "coordinate-identity", "spindle-speed", "index-for-normal"];

fn main() {
    let mut rates: Vec<(f64, &str)> = calc::all().map(|calculation| (rate(calculation), calculation.id)).collect();
    rates.sort_by(|one, other| one.0.total_cmp(&other.0));
    let row = |&(rate, id): &(f64, &str)| println!("{id:<34} {rate:>10.0} answers a second");
    println!("the five slowest of {} calculations", rates.len());
    rates.iter().take(5).for_each(row);
    println!("simple ones");
    let simple: Vec<&(f64, &str)> = rates.iter().filter(|(_, id)| SIMPLE.contains(id)).collect();
    for found in &simple {
        row(found);
    }
    assert_eq!(simple.len(), SIMPLE.len(), "every simple calculation is measured");
    assert!(simple.iter().all(|(rate, _)| *rate >= LEAST), "a simple answer comes too slowly");
    let quick = rates.iter().filter(|(rate, _)| *rate >= LEAST).count();
    println!("{quick} of {} give 100,000 a second or more", rates.len());
}

/// Answers a second to one calculation's own example.
fn rate(calculation: &Calculation) -> f64 {
    let inputs: Value = serde_json::from_str(calculation.example).unwrap();
    let lines = format!("{}\n", json!({"name": calculation.id, "inputs": inputs})).repeat(LINES);
    let mut answers = Vec::with_capacity(lines.len());
    let began = Instant::now();
    calc::reckon_lines(lines.as_bytes(), &mut answers).unwrap();
    let seconds = began.elapsed().as_secs_f64();
    assert_eq!(String::from_utf8_lossy(&answers).lines().count(), LINES);
    assert!(!answers.starts_with(b"{\"error\""), "{} refuses its own example", calculation.id);
    LINES as f64 / seconds
}
