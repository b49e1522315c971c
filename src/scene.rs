//! Pictures that know no output: a scene in shop coordinates (lines, circles, points, labels), and in `plot` what was read
//! against what was set.

mod plot;

pub use plot::{Axis, Curve, Plot, Point, Standing};

/// One thing in a picture. Coordinates are in millimetres, x to the right, y up.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A straight line between two points.
    Line {
        /// Start.
        from: (f64, f64),
        /// End.
        to: (f64, f64),
    },
    /// A whole circle.
    Circle {
        /// Centre.
        centre: (f64, f64),
        /// Radius.
        radius: f64,
    },
    /// A place to touch or look at.
    Mark {
        /// Where.
        at: (f64, f64),
        /// What it is called.
        label: String,
        /// Whether it is the one to touch now.
        now: bool,
    },
    /// Words at a place.
    Label {
        /// Where.
        at: (f64, f64),
        /// The words.
        text: String,
    },
}

/// A picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// From where one looks, in words: "seen from the right, rear to the right".
    pub view: &'static str,
    /// What is in it.
    pub shapes: Vec<Shape>,
}

impl Scene {
    /// Begins a picture seen from somewhere.
    pub fn seen(view: &'static str) -> Self {
        Self { view, shapes: Vec::new() }
    }

    /// Adds a line.
    #[must_use]
    pub fn line(mut self, from: (f64, f64), to: (f64, f64)) -> Self {
        self.shapes.push(Shape::Line { from, to });
        self
    }

    /// Adds a closed outline through points.
    #[must_use]
    pub fn outline(mut self, points: &[(f64, f64)]) -> Self {
        for (index, from) in points.iter().enumerate() {
            let to = points.get((index + 1) % points.len()).unwrap_or(from);
            self.shapes.push(Shape::Line { from: *from, to: *to });
        }
        self
    }

    /// Adds a rectangle about the origin, by half its width and half its height.
    #[must_use]
    pub fn rectangle(self, half_width: f64, half_height: f64) -> Self {
        self.outline(&[
            (-half_width, -half_height),
            (half_width, -half_height),
            (half_width, half_height),
            (-half_width, half_height),
        ])
    }

    /// Adds a circle.
    #[must_use]
    pub fn circle(mut self, centre: (f64, f64), radius: f64) -> Self {
        self.shapes.push(Shape::Circle { centre, radius });
        self
    }

    /// Adds a place to touch; `now` marks the one wanted next.
    #[must_use]
    pub fn mark(mut self, at: (f64, f64), label: impl Into<String>, now: bool) -> Self {
        self.shapes.push(Shape::Mark { at, label: label.into(), now });
        self
    }

    /// Adds words.
    #[must_use]
    pub fn label(mut self, at: (f64, f64), text: impl Into<String>) -> Self {
        self.shapes.push(Shape::Label { at, text: text.into() });
        self
    }

    /// Returns the smallest box that holds everything: (left, bottom, right, top); `None` for an empty picture.
    pub fn bounds(&self) -> Option<(f64, f64, f64, f64)> {
        let mut corners = self.shapes.iter().flat_map(corners_of);
        let (x, y) = corners.next()?;
        let grow = |(left, bottom, right, top): (f64, f64, f64, f64), (x, y): (f64, f64)| {
            (left.min(x), bottom.min(y), right.max(x), top.max(y))
        };
        Some(corners.fold((x, y, x, y), grow))
    }
}

fn corners_of(shape: &Shape) -> Vec<(f64, f64)> {
    match shape {
        Shape::Line { from, to } => vec![*from, *to],
        Shape::Circle { centre: (x, y), radius } => vec![(x - radius, y - radius), (x + radius, y + radius)],
        Shape::Mark { at, .. } | Shape::Label { at, .. } => vec![*at],
    }
}
