//! The practice cards, and what is refused.

use super::*;
use proptest::prelude::*;
use serde_json::{Value, json};

mod demo;

pub(super) fn practice(index: usize) -> JobCard {
    let (id, text) = practice_cards()[index];
    let card = read(text).unwrap_or_else(|faults| panic!("{id}: {faults}"));
    assert_eq!(card.id, id);
    assert_eq!(card.text, text);
    card
}

fn value(index: usize) -> Value {
    serde_json::from_str(practice_cards()[index].1).unwrap()
}

fn faults_of(card: &Value) -> Vec<CardFault> {
    match read(&card.to_string()) {
        Ok(_) => Vec::new(),
        Err(faults) => faults.faults,
    }
}

/// Reads the first card with one value changed; `pointer` is a JSON pointer (RFC 6901).
fn changed(pointer: &str, new: Value) -> Vec<CardFault> {
    let mut card = value(0);
    *card.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer}")) = new;
    faults_of(&card)
}

fn assert_fault(faults: &[CardFault], path: &str, says: &str) {
    let found = faults.iter().any(|fault| fault.path == path && fault.to_string().contains(says));
    assert!(found, "no fault at {path} saying {says:?} in {faults:#?}");
}

#[test]
fn each_value_that_cannot_be_is_named_with_its_path() {
    let cases = [
        ("/features/2/radius", json!(0), "features[2].radius", "is believed"),
        ("/features/2/radius", json!("24 deg"), "features[2].radius", "but length is wanted"),
        ("/features/2/radius", json!("2.4 tenths"), "features[2].radius", "0.0001 in or 0.1 mm?"),
        ("/features/2/radius", json!(null), "features[2].radius", "this is null"),
        ("/features/2/angle", json!(361), "features[2].angle", "-360"),
        ("/features/1/id", json!("p1"), "features[1].id", "features[0]"),
        ("/features/1/id", json!("P1"), "features[1].id", "lower-case"),
        ("/features/1/tool", json!(7), "features[1].tool", "1, 2"),
        ("/features/0/tool", json!(2), "features[0].tool", "larger than the hole"),
        ("/features/0/tip_depth", json!(6.9), "features[0].depth", "features[0].tip_depth"),
        ("/features/0/drawn", json!("ccw"), "features[0].drawn", "counter-clockwise"),
        ("/features/3/bore/window/smallest", json!(8.02), "features[3].bore.window.smallest", "small to large"),
        ("/features/3/bore/target", json!(8.02), "features[3].bore.target", "lies in its window"),
        ("/features/3/bore/target", json!(80.1), "features[3].bore.target", "decimal points"),
        ("/features/3/bore/press/pin_diameter", json!(8.01), "features[3].bore.window.largest", "larger than its bore"),
        ("/features/3/bore/press/friction/upper", json!(0.05), "features[3].bore.press.friction.lower", "Lower before"),
        ("/features/3/bore/damping", json!(1.1), "features[3].bore.damping", "is believed"),
        ("/budget/critical_feature", json!("b2"), "budget.critical_feature", "p1, p2, p3, b"),
        ("/register/claimed", json!("G53"), "register.claimed", "G54"),
        ("/register/claimed", json!("G54"), "register.protected[0]", "claimed by this job"),
        ("/register/protected/1", json!("G54"), "register.protected[1]", "twice"),
        ("/tools/1/number", json!(1), "tools[1].number", "tools[0]"),
        ("/tools/0/length", json!(4.235), "tools[0].length", "Meant in inches? Write \"4.235 in\""),
        ("/tools/0/point_angle", json!(45), "tools[0].point_angle", "60"),
        ("/machine/rapid_dial", json!([25, 5, 100]), "machine.rapid_dial[1]", "low to high"),
        ("/machine/feed_dial", json!([50, 50]), "machine.feed_dial[1]", "low to high"),
        ("/machine/work_turns", json!("cw"), "machine.work_turns", "left-hand"),
        ("/machine/display_includes_length", json!("yes"), "machine.display_includes_length", "without quotes"),
        ("/machine/reaction", json!("0.7 mm"), "machine.reaction", "but time is wanted"),
        ("/first_run/stops/1/height", json!(30), "first_run.stops[1].height", "high to low"),
        ("/first_run/stops/1/name", json!("far"), "first_run.stops[1].name", "first_run.stops[0]"),
        ("/first_run/air_lift", json!(11.419), "first_run.air_lift", "deepest tip"),
        ("/fixture/ring_bore", json!(47.9), "part.diameter", "free ring"),
        ("/fixture/mark_flat_y", json!(0.005), "fixture.mark_flat_y", "off centre"),
        ("/fixture/seat_corners/1", json!({"u": -35, "v": -35}), "fixture.seat_corners", "in turn"),
        ("/fixture/seat_corners", json!([]), "fixture.seat_corners", "4 are wanted"),
        ("/fixture/play_wanted", json!(0.03), "fixture.play_wanted", "lies in its window"),
        ("/part/batch", json!(0), "part.batch", "1 to 10000"),
        ("/part/batch", json!(2.5), "part.batch", "whole number"),
        ("/part/name", json!("a\u{1b}[31mb"), "part.name", "invisible"),
        ("/part/name", json!(""), "part.name", "blank"),
        ("/version", json!(2), "version", "newer"),
        ("/unit", json!("cm"), "unit", "mm, in"),
        ("/features", json!([]), "features", "0 entries"),
        ("/notes", json!("x"), "notes", "A list"),
    ];
    for (pointer, new, path, says) in cases {
        assert_fault(&changed(pointer, new), path, says);
    }
}

