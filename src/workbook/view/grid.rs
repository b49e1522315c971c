//! Cells of a drawing area, written one by one.

use ratatui::layout::Rect;
use ratatui::text::Line;

/// A cell is about twice as high as it is wide.
pub(super) const CELL_RATIO: f64 = 2.0;

/// Cells of a drawing area.
pub(super) struct Grid {
    width: usize,
    height: usize,
    cells: Vec<char>,
}

impl Grid {
    /// Begins with empty cells.
    pub(super) fn new(area: Rect) -> Self {
        let (width, height) = (usize::from(area.width), usize::from(area.height));
        Self { width, height, cells: vec![' '; width * height] }
    }

    /// Writes one cell; outside the area nothing happens.
    pub(super) fn set(&mut self, column: i32, row: i32, glyph: char) {
        let (Ok(column), Ok(row)) = (usize::try_from(column), usize::try_from(row)) else { return };
        let inside = column < self.width && row < self.height;
        if let Some(cell) = self.cells.get_mut(row * self.width + column).filter(|_| inside) {
            *cell = glyph;
        }
    }

    /// Writes words from a cell on.
    pub(super) fn write(&mut self, column: i32, row: i32, words: &str) {
        for (place, letter) in (0..).zip(words.chars()) {
            self.set(column + place, row, letter);
        }
    }

    /// Returns the rows.
    pub(super) fn rows(&self) -> Vec<Line<'static>> {
        self.cells.chunks(self.width.max(1)).map(|row| Line::raw(row.iter().collect::<String>())).collect()
    }
}

/// Rounds to a cell; far outside everything is cut.
pub(super) fn whole(value: f64) -> i32 {
    #[expect(clippy::cast_possible_truncation, reason = "the range is cut first")]
    let cell = value.clamp(-10_000.0, 10_000.0).round() as i32;
    cell
}
