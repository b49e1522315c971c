//! Where are the pads level, and how far off are they now, by all tries together?

use super::level_line::{Contact, Line, Pads, Seen, fit};
use super::level_now::now;
use super::next_step::inside;
use super::reading_noise::{Noise, noise};
use crate::calc::degrees;
use crate::calc::readings::statistics::Statistics;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

const TRY: &[Input] = &[
    Input::quantity("machine_angle", "deg", "machine rotary position of the try").above(-1e6).below(1e6),
    Input::quantities("rear_readings", "mm", "readings on the rear (+Y) pad, plus = higher").least_items(1),
    Input::quantities("front_readings", "mm", "readings on the front (-Y) pad, plus = higher").least_items(1),
];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-fit",
    version: 1,
    topic: "tram",
    question: "Where are the pads level, and how far off are they now, by all tries together?",
    formula: "difference_k = mean(rear) - mean(front) - pad_step; least squares for level_index and K = s*span_fitted \
         on difference_k = K T(machine_angle_k - level_index), T = tan for flats, sin for high-points, with weights \
         1/variance_k and the span beforehand, variance_k = v(1/rear_count + 1/front_count) + display_step^2/6 + \
         (pad_span rotary_repeat)^2; from three tries on a try that is r deviations off keeps 1/(1 + r^2/9) of its \
         weight; unknown sense: both are fitted and the likelier holds; v = (10 reading_deviation^2 + squares)/(10 + \
         freedom) from the scatter of the repeats, or that scatter alone when it is too wide for chance (1 %); \
         difference_now joins the readings of the last try with what the others foretell of it, unless it lies three \
         deviations off",
    inputs: &[
        Input::records("tries", TRY, "all tries, the one that stands now last").least_items(1),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(1e-3).below(1e6),
        Input::quantity("span_deviation", "mm", "standard deviation of that distance; left out: 0.029 of it")
            .above(1e-9)
            .below(1e6)
            .may_be_left_out(),
        Input::quantity("pad_step", "mm", "drawing height of the rear pad above the front pad").or(0.0),
        Input::word(
            "pad_contact",
            &["flats", "high-points"],
            "flats read at fixed Y, or two high points followed by the indicator",
        )
        .or_word("flats"),
        Input::word(
            "sense",
            &["right-hand", "left-hand", "unknown"],
            "sense in which the WORK turns about +X for a positive angle, when it is known",
        ),
        Input::word("likely_sense", &["right-hand", "left-hand"], "sense to begin with while it is unknown")
            .or_word("left-hand"),
        Input::quantity("reading_deviation", "mm", "standard deviation of one reading, as assumed")
            .above(1e-7)
            .below(1e3),
        Input::quantity("display_step", "mm", "smallest step of what is typed").at_least(0.0).below(1e3).or(0.0),
        Input::quantity("rotary_repeat", "deg", "how well the rotary comes back to an angle, standard deviation")
            .at_least(0.0)
            .below(10.0),
        Input::quantity("tolerance", "mm", "largest difference allowed").above(0.0),
    ],
    outputs: &[
        Output::quantities("pad_differences", "mm", "rear minus front of each try, the step taken off"),
        Output::quantities("turns", "deg", "turn of each try from where the pads are level"),
        Output::quantities("uncertainties", "mm", "standard uncertainty of each difference"),
        Output::quantities("fitted", "mm", "what the fit puts in place of each difference"),
        Output::quantities("shares", "1", "how much of its weight each try keeps; well under 0.5 = it does not fit"),
        Output::word("sense", &["right-hand", "left-hand"], "sense that was used"),
        Output::quantity("sense_evidence", "1", "how much better it fits than the other, twice a log likelihood"),
        Output::flag("sense_settled", "true when the tries alone leave no doubt about it (evidence of 9 or more)"),
        Output::quantity("level_index", "deg", "machine rotary position at which the pads are level")
            .round_the_circle(),
        Output::quantity("correction", "deg", "turn from the last try to there"),
        Output::quantity("level_uncertainty", "deg", "standard uncertainty of both"),
        Output::quantity("span_fitted", "mm", "span as the readings see it; over pad_span it is the gain"),
        Output::quantity("span_uncertainty", "mm", "its standard uncertainty"),
        Output::quantity("difference_now", "mm", "rear minus front as it stands, by all tries"),
        Output::quantity("uncertainty_now", "mm", "its standard uncertainty"),
        Output::quantity("degrees_of_freedom", "1", "degrees of freedom of the noise"),
        Output::quantity("probability_within", "1", "probability that the pads are within the tolerance now"),
        Output::flag("as_foretold", "true when the last try is where the others put it"),
        Output::quantity("deviation_found", "mm", "standard deviation of one reading by the repeats")
            .null_when("no reading was repeated"),
        Output::quantity("deviation_used", "mm", "standard deviation of one reading reckoned with"),
        Output::flag("noise_exceeds", "true when the repeats scatter more than was assumed"),
    ],
    refusals: &[],
    usual_mistake: "believing the last reading alone, or turning by half the difference until it fits",
    validity: "the part does not move in the fixture; every try approached from the same side; tilts below 45 degrees",
    source: "weighted non-linear least squares (Gauss-Newton); reweighting after Cauchy; JCGM 100 for the uncertainty",
    example: r#"{
            "tries": [
                {"machine_angle": 37.595, "rear_readings": [0.111, 0.111], "front_readings": [0.29, 0.29]},
                {"machine_angle": 37.412, "rear_readings": [0.199, 0.2], "front_readings": [0.2, 0.199]}
            ],
            "pad_span": 56, "sense": "left-hand", "reading_deviation": 0.0007, "display_step": 0.001,
            "rotary_repeat": 0.002, "tolerance": 0.06
        }"#,
    solve,
};