#[test]
fn values_that_may_be_equal_are() {
    let cases = [
        ("/features/0/tip_depth", json!(7)), // a flat end
        ("/features/3/bore/target", json!(8.005)),
        ("/features/3/bore/target", json!(8.015)),
        ("/fixture/edge_span", json!(90)),
        ("/fixture/play_wanted", json!(0.02)),
        ("/machine/spindle_base", json!(10_000)),
        ("/first_run/air_lift", json!(11.42)),
    ];
    for (pointer, new) in cases {
        assert_eq!(changed(pointer, new), [], "{pointer}");
    }
}

#[test]
fn an_unknown_key_is_a_fault_with_the_nearest_known_one() {
    let mut card = value(0);
    card["features"][2]["radus"] = json!(24);
    card["colour"] = json!("blue");
    let faults = faults_of(&card);
    assert_fault(&faults, "features[2].radus", "Was \"radius\" meant?");
    assert_fault(&faults, "colour", "Known here: version, id, title");
    assert_eq!(faults.len(), 2);
}

#[test]
fn all_faults_come_at_once() {
    let mut card = value(0);
    card["features"][2]["radius"] = json!("x");
    card["register"]["claimed"] = json!("G55");
    card["budget"]["critical_feature"] = json!("nothing");
    card["part"].as_object_mut().unwrap().remove("batch");
    let faults = faults_of(&card);
    for path in ["part.batch", "features[2].radius", "budget.critical_feature", "register.protected[1]"] {
        assert_fault(&faults, path, "");
    }
    assert_eq!(faults.len(), 4, "{faults:#?}");
    let shown = CardFaults::from(faults).to_string();
    assert!(shown.starts_with("the card has 4 faults:\n  part.batch: this key is missing"), "{shown}");
}

#[test]
fn a_card_in_the_wrong_unit_says_so() {
    for (index, other, says) in [(0, "in", "meant in mm"), (1, "mm", "meant in in")] {
        let mut card = value(index);
        card["unit"] = json!(other);
        assert_fault(&faults_of(&card), "unit", says);
    }
    let mut card = value(0);
    card["part"]["diameter"] = json!(47.995 / 25.4);
    assert_fault(&faults_of(&card), "part.diameter", "too many digits");
    card["part"]["diameter"] = json!(2.0);
    assert_fault(&faults_of(&card), "fixture.ring_bore", "write the unit with the number");
}

#[test]
fn what_is_left_out_is_missing_or_has_its_default() {
    let card = value(0);
    for row in field_rows().iter().filter(|row| !row.path.starts_with("features[].bore")) {
        let mut short = card.clone();
        let (parent, key) = row.path.rsplit_once('.').unwrap_or(("", row.path.as_str()));
        let pointer: String = parent
            .replace("[]", ".0")
            .split('.')
            .filter(|s| !s.is_empty())
            .fold(String::new(), |pointer, step| format!("{pointer}/{step}"));
        // Inside a part that the card leaves to its default there is nothing to remove.
        let Some(Value::Object(object)) = short.pointer_mut(&pointer) else { continue };
        object.remove(key);
        let path = row.path.replace("[]", "[0]");
        let faults = faults_of(&short);
        if row.need == "required" {
            assert_fault(&faults, &path, "this key is missing");
        } else {
            assert_eq!(faults, [], "{path}");
        }
    }
}

/// The defaults are common practice, to be confirmed; the stops are the demonstration's.
#[test]
fn defaults_follow_the_cards_unit() {
    for (index, margin, far) in [(0, 5_000_000_000, 30_000_000_000), (1, 5_080_000_000, 30_480_000_000)] {
        let mut card = value(index);
        for (object, key) in [
            ("/machine", "swing_margin"),
            ("/machine", "reaction"),
            ("/machine", "rapid_dial"),
            ("/machine", "work_turns"),
            ("/first_run", "stops"),
            ("/first_run", "chip_margin"),
            ("/fixture", "touch_height"),
            ("/features/3/bore", "damping"),
            ("/features/3/bore", "press"),
            ("", "depth"),
        ] {
            card.pointer_mut(object).unwrap().as_object_mut().unwrap().remove(key);
        }
        let card = read(&card.to_string()).unwrap();
        assert_eq!(card.machine.swing_margin.picometres(), margin);
        assert_eq!(card.first_run.stops[0].1.picometres(), far);
        assert_eq!(card.machine.work_turns, None);
        assert_eq!(card.depth, Depth::Normal);
        assert_eq!(card.fixture.touch_height, crate::quantity::Length::ZERO);
        let bore = card.features[3].bore.as_ref().unwrap();
        assert_eq!(bore.press, None);
        let numbers = [card.machine.reaction_s, card.first_run.chip_margin, bore.damping];
        assert_eq!(numbers.map(f64::to_bits), [0.7, 2.0, 0.8].map(f64::to_bits));
        assert_eq!(card.machine.rapid_dial_percent.len(), 4);
    }
}

