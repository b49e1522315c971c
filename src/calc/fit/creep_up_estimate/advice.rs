//! What to do after a look: cut, look again, or stop; and how bold the next pass may be.

use super::Look;
use super::choice::{Choice, Pass};
use super::filter::{Feel, Filter};

/// From this chance on something counts as shown (ISO 14253-1's idea at 95 %).
const SHOWN: f64 = 0.95;
/// A pass is worth its risk when it raises the chance of being inside by this much.
const WORTH: f64 = 0.1;
/// Passes that cut with less than this chance are put off for another look first.
const MAY_RUB: f64 = 0.4;
/// What slides and is more likely inside than not needs no further pass.
const LIKELY: f64 = 0.5;
/// Play that is hardly ever inside must be cut whatever the gain.
const HARDLY: f64 = 0.2;
/// Looks in a row without a cut before something else is done; one when the fixture slides already.
const LOOKS_IN_A_ROW: usize = 2;
/// From this far below the window on a slot is looked at once more before it is cut, micrometres.
const NEAR: f64 = 30.0;
/// Play that is known better than this needs no second look, micrometres.
const WELL_KNOWN: f64 = 1.8;
/// After a look without a cut more is known, and the pass may be bolder.
const AFTER_A_LOOK: f64 = 2.0;

/// How often a pass may overshoot. The first passes land short anyway, whatever they dare; what is dared in the last ones,
/// which few jobs ever need, saves the most passes for the same scrap.
struct Boldness {
    first_pass: f64,
    grows_by: f64,
    most: f64,
    /// Looks in a row that are taken near the window before the next cut.
    looks_near: usize,
}

/// Found on simulated jobs; the figures come from others.
const FINE_GAUGE: Boldness = Boldness { first_pass: 0.0014, grows_by: 2.5, most: 0.022, looks_near: 1 };
/// A coarse gauge needs more passes, and each of them runs its chance.
const COARSE_GAUGE: Boldness = Boldness { first_pass: 0.0011, grows_by: 1.7, most: 0.005, looks_near: 2 };

impl Boldness {
    /// Returns the chance of overshooting that the pass after so many passes may run.
    fn after(&self, passes: usize) -> f64 {
        (0..passes).fold(self.first_pass, |chance, _| (chance * self.grows_by).min(self.most))
    }
}

/// How a slot stands after its newest look.
pub(super) struct Standing {
    pub(super) play: f64,
    pub(super) inside: f64,
    pub(super) too_wide: f64,
    /// Whether the gauge leaves much uncertain.
    pub(super) coarse: bool,
}

impl Standing {
    /// Says what to do next, and with which pass.
    pub(super) fn advise(
        &self,
        filter: &mut Filter,
        looks: &[Look],
        window: (f64, f64),
        command_step: f64,
    ) -> (&'static str, Option<Pass>) {
        if self.inside >= SHOWN {
            return ("fits", None);
        }
        if self.too_wide >= SHOWN {
            return ("too-wide", None);
        }
        let boldness = if self.coarse { COARSE_GAUGE } else { FINE_GAUGE };
        let in_a_row = looks.iter().skip(1).rev().take_while(|look| !look.cut).count();
        let passes = looks.iter().filter(|look| look.cut).count();
        let blurred = window.0 - self.play < NEAR && filter.deviation(self.play) > WELL_KNOWN;
        let choice = Choice::new(filter, window);
        let allowed = boldness.after(passes) * if in_a_row > 0 { AFTER_A_LOOK } else { 1.0 };
        let pass = choice.outcome(commanded(choice.next(allowed).offset, command_step));
        let last = looks.last().map_or(Feel::NotFelt, |look| look.feel);
        let goes_on = matches!(last, Feel::Slides | Feel::SlidesAtLeast | Feel::Rocks);
        let slides_in = last == Feel::Slides && self.inside >= LIKELY;
        if !slides_in && blurred && in_a_row < boldness.looks_near {
            return ("read-again", Some(pass));
        }
        let worth = !slides_in && (pass.lands >= self.inside + WORTH || (self.inside < HARDLY && !goes_on));
        let enough_looks = in_a_row >= if slides_in { 1 } else { LOOKS_IN_A_ROW };
        let advice = match (worth, enough_looks) {
            (true, _) if pass.cuts >= MAY_RUB => "cut",
            (_, false) => "read-again",
            (false, true) if goes_on => "not-proven",
            (_, true) => "cut",
        };
        (advice, Some(pass))
    }
}

/// Rounds an offset to what can be commanded, to the side that leaves metal.
fn commanded(offset: f64, step: f64) -> f64 {
    if step > 0.0 { (offset / step).floor() * step } else { offset }
}
