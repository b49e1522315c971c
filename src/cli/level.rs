//! Levelling a part now, its run-out, and the pocket table for a machine without a screen beside it.

use std::fmt::Write as _;

use serde_json::{Map, Value, json};

use crate::calc;
use crate::cli::arguments::Level as Options;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::{print, sessions};
use crate::job::{self, CardUnit, Task};
use crate::quantity::{Dimension, Unit, typed};
use crate::session::machine;

/// Carries out `setwright level`.
pub(super) fn level(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    let unit = if options.inch { CardUnit::Inch } else { CardUnit::Millimetre };
    if let Some(span) = &options.table {
        return print(&table(options, unit, span)?).map(|()| 0);
    }
    let house = sessions::faced(here.house()?, &options.face);
    let name = machine(&house, options.machine.as_deref());
    if name.is_empty() || name.len() > 64 || !name.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '-')
    {
        return Err(Failure::usage(format!(
            "--machine {name}: up to 64 letters, digits and dashes, such as mill-left."
        )));
    }
    let task = if options.run_out { Task::RunOut } else { Task::Level };
    let card = job::quick_card(task, unit, &name).map_err(|faults| Failure::card(task.word(), &faults))?;
    sessions::begin(card, &house, &options.face, here)
}

/// What stands on a table when it is not said: the common limit, a common indicator, and how one-sided approach repeats.
struct Common {
    within: &'static str,
    division: &'static str,
    repeatability: &'static str,
    z_step: &'static str,
    unit: &'static str,
    turns_of: [&'static str; 4],
}

const METRIC: Common = Common {
    within: "0.012",
    division: "0.01",
    repeatability: "0.0025",
    z_step: "0.001",
    unit: "mm",
    turns_of: ["0.01", "0.02", "0.05", "0.1"],
};
const IMPERIAL: Common = Common {
    within: "0.0005",
    division: "0.0005",
    repeatability: "0.0001",
    z_step: "0.0001",
    unit: "in",
    turns_of: ["0.0005", "0.001", "0.002", "0.005"],
};

fn table(options: &Options, unit: CardUnit, span: &str) -> Result<String, Failure> {
    let common = if unit == CardUnit::Inch { IMPERIAL } else { METRIC };
    let read = |text: &str, option: &str| length(text, common.unit, option);
    let span = read(span, "--table")?;
    let within = read(options.within.as_deref().unwrap_or(common.within), "--within")?;
    let division = read(options.division.as_deref().unwrap_or(common.division), "--division")?;
    let repeatability = read(options.repeatability.as_deref().unwrap_or(common.repeatability), "--repeatability")?;
    let shown = |mm: f64, digits: usize| shown(mm, common.unit, digits);
    let digits = if unit == CardUnit::Inch { 5 } else { 4 };
    let mut text = format!(
        "LEVEL  span {}  within {}\nAlways finish from the same side. Rear high: turn so that the rear goes down.\n\n rear-front   turn A by\n",
        shown(span, digits - 1),
        shown(within, digits)
    );
    for step in common.turns_of {
        let difference = read(step, "--table")?;
        let inputs =
            json!({"rear_reading": difference, "front_reading": 0, "pad_span": span, "work_turns": "right-hand"});
        let turn = value(&reckon("tram-correction", &inputs)?, "roll_angle");
        let _ = writeln!(text, " {step:>10}   {turn:.4} deg");
    }
    text.push_str("\nStop when the mean difference of so many pairs is no more than\n pairs     needle      by Z\n");
    let limits = |way: &str| {
        let outputs = reckon(
            "tram-capability",
            &json!({
                "pad_span": span, "tolerance": within, "way": way, "repeatability": repeatability, "division": division,
                "z_step": length(common.z_step, common.unit, "z")?, "rotary_repeat": 0.0005,
            }),
        )?;
        Ok::<_, Failure>(values(&outputs, "stop_limits"))
    };
    for (pairs, (needle, z_null)) in (1..).zip(limits("needle")?.into_iter().zip(limits("z-null")?)) {
        let cell = |limit: f64| if limit > 0.0 { shown(limit, digits) } else { "read more".to_owned() };
        let _ = writeln!(text, " {pairs:>5} {:>10} {:>10}", cell(needle), cell(z_null));
    }
    let _ = writeln!(
        text,
        "\nIndicator: one division {}, one reading repeats to {}.\nWithin: shown with 95 %. Up to three moves a visit; then fit all tries.",
        shown(division, digits),
        shown(repeatability, digits)
    );
    Ok(text)
}

fn length(text: &str, unit: &str, option: &str) -> Result<f64, Failure> {
    let unit = Unit::of(Dimension::Length, unit).unwrap_or_else(|| Dimension::Length.base_unit());
    typed::read(text, Dimension::Length, unit)
        .map(|quantity| quantity.base_value())
        .map_err(|misread| Failure::usage(format!("{option} {text}: {misread}")))
}

fn shown(mm: f64, unit: &str, digits: usize) -> String {
    let unit = Unit::of(Dimension::Length, unit).unwrap_or_else(|| Dimension::Length.base_unit());
    format!("{:.digits$}", unit.from_base(mm))
}

fn reckon(name: &str, inputs: &Value) -> Result<Map<String, Value>, Failure> {
    let none = Map::new();
    calc::reckon(name, inputs.as_object().unwrap_or(&none)).map_err(|refused| Failure::usage(refused.reason))
}

fn value(outputs: &Map<String, Value>, key: &str) -> f64 {
    outputs.get(key).and_then(|output| output.get("value")).and_then(Value::as_f64).unwrap_or(0.0)
}

fn values(outputs: &Map<String, Value>, key: &str) -> Vec<f64> {
    let list = outputs.get(key).and_then(Value::as_array);
    list.map(|list| list.iter().filter_map(|item| item.get("value").and_then(Value::as_f64)).collect())
        .unwrap_or_default()
}
