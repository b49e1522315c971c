//! How close does what swings come to something that stands, and at which index angles is it too close?

use crate::calc::degrees::into_full_turn;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "swing-past-obstacle",
    version: 1,
    topic: "fit",
    question: "How close does what swings come to something that stands, and at which index angles is it too close?",
    formula: "each point turns round the centreline by index (right-hand) or -index (left-hand) about +X; gap = distance \
         from the point to the box [y_from, y_to] x [z_from, z_to], 0 inside it; an index is forbidden where the gap of any \
         point is less than safety_margin; angles to 0.001 deg",
    inputs: &[
        Input::points("points", 2, "mm", "what swings: corners, screw heads, [y, z] from the centreline at index 0")
            .least_items(1),
        Input::quantity("y_from", "mm", "front of the obstacle from the centreline"),
        Input::quantity("y_to", "mm", "rear of it"),
        Input::quantity("z_from", "mm", "bottom of it from the centreline"),
        Input::quantity("z_to", "mm", "top of it"),
        Input::quantity("safety_margin", "mm", "smallest gap allowed").at_least(0.0),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantity("smallest_gap", "mm", "smallest gap over a whole turn; 0 = it hits"),
        Output::count("nearest_point", "which point comes nearest, from 1"),
        Output::quantities("forbidden_from", "deg", "start of each forbidden range of the index, going up"),
        Output::quantities("forbidden_to", "deg", "end of each of them"),
    ],
    refusals: &[
        Refusal::of("points", "more than 100 of them"),
        Refusal::of("y_to", "below y_from"),
        Refusal::of("z_to", "below z_from"),
    ],
    usual_mistake: "looking at the fixture as it stands now, not at what comes round",
    validity: "rigid bodies; the edges between the points given are not looked at: give every corner; the obstacle stands \
         in the way over the whole length of what swings",
    source: "distance of a point on a circle from a box",
    example: r#"{"points": [[45, 45], [-45, 45], [-45, -45], [45, -45], [52, 38.5]], "y_from": -120, "y_to": -62, "z_from": -40,
        "z_to": 30, "safety_margin": 5, "work_turns": "left-hand"}"#,
    solve,
};

const MOST_POINTS: usize = 100;
/// Steps of a turn at which the gap is looked at, and the halvings that then find an edge of a range.
const STEPS: u32 = 3600;
const HALVINGS: u32 = 8;

struct Way<'a> {
    points: &'a [[f64; 2]],
    y: (f64, f64),
    z: (f64, f64),
    sense: f64,
}

impl Way<'_> {
    fn gap_of(&self, [y, z]: [f64; 2], index: f64) -> f64 {
        let (sine, cosine) = (self.sense * index).to_radians().sin_cos();
        let (y, z) = (y * cosine - z * sine, y * sine + z * cosine);
        let off = |at: f64, (from, to): (f64, f64)| (from - at).max(at - to).max(0.0);
        off(y, self.y).hypot(off(z, self.z))
    }

    fn gap(&self, index: f64) -> f64 {
        self.points.iter().fold(f64::INFINITY, |least, point| least.min(self.gap_of(*point, index)))
    }

    /// Returns the smallest gap of a point: its whole circle against the nearest and farthest place of the box.
    fn smallest(&self, point: [f64; 2]) -> f64 {
        let radius = point[0].hypot(point[1]);
        let inside = |(from, to): (f64, f64)| from <= 0.0 && 0.0 <= to;
        let nearest = |(from, to): (f64, f64)| if inside((from, to)) { 0.0 } else { from.abs().min(to.abs()) };
        let farthest = |(from, to): (f64, f64)| from.abs().max(to.abs());
        let (near, far) = (nearest(self.y).hypot(nearest(self.z)), farthest(self.y).hypot(farthest(self.z)));
        (near - radius).max(radius - far).max(0.0)
    }

    /// Finds where the gap crosses the margin between two angles, the first on the wanted side.
    fn edge(&self, margin: f64, from: f64, to: f64) -> f64 {
        let wanted = self.gap(from) < margin;
        let (mut same, mut other) = (from, to);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(same, other);
            if (self.gap(middle) < margin) == wanted { same = middle } else { other = middle }
        }
        f64::midpoint(same, other)
    }
}

