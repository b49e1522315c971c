//! Is the fixture on the jaws the right way round, judged by touching its off-centre flat?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "reversed-fixture-check",
    version: 1,
    topic: "fit",
    question: "Is the fixture on the jaws the right way round, judged by touching its off-centre flat?",
    formula: "found_plus_expected = found_flat_y + expected_flat_y; reversed = |found_plus_expected| <= \
         match_within; as_expected = |found_flat_y - expected_flat_y| <= match_within",
    inputs: &[
        Input::quantity("expected_flat_y", "mm", "where the flat should be from the centreline, with sign"),
        Input::quantity("found_flat_y", "mm", "where it was found"),
        Input::quantity("match_within", "mm", "how close counts as found").above(0.0),
    ],
    outputs: &[
        Output::quantity("found_plus_expected", "mm", "found plus expected"),
        Output::flag("reversed", "true when the flat is on the opposite side: turned half round"),
        Output::flag("as_expected", "true when the flat is where it should be"),
    ],
    refusals: &[Refusal::of(
        "expected_flat_y",
        "not farther from the centreline than match_within: the test could not tell the two ways apart",
    )],
    usual_mistake: "a small difference proves nothing when the flat is nearly on the centreline",
    validity: "flat parallel to the axis",
    source: "sign test",
    example: r#"{"expected_flat_y": 41.5, "found_flat_y": -41.48, "match_within": 0.2}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (expected, found) = (given.number("expected_flat_y")?, given.number("found_flat_y")?);
    let match_within = given.number("match_within")?;
    if expected.abs() <= match_within {
        let reason = "expected_flat_y must lie farther from the centreline than match_within: both ways round would look \
             alike.";
        return Err(Refused::new("expected_flat_y", reason));
    }
    let found_plus_expected = found + expected;
    let is_near =
        |apart: f64| limits::difference_within(apart.abs(), match_within, limits::largest(&[found, expected]));
    Ok(Answer::new()
        .with("found_plus_expected", found_plus_expected)
        .with("reversed", is_near(found_plus_expected))
        .with("as_expected", is_near(found - expected)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: a flat at 41.5 is found there, on the opposite side, or neither.
    #[test]
    fn the_flat_tells_the_two_ways_apart() {
        let inputs = json!({"expected_flat_y": 41.5, "found_flat_y": -41.48, "match_within": 0.2});
        holds(
            "reversed-fixture-check",
            &inputs,
            &json!({"found_plus_expected": 0.02, "reversed": true, "as_expected": false}),
        );
        for (found, reversed, as_expected) in
            [(41.7, false, true), (41.3, false, true), (-41.7, true, false), (40.0, false, false)]
        {
            let expected = json!({"reversed": reversed, "as_expected": as_expected});
            holds("reversed-fixture-check", &with(&inputs, "found_flat_y", json!(found)), &expected);
        }
        refuses("reversed-fixture-check", &with(&inputs, "expected_flat_y", json!(-0.2)), "expected_flat_y");
    }
}
