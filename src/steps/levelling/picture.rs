//! Where to touch, and what was read against the turn.

use crate::checklist::{Outputs, Worksheet};
use crate::scene::{Axis, Plot, Scene, Standing};
use crate::steps::levelling::Setting;

/// Draws the two places seen along the axis; the one wanted now is marked.
pub(super) fn pads(sheet: &Worksheet<'_>, setting: &Setting, rear: bool) -> Scene {
    let half_span = setting.span / 2.0;
    let radius = (sheet.card().fixture.ring_bore.mm() / 2.0).max(half_span);
    Scene::seen("along X, rear on the right")
        .circle((0.0, 0.0), radius)
        .line((-half_span, radius), (half_span, radius))
        .mark((0.0, 0.0), "axis", false)
        .mark((half_span, radius), "rear", rear)
        .mark((-half_span, radius), "front", !rear)
}

/// A try that keeps less of its weight than this does not agree with the others.
const DOUBTFUL_BELOW: f64 = 0.5;

/// Plots rear minus front against the turn from level, with the line through all tries.
pub(super) fn plot(sheet: &mut Worksheet<'_>, setting: &Setting, fit: &Outputs) {
    let (turns, differences) = (fit.values("turns"), fit.values("pad_differences"));
    let (uncertainties, shares, fitted) = (fit.values("uncertainties"), fit.values("shares"), fit.values("fitted"));
    let length = sheet.fine(0.0);
    let show = |mm: f64| length.unit.from_base(mm);
    let across = Axis { label: "turn of A from level", unit: "deg", resolution: setting.least_angle };
    let up = Axis { label: "rear minus front", unit: length.unit.name, resolution: length.resolution };
    let mut plot = Plot::of("all tries", across, up).window(show(-setting.limit), show(setting.limit));
    let tries = turns.iter().zip(&differences).zip(&uncertainties).zip(&shares);
    for (round, (((turn, difference), uncertainty), share)) in tries.enumerate() {
        let standing = match *share {
            share if share < DOUBTFUL_BELOW => Standing::Doubtful,
            _ if round + 1 == turns.len() => Standing::Newest,
            _ => Standing::Taken,
        };
        plot = plot.point((*turn, show(*difference)), show(*uncertainty), standing, format!("{}", round + 1));
    }
    let mut line: Vec<(f64, f64)> = turns.iter().copied().zip(fitted.iter().map(|mm| show(*mm))).collect();
    line.push((0.0, 0.0));
    line.sort_by(|one, other| one.0.total_cmp(&other.0));
    sheet.plot(plot.line(line, "fit"));
}
