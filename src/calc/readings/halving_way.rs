//! What is the cheapest way to halve an uncertainty: more touches, or a better known something?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

const FIELDS: &[Input] = &[
    Input::text("name", "what it comes from"),
    Input::quantity("standard_uncertainty", "mm", "what it makes of the result").at_least(0.0),
];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "halving-way",
    version: 1,
    topic: "metrology",
    question: "What is the cheapest way to halve an uncertainty: more touches, or a better known something?",
    formula: "wanted = sqrt(touches^2 + sum fixed^2)/2, touches = touches_uncertainty; touches fall with sqrt(repeats): \
         repeats_needed = repeats*touches^2/(wanted^2 - sum fixed^2), rounded up; else fixed_must_become = \
         sqrt(wanted^2 - touches^2 - other fixed^2) for the largest fixed one; else both with most_repeats",
    inputs: &[
        Input::quantity("touches_uncertainty", "mm", "the part that falls with more touches").at_least(0.0),
        Input::count("repeats", "touches a place now").at_least(1.0).at_most(10_000.0),
        Input::records("fixed_terms", FIELDS, "the parts that more touches leave as they are").or_empty(),
        Input::count("most_repeats", "touches a place that a person can be asked for")
            .at_least(1.0)
            .at_most(10_000.0)
            .or(20.0),
    ],
    outputs: &[
        Output::quantity("wanted", "mm", "half of the uncertainty as it is"),
        Output::word(
            "way",
            &["more-touches", "better-known", "both", "neither"],
            "'more-touches' alone, the heaviest fixed part 'better-known', 'both', or 'neither' is enough",
        ),
        Output::count("repeats_needed", "touches a place").null_when("more touches are not part of the way"),
        Output::texts("better_known", "the name of the heaviest fixed part; [] when there is none"),
        Output::quantity("fixed_must_become", "mm", "what it must come down to").null_when("it is not part of the way"),
    ],
    refusals: &[],
    usual_mistake: "taking more and more touches when the tip's radius or the centre height is what is not known",
    validity: "independent parts; repeats without drift",
    source: "JCGM 100 clauses 4.2.3 and 5.1.2",
    example: r#"{
            "touches_uncertainty": 0.0005, "repeats": 3,
            "fixed_terms": [{"name": "tip radius", "standard_uncertainty": 0.0005}]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (touches, repeats) = (given.number("touches_uncertainty")?, given.number("repeats")?);
    let most = given.number("most_repeats")?.max(repeats);
    let (mut fixed, mut heaviest, mut name) = (0.0, 0.0, None);
    for term in given.records("fixed_terms")? {
        let size = term.number("standard_uncertainty")?;
        fixed = f64::hypot(fixed, size);
        if size > heaviest {
            (heaviest, name) = (size, Some(term.text("name")?.to_owned()));
        }
    }
    let wanted = touches.hypot(fixed) / 2.0;
    let way = Way::cheapest(&Parts { wanted, touches, fixed, heaviest, repeats, most });
    Ok(Answer::new()
        .with("wanted", wanted)
        .with("way", way.word)
        .with("repeats_needed", way.repeats)
        .with("better_known", name.into_iter().collect::<Vec<String>>())
        .with("fixed_must_become", way.must_become))
}

struct Parts {
    wanted: f64,
    touches: f64,
    fixed: f64,
    heaviest: f64,
    repeats: f64,
    most: f64,
}

struct Way {
    word: &'static str,
    repeats: Option<f64>,
    must_become: Option<f64>,
}

impl Way {
    fn cheapest(parts: &Parts) -> Self {
        let room = difference_of_squares(parts.wanted, parts.fixed);
        if let Some(room) = room {
            let needed = parts.repeats * (parts.touches / room).powi(2);
            if needed <= parts.most {
                return Self { word: "more-touches", repeats: Some(needed.ceil().max(1.0)), must_become: None };
            }
        }
        let others = difference_of_squares(parts.fixed, parts.heaviest).unwrap_or(0.0);
        let left = |touches: f64| difference_of_squares(parts.wanted, touches.hypot(others));
        if let Some(left) = left(parts.touches) {
            return Self { word: "better-known", repeats: None, must_become: Some(left) };
        }
        match left(parts.touches * (parts.repeats / parts.most).sqrt()) {
            Some(left) => Self { word: "both", repeats: Some(parts.most), must_become: Some(left) },
            None => Self { word: "neither", repeats: None, must_become: None },
        }
    }
}

/// Returns √(a² − b²) without the loss of digits, or none where nothing is left.
fn difference_of_squares(a: f64, b: f64) -> Option<f64> {
    (a > b).then(|| (a - b).sqrt() * (a + b).sqrt())
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: the part that falls with touches alone halves with four times as many.
    #[test]
    fn four_times_the_touches_halve_the_scatter() {
        let inputs = json!({"touches_uncertainty": 0.004, "repeats": 3});
        let expected = json!({"wanted": 0.002, "way": "more-touches", "repeats_needed": 12, "better_known": [],
            "fixed_must_become": null});
        holds("halving-way", &inputs, &expected);
        refuses("halving-way", &with(&inputs, "repeats", json!(0)), "repeats");
        refuses("halving-way", &with(&inputs, "touches_uncertainty", json!(-1)), "touches_uncertainty");
    }

    // By hand in um: touches 3 and radius 4 make 5; half is 2.5, so the radius alone is too much; with the radius at
    // nothing the touches of 3 still are, and with 20 touches for 2 they are 3 sqrt(0.1) = 0.9487: sqrt(6.25 - 0.9).
    #[test]
    fn a_heavy_radius_must_be_known_better() {
        let inputs = json!({"touches_uncertainty": 3, "repeats": 2, "fixed_terms": [
            {"name": "tip radius", "standard_uncertainty": 4}]});
        let expected = json!({"wanted": 2.5, "way": "both", "repeats_needed": 20, "better_known": ["tip radius"],
            "fixed_must_become": 5.35_f64.sqrt()});
        holds("halving-way", &inputs, &expected);
        let small = with(&inputs, "touches_uncertainty", json!(0.5));
        let wanted = 16.25_f64.sqrt() / 2.0;
        let expected = json!({"way": "better-known", "repeats_needed": null,
            "fixed_must_become": (wanted.powi(2) - 0.25).sqrt()});
        holds("halving-way", &small, &expected);
        let two = json!({"touches_uncertainty": 0, "repeats": 2, "fixed_terms": [
            {"name": "tip radius", "standard_uncertainty": 4}, {"name": "temperature", "standard_uncertainty": 4}]});
        holds("halving-way", &two, &json!({"way": "neither", "fixed_must_become": null, "repeats_needed": null}));
    }
}
