//! A plot as SVG: what was read against what was set, the line through it and the window that is wanted.

use crate::quantity::print::shortest;
use crate::scene::{Axis, Plot, Point, Standing};
use crate::sheet::html::{Markup, html};

/// Size of the drawing in user units; the paper scales it.
const SIZE: (f64, f64) = (480.0, 260.0);
/// Room for the numbers: left, top, right, bottom.
const ROOM: (f64, f64, f64, f64) = (76.0, 22.0, 22.0, 40.0);

/// From the plot's numbers to the drawing.
struct Frame {
    left: f64,
    bottom: f64,
    across: f64,
    up: f64,
}

impl Frame {
    fn x(&self, value: f64) -> f64 {
        ROOM.0 + (value - self.left) * self.across
    }

    fn y(&self, value: f64) -> f64 {
        SIZE.1 - ROOM.3 - (value - self.bottom) * self.up
    }
}

/// Draws a plot; `id` makes the names inside unique on the page. A plot without points draws nothing.
pub(super) fn svg(plot: &Plot, id: usize, words: &str) -> Markup {
    let Some((left, bottom, right, top)) = plot.bounds() else { return html! {} };
    let (wide, high) = (widened(left, right), widened(bottom, top));
    let frame = Frame {
        left: wide.0,
        bottom: high.0,
        across: (SIZE.0 - ROOM.0 - ROOM.2) / (wide.1 - wide.0),
        up: (SIZE.1 - ROOM.1 - ROOM.3) / (high.1 - high.0),
    };
    let (title, table) = (format!("picture-{id}-title"), format!("picture-{id}-points"));
    html! {
        svg role="img" viewBox=(format!("0 0 {} {}", SIZE.0, SIZE.1)) aria-labelledby=(format!("{title} {table}")) {
            title id=(title) { (words) }
            desc id=(table) { (points_in_words(plot)) }
            @if let Some(window) = plot.window { (band(&frame, window, wide)) }
            (axes(&frame, plot, wide, high))
            @for line in &plot.lines { polyline.light points=(path(&frame, &line.through)) {} }
            @for point in &plot.points { (mark(&frame, point)) }
        }
    }
}

/// Leaves a little room on both sides, and some where all values are one.
fn widened(low: f64, high: f64) -> (f64, f64) {
    let room = if high > low { (high - low) * 0.06 } else { low.abs().max(1.0) * 0.05 };
    (low - room, high + room)
}

fn band(frame: &Frame, (low, high): (f64, f64), (left, right): (f64, f64)) -> Markup {
    let (x, y) = (frame.x(left), frame.y(high));
    html! {
        rect.area x=(number(x)) y=(number(y)) width=(number(frame.x(right) - x)) height=(number(frame.y(low) - y)) {}
        @for limit in [low, high] {
            line.light x1=(number(x)) y1=(number(frame.y(limit))) x2=(number(frame.x(right))) y2=(number(frame.y(limit))) {}
        }
    }
}

fn axes(frame: &Frame, plot: &Plot, (left, right): (f64, f64), (bottom, top): (f64, f64)) -> Markup {
    let (floor, wall) = (SIZE.1 - ROOM.3, ROOM.0);
    html! {
        line x1=(number(wall)) y1=(number(floor)) x2=(number(SIZE.0 - ROOM.2)) y2=(number(floor)) {}
        line x1=(number(wall)) y1=(number(floor)) x2=(number(wall)) y2=(number(ROOM.1)) {}
        text x=(number(wall)) y=(number(floor + 16.0)) text-anchor="start" { (rounded(left, plot.across)) }
        text x=(number(SIZE.0 - ROOM.2)) y=(number(floor + 16.0)) text-anchor="end" { (rounded(right, plot.across)) }
        text x=(number(f64::midpoint(wall, SIZE.0 - ROOM.2))) y=(number(floor + 32.0)) text-anchor="middle" { (named(plot.across)) }
        text x=(number(wall - 6.0)) y=(number(floor)) text-anchor="end" { (rounded(bottom, plot.up)) }
        text x=(number(wall - 6.0)) y=(number(ROOM.1 + 8.0)) text-anchor="end" { (rounded(top, plot.up)) }
        text x=(number(wall + 6.0)) y=(number(ROOM.1 - 8.0)) text-anchor="start" { (named(plot.up)) }
        @if let Some((low, high)) = plot.window {
            @for limit in [low, high] {
                text x=(number(SIZE.0 - ROOM.2)) y=(number(frame.y(limit) - 3.0)) text-anchor="end" { (rounded(limit, plot.up)) }
            }
        }
    }
}

