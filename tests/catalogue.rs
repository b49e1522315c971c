//! Every calculation that the trade asked for is registered with exactly its id, its keys and its units.
//!
//! Source: the project's catalogue of calculations, which lies beside the checkout of its makers and not in the crate;
//! where it is not there, the test says so.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

use std::path::Path;

use serde_json::Value;
use setwright::calc::{self, InputKind};

#[test]
fn every_calculation_has_its_id_keys_and_units() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/trade/catalogue.json");
    let Ok(text) = std::fs::read_to_string(path) else {
        println!("skipped: the catalogue is not beside this checkout");
        return;
    };
    let catalogue: Value = serde_json::from_str(&text).unwrap();
    let wanted = catalogue["calculations"].as_array().unwrap();
    assert_eq!(wanted.len(), 95);
    for one in wanted {
        let id = one["id"].as_str().unwrap();
        let found = calc::calculation(id).unwrap_or_else(|| panic!("{id} is not registered"));
        let keys = |side: &str| -> Vec<String> {
            one[side].as_array().unwrap().iter().map(|entry| entry["key"].as_str().unwrap().to_owned()).collect()
        };
        assert_eq!(keys("inputs"), found.inputs.iter().map(|input| input.key).collect::<Vec<_>>(), "inputs of {id}");
        assert_eq!(
            keys("outputs"),
            found.outputs.iter().map(|output| output.key).collect::<Vec<_>>(),
            "outputs of {id}"
        );
        for (entry, input) in one["inputs"].as_array().unwrap().iter().zip(found.inputs) {
            if matches!(
                input.kind,
                InputKind::Quantity | InputKind::Quantities | InputKind::Vector(_) | InputKind::Points(_)
            ) {
                assert_eq!(entry["unit"].as_str().unwrap(), input.unit, "{id} {}", input.key);
            }
        }
        assert_eq!(one["topic"].as_str().unwrap(), found.topic, "{id}");
    }
}

/// The extras that only steps need are counted apart, so that none is lost by accident.
#[test]
fn nothing_is_lost_by_accident() {
    assert!(calc::all().count() >= 110, "{} calculations", calc::all().count());
}
