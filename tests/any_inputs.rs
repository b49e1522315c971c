//! Whatever is thrown at a calculation, it answers with finite numbers or refuses and blames an input; it never panics.
//! The rules held here are 5 to 10 of the catalogue of calculations.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use serde_json::{Map, Value, json};
use setwright::calc::{Bounds, Calculation, Input, InputKind, all, reckon};

/// A plain generator of repeatable numbers (splitmix64, from memory).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((mixed ^ (mixed >> 31)) % sides as u64).unwrap()
    }

    fn pick<T: Clone>(&mut self, choices: &[T]) -> T {
        choices[self.roll(choices.len())].clone()
    }

    fn share(&mut self) -> f64 {
        f64::from(u32::try_from(self.roll(1 << 30)).unwrap()) / f64::from(1 << 30)
    }
}

/// A number within the limits: everyday, on a limit, or as extreme as the limits allow.
fn legal_number(dice: &mut Dice, bounds: &Bounds) -> f64 {
    let low = bounds.at_least.or(bounds.above).unwrap_or(-1e300);
    let high = bounds.at_most.or(bounds.below).unwrap_or(1e300);
    let extremes = [low, high, 0.0, 1.0, -1.0, 1e-300, 5e-324, 1e-9, 1e9, 1e154, 1e300, 90.0, 180.0, 360.0, -0.0];
    let number = match dice.roll(3) {
        0 => dice.pick(&extremes),
        1 => dice.share() * 200.0 - 50.0,
        _ => 10.0_f64.powf(dice.share() * 8.0 - 4.0),
    };
    let number = number.clamp(low, high);
    let number =
        if bounds.above.is_some_and(|limit| number <= limit) { low + (high - low).min(1.0) * 0.5 } else { number };
    if bounds.below.is_some_and(|limit| number >= limit) { high - (high - low).min(1.0) * 0.5 } else { number }
}

fn legal(dice: &mut Dice, input: &Input) -> Value {
    let whole = |dice: &mut Dice| json!(legal_number(dice, &input.bounds).round());
    let items = input.least_items + dice.roll(5);
    let vector =
        |dice: &mut Dice, items| (0..items).map(|_| json!(legal_number(dice, &input.bounds))).collect::<Value>();
    match input.kind {
        InputKind::Quantity => json!(legal_number(dice, &input.bounds)),
        InputKind::Quantities => vector(dice, items),
        InputKind::Vector(items) => vector(dice, items),
        InputKind::Points(numbers) => (0..items).map(|_| vector(dice, numbers)).collect(),
        InputKind::Count => whole(dice),
        InputKind::Counts => (0..items).map(|_| whole(dice)).collect(),
        InputKind::Word(words) => json!(dice.pick(words)),
        InputKind::Text => json!(dice.pick(&["H7", "g6", "G54", "", "s11", "D5", "H", "Ü7"])),
        InputKind::DegreesOfFreedom => {
            let number = json!(legal_number(dice, &input.bounds));
            dice.pick(&[json!("infinite"), number])
        }
        InputKind::Records(fields) => (0..items).map(|_| Value::Object(legal_inputs(dice, fields))).collect(),
    }
}

fn legal_inputs(dice: &mut Dice, declared: &[Input]) -> Map<String, Value> {
    let mut inputs: Map<String, Value> =
        declared.iter().map(|input| (input.key.to_owned(), legal(dice, input))).collect();
    for input in declared {
        let Some(other) = input.same_length_as else { continue };
        let wanted = inputs[other].as_array().unwrap().len();
        let list = inputs[input.key].as_array_mut().unwrap();
        list.resize_with(wanted, || json!(legal_number(dice, &input.bounds)));
    }
    inputs
}

#[track_caller]
fn answers_or_refuses(calculation: &Calculation, inputs: &Map<String, Value>) -> bool {
    match reckon(calculation.id, inputs) {
        Ok(answer) => {
            assert_eq!(answer.len(), calculation.outputs.len());
            true
        }
        Err(refused) => {
            let known = refused.input == "inputs" || calculation.inputs.iter().any(|input| input.key == refused.input);
            assert!(known || inputs.contains_key(&refused.input), "{}: {refused:?}", calculation.id);
            assert!(!refused.reason.contains("built wrongly"), "{}: {refused} {inputs:?}", calculation.id);
            false
        }
    }
}

#[test]
fn legal_inputs_never_panic_and_never_give_endless_numbers() {
    for calculation in all() {
        let mut dice = Dice(2026);
        let rounds = 3000;
        let answered =
            (0..rounds).filter(|_| answers_or_refuses(calculation, &legal_inputs(&mut dice, calculation.inputs)));
        let answered = answered.count();
        assert!(answered > 0, "{}: {answered} of {rounds} legal inputs were answered", calculation.id);
    }
}

#[test]
fn faulty_values_are_blamed_on_their_key() {
    let nonsense =
        [json!(true), json!({"a": 1}), json!([[[]]]), json!("12"), json!("12 furlongs"), json!([null]), json!([{}])];
    for calculation in all() {
        let example: Map<String, Value> = serde_json::from_str(calculation.example).unwrap();
        for input in calculation.inputs {
            for value in &nonsense {
                if matches!(input.kind, InputKind::Text) && value.is_string() {
                    continue;
                }
                let mut inputs = example.clone();
                inputs.insert(input.key.to_owned(), value.clone());
                let refused = reckon(calculation.id, &inputs).unwrap_err();
                assert_eq!(refused.input, input.key, "{}: {value}: {refused}", calculation.id);
            }
        }
    }
}

#[test]
fn missing_and_unknown_keys_are_blamed_under_their_own_name() {
    for calculation in all() {
        let example: Map<String, Value> = serde_json::from_str(calculation.example).unwrap();
        for input in calculation.inputs {
            let mut inputs = example.clone();
            let given = inputs.insert(input.key.to_owned(), Value::Null);
            let left_out = reckon(calculation.id, &inputs);
            inputs.shift_remove(input.key);
            assert_eq!(left_out, reckon(calculation.id, &inputs), "null is left out");
            if matches!(input.fallback, setwright::calc::Fallback::Required) {
                assert!(given.is_some(), "{}: the example lacks {}", calculation.id, input.key);
                assert_eq!(left_out.unwrap_err().input, input.key);
            }
        }
        let mut inputs = example.clone();
        inputs.insert("no_such_key".to_owned(), json!(1));
        assert_eq!(reckon(calculation.id, &inputs).unwrap_err().input, "no_such_key");
    }
}

#[test]
fn limits_are_checked_after_the_change_of_unit() {
    for calculation in all() {
        let example: Map<String, Value> = serde_json::from_str(calculation.example).unwrap();
        for input in calculation.inputs.iter().filter(|input| matches!(input.kind, InputKind::Quantity)) {
            let bounds = &input.bounds;
            let on_limit = [bounds.above, bounds.below, bounds.nonzero.then_some(0.0)].into_iter().flatten();
            let beyond = [bounds.at_least.map(f64::next_down), bounds.at_most.map(f64::next_up)].into_iter().flatten();
            for number in on_limit.chain(beyond) {
                let with_unit =
                    if input.unit == "1" { json!(number) } else { json!(format!("{number}{}", input.unit)) };
                for value in [json!(number), with_unit] {
                    let mut inputs = example.clone();
                    inputs.insert(input.key.to_owned(), value);
                    assert_eq!(reckon(calculation.id, &inputs).unwrap_err().input, input.key, "{number}");
                }
            }
        }
    }
}
