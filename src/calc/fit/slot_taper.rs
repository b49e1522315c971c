//! Is a slot narrower at one end, and where is it narrowest?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "slot-taper",
    version: 1,
    topic: "fit",
    question: "Is a slot narrower at one end or in the middle, and what play is left at its narrowest?",
    formula: "taper = far_width - near_width; bow = middle_width - (near_width + far_width)/2; narrowest = least of the \
         three; play_at_narrowest = narrowest - jaw_width",
    inputs: &[
        Input::quantity("near_width", "mm", "width at the near end").above(0.0),
        Input::quantity("middle_width", "mm", "width in the middle").above(0.0),
        Input::quantity("far_width", "mm", "width at the far end").above(0.0),
        Input::quantity("jaw_width", "mm", "width of the jaw").above(0.0),
    ],
    outputs: &[
        Output::quantity("taper", "mm", "far width minus near width"),
        Output::quantity("bow", "mm", "how much wider the middle is than the ends"),
        Output::quantity("narrowest", "mm", "least width"),
        Output::quantity("play_at_narrowest", "mm", "what is left there over the jaw; minus = it binds"),
    ],
    refusals: &[],
    usual_mistake: "gauging the slot in one place only, where the cutter was not sprung away",
    validity: "jaw with straight parallel sides",
    source: "plane geometry",
    example: r#"{"near_width": 16.012, "middle_width": 16.010, "far_width": 16.004, "jaw_width": 16.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (near, middle, far) = (given.number("near_width")?, given.number("middle_width")?, given.number("far_width")?);
    let narrowest = near.min(middle).min(far);
    Ok(Answer::new()
        .with("taper", far - near)
        .with("bow", middle - f64::midpoint(near, far))
        .with("narrowest", narrowest)
        .with("play_at_narrowest", narrowest - given.number("jaw_width")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand, in sixteenths so that every difference is exact.
    #[test]
    fn the_narrow_end_decides() {
        let inputs = json!({"near_width": 16.25, "middle_width": 16.25, "far_width": 15.9375, "jaw_width": 16});
        let expected = json!({"taper": -0.3125, "bow": 0.15625, "narrowest": 15.9375, "play_at_narrowest": -0.0625});
        holds("slot-taper", &inputs, &expected);
        refuses("slot-taper", &with(&inputs, "far_width", json!(0)), "far_width");
    }
}
