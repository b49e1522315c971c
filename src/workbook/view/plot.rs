//! A plot drawn into cells: points, lines through them and the window that is wanted.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

use crate::scene::{Axis, Plot, Point, Standing};
use crate::workbook::view::grid::{CELL_RATIO, Grid, whole};
use crate::workbook::view::text;
use crate::workbook::view::wrapping::cut;

/// The smallest area in which a plot says anything.
const LEAST: (u16, u16) = (24, 5);

/// Draws a plot, when there is room; its axes are named in the last row.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, plot: &Plot) {
    if area.width < LEAST.0 || area.height < LEAST.1 {
        return;
    }
    let width = usize::from(area.width);
    let drawing = Rect { height: area.height - 1, ..area };
    let mut lines = if plot.round { round(drawing, plot) } else { straight(drawing, plot) };
    let up = named(&plot.up);
    lines.push(Line::raw(cut(&format!(" {up} over {}", named(&plot.across)), width)));
    text(frame, area, lines);
}

fn named(axis: &Axis) -> String {
    if axis.unit.is_empty() { axis.label.to_owned() } else { format!("{} {}", axis.label, axis.unit) }
}

const fn glyph(standing: Standing) -> char {
    match standing {
        Standing::Taken => 'o',
        Standing::Newest => '@',
        Standing::Doubtful => '?',
        Standing::Expected => 'x',
    }
}

/// From the plot's numbers to cells.
struct Field {
    left: f64,
    bottom: f64,
    per_column: f64,
    per_row: f64,
    gutter: i32,
    rows: i32,
}

impl Field {
    fn column(&self, x: f64) -> i32 {
        self.gutter + whole((x - self.left) / self.per_column)
    }

    fn row(&self, y: f64) -> i32 {
        self.rows - 1 - whole((y - self.bottom) / self.per_row)
    }
}

/// Widens an interval a little, and one without width enough to be drawn.
fn widened(low: f64, high: f64, resolution: f64) -> (f64, f64) {
    let more = ((high - low) * 0.04).max(resolution.abs() / 2.0).max(1e-9);
    (low - more, high + more)
}

/// Writes a number of an axis to the step of its display.
fn number(value: f64, axis: &Axis) -> String {
    let step = axis.resolution.abs().max(1e-6);
    let decimals = usize::try_from(whole(-(step.log10() + 1e-9).floor()).clamp(0, 6)).unwrap_or(0);
    let shown = format!("{value:.decimals$}");
    // A rounded zero has no sign.
    if shown.trim_start_matches(['-', '0', '.']).is_empty() { shown.trim_start_matches('-').to_owned() } else { shown }
}

fn straight(area: Rect, plot: &Plot) -> Vec<Line<'static>> {
    let Some((left, bottom, right, top)) = plot.bounds() else { return Vec::new() };
    let (left, right) = widened(left, right, plot.across.resolution);
    let (bottom, top) = widened(bottom, top, plot.up.resolution);
    let (high, low) = (number(top, &plot.up), number(bottom, &plot.up));
    let gutter = high.width().max(low.width()) + 1;
    let columns = usize::from(area.width).saturating_sub(gutter + 1).max(2);
    let rows = i32::from(area.height) - 1;
    let mut grid = Grid::new(area);
    let field = Field {
        left,
        bottom,
        per_column: (right - left) / span(columns),
        per_row: (top - bottom) / f64::from((rows - 1).max(1)),
        gutter: i32::try_from(gutter).unwrap_or(0),
        rows,
    };
    draw_window(&mut grid, &field, plot, columns);
    for row in 0..rows {
        grid.set(field.gutter - 1, row, '|');
    }
    for line in &plot.lines {
        draw_line(&mut grid, &field, &line.through);
    }
    for point in &plot.points {
        draw_point(&mut grid, &field, point);
    }
    grid.write(0, 0, &high);
    grid.write(0, rows - 1, &low);
    let (from, to) = (number(left, &plot.across), number(right, &plot.across));
    grid.write(field.gutter, rows, &from);
    grid.write(i32::from(area.width) - i32::try_from(to.width()).unwrap_or(0) - 1, rows, &to);
    grid.rows()
}

#[expect(clippy::cast_precision_loss, reason = "a screen has a few hundred columns")]
fn span(columns: usize) -> f64 {
    columns.saturating_sub(1).max(1) as f64
}

/// The window wanted, as dashes across.
fn draw_window(grid: &mut Grid, field: &Field, plot: &Plot, columns: usize) {
    let Some((low, high)) = plot.window else { return };
    for edge in [low, high] {
        for column in (0..i32::try_from(columns).unwrap_or(0)).step_by(2) {
            grid.set(field.gutter + column, field.row(edge), '-');
        }
    }
}

