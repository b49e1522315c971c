//! Is the fixture on the jaws the right way round, judged by touching its off-centre flat?

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