fn mark(frame: &Frame, point: &Point) -> Markup {
    let (x, y) = (frame.x(point.at.0), frame.y(point.at.1));
    let (above, below) = (frame.y(point.at.1 + point.uncertainty), frame.y(point.at.1 - point.uncertainty));
    html! {
        @if point.uncertainty > 0.0 { line x1=(number(x)) y1=(number(above)) x2=(number(x)) y2=(number(below)) {} }
        @match point.standing {
            Standing::Taken => { circle.mark cx=(number(x)) cy=(number(y)) r="3" {} }
            Standing::Newest => { circle.mark cx=(number(x)) cy=(number(y)) r="5" {} }
            Standing::Doubtful => { path.cross d=(format!("M{} {}l8 8m0 -8l-8 8", number(x - 4.0), number(y - 4.0))) {} }
            Standing::Expected => { circle cx=(number(x)) cy=(number(y)) r="5" {} }
        }
        @if !point.label.is_empty() {
            text x=(number((x + 6.0).min(SIZE.0 - 24.0))) y=(number(y - 6.0)) text-anchor="start" { (point.label) }
        }
    }
}

fn path(frame: &Frame, through: &[(f64, f64)]) -> String {
    let points = through.iter().map(|(x, y)| format!("{},{}", number(frame.x(*x)), number(frame.y(*y))));
    points.collect::<Vec<_>>().join(" ")
}

/// The same points for whoever cannot see the picture.
fn points_in_words(plot: &Plot) -> String {
    let point = |point: &Point| format!("{} at {}", rounded(point.at.1, plot.up), rounded(point.at.0, plot.across));
    format!(
        "{} against {}: {}",
        plot.up.label,
        plot.across.label,
        plot.points.iter().map(point).collect::<Vec<_>>().join("; ")
    )
}

fn named(axis: Axis) -> String {
    if matches!(axis.unit, "" | "1") { axis.label.to_owned() } else { format!("{}, {}", axis.label, axis.unit) }
}

fn rounded(value: f64, axis: Axis) -> String {
    let unit = crate::quantity::Dimension::Ratio.base_unit();
    crate::quantity::print::at_resolution(value, axis.resolution, unit)
}

fn number(value: f64) -> String {
    shortest((value * 100.0).round() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PIECE: Axis = Axis { label: "piece", unit: "", resolution: 1.0 };
    const BORE: Axis = Axis { label: "bore", unit: "mm", resolution: 0.001 };

    #[test]
    fn a_higher_value_stands_higher_and_the_words_name_every_point() {
        let plot = Plot::of("bores", PIECE, BORE)
            .window(8.0, 8.01)
            .point((1.0, 8.002), 0.0, Standing::Taken, "")
            .point((2.0, 8.008), 0.001, Standing::Newest, "2");
        let text = svg(&plot, 3, "bores").into_string();
        let heights: Vec<f64> = text
            .match_indices("cy=\"")
            .map(|(at, lead)| text[at + lead.len()..].split('"').next().unwrap().parse().unwrap())
            .collect();
        assert!(heights[0] > heights[1], "{heights:?}");
        assert!(text.contains("8.002 at 1; 8.008 at 2"), "{text}");
        assert!(svg(&Plot::of("none", PIECE, BORE), 1, "none").into_string().is_empty());
        let one = Plot::of("one", PIECE, BORE).point((1.0, 8.0), 0.0, Standing::Taken, "");
        assert!(!svg(&one, 1, "one").into_string().contains("NaN"));
    }
}
