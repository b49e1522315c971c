//! A scene drawn to scale into cells.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::scene::{Scene as Picture, Shape};
use crate::workbook::view::grid::{CELL_RATIO, Grid, whole};
use crate::workbook::view::text;

/// From shop coordinates to cells.
struct Scale {
    left: f64,
    top: f64,
    per_column: f64,
}

impl Scale {
    fn cell(&self, (x, y): (f64, f64)) -> (i32, i32) {
        let column = (x - self.left) / self.per_column;
        let row = (self.top - y) / (self.per_column * CELL_RATIO);
        (whole(column), whole(row))
    }
}

/// Draws a picture as large as the area allows, with from where one looks under it.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, picture: &Picture) {
    let Some((left, bottom, right, top)) = picture.bounds() else { return };
    if area.width < 12 || area.height < 5 {
        return;
    }
    let drawing = Rect { height: area.height - 1, ..area };
    let mut grid = Grid::new(drawing);
    // Room for the labels on both sides.
    let columns = f64::from(drawing.width.saturating_sub(20).max(4));
    let rows = f64::from(drawing.height.saturating_sub(2).max(2));
    let per_column = ((right - left) / columns).max((top - bottom) / (rows * CELL_RATIO)).max(1e-6);
    let middle = (f64::midpoint(left, right), f64::midpoint(bottom, top));
    let scale = Scale {
        left: middle.0 - per_column * f64::from(drawing.width) / 2.0,
        top: middle.1 + per_column * CELL_RATIO * f64::from(drawing.height) / 2.0,
        per_column,
    };
    for shape in &picture.shapes {
        draw_shape(&mut grid, &scale, shape);
    }
    let mut lines = grid.rows();
    lines.push(Line::raw(format!("({})", picture.view)));
    text(frame, area, lines);
}

fn draw_shape(grid: &mut Grid, scale: &Scale, shape: &Shape) {
    match shape {
        Shape::Line { from, to } => stroke(grid, scale, *from, *to),
        Shape::Circle { centre, radius } => {
            let around = (0..=120).map(|step| f64::from(step) * std::f64::consts::TAU / 120.0);
            for angle in around {
                let (column, row) = scale.cell((centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin()));
                grid.set(column, row, '.');
            }
        }
        Shape::Label { at, text } => {
            let (column, row) = scale.cell(*at);
            grid.write(column, row, text);
        }
        Shape::Mark { at, label, now } => {
            let (column, row) = scale.cell(*at);
            grid.set(column, row, if *now { '@' } else { 'o' });
            if *now {
                let words = format!("<- {label}");
                grid.write(column + 2, row, &words);
            } else {
                grid.write(column + 2, row, label);
            }
        }
    }
}

fn stroke(grid: &mut Grid, scale: &Scale, from: (f64, f64), to: (f64, f64)) {
    let (start, end) = (scale.cell(from), scale.cell(to));
    let steps = (end.0 - start.0).abs().max((end.1 - start.1).abs()).max(1);
    let glyph = if start.1 == end.1 {
        '-'
    } else if start.0 == end.0 {
        '|'
    } else {
        '.'
    };
    for step in 0..=steps {
        let share = f64::from(step) / f64::from(steps);
        let column = f64::from(start.0) + share * f64::from(end.0 - start.0);
        let row = f64::from(start.1) + share * f64::from(end.1 - start.1);
        grid.set(whole(column), whole(row), glyph);
    }
}
