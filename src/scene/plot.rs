//! What was read against what was set: points, lines through them and the window that is wanted. It knows no output.

/// What an axis of a plot counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// What it is, in a word or two.
    pub label: &'static str,
    /// The unit of its numbers, by name; empty for plain numbers.
    pub unit: &'static str,
    /// The step to which a face rounds its numbers.
    pub resolution: f64,
}

/// How a point stands among the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Taken before.
    Taken,
    /// The newest one.
    Newest,
    /// Taken, but it does not agree with the others and hardly counts.
    Doubtful,
    /// Not taken yet: where the next one is expected.
    Expected,
}

impl Standing {
    /// Returns the word used on the wire.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Taken => "taken",
            Self::Newest => "newest",
            Self::Doubtful => "doubtful",
            Self::Expected => "expected",
        }
    }
}

/// One point, in the units of the axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Where: across, up.
    pub at: (f64, f64),
    /// Its standard uncertainty upwards; 0 when it has none.
    pub uncertainty: f64,
    /// How it stands.
    pub standing: Standing,
    /// What it is called; may be empty.
    pub label: String,
}

/// A line through points, bent where it must be.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The points it goes through, from left to right.
    pub through: Vec<(f64, f64)>,
    /// What it is called; may be empty.
    pub label: String,
}

/// Points read at one thing after another, and what is thought of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// What it shows, in a few words.
    pub title: &'static str,
    /// What counts to the right.
    pub across: Axis,
    /// What counts upwards.
    pub up: Axis,
    /// The points, in the order taken.
    pub points: Vec<Point>,
    /// The lines.
    pub lines: Vec<Curve>,
    /// Lowest and highest value wanted upwards.
    pub window: Option<(f64, f64)>,
    /// Whether what counts to the right is an angle once round, so that it may be drawn round a circle.
    pub round: bool,
}

impl Plot {
    /// Begins a plot of one thing against another.
    pub const fn of(title: &'static str, across: Axis, up: Axis) -> Self {
        Self { title, across, up, points: Vec::new(), lines: Vec::new(), window: None, round: false }
    }

    /// Adds a point.
    #[must_use]
    pub fn point(mut self, at: (f64, f64), uncertainty: f64, standing: Standing, label: impl Into<String>) -> Self {
        self.points.push(Point { at, uncertainty, standing, label: label.into() });
        self
    }

    /// Adds a line through points, given from left to right.
    #[must_use]
    pub fn line(mut self, through: Vec<(f64, f64)>, label: impl Into<String>) -> Self {
        self.lines.push(Curve { through, label: label.into() });
        self
    }

    /// Tells that what counts to the right is an angle once round.
    #[must_use]
    pub const fn round(mut self) -> Self {
        self.round = true;
        self
    }

    /// Tells between which values upwards the points should come to lie.
    #[must_use]
    pub const fn window(mut self, low: f64, high: f64) -> Self {
        self.window = Some((low, high));
        self
    }

    /// Returns the smallest box that holds points, lines and window: (left, bottom, right, top); `None` when there is
    /// neither point nor line.
    pub fn bounds(&self) -> Option<(f64, f64, f64, f64)> {
        let points = self.points.iter().flat_map(|point| {
            let (x, y) = point.at;
            [(x, y - point.uncertainty), (x, y + point.uncertainty)]
        });
        let mut corners = points.chain(self.lines.iter().flat_map(|line| line.through.iter().copied()));
        let (x, y) = corners.next()?;
        let (left, bottom, right, top) = corners.fold((x, y, x, y), |(left, bottom, right, top), (x, y)| {
            (left.min(x), bottom.min(y), right.max(x), top.max(y))
        });
        let (low, high) = self.window.unwrap_or((bottom, top));
        Some((left, bottom.min(low), right, top.max(high)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ANGLE: Axis = Axis { label: "A", unit: "deg", resolution: 0.001 };
    const LENGTH: Axis = Axis { label: "rear - front", unit: "mm", resolution: 0.001 };

    #[test]
    fn a_box_holds_points_with_their_spread_lines_and_window() {
        let empty = Plot::of("level", ANGLE, LENGTH).window(-1.0, 1.0);
        assert_eq!(empty.bounds(), None);
        let plot = empty
            .point((10.0, 2.0), 0.5, Standing::Taken, "1")
            .point((11.0, 0.25), 0.5, Standing::Newest, "2")
            .line(vec![(9.0, 3.0), (12.0, -0.5)], "fit");
        assert_eq!(plot.bounds(), Some((9.0, -1.0, 12.0, 3.0)));
    }
}
