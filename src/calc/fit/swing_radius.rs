//! How wide do the fixture and everything on it swing, and what clearance is left to the table?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "swing-radius",
    version: 1,
    topic: "fit",
    question: "How wide do the fixture and everything on it swing, and what clearance is left to the table?",
    formula: "corner_swing = max sqrt(y^2+z^2) over (+-width/2+off_centre_y, +-height/2+off_centre_z); \
         protruding_swings = sqrt(y^2+z^2) of each point; table_clearance = centre_height - largest_swing",
    inputs: &[
        Input::quantity("fixture_width", "mm", "outside width in Y at index 0").above(0.0),
        Input::quantity("fixture_height", "mm", "outside height in Z at index 0").above(0.0),
        Input::quantity("off_centre_y", "mm", "fixture off-centre, plus towards +Y").or(0.0),
        Input::quantity("off_centre_z", "mm", "same towards +Z").or(0.0),
        Input::points(
            "protruding_points",
            2,
            "mm",
            "screw heads, jaw-screw ends, handles: [y, z] from the rotary centreline at index 0",
        )
        .or_empty(),
        Input::quantity("centre_height", "mm", "height of the rotary centreline above the table").above(0.0),
    ],
    outputs: &[
        Output::quantity("corner_swing", "mm", "largest radius of the four corners"),
        Output::quantities("protruding_swings", "mm", "radius of each protruding point, in the order given"),
        Output::quantity("largest_swing", "mm", "largest of all"),
        Output::quantity("table_clearance", "mm", "clearance to the table, minus = it hits"),
    ],
    refusals: &[],
    usual_mistake: "the end of the jaw screw usually swings wider than the fixture",
    validity: "rigid bodies, one rotary axis",
    source: "distance from the axis",
    example: r#"{
            "fixture_width": 90, "fixture_height": 70, "off_centre_y": 0.018, "off_centre_z": -0.011,
            "protruding_points": [[52.0, 38.5], [118.0, 9.0]], "centre_height": 160.0
        }"#,
    solve,
};
