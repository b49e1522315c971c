//! Best circle through points: the least sum of squared distances from the circle (geometric least squares).
//!
//! A circle is kept as A(x²+y²) + Bx + Cy + D = 0 with B² + C² − 4AD = 1, told by A, D and the direction of (B, C). In
//! these a long flat arc is as well conditioned as a full circle: A is half the curvature and goes through zero where the
//! circle becomes a line. The distance of a point is 2P/(1 + √(1 + 4AP)), P being the left side, which loses no digits
//! (Chernov and Lesort, Least squares fitting of circles, 2005). The origin is one of the points, so that the circle
//! passes near it and the root of B² + C² keeps away from zero.

use nalgebra::{Matrix3, Vector3};

/// A circle fitted to points.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BestCircle {
    /// Centre, in the frame of the points.
    pub centre: [f64; 2],
    /// Radius.
    pub radius: f64,
    /// Distance from the centre minus radius, in the order of the points.
    pub residuals: Vec<f64>,
}

/// Fits a circle, or returns none when the points lie on one straight line (furthest from it by less than 1e-9 of their
/// length) or on none better than a line.
pub(super) fn best_circle(points: &[[f64; 2]]) -> Option<BestCircle> {
    const FLATTEST: f64 = 1e-10;
    let frame = Frame::along(points)?;
    let starts = frame.starts();
    let fits = starts.iter().filter_map(|start| frame.fitted_from(*start));
    let (_, origin, curve) = fits
        .filter(|(sum, _, curve)| sum.is_finite() && curve.bend.abs() > FLATTEST)
        .min_by(|(sum, ..), (other, ..)| sum.total_cmp(other))?;
    let (radius, side) = (0.5 / curve.bend.abs(), curve.bend.signum());
    let root = curve.root()?;
    let (sine, cosine) = curve.direction.sin_cos();
    let from_origin = -root / (2.0 * curve.bend);
    let centre = [origin[0] + from_origin * cosine, origin[1] + from_origin * sine];
    let distances = frame.seen_from(origin).iter().map(|point| curve.distance(root, *point)).collect::<Vec<_>>();
    Some(BestCircle {
        centre: frame.back(centre),
        radius: radius * frame.scale,
        residuals: distances.iter().map(|distance| distance * side * frame.scale).collect(),
    })
}

/// The points shifted to their mean, turned along their best line and made about 1 long.
struct Frame {
    mean: [f64; 2],
    scale: f64,
    cosine: f64,
    sine: f64,
    points: Vec<[f64; 2]>,
}

impl Frame {
    fn along(points: &[[f64; 2]]) -> Option<Self> {
        const STRAIGHT: f64 = 1e-9;
        let mean = mean_of(points);
        let mut shifted: Vec<[f64; 2]> = points.iter().map(|[x, y]| [x - mean[0], y - mean[1]]).collect();
        let scale = shifted.iter().fold(0.0, |furthest: f64, [x, y]| furthest.max(x.hypot(*y)));
        if !(scale > 0.0 && scale.is_finite()) {
            return None;
        }
        shifted.iter_mut().flatten().for_each(|coordinate| *coordinate /= scale);
        let sum = |term: fn(&[f64; 2]) -> f64| shifted.iter().map(term).sum::<f64>();
        let (along_x, along_y, crossed) = (sum(|[x, _]| x * x), sum(|[_, y]| y * y), sum(|[x, y]| x * y));
        let (sine, cosine) = ((2.0 * crossed).atan2(along_x - along_y) / 2.0).sin_cos();
        let points: Vec<[f64; 2]> =
            shifted.iter().map(|[x, y]| [x * cosine + y * sine, y * cosine - x * sine]).collect();
        let (lowest, highest) =
            points.iter().fold((0.0_f64, 0.0_f64), |(low, high), [along, _]| (low.min(*along), high.max(*along)));
        let across = points.iter().fold(0.0, |furthest: f64, [_, across]| furthest.max(across.abs()));
        (across >= STRAIGHT * (highest - lowest)).then_some(Self { mean, scale, cosine, sine, points })
    }

    /// Turns a place of this frame back into that of the points.
    fn back(&self, [along, across]: [f64; 2]) -> [f64; 2] {
        [
            self.mean[0] + self.scale * (along * self.cosine - across * self.sine),
            self.mean[1] + self.scale * (along * self.sine + across * self.cosine),
        ]
    }

    fn seen_from(&self, origin: [f64; 2]) -> Vec<[f64; 2]> {
        self.points.iter().map(|[x, y]| [x - origin[0], y - origin[1]]).collect()
    }

    /// Returns centres to start from: that of the quick algebraic fit, its mirror image across the best line (readings in
    /// zigzag may bend either way) and the mean of the points.
    fn starts(&self) -> [[f64; 2]; 3] {
        let sum = |term: fn(&[f64; 2]) -> f64| self.points.iter().map(term).sum::<f64>();
        let along = sum(|[x, y]| x * (x * x + y * y)) / sum(|[x, _]| 2.0 * x * x);
        let across = sum(|[x, y]| y * (x * x + y * y)) / sum(|[_, y]| 2.0 * y * y);
        [[along, across], [along, -across], [0.0, 0.0]]
    }

