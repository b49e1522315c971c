//! What a card may say about a cut beyond its size: the spot before it, what it breaks into, how far the tool sticks
//! out, which cutter opens a bore, and the limits that the first article is held against.

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
    /// Smallest and largest depth allowed by the drawing.
    pub depth_limits: Option<(Length, Length)>,
    /// Smallest and largest diameter allowed by the drawing, where it is not bored to a window.
    pub size_limits: Option<(Length, Length)>,
    /// The feature drilled from the other side that it meets in the middle.
    pub meets: Option<String>,
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

/// The cutter that opens a bore in circles.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutter {
    /// Diameter.
    pub diameter: Length,
    /// Feed per tooth meant for a straight wall.
    pub feed_per_tooth: Length,
    /// Radius of the cutting edge, micrometres.
    pub edge_radius_um: f64,
    /// Least chip as a share of the edge radius.
    pub least_chip_factor: f64,
}
