//! How far does a jaw edge stand off the slot floor because of the fillet in the corner?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-standoff",
    version: 1,
    topic: "fit",
    question: "How far does a jaw edge stand off the slot floor because of the fillet in the corner?",
    formula: "h = max(0, R - sqrt(R^2-(R-g-b)^2) if g+b<R, R - b - sqrt(R^2-(R-g)^2) if g<R); chamfer_for_flush = \
         max(0, R-g); R fillet_radius, g side_gap, b jaw_chamfer",
    inputs: &[
        Input::quantity("fillet_radius", "mm", "fillet radius of the slot corner").at_least(0.0),
        Input::quantity("side_gap", "mm", "gap between jaw side and slot wall").at_least(0.0),
        Input::quantity("jaw_chamfer", "mm", "leg of the 45 degree chamfer on the jaw edge, 0 = sharp")
            .at_least(0.0)
            .or(0.0),
    ],
    outputs: &[
        Output::quantity("standoff", "mm", "height by which the jaw stands off the floor, 0 = flush"),
        Output::quantity("chamfer_for_flush", "mm", "smallest chamfer leg that lets it seat"),
    ],
    refusals: &[],
    usual_mistake: "testing the middle of the chamfer only: the ends of the chamfer touch the fillet first",
    validity: "45 degree chamfer, round fillet tangent to floor and wall",
    source: "circle geometry",
    example: r#"{"fillet_radius": 1.5, "side_gap": 0.05, "jaw_chamfer": 0.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (fillet_radius, side_gap) = (given.number("fillet_radius")?, given.number("side_gap")?);
    let jaw_chamfer = given.number("jaw_chamfer")?;
    let upper_end = fillet_height(fillet_radius, side_gap) - jaw_chamfer;
    let lower_end = fillet_height(fillet_radius, side_gap + jaw_chamfer);
    Ok(Answer::new()
        .with("standoff", upper_end.max(lower_end).max(0.0))
        .with("chamfer_for_flush", (fillet_radius - side_gap).max(0.0)))
}

/// Returns how high the fillet stands over the floor at a distance from the wall: R - sqrt(R^2 - (R - distance)^2), in a
/// form that keeps its digits near the floor.
fn fillet_height(radius: f64, distance: f64) -> f64 {
    let inside = radius - distance;
    if inside <= 0.0 {
        return 0.0;
    }
    inside * (inside / (radius + distance.sqrt() * (radius + inside).sqrt()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case corner_standoff_sharp of the project's own set of cases; 0.116 for the chamfer: worked by hand in the
    // derivation of the formula.
    #[test]
    fn a_sharp_jaw_stands_off_and_a_chamfer_does_not_cure_it_all() {
        let inputs = json!({"fillet_radius": 1.5, "side_gap": 0.05});
        holds("corner-standoff", &inputs, &json!({"standoff": 1.115_942_712_606_569_7, "chamfer_for_flush": 1.45}));
        near("corner-standoff", &with(&inputs, "jaw_chamfer", json!(1.0)), "standoff", 0.116, 0.0005);
        holds("corner-standoff", &with(&inputs, "jaw_chamfer", json!(1.45)), &json!({"standoff": 0.0}));
    }

    // Geometry: both ends of the chamfer lie within the radius round the centre of the fillet, one of them on it.
    #[test]
    fn a_jaw_that_stands_off_touches_the_fillet() {
        for (radius, gap, chamfer) in [(1.5_f64, 0.05_f64, 0.0_f64), (1.5, 0.05, 0.4), (1.5, 0.0, 1.2), (2.0, 0.5, 1.0)]
        {
            let inputs = json!({"fillet_radius": radius, "side_gap": gap, "jaw_chamfer": chamfer});
            let answer = crate::calc::check::answer("corner-standoff", &inputs);
            let standoff = answer["standoff"]["value"].as_f64().unwrap();
            let from_centre = |x: f64, y: f64| (radius - x).max(0.0).hypot((radius - y).max(0.0));
            let farthest = from_centre(gap, standoff + chamfer).max(from_centre(gap + chamfer, standoff));
            assert!((farthest - radius).abs() < 1e-12, "{farthest} {radius}");
        }
    }

    // By hand: no fillet, no stand-off.
    #[test]
    fn without_a_fillet_it_seats() {
        let inputs = json!({"fillet_radius": 0, "side_gap": 0});
        holds("corner-standoff", &inputs, &json!({"standoff": 0.0, "chamfer_for_flush": 0.0}));
        refuses("corner-standoff", &with(&inputs, "side_gap", json!(-0.01)), "side_gap");
        refuses("corner-standoff", &with(&inputs, "jaw_chamfer", json!(-0.01)), "jaw_chamfer");
    }
}