/// Evidence from which the sense is settled: the other one is e^4.5 = 90 times less likely.
const SETTLED: f64 = 9.0;
/// Evidence below this is a tie, which the likely sense decides.
const TIE: f64 = 0.5;

fn solve(given: &Given) -> Result<Answer, Refused> {
    let pads = pads(given)?;
    let step = given.number("pad_step")?;
    let tries = given.records("tries")?.iter().map(|one| Read::of(one, step)).collect::<Result<Vec<_>, _>>()?;
    let noise = noise_of(given, &tries)?;
    let rotary = (pads.span * given.number("rotary_repeat")?.to_radians()).powi(2);
    let rounding = given.number("display_step")?.powi(2) / 6.0;
    let newest = tries.last().map_or(0.0, |newest| newest.angle);
    let seen: Vec<Seen> = tries
        .iter()
        .map(|one| Seen {
            turned: degrees::into_half_turns(one.angle - newest),
            difference: one.difference,
            variance: noise.variance * one.inverse_counts + rounding + rotary,
        })
        .collect();
    let (line, right_hand, evidence) = both_senses(given, pads, &seen)?;
    let (Some(last), Some(share)) = (seen.last(), line.shares.last()) else {
        return Err(Refused::new("tries", "tries must hold at least one try."));
    };
    let here = now(&line, last, *share, last.variance - rotary);
    let (tolerance, deviation) = (given.number("tolerance")?, here.variance.sqrt());
    let within = inside(tolerance, here.difference, deviation, noise.freedom);
    Ok(Answer::new()
        .with("pad_differences", tries.iter().map(|one| one.difference).collect::<Vec<f64>>())
        .with("turns", seen.iter().map(|one| one.turned - line.level).collect::<Vec<f64>>())
        .with("uncertainties", seen.iter().map(|one| one.variance.sqrt()).collect::<Vec<f64>>())
        .with("fitted", seen.iter().map(|one| line.at(one.turned).0).collect::<Vec<f64>>())
        .with("shares", line.shares.clone())
        .with("sense", if right_hand { "right-hand" } else { "left-hand" })
        .with("sense_evidence", evidence)
        .with("sense_settled", evidence >= SETTLED)
        .with("level_index", degrees::into_full_turn(newest + line.level))
        .with("correction", line.level)
        .with("level_uncertainty", line.level_deviation())
        .with("span_fitted", line.span.abs())
        .with("span_uncertainty", line.span_deviation())
        .with("difference_now", here.difference)
        .with("uncertainty_now", deviation)
        .with("degrees_of_freedom", noise.freedom)
        .with("probability_within", within)
        .with("as_foretold", here.as_foretold)
        .with("deviation_found", noise.found.map(f64::sqrt))
        .with("deviation_used", noise.variance.sqrt())
        .with("noise_exceeds", noise.exceeds))
}

/// One try, its readings summed up.
struct Read {
    angle: f64,
    difference: f64,
    /// One over each count of readings, added.
    inverse_counts: f64,
    squares: f64,
    freedom: f64,
}

impl Read {
    fn of(one: &Given, step: f64) -> Result<Self, Refused> {
        let rear = Statistics::of(one.numbers("rear_readings")?);
        let front = Statistics::of(one.numbers("front_readings")?);
        Ok(Self {
            angle: one.number("machine_angle")?,
            difference: rear.mean - front.mean - step,
            inverse_counts: rear.count.recip() + front.count.recip(),
            squares: rear.squares + front.squares,
            freedom: rear.count + front.count - 2.0,
        })
    }
}

fn pads(given: &Given) -> Result<Pads, Refused> {
    let span = given.number("pad_span")?;
    let span_deviation = given.optional_number("span_deviation")?.unwrap_or(SPAN_DEVIATION * span);
    Ok(Pads { span, span_deviation, contact: Contact::named(given.word("pad_contact")?) })
}

/// A span that is good to 5 % either way deviates by 5 %/sqrt(3).
const SPAN_DEVIATION: f64 = 0.029;

