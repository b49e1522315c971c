//! What a try asks for: where A stands, from which side it came, and both places, with what is expected there.

use crate::checklist::{Question, Reading, Window, Worksheet};
use crate::steps::levelling::tries::{Tries, wanted};
use crate::steps::levelling::{Setting, Way, picture};

/// Where the next try is expected; the gain tells afterwards whether it answered as it should.
pub(super) struct Expected {
    /// The A that was to be set.
    index: Option<f64>,
    /// For a Z display, which keeps its zero: Z of the rear and the front place before, and how far they may move.
    heights: Option<(f64, f64, f64)>,
}

impl Expected {
    /// Expects nothing: the first try.
    pub(super) const fn nothing() -> Self {
        Self { index: None, heights: None }
    }

    /// Expects the try at an index.
    pub(super) const fn at(index: f64, heights: Option<(f64, f64, f64)>) -> Self {
        Self { index: Some(index), heights }
    }
}

/// A that is off by more increments than these is a slip.
const INCREMENTS_OFF: f64 = 10.0;

/// Asks for all of a try.
pub(super) fn read(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    tries: &Tries<'_>,
    round: u32,
    expected: &Expected,
) -> Option<()> {
    let question = Question::of(setting.asks.machine_a).round(round);
    sheet.answer(match expected.index {
        None => question.expect(Window { low: -360.0, high: 720.0 }),
        Some(to) => question.expect(Window::around(to, INCREMENTS_OFF * setting.least_angle)),
    })?;
    if round > 0 || setting.approach_first {
        sheet.answer(Question::of(setting.asks.approach).round(round))?;
    }
    let count = tries.of(round).rear.len().max(usize::try_from(wanted(setting, round)).unwrap_or(1));
    both(sheet, setting, round, u32::try_from(count).unwrap_or(1), expected)?;
    Some(())
}

/// Asks for one more pair where A stands.
pub(super) fn pair(sheet: &mut Worksheet<'_>, setting: &Setting, tries: &Tries<'_>, round: u32) -> Option<()> {
    let count = u32::try_from(tries.of(round).rear.len()).unwrap_or(0) + 1;
    both(sheet, setting, round, count, &Expected::nothing())?;
    Some(())
}

/// Takes the readings of both places, so many each.
pub(super) fn both(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    round: u32,
    count: u32,
    expected: &Expected,
) -> Option<(Reading, Reading)> {
    sheet.picture(picture::pads(sheet, setting, true));
    let rear = sheet.measure(limited(
        setting,
        place(setting, round, count, true),
        expected.heights.map(|(rear, _, moves)| (rear, moves)),
    ))?;
    sheet.picture(picture::pads(sheet, setting, false));
    let window = expected.heights.map(|(_, front, moves)| (front, moves));
    let front = sheet.measure(limited(setting, place(setting, round, count, false), window))?;
    Some((rear, front))
}

fn place(setting: &Setting, round: u32, count: u32, rear: bool) -> Question {
    let spec = if rear { setting.asks.rear } else { setting.asks.front };
    let question = Question::of(spec).round(round).times(count).scatters(setting.scatter);
    let name = if rear { "REAR" } else { "FRONT" };
    match setting.way {
        Way::Needle => question,
        Way::ZNull => question.say(format!(
            "{name} place: jog Z down, always down, until the needle stands on its zero. What does the Z display show?"
        )),
    }
}

/// Puts a window on a reading: where it is expected, and for a needle never beyond its travel.
fn limited(setting: &Setting, question: Question, expected: Option<(f64, f64)>) -> Question {
    match (expected, setting.travel) {
        (Some((middle, half)), _) => question.expect(Window::around(middle, half)),
        (None, Some(travel)) => question.expect(Window::around(0.0, travel)),
        (None, None) => question,
    }
}
