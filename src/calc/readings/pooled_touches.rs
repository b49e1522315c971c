//! What is a result worth that rests on touches at several places with one instrument?

use super::statistics::Statistics;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

const FIELDS: &[Input] = &[
    Input::quantities("readings", "mm", "repeats at this place").least_items(1),
    Input::quantity("sensitivity", "1", "how much the result moves with the mean of this place").or(1.0),
];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "pooled-touches",
    version: 1,
    topic: "metrology",
    question: "What is a result worth that rests on touches at several places with one instrument?",
    formula: "pooled_deviation = sqrt(sum (n-1) s^2 / f), f = sum (n-1) over the places; scatter = repeatability while \
         some place has n < 4 and pooled_deviation^2 <= repeatability^2 (1 - 2/(9f) + 1.6449 sqrt(2/(9f)))^3, with \
         infinite degrees of freedom, else pooled_deviation with f; touches_uncertainty = scatter sqrt(sum c^2/n); \
         resolution_uncertainty = display_step sqrt(sum c^2 (share (1-r)/n + r)/12), share = 1 when scatter is the \
         repeatability and 0 when it was seen, which holds the rounding; r = (6/pi^2) sum over k >= 1 of \
         exp(-(2 pi k scatter/display_step)^2)/k^2",
    inputs: &[
        Input::records("places", FIELDS, "the places touched").least_items(1),
        Input::quantity("repeatability", "mm", "standard deviation of one reading, from the card; 0 = not known")
            .at_least(0.0)
            .or(0.0),
        Input::quantity("display_step", "mm", "smallest step that the instrument shows; 0 = not known")
            .at_least(0.0)
            .or(0.0),
    ],
    outputs: &[
        Output::quantity("pooled_deviation", "mm", "scatter of one reading over all places")
            .null_when("no place was read twice"),
        Output::quantity("scatter", "mm", "standard deviation of one reading that is reckoned with"),
        Output::word(
            "scatter_from",
            &["stated", "seen"],
            "'stated' when the card's repeatability stands, 'seen' when the touches themselves tell",
        ),
        Output::degrees_of_freedom("degrees_of_freedom", "of the scatter, or the word 'infinite'"),
        Output::quantity("touches_uncertainty", "mm", "standard uncertainty from the scatter of the touches"),
        Output::quantity("resolution_uncertainty", "mm", "standard uncertainty from the steps of the display"),
    ],
    refusals: &[],
    usual_mistake: "believing two or three readings that happen to agree, or counting the rounding twice when it is in the \
         scatter already",
    validity: "one instrument, independent normal touches, places independent of each other; the stated repeatability is \
         dropped when the touches scatter significantly more (95 %)",
    source: "JCGM 100 clauses 4.2.4 (pooled estimate), 4.3 and F.2.2.1; Wilson and Hilferty's chi-square quantile; Fourier \
         series of the rounding error",
    example: r#"{
            "places": [{"readings": [-235.373, -235.375, -235.374], "sensitivity": 0.25},
                {"readings": [-139.371, -139.373, -139.372], "sensitivity": 0.25}],
            "repeatability": 0.0008, "display_step": 0.001
        }"#,
    solve,
};

/// Below this many readings a place, decisions rest on the card's repeatability.
const ENOUGH: f64 = 4.0;

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (repeatability, step) = (given.number("repeatability")?, given.number("display_step")?);
    let places = given.records("places")?;
    let mut pool = Pool::default();
    for place in places {
        pool.add(&Statistics::of(place.numbers("readings")?), place.number("sensitivity")?);
    }
    let scatter = pool.scatter(repeatability);
    let unshared = still_shared(scatter.deviation, step);
    let share = if scatter.seen { 0.0 } else { 1.0 };
    let rounding = share * (1.0 - unshared) * pool.over_counts + unshared * pool.squares;
    Ok(Answer::new()
        .with("pooled_deviation", pool.deviation())
        .with("scatter", scatter.deviation)
        .with("scatter_from", if scatter.seen { "seen" } else { "stated" })
        .with("degrees_of_freedom", scatter.degrees_of_freedom)
        .with("touches_uncertainty", scatter.deviation * pool.over_counts.sqrt())
        .with("resolution_uncertainty", step * (rounding / 12.0).sqrt()))
}

