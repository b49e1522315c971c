//! Where the tool is, and one move of it.

/// Where an axis stands, in the coordinates of the claimed register.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Place {
    /// Not known: nothing has been commanded yet, or it hangs on something that was not understood.
    #[default]
    Unknown,
    /// At the machine's own reference or zero, clear of the work, while the register is not known.
    Home,
    /// Known: millimetres, or degrees of the rotary.
    At(f64),
}

impl Place {
    /// Returns the coordinate where it is known.
    pub const fn at(self) -> Option<f64> {
        match self {
            Self::At(value) => Some(value),
            Self::Unknown | Self::Home => None,
        }
    }
}

/// X, Y, Z of the tool's tip and A.
pub type Spot = [Place; 4];

/// Index of X in a [`Spot`].
pub const X: usize = 0;
/// Index of Y in a [`Spot`].
pub const Y: usize = 1;
/// Index of Z in a [`Spot`].
pub const Z: usize = 2;
/// Index of A in a [`Spot`].
pub const A: usize = 3;

/// Returns the coordinate of an axis where it is known.
pub fn known(spot: &Spot, axis: usize) -> Option<f64> {
    spot.get(axis).and_then(|place| place.at())
}

/// What kind of move it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// As fast as the machine can; not always in a straight line.
    Rapid,
    /// In a straight line at the feed.
    Feed,
    /// Along an arc at the feed.
    Arc(Arc),
}

/// An arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre in X and Y; `None` for an arc in another plane.
    pub centre: Option<(f64, f64)>,
    /// Radius.
    pub radius: f64,
    /// Angle turned, radians, always positive.
    pub sweep: f64,
    /// Whether it goes clockwise, seen from above its plane.
    pub clockwise: bool,
}

impl Arc {
    /// Returns whether it goes all the way round.
    pub fn is_whole(&self) -> bool {
        self.sweep > std::f64::consts::TAU - 1e-6
    }
}

/// The part of a canned cycle that a move belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Within {
    /// None: it stands in a block by itself.
    Block,
    /// To the hole and down to R.
    Approach,
    /// Down to the bottom.
    Down {
        /// Depth of a peck, where the cycle pecks.
        peck: Option<f64>,
    },
    /// Out of the hole again.
    Out,
}

/// One move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Where it begins.
    pub from: Spot,
    /// Where it ends.
    pub to: Spot,
    /// What kind it is.
    pub kind: Kind,
    /// The part of a cycle.
    pub within: Within,
}

impl Move {
    /// Returns whether it is a rapid.
    pub const fn is_rapid(&self) -> bool {
        matches!(self.kind, Kind::Rapid)
    }

    /// Returns the lowest height of the tip on the way; `None` while a height is not known.
    pub fn lowest(&self) -> Option<f64> {
        Some(known(&self.from, Z)?.min(known(&self.to, Z)?))
    }

    /// Returns whether an axis moves or may move.
    pub fn moves(&self, axis: usize) -> bool {
        self.from.get(axis) != self.to.get(axis)
    }

    /// Returns how far an axis goes; `None` while an end is not known.
    pub fn step(&self, axis: usize) -> Option<f64> {
        Some(known(&self.to, axis)? - known(&self.from, axis)?)
    }

    /// Returns the length of the path of the tip in X, Y and Z; `None` while an end is not known.
    pub fn length(&self) -> Option<f64> {
        let step = |axis| if self.moves(axis) { self.step(axis) } else { Some(0.0) };
        let (x, y, z) = (step(X)?, step(Y)?, step(Z)?);
        Some(match &self.kind {
            Kind::Arc(arc) if arc.centre.is_some() => (arc.radius * arc.sweep).hypot(z),
            Kind::Arc(arc) => arc.radius * arc.sweep,
            Kind::Rapid | Kind::Feed => x.hypot(y).hypot(z),
        })
    }

    /// Returns the smallest distance of the tip's path from the plane Y = 0, a safe guess where Y is not known.
    pub fn nearest_y(&self) -> f64 {
        let (Some(from), Some(to)) = (known(&self.from, Y), known(&self.to, Y)) else { return 0.0 };
        if let Kind::Arc(Arc { centre: Some((_, y)), radius, .. }) = self.kind {
            return (y.abs() - radius).max(0.0);
        }
        if (from < 0.0) == (to < 0.0) { from.abs().min(to.abs()) } else { 0.0 }
    }

    /// Returns the smallest and the largest X on the way, where it is known.
    pub fn range_x(&self) -> Option<(f64, f64)> {
        let (from, to) = (known(&self.from, X)?, known(&self.to, X)?);
        Some(match self.kind {
            Kind::Arc(Arc { centre: Some((x, _)), radius, .. }) => (x - radius, x + radius),
            _ => (from.min(to), from.max(to)),
        })
    }
}