fn noise_of(given: &Given, tries: &[Read]) -> Result<Noise, Refused> {
    let squares = tries.iter().map(|one| one.squares).sum();
    let freedom = tries.iter().map(|one| one.freedom).sum();
    Ok(noise(given.number("reading_deviation")?.powi(2), given.number("display_step")?, squares, freedom))
}

/// Fits both senses; returns the line that holds, whether it is the right-hand one, and what speaks for it.
fn both_senses(given: &Given, pads: Pads, seen: &[Seen]) -> Result<(Line, bool, f64), Refused> {
    let (right, left) = (fit(pads, seen, 1.0), fit(pads, seen, -1.0));
    let for_right = left.cost - right.cost;
    let right_holds = match given.word("sense")? {
        "unknown" if for_right.abs() < TIE => given.word("likely_sense")? == "right-hand",
        "unknown" => for_right > 0.0,
        known => known == "right-hand",
    };
    Ok(if right_holds { (right, true, for_right) } else { (left, false, -for_right) })
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{answer, holds, near, with};

    /// Readings of a part that is level at `level`, `span` apart, for tries at some indices.
    fn tried(indices: &[f64], level: f64, span: f64, sense: f64, points: bool) -> Value {
        let tries: Vec<Value> = indices
            .iter()
            .map(|index| {
                let turn = (sense * (index - level)).to_radians();
                let difference = span * if points { turn.sin() } else { turn.tan() };
                json!({"machine_angle": index, "rear_readings": [0.3 + difference], "front_readings": [0.3]})
            })
            .collect();
        json!({"tries": tries, "pad_span": 50, "pad_contact": if points { "high-points" } else { "flats" },
            "sense": "unknown", "reading_deviation": 0.002, "rotary_repeat": 0.0005, "tolerance": 0.012})
    }

    // Worked job of the flow-sensor body: one try of -0.179 over 56 is a turn of -0.183141 for a left-hand rotary.
    #[test]
    fn one_try_is_the_plain_correction() {
        let inputs = json!({"tries": [{"machine_angle": 37.595, "rear_readings": [0.111, 0.111],
            "front_readings": [0.29, 0.29]}], "pad_span": 56, "sense": "left-hand", "reading_deviation": 0.0007,
            "rotary_repeat": 0.002, "tolerance": 0.06});
        near("tram-fit", &inputs, "correction", -0.183_141, 5e-7);
        holds(
            "tram-fit",
            &inputs,
            &json!({"pad_differences": [-0.179], "sense_settled": false, "span_fitted": 56.0,
            "probability_within": 0.0, "deviation_found": 0.0}),
        );
    }

    // Geometry: perfect readings of a part level at 12.345 degrees, pads 51 apart where the card says 50; both kinds of
    // pads, both senses, also across zero.
    #[test]
    fn perfect_readings_give_level_span_and_sense() {
        for (sense, word) in [(1.0, "right-hand"), (-1.0, "left-hand")] {
            for points in [false, true] {
                let inputs = tried(&[355.0, 358.0, 1.0, 2.5], 2.0, 51.0, sense, points);
                holds("tram-fit", &inputs, &json!({"sense": word, "sense_settled": true, "as_foretold": true}));
                let wide = with(&inputs, "tries", tried(&[-6.0, -2.5, 1.0], 2.0, 51.0, sense, points)["tries"].clone());
                near("tram-fit", &wide, "level_index", 2.0, 2e-4);
                near("tram-fit", &wide, "span_fitted", 51.0, 0.01);
            }
        }
    }

    // Common practice: one slip of 0.1 among five tries must not move the level by more than the noise.
    #[test]
    fn one_slip_among_five_hardly_counts() {
        let mut inputs = tried(&[0.0, 0.4, 0.8, 1.2, 1.01], 1.0, 50.0, -1.0, false);
        inputs["tries"][1]["rear_readings"] = json!([0.3 + 50.0 * 0.6_f64.to_radians().tan() + 0.1]);
        near("tram-fit", &inputs, "level_index", 1.0, 0.003);
        let shares = answer("tram-fit", &inputs)["shares"].clone();
        assert!(shares[1]["value"].as_f64().unwrap() < 0.05, "{shares}");
    }

    // Chi-square of 5 degrees of freedom: 1 % lies beyond 15.09, so repeats 3 times as wide as assumed are no chance.
    #[test]
    fn repeats_that_scatter_too_much_take_the_promise_back() {
        let tries = |wide: f64| {
            json!([{"machine_angle": 0, "rear_readings": [wide, -wide, wide, -wide],
                "front_readings": [wide, -wide, wide, -wide]}])
        };
        let inputs = tried(&[0.0], 0.0, 50.0, 1.0, false);
        holds("tram-fit", &with(&inputs, "tries", tries(0.002)), &json!({"noise_exceeds": false}));
        let wild = with(&inputs, "tries", tries(0.006));
        let found = (8.0 / 6.0_f64).sqrt() * 0.006;
        holds("tram-fit", &wild, &json!({"noise_exceeds": true, "deviation_found": found, "deviation_used": found}));
    }
}
