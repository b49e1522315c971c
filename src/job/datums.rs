//! How each datum is picked up, as the card says.

use crate::quantity::Length;

/// How the datums are picked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Datums {
    /// How the back face is found in X.
    pub x: XDatum,
    /// How the rotary centreline is found in Y.
    pub y: YDatum,
    /// How the rotary centreline is found in Z.
    pub z: ZDatum,
    /// The upright bore or boss that a middle may be taken from.
    pub round: Option<RoundFeature>,
    /// Whether the slope of the axis is measured; `None` leaves it to the depth.
    pub axis_parallelism: Option<bool>,
    /// When the back face is touched again in work coordinates.
    pub return_touch: ReturnTouch,
    /// The register of the last setup of this fixture.
    pub expected: Option<ExpectedRegister>,
    /// Standard uncertainty of the machine's own position at a touched place; 0 leaves it out.
    pub machine_uncertainty: Length,
    /// Half width of the temperature difference between fixture and machine, kelvin; 0 leaves it out.
    pub temperature_spread_k: f64,
    /// Expansion coefficient of rotary and fixture, per kelvin.
    pub expansion_per_k: f64,
}

/// How the back face is found in X.
#[derive(Debug, Clone, PartialEq)]
pub struct XDatum {
    /// The method.
    pub by: XMethod,
    /// Distance along X from the back face to the opposite one, when that can be touched.
    pub opposite: Option<Length>,
    /// How far that distance may be off at the machine.
    pub opposite_tolerance: Length,
    /// Places along an edge at which it is touched.
    pub edge_touches: u32,
}

/// The ways to pick up X.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum XMethod {
    /// Touches at one place of the back face.
    SingleFace,
    /// The middle of the back and the opposite face.
    TwoFaces,
    /// Touches along the back face, with its skew.
    Edge,
    /// The corner of the back and the front face, with the skew of both.
    Corner,
    /// The centre of the round feature.
    Round,
}

/// How the rotary centreline is found in Y.
#[derive(Debug, Clone, PartialEq)]
pub struct YDatum {
    /// How the middle is found at each angle.
    pub middle: MiddleMethod,
    /// How many angles, evenly round the turn.
    pub angles: u32,
}

/// The ways to find the fixture's middle at one angle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MiddleMethod {
    /// Front and back face.
    TwoFaces,
    /// Touches round an upright bore, from inside.
    Bore,
    /// Touches round an upright boss, from outside.
    Boss,
    /// A sweep with the indicator in the spindle.
    Sweep,
}

/// How the rotary centreline is found in Z.
#[derive(Debug, Clone, PartialEq)]
pub struct ZDatum {
    /// The method.
    pub by: ZMethod,
    /// Whether the quarter turn is made as well; `None` leaves it to the depth.
    pub quarter_turn: Option<bool>,
}

/// The ways to pick up Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ZMethod {
    /// Setter on the table and the known centre height.
    CentreHeight,
    /// Setter on the fixture's top face, less half its height.
    SetterOnTop,
    /// Top and bottom face from above, half a turn apart.
    FlipFromAbove,
}

/// An upright bore or boss of the fixture.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundFeature {
    /// Distance of its centre from the back face along X.
    pub along: Length,
    /// Diameter, measured beforehand.
    pub diameter: Length,
    /// How far the diameter may be off at the machine.
    pub tolerance: Length,
    /// Touches round it.
    pub touches: u32,
    /// Largest form error believed.
    pub form_limit: Length,
}

/// When the back face is touched again in work coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReturnTouch {
    /// When X rests on a single face: a chip that stayed under it shows in nothing else.
    WhenSingle,
    /// Always.
    Always,
    /// Never.
    LeftOut,
}

/// The register of the last setup of this fixture, as a window.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpectedRegister {
    /// X, Y and Z where they are known.
    pub axes: [Option<Length>; 3],
    /// How far they may have moved without a question.
    pub within: Length,
}