    /// Fits from one start: sum of squares, origin and curve.
    fn fitted_from(&self, centre: [f64; 2]) -> Option<(f64, [f64; 2], Curve)> {
        let from_centre = |[x, y]: [f64; 2]| (x - centre[0]).hypot(y - centre[1]);
        let mean = self.points.iter().map(|point| from_centre(*point)).sum::<f64>() / count_of(&self.points);
        let off = |point: &[f64; 2]| (from_centre(*point) - mean).abs();
        let origin = *self.points.iter().min_by(|one, other| off(one).total_cmp(&off(other)))?;
        let points = self.seen_from(origin);
        let start = Curve::around([centre[0] - origin[0], centre[1] - origin[1]], mean);
        let curve = polished(descended(start, &points)?, &points);
        Some((curve.slopes(&points)?.sum, origin, curve))
    }
}

/// A circle or line near the origin: A, D and the direction of (B, C) in radians.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Curve {
    bend: f64,
    level: f64,
    direction: f64,
}

/// Sum of squared distances of points from a curve, with what the next step needs.
struct Slopes {
    sum: f64,
    gradient: Vector3<f64>,
    normal: Matrix3<f64>,
}

impl Curve {
    fn around([x, y]: [f64; 2], radius: f64) -> Self {
        let bend = 0.5 / radius;
        let from_origin = x.hypot(y);
        Self { bend, level: bend * (from_origin - radius) * (from_origin + radius), direction: (-y).atan2(-x) }
    }

    fn stepped(self, step: &Vector3<f64>) -> Self {
        Self { bend: self.bend + step.x, level: self.level + step.y, direction: self.direction + step.z }
    }

    /// Returns √(B² + C²), or none when there is no such circle.
    fn root(self) -> Option<f64> {
        let square = 1.0 + 4.0 * self.bend * self.level;
        (square > 0.0).then(|| square.sqrt())
    }

    fn distance(self, root: f64, [x, y]: [f64; 2]) -> f64 {
        let (sine, cosine) = self.direction.sin_cos();
        let left_side = self.bend * (x * x + y * y) + root * (x * cosine + y * sine) + self.level;
        2.0 * left_side / (1.0 + self.share_of_radius(left_side))
    }

    /// Returns the distance from the centre over the radius, from the left side of the equation.
    fn share_of_radius(self, left_side: f64) -> f64 {
        (1.0 + 4.0 * self.bend * left_side).max(0.0).sqrt()
    }

    fn slopes(self, points: &[[f64; 2]]) -> Option<Slopes> {
        const AT_CENTRE: f64 = 1e-9;
        let root = self.root()?;
        let (sine, cosine) = self.direction.sin_cos();
        let mut slopes = Slopes { sum: 0.0, gradient: Vector3::zeros(), normal: Matrix3::zeros() };
        for [x, y] in points {
            let (square, along, across) = (x * x + y * y, x * cosine + y * sine, y * cosine - x * sine);
            let left_side = self.bend * square + root * along + self.level;
            let share = self.share_of_radius(left_side).max(AT_CENTRE);
            let distance = 2.0 * left_side / (1.0 + share);
            let slope = Vector3::new(
                square + 2.0 * self.level * along / root - distance * distance,
                1.0 + 2.0 * self.bend * along / root,
                root * across,
            ) / share;
            slopes.sum += distance * distance;
            slopes.gradient += slope * distance;
            slopes.normal += slope * slope.transpose();
        }
        slopes.sum.is_finite().then_some(slopes)
    }
}

/// Goes down to a least sum of squares with damped steps (Levenberg and Marquardt).
fn descended(start: Curve, points: &[[f64; 2]]) -> Option<Curve> {
    const MOST_STEPS: usize = 300;
    const ENOUGH: f64 = 1e-13;
    let mut curve = start;
    let mut slopes = curve.slopes(points)?;
    let mut damping = 1e-4;
    for _ in 0..MOST_STEPS {
        let damped = slopes.normal + Matrix3::identity() * (damping * slopes.normal.trace());
        let step = -damped.cholesky()?.solve(&slopes.gradient);
        let next = curve.stepped(&step);
        match next.slopes(points) {
            Some(lower) if lower.sum < slopes.sum => {
                (curve, slopes) = (next, lower);
                damping /= 10.0;
            }
            _ => damping = 10.0 * damping.max(1e-14),
        }
        if step.norm() < ENOUGH {
            break;
        }
    }
    Some(curve)
}

/// Brings the slopes of the sum to zero, which is sharper than comparing sums: those cannot tell curves apart that differ
/// by less than the root of the last digit.
fn polished(start: Curve, points: &[[f64; 2]]) -> Curve {
    const MOST_STEPS: usize = 8;
    let mut curve = start;
    let mut before = 1e-3;
    for _ in 0..MOST_STEPS {
        let Some(step) = step_to_level(curve, points).filter(|step| step.norm() < before) else {
            break;
        };
        curve = curve.stepped(&step);
        before = step.norm();
    }
    curve
}

/// Finds Newton's step, with the change of the slopes taken over a small span to both sides.
fn step_to_level(curve: Curve, points: &[[f64; 2]]) -> Option<Vector3<f64>> {
    const SPAN: f64 = 1e-5;
    let mut change = Matrix3::zeros();
    for axis in [Vector3::x(), Vector3::y(), Vector3::z()] {
        let ahead = curve.stepped(&(axis * SPAN)).slopes(points)?.gradient;
        let behind = curve.stepped(&(axis * -SPAN)).slopes(points)?.gradient;
        change += (ahead - behind) / (2.0 * SPAN) * axis.transpose();
    }
    Some(-change.lu().solve(&curve.slopes(points)?.gradient)?)
}

#[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
fn count_of(points: &[[f64; 2]]) -> f64 {
    points.len() as f64
}

fn mean_of(points: &[[f64; 2]]) -> [f64; 2] {
    let count = count_of(points);
    points.iter().fold([0.0, 0.0], |[x, y], point| [x + point[0] / count, y + point[1] / count])
}
