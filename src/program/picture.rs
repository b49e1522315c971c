//! The tool's path in the plane across the axis, with what swings and what stands.

use crate::job::JobCard;
use crate::program::expected::Expected;
use crate::program::path::Path;
use crate::scene::Scene;

/// Draws the path with the swing circle, the part, the clearance plane and the table.
pub(super) fn picture(card: &JobCard, expected: &Expected, path: &Path) -> Scene {
    let swing = expected.swing;
    let table = -card.machine.centre_height.mm();
    let mut scene = Scene::seen("seen along the axis towards the faceplate, rear to the right")
        .circle((0.0, 0.0), swing)
        .circle((0.0, 0.0), expected.part_radius)
        .line((-swing, expected.clearance_plane), (swing, expected.clearance_plane))
        .line((-1.5 * swing, table), (1.5 * swing, table))
        .label((swing, 0.0), "swing")
        .label((swing, expected.clearance_plane), "clearance plane")
        .label((swing, table), "table");
    for stroke in path.strokes() {
        scene = scene.line(stroke.from, stroke.to);
    }
    scene
}
