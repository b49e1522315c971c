//! How each datum is picked up.

use super::super::CardFault;
use super::super::datums::{
    Datums, ExpectedRegister, MiddleMethod, ReturnTouch, RoundFeature, XDatum, XMethod, YDatum, ZDatum, ZMethod,
};
use super::At;
use crate::quantity::Length;

pub(super) fn datums(at: &At<'_>) -> Result<Datums, CardFault> {
    Ok(Datums {
        x: x(&at.inside("x"))?,
        y: y(&at.inside("y"))?,
        z: z(&at.inside("z"))?,
        round: if at.has("round") { Some(round(&at.inside("round"))?) } else { None },
        axis_parallelism: wanted(&at.text("axis_parallelism")?),
        return_touch: match at.text("return_touch")?.as_str() {
            "always" => ReturnTouch::Always,
            "left-out" => ReturnTouch::LeftOut,
            _ => ReturnTouch::WhenSingle,
        },
        expected: if at.has("expected") { Some(expected(&at.inside("expected"))?) } else { None },
        machine_uncertainty: at.length("machine_uncertainty")?,
        temperature_spread_k: at.base("temperature_spread")?,
        expansion_per_k: at.in_unit("expansion", "1/K")?,
    })
}

/// Returns nothing where the depth of the card decides.
fn wanted(word: &str) -> Option<bool> {
    match word {
        "measured" | "quarter-turn" => Some(true),
        "left-out" => Some(false),
        _ => None,
    }
}

fn x(at: &At<'_>) -> Result<XDatum, CardFault> {
    Ok(XDatum {
        by: match at.text("by")?.as_str() {
            "two-faces" => XMethod::TwoFaces,
            "edge" => XMethod::Edge,
            "corner" => XMethod::Corner,
            "round" => XMethod::Round,
            _ => XMethod::SingleFace,
        },
        opposite: optional(at, "opposite")?,
        opposite_tolerance: at.length("opposite_tolerance")?,
        edge_touches: at.count("edge_touches")?,
    })
}

fn y(at: &At<'_>) -> Result<YDatum, CardFault> {
    Ok(YDatum {
        middle: match at.text("middle")?.as_str() {
            "bore" => MiddleMethod::Bore,
            "boss" => MiddleMethod::Boss,
            "sweep" => MiddleMethod::Sweep,
            _ => MiddleMethod::TwoFaces,
        },
        angles: at.count("angles")?,
    })
}

fn z(at: &At<'_>) -> Result<ZDatum, CardFault> {
    Ok(ZDatum {
        by: match at.text("by")?.as_str() {
            "setter-on-top" => ZMethod::SetterOnTop,
            "flip-from-above" => ZMethod::FlipFromAbove,
            _ => ZMethod::CentreHeight,
        },
        quarter_turn: wanted(&at.text("again")?),
    })
}

fn round(at: &At<'_>) -> Result<RoundFeature, CardFault> {
    Ok(RoundFeature {
        along: at.length("along")?,
        diameter: at.length("diameter")?,
        tolerance: at.length("tolerance")?,
        touches: at.count("touches")?,
        form_limit: at.length("form_limit")?,
    })
}

fn expected(at: &At<'_>) -> Result<ExpectedRegister, CardFault> {
    Ok(ExpectedRegister {
        axes: [optional(at, "x")?, optional(at, "y")?, optional(at, "z")?],
        within: at.length("within")?,
    })
}

fn optional(at: &At<'_>, key: &str) -> Result<Option<Length>, CardFault> {
    if at.has(key) { at.length(key).map(Some) } else { Ok(None) }
}