/// Sums over the places.
#[derive(Debug)]
struct Pool {
    /// Sum of (n − 1) s².
    left: f64,
    /// Sum of n − 1.
    freedom: f64,
    /// Sum of c²/n.
    over_counts: f64,
    /// Sum of c².
    squares: f64,
    /// Fewest readings of a place.
    fewest: f64,
}

impl Default for Pool {
    fn default() -> Self {
        Self { left: 0.0, freedom: 0.0, over_counts: 0.0, squares: 0.0, fewest: f64::INFINITY }
    }
}

struct Scatter {
    deviation: f64,
    degrees_of_freedom: f64,
    seen: bool,
}

impl Pool {
    fn add(&mut self, statistics: &Statistics, sensitivity: f64) {
        let spare = statistics.count - 1.0;
        self.left += spare * statistics.variance().unwrap_or(0.0);
        self.freedom += spare;
        self.over_counts += sensitivity.powi(2) / statistics.count;
        self.squares += sensitivity.powi(2);
        self.fewest = self.fewest.min(statistics.count);
    }

    fn deviation(&self) -> Option<f64> {
        (self.freedom > 0.0).then(|| (self.left / self.freedom).sqrt())
    }

    fn scatter(&self, repeatability: f64) -> Scatter {
        let stated = Scatter { deviation: repeatability, degrees_of_freedom: f64::INFINITY, seen: false };
        let Some(deviation) = self.deviation() else { return stated };
        let seen = Scatter { deviation, degrees_of_freedom: self.freedom, seen: true };
        let few = self.fewest < ENOUGH;
        if few && deviation <= repeatability * largest_by_chance(self.freedom) { stated } else { seen }
    }
}

/// Returns how many times its true value a standard deviation comes out at most, in 95 of 100 cases (Wilson and Hilferty).
fn largest_by_chance(degrees_of_freedom: f64) -> f64 {
    const NORMAL_95: f64 = 1.644_853_626_951_47;
    let spread = 2.0 / (9.0 * degrees_of_freedom);
    (1.0 - spread + NORMAL_95 * spread.sqrt()).powf(1.5)
}