#[test]
fn a_card_has_bounds() {
    let mut long = practice_cards()[0].1.to_owned();
    long.push_str(&" ".repeat(LONGEST_CARD - long.len()));
    assert!(read(&long).is_ok());
    long.push('\n');
    assert_fault(&read(&long).unwrap_err().faults, "card", "49153 bytes, and 49152 are the most");
    let slim = format!(r#"{{"features": [{}]}}"#, ["{}"; 201].join(","));
    assert_fault(&read(&slim).unwrap_err().faults, "features", "201 entries");
    assert_fault(&read("[1]").unwrap_err().faults, "card", "not a list");
    assert_fault(&read("{\"unit\": ").unwrap_err().faults, "card", "line 1");
    let twice = practice_cards()[0].1.replacen("\"id\"", "\"title\": \"x\", \"id\"", 1);
    assert_fault(&read(&twice).unwrap_err().faults, "card", "\"title\" stands twice");
}

#[test]
fn the_published_schema_is_the_one_of_the_code() {
    let published: Value = serde_json::from_str(include_str!("../../assets/job-card.schema.json")).unwrap();
    let current = serde_json::to_string_pretty(&schema()).unwrap();
    assert!(published == schema(), "assets/job-card.schema.json must hold:\n{current}");
}

#[test]
fn the_schema_knows_the_keys_of_the_table_and_of_both_cards() {
    let schema = schema();
    for row in field_rows() {
        let pointer = row.path.split('.').fold(String::new(), |pointer, step| match step.strip_suffix("[]") {
            Some(list) => format!("{pointer}/properties/{list}/items"),
            None => format!("{pointer}/properties/{step}"),
        });
        assert!(schema.pointer(&pointer).is_some(), "{pointer}");
    }
    for index in 0..2 {
        assert_keys_known(&schema, &value(index));
    }
}

fn assert_keys_known(schema: &Value, card: &Value) {
    match card {
        Value::Object(object) => {
            for (key, inner) in object {
                assert_keys_known(
                    schema.pointer(&format!("/properties/{key}")).unwrap_or_else(|| panic!("{key}")),
                    inner,
                );
            }
            for key in schema["required"].as_array().unwrap() {
                assert!(object.contains_key(key.as_str().unwrap()), "{key}");
            }
        }
        Value::Array(items) => items.iter().for_each(|item| assert_keys_known(&schema["items"], item)),
        _ => {}
    }
}

/// Counts the values of a tree, and replaces the one with a number.
fn replace(tree: &mut Value, at: &mut usize, new: &Value) {
    if *at == 0 {
        *tree = new.clone();
    }
    *at = at.wrapping_sub(1);
    match tree {
        Value::Object(object) => object.values_mut().for_each(|inner| replace(inner, at, new)),
        Value::Array(items) => items.iter_mut().for_each(|inner| replace(inner, at, new)),
        _ => {}
    }
}

fn any_value() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(json!(null)),
        Just(json!({})),
        Just(json!([])),
        Just(json!([1, "a", null])),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        (-100.0..100.0).prop_map(Value::from),
        "[-+0-9./, a-z]{0,16}".prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn a_changed_card_is_read_or_refused_with_a_path(index in 0..2_usize, at in 0..330_usize, new in any_value()) {
        let mut card = value(index);
        replace(&mut card, &mut at.clone(), &new);
        let text = card.to_string();
        match read(&text) {
            Ok(card) => {
                prop_assert_eq!(card.text, text);
                prop_assert!(!card.features.is_empty() && card.machine.rapid_mm_min.is_finite());
            }
            Err(faults) => {
                prop_assert!(!faults.faults.is_empty());
                for fault in faults.faults {
                    prop_assert!(!fault.path.is_empty() && !fault.what.is_empty() && !fault.hint.is_empty());
                    prop_assert!(!fault.hint.contains("fault of the program"), "{}", fault);
                }
            }
        }
    }

    #[test]
    fn no_text_makes_reading_panic(text in any::<String>(), cut in 0..9000_usize) {
        let _ = read(&text);
        let whole = practice_cards()[0].1;
        if let Some(part) = whole.get(..cut.min(whole.len() - 2)) {
            prop_assert!(read(part).is_err());
        }
    }
}