fn draw_line(grid: &mut Grid, field: &Field, through: &[(f64, f64)]) {
    for (from, to) in through.iter().zip(through.iter().skip(1)) {
        let (start, end) = (field.column(from.0), field.column(to.0));
        let steps = (end - start).abs().max((field.row(to.1) - field.row(from.1)).abs()).max(1);
        for step in 0..=steps {
            let share = f64::from(step) / f64::from(steps);
            let at = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
            grid.set(field.column(at.0), field.row(at.1), '.');
        }
    }
}

fn draw_point(grid: &mut Grid, field: &Field, point: &Point) {
    let (x, y) = point.at;
    let column = field.column(x);
    for row in field.row(y + point.uncertainty)..=field.row(y - point.uncertainty) {
        grid.set(column, row, ':');
    }
    grid.set(column, field.row(y), glyph(point.standing));
    grid.write(column + 1, field.row(y), &point.label);
}

/// Round a turn: angles counted anticlockwise from three o'clock, the mean as a circle, deviations outwards.
fn round(area: Rect, plot: &Plot) -> Vec<Line<'static>> {
    let curve: Vec<(f64, f64)> = plot.lines.iter().flat_map(|line| line.through.iter().copied()).collect();
    let values = plot.points.iter().map(|point| point.at.1).chain(curve.iter().map(|(_, value)| *value));
    let (low, high) = values.fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(value), high.max(value)));
    if low > high {
        return Vec::new();
    }
    let mut grid = Grid::new(area);
    let middle = (f64::from(area.width) / 2.0, f64::from(area.height - 1) / 2.0);
    let reach = middle.1.min(middle.0 / CELL_RATIO).max(1.0);
    let (mean, half) = (f64::midpoint(low, high), ((high - low) / 2.0).max(plot.up.resolution.abs()).max(1e-9));
    // The middle circle lies at two thirds of the reach; the largest deviation just fits.
    let cell = |angle: f64, value: f64| {
        let radius = reach * (2.0 / 3.0 + (value - mean) / half / 3.0);
        let (sine, cosine) = angle.to_radians().sin_cos();
        (whole(middle.0 + radius * CELL_RATIO * cosine), whole(middle.1 - radius * sine))
    };
    for step in 0..72 {
        let (column, row) = cell(f64::from(step) * 5.0, mean);
        grid.set(column, row, '.');
    }
    for (angle, value) in curve {
        let (column, row) = cell(angle, value);
        grid.set(column, row, '*');
    }
    for point in &plot.points {
        let (column, row) = cell(point.at.0, point.at.1);
        grid.set(column, row, glyph(point.standing));
    }
    grid.set(whole(middle.0), whole(middle.1), '+');
    let middle_words = format!("o {} to {}", number(low, &plot.up), number(high, &plot.up));
    grid.write(0, 0, &middle_words);
    grid.rows()
}

#[cfg(test)]
mod tests {
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

    use super::*;

    const ANGLE: Axis = Axis { label: "turn", unit: "deg", resolution: 0.001 };
    const LENGTH: Axis = Axis { label: "difference", unit: "mm", resolution: 0.001 };

    fn shown(plot: &Plot, width: u16, height: u16) -> String {
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal.draw(|frame| draw(frame, frame.area(), plot)).unwrap();
        terminal.backend().to_string()
    }

    #[test]
    fn points_line_and_window_lie_where_their_numbers_are() {
        let plot = Plot::of("all tries", ANGLE, LENGTH)
            .window(-0.1, 0.1)
            .point((0.0, 0.0), 0.0, Standing::Taken, "1")
            .point((1.0, 1.0), 0.0, Standing::Newest, "2")
            .line(vec![(0.0, 0.0), (1.0, 1.0)], "fit");
        let page = shown(&plot, 40, 12);
        let rows: Vec<&str> = page.lines().collect();
        let place = |glyph: char| {
            rows.iter().enumerate().find_map(|(row, text)| text.find(glyph).map(|column| (row, column))).unwrap()
        };
        let (newest, taken) = (place('@'), place('o'));
        assert!(newest.0 < taken.0 && newest.1 > taken.1, "{page}");
        assert!(rows.iter().filter(|row| row.contains("- - -")).count() == 2, "{page}");
        assert!(page.contains("difference mm over turn deg"), "{page}");
    }

    #[test]
    fn every_size_and_one_point_alone_are_drawn() {
        let plot = Plot::of("all tries", ANGLE, LENGTH).point((1.0, 2.0), 0.5, Standing::Taken, "");
        let round = Plot { round: true, ..plot.clone() };
        for width in 1..60 {
            for height in 1..20 {
                shown(&plot, width, height);
                shown(&round, width, height);
            }
        }
    }

    #[test]
    fn a_number_is_shown_to_the_step_of_its_display() {
        assert_eq!(number(-0.0001, &LENGTH), "0.000");
        assert_eq!(number(1.25, &Axis { resolution: 0.5, ..LENGTH }), "1.2");
        assert_eq!(number(12.0, &Axis { resolution: 1.0, ..LENGTH }), "12");
    }
}
