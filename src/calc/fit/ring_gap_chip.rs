//! How much does a chip between ring and part open the gap, for a stiff ring and for a flexible band?

use std::f64::consts::PI;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "ring-gap-chip",
    version: 1,
    topic: "fit",
    question: "How much does a chip between ring and part open the gap, for a stiff ring and for a flexible band?",
    formula: "gap_stiff = pi*chip_thickness; gap_flexible = 2 (sqrt((R+t)^2 - R^2) - R acos(R/(R+t))), R = \
         part_diameter/2, t = chip_thickness; ratio = gap_stiff/gap_flexible",
    inputs: &[
        Input::quantity("part_diameter", "mm", "diameter of the part").above(0.0),
        Input::quantity("chip_thickness", "mm", "thickness of the chip").above(0.0),
    ],
    outputs: &[
        Output::quantity("gap_stiff", "mm", "gap opens by, ring stays round"),
        Output::quantity("gap_flexible", "mm", "gap opens by, band bends round the chip"),
        Output::quantity("ratio", "1", "stiff over flexible"),
    ],
    refusals: &[],
    usual_mistake: "the feeler may NOT see a chip when the ring bends: never the only chip check",
    validity: "the two limits between which real rings lie",
    source: "circumference; two tangents over a chip",
    example: r#"{"part_diameter": 48, "chip_thickness": 0.1}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (radius, chip) = (given.number("part_diameter")? / 2.0, given.number("chip_thickness")?);
    let gap_stiff = PI * chip;
    // Tangent of the angle from the chip to where the band touches the part: sqrt((R + t)^2 - R^2)/R.
    let tangent = (chip / radius).sqrt() * (2.0 + chip / radius).sqrt();
    let gap_flexible = 2.0 * radius * tangent_minus_arc(tangent);
    Ok(Answer::new()
        .with("gap_stiff", gap_stiff)
        .with("gap_flexible", gap_flexible)
        .with("ratio", gap_stiff / gap_flexible))
}

/// Returns x - atan(x): by its series x^3/3 - x^5/5 + ... where the plain difference would lose digits.
fn tangent_minus_arc(tangent: f64) -> f64 {
    const TERMS: u32 = 20;
    if tangent > 0.3 {
        return tangent - tangent.atan();
    }
    let square = tangent * tangent;
    let nested = (1..=TERMS).rev().map(|term| f64::from(2 * term + 1)).fold(0.0, |rest, odd| 1.0 / odd - square * rest);
    tangent * square * nested
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses};

    // Worked by hand in the derivation: a chip of 0.1 on a radius of 24 opens a stiff ring by 0.314, a band by 0.0121,
    // a factor of 26.
    #[test]
    fn a_band_hides_the_chip() {
        let inputs = json!({"part_diameter": 48, "chip_thickness": 0.1});
        near("ring-gap-chip", &inputs, "gap_stiff", 0.314, 0.0005);
        near("ring-gap-chip", &inputs, "gap_flexible", 0.0121, 0.000_05);
        near("ring-gap-chip", &inputs, "ratio", 26.0, 0.5);
        refuses("ring-gap-chip", &json!({"part_diameter": 48, "chip_thickness": 0}), "chip_thickness");
    }

    // The formula itself, in its plain form, where that keeps its digits.
    #[test]
    fn the_series_is_the_plain_form() {
        for chip in [0.5_f64, 1.0, 1.079, 1.09, 5.0, 500.0] {
            let radius = 24.0_f64;
            let plain =
                2.0 * (((radius + chip).powi(2) - radius * radius).sqrt() - radius * (radius / (radius + chip)).acos());
            holds(
                "ring-gap-chip",
                &json!({"part_diameter": 48, "chip_thickness": chip}),
                &json!({"gap_flexible": plain}),
            );
        }
    }

    // Algebra: for a thin chip the gap is 2 R u^3/3 with u^2 = 2 t/R, that is (4/3) t sqrt(2 t/R), short by 0.35 t/R of it.
    #[test]
    fn a_thin_chip_keeps_its_digits() {
        let (radius, chip) = (24.0_f64, 1e-9_f64);
        let leading = 4.0 / 3.0 * chip * (2.0 * chip / radius).sqrt();
        let inputs = json!({"part_diameter": 48, "chip_thickness": chip});
        near("ring-gap-chip", &inputs, "gap_flexible", leading, 1e-9 * leading);
    }
}