fn solve(given: &Given) -> Result<Answer, Refused> {
    let way = Way {
        points: given.points::<2>("points")?,
        y: side(given, "y_from", "y_to")?,
        z: side(given, "z_from", "z_to")?,
        sense: given.work_turns()?,
    };
    if way.points.len() > MOST_POINTS {
        return Err(Refused::new("points", format!("points must be at most {MOST_POINTS}.")));
    }
    let gaps: Vec<f64> = way.points.iter().map(|point| way.smallest(*point)).collect();
    let nearest = gaps.iter().enumerate().min_by(|one, other| one.1.total_cmp(other.1));
    let (place, smallest) = nearest.map_or((0, 0.0), |(place, gap)| (place, *gap));
    let (from, to) = forbidden(&way, given.number("safety_margin")?);
    Ok(Answer::new()
        .with("smallest_gap", smallest)
        .with("nearest_point", place + 1)
        .with("forbidden_from", from)
        .with("forbidden_to", to))
}

fn side(given: &Given, from: &'static str, to: &'static str) -> Result<(f64, f64), Refused> {
    let (low, high) = (given.number(from)?, given.number(to)?);
    if low > high {
        return Err(Refused::new(to, format!("{to} must not be below {from}.")));
    }
    Ok((low, high))
}

fn forbidden(way: &Way<'_>, margin: f64) -> (Vec<f64>, Vec<f64>) {
    let (mut starts, mut ends) = (Vec::new(), Vec::new());
    let step = 360.0 / f64::from(STEPS);
    for count in 0..STEPS {
        let (here, next) = (f64::from(count) * step, f64::from(count + 1) * step);
        match (way.gap(here) < margin, way.gap(next) < margin) {
            (false, true) => starts.push(into_full_turn(way.edge(margin, here, next))),
            (true, false) => ends.push(into_full_turn(way.edge(margin, here, next))),
            _ => {}
        }
    }
    if starts.is_empty() && way.gap(0.0) < margin {
        return (vec![0.0], vec![360.0]);
    }
    // A range that holds index 0 ends before it starts: its end belongs to the last start.
    if let (Some(start), Some(end)) = (starts.first(), ends.first())
        && end < start
    {
        ends.rotate_left(1);
    }
    (starts, ends)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, refuses, with};

    // Geometry: a point at +Y on radius 100, a wall from y = 110 up and high: 10 away at its nearest; the gap 110 - 100 cos a
    // is 13.407 42 at 15 degrees to each side.
    #[test]
    fn a_point_comes_near_a_wall_on_both_sides_of_its_nearest_place() {
        let inputs = json!({"points": [[100, 0]], "y_from": 110, "y_to": 200, "z_from": -300, "z_to": 300,
            "safety_margin": 13.407_417_371_093_17, "work_turns": "right-hand"});
        holds("swing-past-obstacle", &inputs, &json!({"smallest_gap": 10.0, "nearest_point": 1}));
        let found = answer("swing-past-obstacle", &inputs);
        let at = |key: &str| found[key][0]["value"].as_f64().unwrap();
        assert!((at("forbidden_from") - 345.0).abs() < 0.001 && (at("forbidden_to") - 15.0).abs() < 0.001, "{found:?}");
        let wide = with(&inputs, "safety_margin", json!(9.9));
        holds("swing-past-obstacle", &wide, &json!({"forbidden_from": [], "forbidden_to": []}));
        let always = with(&inputs, "safety_margin", json!(500));
        holds("swing-past-obstacle", &always, &json!({"forbidden_from": [0.0], "forbidden_to": [360.0]}));
        refuses("swing-past-obstacle", &with(&inputs, "y_to", json!(109)), "y_to");
    }

    // Geometry: the same point a quarter turn round; a left-hand table brings it there at 90, a right-hand one at 270.
    #[test]
    fn the_turning_sense_mirrors_the_range() {
        for (turns, middle) in [("left-hand", 90.0), ("right-hand", 270.0)] {
            let inputs = json!({"points": [[0, 100], [10, 10]], "y_from": 95, "y_to": 200, "z_from": -1, "z_to": 1,
                "safety_margin": 0, "work_turns": turns});
            near("swing-past-obstacle", &inputs, "smallest_gap", 0.0, 1e-12);
            let inputs = with(&inputs, "safety_margin", json!(1));
            let found = answer("swing-past-obstacle", &inputs);
            let at = |key: &str| found[key][0]["value"].as_f64().unwrap();
            let found_middle = f64::midpoint(at("forbidden_from"), at("forbidden_to"));
            assert!((found_middle - middle).abs() < 0.002, "{turns} {found_middle}");
        }
    }
}
