//! What a card may say about a cut beyond its size: the spot before it, what it breaks into, and what is in its way.

use crate::quantity::Length;

/// What a feature's card may state beside its size; what is left out is not asked about.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cut {
    /// The spot drilled before it.
    pub spot: Option<Spot>,
    /// Diameter of the bore that it breaks into at its end.
    pub cross_bore: Option<Length>,
    /// How far the full diameter shall go beyond the far side of a through hole.
    pub breakout: Length,
    /// Free room beyond the far side of a through hole, before the tip meets fixture or table.
    pub room_beyond: Option<Length>,
    /// Height over the rotary centreline of the highest thing under the holder while it is cut.
    pub under_holder: Option<Length>,
}

/// A spot drilled before a hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Diameter of the full ring wanted.
    pub diameter: Length,
    /// Full angle of the spot drill, degrees.
    pub angle_deg: f64,
    /// Depth of skin or texture to be cut through.
    pub texture: Length,
}