/// Returns the share of the rounding error's variance that repeats have in common: 1 when the display never moves, next
/// to nothing when the scatter is half a step or more.
fn still_shared(scatter: f64, step: f64) -> f64 {
    const SIX_OVER_PI_SQUARED: f64 = 0.607_927_101_854_027;
    const TERMS: u32 = 2000;
    if scatter <= 0.0 || step <= 0.0 {
        return 1.0;
    }
    let ratio = std::f64::consts::TAU * scatter / step;
    let term = |k: u32| (-(f64::from(k) * ratio).powi(2)).exp() / f64::from(k).powi(2);
    let sum: f64 = (1..=TERMS).map(term).take_while(|term| *term > 1e-18).sum();
    SIX_OVER_PI_SQUARED * sum
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::{largest_by_chance, still_shared};
    use crate::calc::check::{holds, near, refuses, with};

    fn places(readings: &[&[f64]], sensitivity: f64) -> Value {
        readings.iter().map(|one| json!({"readings": one, "sensitivity": sensitivity})).collect()
    }

    // JCGM 100 4.2.4: the pooled variance is the mean of the variances weighted by their degrees of freedom. By hand:
    // (2 · 1 + 2 · 4)/4 = 2.5.
    #[test]
    fn variances_are_pooled_by_their_degrees_of_freedom() {
        let inputs = json!({"places": places(&[&[1.0, 2.0, 3.0], &[10.0, 12.0, 14.0]], 0.5)});
        let expected = json!({"pooled_deviation": 2.5_f64.sqrt(), "scatter_from": "seen", "degrees_of_freedom": 4.0,
            "touches_uncertainty": (2.5_f64 * (0.25 / 3.0) * 2.0).sqrt(), "resolution_uncertainty": 0.0});
        holds("pooled-touches", &inputs, &expected);
        let one = json!({"places": places(&[&[1.0]], 1.0)});
        let expected = json!({"pooled_deviation": null, "scatter": 0.0, "touches_uncertainty": 0.0});
        holds("pooled-touches", &one, &expected);
        refuses("pooled-touches", &with(&inputs, "places", json!([])), "places");
        refuses("pooled-touches", &with(&inputs, "display_step", json!(-1)), "display_step");
    }

    // The midpoint of the project's algorithms study: sigma 2 um, n = 2, u_m left out: u^2 = (sigma^2/n + q^2/12n)/2.
    #[test]
    fn a_midpoint_by_the_stated_scatter() {
        let inputs = json!({"places": places(&[&[0.0, 0.001], &[50.0, 50.002]], 0.5), "repeatability": 0.002,
            "display_step": 0.001});
        let rounding = still_shared(0.002, 0.001);
        assert!(rounding < 1e-30);
        let expected = json!({"scatter_from": "stated", "degrees_of_freedom": "infinite",
            "touches_uncertainty": 0.001, "resolution_uncertainty": (1e-6_f64 / 48.0).sqrt()});
        holds("pooled-touches", &inputs, &expected);
    }

    // Chi-square table, upper 5 % points 3.841, 5.991, 9.488, 15.507 and 31.410 for 1, 2, 4, 8 and 20.
    #[test]
    fn the_chance_limit_follows_the_chi_square_table() {
        for (freedom, point) in [(1.0, 3.841), (2.0, 5.991), (4.0, 9.488), (8.0, 15.507), (20.0, 31.410)] {
            let limit = largest_by_chance(freedom).powi(2) * freedom;
            assert!((limit / point - 1.0).abs() < 0.025, "{freedom}: {limit}");
        }
        let wild = json!({"places": places(&[&[0.0, 0.009, 0.018]], 1.0), "repeatability": 0.002});
        holds("pooled-touches", &wild, &json!({"scatter_from": "seen", "degrees_of_freedom": 2.0, "scatter": 0.009}));
        let four = json!({"places": places(&[&[0.0, 0.002, 0.0, 0.002]], 1.0), "repeatability": 0.002});
        holds("pooled-touches", &four, &json!({"scatter_from": "seen", "degrees_of_freedom": 3.0}));
    }

    // JCGM 100 F.2.2.1: a display that always shows the same step leaves q/sqrt(12), however often it is read.
    #[test]
    fn a_display_that_never_moves_keeps_its_whole_step() {
        let inputs = json!({"places": places(&[&[5.0, 5.0, 5.0, 5.0]], 1.0), "display_step": 0.001});
        holds("pooled-touches", &inputs, &json!({"scatter": 0.0, "resolution_uncertainty": (1e-6_f64 / 12.0).sqrt()}));
    }

    /// Rounding errors of normal readings, summed over a grid of true values: variance of the mean of two, minus half
    /// of what one has, tells what they share.
    fn shared_by_summing(scatter: f64) -> f64 {
        let cells = 400;
        let mean_error = |place: f64| -> f64 {
            let steps = 4000;
            let sum: f64 = (0..steps)
                .map(|step| {
                    let z = -6.0 + 12.0 * (f64::from(step) + 0.5) / f64::from(steps);
                    let reading = place + scatter * z;
                    (reading.round() - reading) * (-z * z / 2.0).exp()
                })
                .sum();
            sum * 12.0 / f64::from(steps) / std::f64::consts::TAU.sqrt()
        };
        let mean_square: f64 =
            (0..cells).map(|cell| mean_error((f64::from(cell) + 0.5) / f64::from(cells)).powi(2)).sum();
        mean_square / f64::from(cells) * 12.0
    }

    // The definition, summed numerically: what is common to repeats is the variance of their mean rounding error.
    #[test]
    fn the_shared_rounding_is_that_of_the_definition() {
        for scatter in [0.1, 0.2, 0.3] {
            let (series, summed) = (still_shared(scatter, 1.0), shared_by_summing(scatter));
            assert!((series - summed).abs() < 2e-4, "{scatter}: {series} {summed}");
        }
        near(
            "pooled-touches",
            &json!({"places": places(&[&[1.0]], 1.0), "repeatability": 0.5, "display_step": 1}),
            "resolution_uncertainty",
            (1.0_f64 / 12.0).sqrt(),
            1e-12,
        );
    }
}
