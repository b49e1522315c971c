//! What a rehearsal comes to at its end: the hidden truth beside what was found, what was caught, what got through.

use std::fmt::Write as _;

use crate::checklist::Progress;
use crate::shop::whole::Shop;

impl Shop {
    /// Returns how far X, Y, Z (millimetres) and A (degrees) of the register are off; `None` before they were written.
    pub fn errors(&self, progress: &Progress) -> Option<[f64; 4]> {
        let ([x, y, z], a) = self.control.written?;
        let off = a - self.truth.level_of(progress.run().piece);
        let off = (off + 180.0).rem_euclid(360.0) - 180.0;
        Some([x - self.truth.x, y - self.truth.y, z - self.truth.z, off])
    }

    /// Lists what was planted and is neither caught nor put right.
    pub fn got_through(&self) -> Vec<&'static str> {
        let open = self.planted.iter().filter(|planted| planted.caught_by.is_none() && planted.shown);
        open.map(|planted| planted.plant.name).collect()
    }

    /// Lists what was planted and caught, each with what caught it.
    pub fn caught_so_far(&self) -> Vec<(&'static str, &str)> {
        let caught =
            self.planted.iter().filter_map(|planted| Some((planted.plant.name, planted.caught_by.as_deref()?)));
        caught.collect()
    }

    /// Writes the report.
    pub fn report(&self, progress: &Progress) -> String {
        let mut text = String::from("\nThe hidden truth of this rehearsal\n");
        let truth = &self.truth;
        match (self.control.written, self.errors(progress)) {
            (Some((lengths, a)), Some(errors)) => {
                let true_a = truth.level_of(progress.run().piece);
                for ((axis, true_mm), (written, error)) in
                    [("X", truth.x), ("Y", truth.y), ("Z", truth.z)].into_iter().zip(lengths.into_iter().zip(errors))
                {
                    let _ = writeln!(
                        text,
                        "  {axis}  true {:>12}   in the register {:>12}   off by {}",
                        self.on_control(true_mm),
                        self.on_control(written),
                        self.on_control(error)
                    );
                }
                let _ = writeln!(
                    text,
                    "  A  true {:>12}   in the register {:>12}   off by {:.4} deg (last piece)",
                    self.angle(true_a),
                    self.angle(a),
                    errors[3]
                );
            }
            _ => text.push_str("  The zero was not written.\n"),
        }
        let _ = writeln!(text, "  Turns of A to level {} pieces: {}", progress.run().piece, self.tries);
        for planted in &self.planted {
            let fate = match (&planted.caught_by, planted.shown) {
                (Some(by), _) => format!("CAUGHT by {by}"),
                (None, true) => "GOT THROUGH".to_owned(),
                (None, false) => "never came up".to_owned(),
            };
            let _ = writeln!(text, "  Planted {}: {fate}", planted.plant.name);
        }
        text
    }
}
