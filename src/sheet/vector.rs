//! A scene as SVG: the same picture as on the screen, to scale, in black on white.

use crate::scene::{Scene, Shape};
use crate::sheet::html::{Markup, html};

/// Width of the drawing in user units; the paper scales it.
const WIDTH: f64 = 480.0;
/// The flattest and the highest a drawing may be, as a share of its width.
const SHAPE: (f64, f64) = (0.25, 0.9);
/// Room around the drawing for labels, as a share of its width.
const MARGIN: f64 = 0.14;
/// Height of letters in user units.
const LETTERS: f64 = 13.0;

/// From shop coordinates to the drawing: x to the right, y up.
struct Frame {
    left: f64,
    top: f64,
    scale: f64,
}

impl Frame {
    fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        ((x - self.left) * self.scale, (self.top - y) * self.scale)
    }
}

/// Draws a scene; `id` makes the names inside unique on the page. An empty scene draws nothing.
pub(super) fn svg(scene: &Scene, id: usize, words: &str) -> Markup {
    let Some((left, bottom, right, top)) = scene.bounds() else { return html! {} };
    let (wide, high) = ((right - left).max(1e-6), (top - bottom).max(1e-6));
    let inner = WIDTH * (1.0 - 2.0 * MARGIN);
    let scale = (inner / wide).min(inner * SHAPE.1 / high);
    let height = (high * scale + 2.0 * MARGIN * WIDTH).max(WIDTH * SHAPE.0);
    let middle = (f64::midpoint(left, right), f64::midpoint(bottom, top));
    let frame = Frame { left: middle.0 - WIDTH / 2.0 / scale, top: middle.1 + height / 2.0 / scale, scale };
    let (title, view) = (format!("picture-{id}-title"), format!("picture-{id}-view"));
    html! {
        svg role="img" viewBox=(format!("0 0 {} {}", number(WIDTH), number(height))) aria-labelledby=(format!("{title} {view}")) {
            title id=(title) { (words) }
            desc id=(view) { (scene.view) }
            @for shape in &scene.shapes { (draw(&frame, shape)) }
        }
    }
}

fn draw(frame: &Frame, shape: &Shape) -> Markup {
    match shape {
        Shape::Line { from, to } => {
            let ((x1, y1), (x2, y2)) = (frame.at(*from), frame.at(*to));
            html! { line x1=(number(x1)) y1=(number(y1)) x2=(number(x2)) y2=(number(y2)) {} }
        }
        Shape::Circle { centre, radius } => {
            let (x, y) = frame.at(*centre);
            html! { circle cx=(number(x)) cy=(number(y)) r=(number(radius * frame.scale)) {} }
        }
        Shape::Mark { at, label, now } => {
            let (x, y) = frame.at(*at);
            let radius = if *now { 5.0 } else { 3.5 };
            html! {
                circle.mark cx=(number(x)) cy=(number(y)) r=(number(radius)) {}
                (words(frame, (x + 8.0, y - 5.0), label))
            }
        }
        Shape::Label { at, text } => words(frame, frame.at(*at), text),
    }
}

/// Writes words so that they end inside the drawing.
fn words(_frame: &Frame, (x, y): (f64, f64), text: &str) -> Markup {
    #[expect(clippy::cast_precision_loss, reason = "a label is short")]
    let wide = text.chars().count() as f64 * LETTERS * 0.56;
    let (x, anchor) = if x + wide > WIDTH { (x.min(WIDTH - 2.0) - 10.0, "end") } else { (x.max(2.0), "start") };
    html! { text x=(number(x)) y=(number(y)) text-anchor=(anchor) { (text) } }
}

/// A hundredth of a user unit is finer than any printer.
fn number(value: f64) -> String {
    crate::quantity::print::shortest((value * 100.0).round() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_to_scale_and_stays_inside() {
        let scene = Scene::seen("from the right").circle((0.0, 0.0), 20.0).line((-40.0, 0.0), (40.0, 0.0)).mark(
            (40.0, 0.0),
            "a long label at the right edge",
            true,
        );
        let text = svg(&scene, 7, "ring").into_string();
        // 80 mm over 345.6 units: 20 mm are 86.4.
        assert!(text.contains("r=\"86.4\""), "{text}");
        assert!(text.contains("text-anchor=\"end\"") && text.contains("id=\"picture-7-title\""), "{text}");
        assert!(svg(&Scene::seen("nothing"), 1, "empty").into_string().is_empty());
    }

    #[test]
    fn a_label_cannot_leave_the_picture() {
        let scene =
            Scene::seen("here").line((0.0, 0.0), (1.0, 1.0)).label((0.0, 0.0), "</svg><script>alert(1)</script>");
        assert!(!svg(&scene, 1, "x").into_string().contains("<script>"));
    }
}
