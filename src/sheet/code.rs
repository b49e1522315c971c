//! A text as a square code that a camera reads (ISO/IEC 18004), drawn as one path.

use qrcode::{Color, EcLevel, QrCode};

use crate::sheet::html::{Markup, html};

/// Light modules around the code, which the standard asks for.
const QUIET: usize = 4;

/// Draws a text as a code; nothing when the text is too long for one.
pub(super) fn svg(text: &str, id: usize, words: &str) -> Markup {
    let Ok(code) = QrCode::with_error_correction_level(text.as_bytes(), EcLevel::M) else { return html! {} };
    let (size, title) = (code.width() + 2 * QUIET, format!("picture-{id}-title"));
    html! {
        svg role="img" viewBox=(format!("0 0 {size} {size}")) aria-labelledby=(title) shape-rendering="crispEdges" {
            title id=(title) { (words) }
            path d=(path(&code)) {}
        }
    }
}

fn path(code: &QrCode) -> String {
    let wide = code.width();
    let dark = code.to_colors().into_iter().enumerate().filter(|(_, colour)| *colour == Color::Dark);
    dark.map(|(index, _)| format!("M{} {}h1v1h-1z", index % wide + QUIET, index / wide + QUIET)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO/IEC 18004: a finder pattern in three corners, seven modules wide, dark at its corner and light inside it.
    #[test]
    fn the_finder_patterns_stand_in_three_corners() {
        let code = QrCode::with_error_correction_level(b"setwright", EcLevel::M).unwrap();
        let (drawn, last) = (path(&code), code.width() + QUIET - 1);
        for (x, y) in [(QUIET, QUIET), (last, QUIET), (QUIET, last)] {
            assert!(drawn.contains(&format!("M{x} {y}h1")), "{x} {y}");
        }
        assert!(!drawn.contains(&format!("M{} {}h1", QUIET + 1, QUIET + 1)));
    }
}
