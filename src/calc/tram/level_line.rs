//! The line through all tries of one level: where two pads are level, and how far they come apart with each turn.

/// How the two places are read, which decides how their difference grows with the turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Contact {
    /// Flat faces read at fixed Y: the difference goes with the tangent.
    Flats,
    /// Two points that turn with the part and are followed: it goes with the sine.
    HighPoints,
}

impl Contact {
    /// Returns the contact of its word in the catalogue.
    pub(super) fn named(word: &str) -> Self {
        if word == "high-points" { Self::HighPoints } else { Self::Flats }
    }

    /// Returns the difference over the span, and its slope, at a turn in radians.
    fn rise(self, turn: f64) -> (f64, f64) {
        match self {
            Self::Flats => {
                let tangent = turn.tan();
                (tangent, 1.0 + tangent * tangent)
            }
            Self::HighPoints => turn.sin_cos(),
        }
    }

    /// Returns the turn in radians at which the difference over the span is so large; the steepest there is for more.
    fn turn_of(self, rise: f64) -> f64 {
        match self {
            Self::Flats => rise.atan(),
            Self::HighPoints => rise.clamp(-1.0, 1.0).asin(),
        }
    }
}

/// What is known of the pads beforehand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pads {
    /// Distance between the two places, millimetres.
    pub(super) span: f64,
    /// Standard deviation of that distance, millimetres.
    pub(super) span_deviation: f64,
    /// How they are read.
    pub(super) contact: Contact,
}

/// One try as the fit sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seen {
    /// The index, degrees, counted from the newest try.
    pub(super) turned: f64,
    /// Rear minus front, millimetres.
    pub(super) difference: f64,
    /// Variance of the difference, with what the rotary's repeat adds.
    pub(super) variance: f64,
}

/// The fitted line.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// The index at which the pads are level, degrees, counted from the newest try.
    pub(super) level: f64,
    /// Difference over tangent (or sine) of the turn; negative where the work turns left-handed.
    pub(super) span: f64,
    /// Covariance of level and span.
    covariance: [[f64; 2]; 2],
    /// What the tries and the span beforehand disagree by: twice the logarithm of their likelihood.
    pub(super) cost: f64,
    /// How much of its weight each try has kept, 0 to 1.
    pub(super) shares: Vec<f64>,
    contact: Contact,
}

impl Line {
    /// Returns the difference expected at an index, and its variance.
    pub(super) fn at(&self, turned: f64) -> (f64, f64) {
        let (difference, slopes) = model(self.contact, (self.level, self.span), turned);
        (difference, quadratic(&self.covariance, slopes))
    }

    /// Returns the standard deviation of the index at which the pads are level, degrees.
    pub(super) fn level_deviation(&self) -> f64 {
        let [[variance, _], _] = self.covariance;
        variance.sqrt()
    }

    /// Returns the standard deviation of the span.
    pub(super) fn span_deviation(&self) -> f64 {
        let [_, [_, variance]] = self.covariance;
        variance.sqrt()
    }
}

/// Returns the difference at an index, and its slopes with level and span.
fn model(contact: Contact, (level, span): (f64, f64), turned: f64) -> (f64, [f64; 2]) {
    let (rise, steep) = contact.rise((turned - level).to_radians());
    (span * rise, [-(span * steep).to_radians(), rise])
}

fn quadratic(matrix: &[[f64; 2]; 2], [one, other]: [f64; 2]) -> f64 {
    let [[a, b], [_, d]] = *matrix;
    a * one * one + 2.0 * b * one * other + d * other * other
}

/// Furthest that a part is clocked from level, degrees.
const FURTHEST_CLOCKED: f64 = 60.0;
/// Steps of the fit; from the fifth on a try that does not agree with the others loses weight.
const STEPS: usize = 12;
const STEPS_BEFORE_DOUBT: usize = 4;
/// A try so many deviations off keeps half of its weight, squared: three deviations.
const DOUBTED_FROM: f64 = 9.0;
/// Fewest tries among which one can be told from the others.
const FEWEST_TO_DOUBT: usize = 3;

/// Fits the line for one turning sense (+1 right-handed, -1 left-handed) by Gauss-Newton steps.
pub(super) fn fit(pads: Pads, tries: &[Seen], sense: f64) -> Line {
    let start = tries.last().map_or(0.0, |newest| {
        newest.turned - pads.contact.turn_of(newest.difference / (sense * pads.span)).to_degrees()
    });
    let mut line = Line {
        level: start,
        span: sense * pads.span,
        covariance: [[0.0; 2]; 2],
        cost: 0.0,
        shares: vec![1.0; tries.len()],
        contact: pads.contact,
    };
    for step in 0..STEPS {
        if step >= STEPS_BEFORE_DOUBT && tries.len() >= FEWEST_TO_DOUBT {
            doubt(&mut line, tries);
        }
        improve(&mut line, pads, tries, sense);
    }
    line.cost = cost(&line, pads, tries, sense);
    line
}

/// Takes weight from tries that lie far off the line.
fn doubt(line: &mut Line, tries: &[Seen]) {
    for (share, seen) in line.shares.iter_mut().zip(tries) {
        let (expected, _) = model(line.contact, (line.level, line.span), seen.turned);
        let off = (seen.difference - expected).powi(2) / seen.variance;
        *share = 1.0 / (1.0 + off / DOUBTED_FROM);
    }
}

/// Takes one Gauss-Newton step and keeps the covariance of where it stood.
fn improve(line: &mut Line, pads: Pads, tries: &[Seen], sense: f64) {
    let prior = pads.span_deviation.powi(2).recip();
    let (mut aa, mut ab, mut bb) = (0.0, 0.0, prior);
    let (mut a, mut b) = (0.0, prior * (sense * pads.span - line.span));
    for (seen, share) in tries.iter().zip(&line.shares) {
        let (expected, [by_level, by_span]) = model(line.contact, (line.level, line.span), seen.turned);
        let weight = share / seen.variance;
        let off = weight * (seen.difference - expected);
        aa += weight * by_level * by_level;
        ab += weight * by_level * by_span;
        bb += weight * by_span * by_span;
        a += off * by_level;
        b += off * by_span;
    }
    let determinant = aa * bb - ab * ab;
    line.covariance = [[bb / determinant, -ab / determinant], [-ab / determinant, aa / determinant]];
    // Half way round the other sense would fit as well, and no part is clocked so far; the span keeps its sign.
    let level = line.level + (bb * a - ab * b) / determinant;
    let newest = tries.last().map_or(0.0, |newest| newest.turned);
    line.level = level.clamp(newest - FURTHEST_CLOCKED, newest + FURTHEST_CLOCKED);
    let span = line.span + (aa * b - ab * a) / determinant;
    line.span = sense * (sense * span).max(pads.span / 20.0);
}

fn cost(line: &Line, pads: Pads, tries: &[Seen], sense: f64) -> f64 {
    let span_off = (line.span - sense * pads.span) / pads.span_deviation;
    let each = tries.iter().map(|seen| {
        let (expected, _) = model(line.contact, (line.level, line.span), seen.turned);
        let off = (seen.difference - expected).powi(2) / seen.variance;
        if tries.len() < FEWEST_TO_DOUBT { off } else { DOUBTED_FROM * (off / DOUBTED_FROM).ln_1p() }
    });
    span_off.powi(2) + each.sum::<f64>()
}
