//! Pictures of the job to scale, drawn from the card alone; screen and paper draw the same ones.

use crate::job::{DrawnDirection, Feature, JobCard};
use crate::scene::Scene;

/// Draws the fixture as one looks at the finished top: outline, ring, what sticks out, and the circle that it sweeps.
/// `swing` is the measured radius in millimetres; without it the furthest corner of the card is taken.
pub fn end_view(card: &JobCard, swing: Option<f64>) -> Scene {
    let fixture = &card.fixture;
    let (half_width, half_height) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let reach = fixture.protruding.iter().map(|point| point.y.mm().hypot(point.z.mm()));
    let radius = swing.unwrap_or_else(|| reach.fold(half_width.hypot(half_height), f64::max));
    let scene = Scene::seen("along X, rear on the right, A at zero")
        .circle((0.0, 0.0), radius)
        .rectangle(half_width, half_height)
        .circle((0.0, 0.0), fixture.ring_bore.mm() / 2.0)
        .mark((0.0, 0.0), "axis", false)
        .label((-radius * 0.69, radius * 0.74), "swing");
    let scene = fixture
        .protruding
        .iter()
        .fold(scene, |scene, point| scene.mark((point.y.mm(), point.z.mm()), point.name.clone(), false));
    if fixture.mark_flat_y.mm().abs() < 1e-9 {
        return scene;
    }
    let flat = fixture.mark_flat_y.mm();
    scene.line((flat, -half_height), (flat, -half_height * 0.8)).label((flat, -half_height * 0.78), "flat")
}

/// Draws where the features lie round the axis, looking at the finished top with the drawing's zero up.
pub fn feature_positions(card: &JobCard) -> Scene {
    let radius = card.part.diameter.mm() / 2.0;
    let scene = Scene::seen("looking at the finished top, 0 degrees of the drawing up")
        .circle((0.0, 0.0), radius)
        .mark((0.0, 0.0), "", false);
    card.features.iter().enumerate().fold(scene, |scene, (place, feature)| {
        let (x, y) = direction(feature);
        let start = feature.radius.mm();
        let end = (start - feature.depth.mm()).max(0.0);
        // Features at one angle lie one behind the other: their names are put one under the other.
        let same = card.features.iter().take(place).filter(|other| same_direction(other, feature)).count();
        #[expect(clippy::cast_precision_loss, reason = "a card has few features")]
        let below = same as f64 * radius * 0.16;
        scene.line((x * start, y * start), (x * end, y * end)).mark(
            (x * radius * 1.25, y * radius * 1.25 - below),
            feature.id.clone(),
            false,
        )
    })
}

/// Draws the features along the axis from the back face, which is the datum in X.
pub fn side_view(card: &JobCard) -> Scene {
    let radius = card.part.diameter.mm() / 2.0;
    let reach = card.features.iter().map(|feature| feature.along.mm() + feature.diameter.mm()).fold(0.0, f64::max);
    let half_height = card.fixture.height.mm() / 2.0;
    let thick = (reach * 0.5).min(half_height);
    let scene = Scene::seen("from the front, finished top to the right")
        .outline(&[(0.0, -half_height), (thick, -half_height), (thick, half_height), (0.0, half_height)])
        .outline(&[(0.0, -radius), (reach * 1.1, -radius), (reach * 1.1, radius), (0.0, radius)])
        .line((-reach * 0.1, 0.0), (reach * 1.25, 0.0))
        .label((0.0, -half_height * 1.12), "back face: X datum");
    let mut places: Vec<(f64, String)> = Vec::new();
    for feature in &card.features {
        match places.iter_mut().find(|(along, _)| (along - feature.along.mm()).abs() < 1e-9) {
            Some((_, names)) => names.push_str(&format!(", {}", feature.id)),
            None => places.push((feature.along.mm(), feature.id.clone())),
        }
    }
    // Names of neighbours stand at two heights so that they do not run into each other.
    places.into_iter().zip([1.12, 1.5].into_iter().cycle()).fold(scene, |scene, ((along, names), height)| {
        scene.line((along, radius * height), (along, radius * 0.6)).mark((along, radius * height), names, false)
    })
}

/// The unit vector of a feature on the picture (x to the right, y up) from its drawing angle.
fn direction(feature: &Feature) -> (f64, f64) {
    let sign = match feature.drawn_direction {
        DrawnDirection::CounterClockwise => -1.0,
        DrawnDirection::Clockwise => 1.0,
    };
    let angle = feature.drawing_angle_deg.to_radians() * sign;
    (angle.sin(), angle.cos())
}

fn same_direction(one: &Feature, other: &Feature) -> bool {
    let ((x1, y1), (x2, y2)) = (direction(one), direction(other));
    (x1 - x2).hypot(y1 - y2) < 0.05
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Shape;

    fn card() -> JobCard {
        let [(_, text), _] = crate::job::practice_cards();
        crate::job::read(text).unwrap()
    }

    fn place(scene: &Scene, name: &str) -> (f64, f64) {
        let found = scene.shapes.iter().find_map(|shape| match shape {
            Shape::Mark { at, label, .. } if label == name => Some(*at),
            _ => None,
        });
        found.unwrap()
    }

    /// A drawing angle is counted from 12 o'clock (derivation D2): 90 degrees counter-clockwise lies to the left.
    #[test]
    fn a_feature_lies_where_the_drawing_has_it() {
        let scene = feature_positions(&card());
        assert!(place(&scene, "p1").1 > 20.0);
        assert!(place(&scene, "p2").1 < -20.0);
        assert!(place(&scene, "p3").0 < -20.0);
        assert!(place(&scene, "b").0 > 20.0);
    }

    #[test]
    fn the_swing_reaches_the_furthest_point() {
        let scene = end_view(&card(), None);
        // The ring screw head of the practice card: y 52, z 38.5.
        let expected = 52.0_f64.hypot(38.5);
        let radius = scene.shapes.iter().find_map(|shape| match shape {
            Shape::Circle { radius, .. } => Some(*radius),
            _ => None,
        });
        assert!((radius.unwrap() - expected).abs() < 1e-9);
    }

    #[test]
    fn features_at_one_place_share_a_name() {
        let scene = side_view(&card());
        assert!((place(&scene, "p1, p2").0 - 28.0).abs() < 1e-9);
        assert!((place(&scene, "p3, b").0 - 36.0).abs() < 1e-9);
    }
}
