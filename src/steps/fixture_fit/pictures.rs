//! Pictures of the fit, to scale: a slot on its jaw, one corner of it in section and in plan.

use crate::scene::Scene;

/// Pieces that a quarter of a circle is drawn in.
const PIECES: u32 = 6;
/// What is drawn of the jaw below its top edge, as a share of its width.
const DEPTH_SHARE: f64 = 0.5;

/// Draws a slot over its jaw, looking along the slot: `width` is the jaw's, `play` what the slot has more.
/// The play is drawn to scale, so it is hardly seen: that is what it is like.
pub(super) fn slot_on_jaw(name: &str, width: f64, play: f64, [fillet, chamfer]: [f64; 2]) -> Scene {
    let (jaw, slot) = (width / 2.0, width.midpoint(play));
    let bottom = -width * DEPTH_SHARE;
    let fillet = fillet.min(width / 4.0);
    let chamfer = chamfer.min(width / 4.0);
    let mut scene = Scene::seen("looking along the slot, fixture above, jaw below");
    for side in [-1.0, 1.0] {
        let corner = quarter((side * (slot - fillet), -fillet), fillet, side);
        scene = open_line(scene.line((side * slot, bottom), (side * slot, -fillet)), &corner)
            .line((side * jaw, bottom), (side * jaw, -chamfer))
            .line((side * jaw, -chamfer), (side * (jaw - chamfer), 0.0));
    }
    scene
        .line((fillet - slot, 0.0), (slot - fillet, 0.0))
        .label((0.0, bottom * 0.6), "jaw")
        .label((0.0, -bottom * 0.4), "fixture")
        .mark((-slot, bottom * 0.5), name, true)
        .mark((slot, bottom * 0.5), "", true)
}

/// Draws one corner of a slot with the jaw in it, looking along the slot, as far off its floor as it must stand.
pub(super) fn slot_corner(fillet: f64, chamfer: f64, gap: f64, standoff: f64) -> Scene {
    let reach = 2.5 * fillet.max(chamfer).max(0.2);
    let scene = Scene::seen("one corner of a slot, looking along it: fixture outside, jaw inside");
    let scene = open_line(
        scene.line((0.0, -reach), (0.0, -fillet)).line((fillet, 0.0), (reach, 0.0)),
        &quarter((fillet, -fillet), fillet, -1.0),
    );
    let scene = scene
        .line((gap, -reach), (gap, -standoff - chamfer))
        .line((gap, -standoff - chamfer), (gap + chamfer, -standoff))
        .line((gap + chamfer, -standoff), (reach, -standoff))
        .label((reach * 0.6, -reach * 0.6), "jaw");
    let ends = [(gap, -standoff - chamfer), (gap + chamfer, -standoff)];
    let off = |(x, y): &(f64, f64)| (fillet - x).hypot(-fillet - y);
    let rides = ends.into_iter().max_by(|one, other| off(one).total_cmp(&off(other)));
    match rides.filter(|_| standoff > 0.0) {
        Some(at) => scene.mark(at, "rides here", true),
        None => scene,
    }
}

/// Draws one corner of a closed slot from above, with the jaw's corner in it as it would stand with that gap.
pub(super) fn corner_in_plan(slot: f64, jaw: f64, gap: f64) -> Scene {
    let reach = 2.5 * slot.max(jaw).max(0.2);
    let scene = Scene::seen("one corner of a slot from above: fixture outside, jaw inside");
    let walls = scene.line((0.0, -reach), (0.0, -slot)).line((slot, 0.0), (reach, 0.0));
    let corner = open_line(walls, &quarter((slot, -slot), slot, -1.0));
    let sides = corner.line((gap, -reach), (gap, -gap - jaw)).line((gap + jaw, -gap), (reach, -gap));
    let half = jaw * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
    open_line(sides, &quarter((gap + jaw, -gap - jaw), jaw, -1.0))
        .mark((gap + half, -gap - half), "rides here", true)
        .label((reach * 0.6, -reach * 0.6), "jaw")
}

/// The quarter of a circle above its centre, from the side (plus: right) to straight above.
fn quarter((x, y): (f64, f64), radius: f64, side: f64) -> Vec<(f64, f64)> {
    let angle = |piece: u32| std::f64::consts::FRAC_PI_2 * f64::from(piece) / f64::from(PIECES);
    (0..=PIECES).map(|piece| (x + side * radius * angle(piece).cos(), y + radius * angle(piece).sin())).collect()
}

fn open_line(scene: Scene, points: &[(f64, f64)]) -> Scene {
    points.iter().zip(points.iter().skip(1)).fold(scene, |scene, (from, to)| scene.line(*from, *to))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Shape;

    // Geometry: a fillet of 1.5, gap 0.05 and a chamfer of 1.0 stand off 0.116 (worked case corner_standoff_chamfer of the
    // project's own set of cases); the picture spans what is drawn of walls and jaw.
    #[test]
    fn a_jaw_that_rides_is_drawn_below_the_floor() {
        let scene = slot_corner(1.5, 1.0, 0.05, 0.116);
        let (left, bottom, right, top) = scene.bounds().unwrap();
        assert!((left, top) == (0.0, 0.0) && (right - 3.75).abs() < 1e-12 && (bottom + 3.75).abs() < 1e-12);
        let rides = scene.shapes.iter().find_map(|shape| match shape {
            Shape::Mark { at, .. } => Some(*at),
            _ => None,
        });
        let (x, y) = rides.unwrap();
        assert!(((1.5 - x).hypot(-1.5 - y) - 1.5).abs() < 0.001, "the mark lies on the fillet: {x}, {y}");
    }
}
