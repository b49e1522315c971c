//! Colours and glyphs by meaning. Colour is never the only sign; without it bold and reverse stay.

use ratatui::style::{Color, Modifier, Style};

/// How things look.
#[derive(Debug, Clone, Copy)]
pub(super) struct Theme {
    colour: bool,
    /// Whether only ASCII is drawn.
    pub(super) ascii: bool,
}

#[expect(clippy::unused_self, reason = "styles are asked of the theme, also those that are the same in all of them")]
impl Theme {
    /// Makes a theme.
    pub(super) const fn new(colour: bool, ascii: bool) -> Self {
        Self { colour, ascii }
    }

    fn with(self, colour: Color) -> Style {
        if self.colour { Style::new().fg(colour) } else { Style::new() }
    }

    /// A heading, the current step.
    pub(super) fn strong(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// What the arrows have chosen.
    pub(super) fn chosen(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    /// The next number to set at the machine.
    pub(super) fn number(self) -> Style {
        self.with(Color::Cyan).add_modifier(Modifier::BOLD)
    }

    /// Within.
    pub(super) fn good(self) -> Style {
        self.with(Color::Blue).add_modifier(Modifier::BOLD)
    }

    /// Not proven, doubts, cautions.
    pub(super) fn careful(self) -> Style {
        self.with(Color::Yellow).add_modifier(Modifier::BOLD)
    }

    /// Outside, stops.
    pub(super) fn bad(self) -> Style {
        self.with(Color::Red).add_modifier(Modifier::BOLD)
    }

    /// Crossed out or void: it stays readable, between dashes.
    pub(super) fn gone(self) -> Style {
        Style::new().add_modifier(Modifier::DIM)
    }

    /// The plain rest.
    pub(super) fn plain(self) -> Style {
        Style::new()
    }

    /// A horizontal rule of a width.
    pub(super) fn rule(self, width: u16) -> String {
        let glyph = if self.ascii { "-" } else { "\u{2500}" };
        glyph.repeat(usize::from(width))
    }

    /// The sign between a value and its uncertainty.
    pub(super) fn plus_minus(self, text: &str) -> String {
        if self.ascii { text.replace('\u{b1}', "+-") } else { text.to_owned() }
    }
}
