//! Cutting: spindle, coolant, speed, feed, pecks against the cutting plan (D20 to D22, mistakes 43, 48, 52).

use crate::program::modes::{FeedMode, Modes, Side, Spindle};
use crate::program::place::{Kind, Move, Within, Z};
use crate::program::trouble::Trouble;
use crate::program::walker::Walker;

/// Speed and feed may differ from the plan by so much, as a share: rounding of figures and habit (common practice).
const OFF_PLAN: f64 = 0.1;
/// The smallest peck, in drill diameters: a shop rule (D22), not a standard.
const LEAST_PECK_DIAMETERS: f64 = 0.5;

/// What has been told of this tool with these words.
#[derive(Debug, Default)]
pub(super) struct Told {
    tool: bool,
    looked_at: Option<(f64, f64, FeedMode)>,
    peck: Option<f64>,
}

pub(super) fn look(walker: &mut Walker<'_>, one: &Move) {
    if walker.modes.tool.is_none() && !walker.watch.cutting.tool {
        walker.watch.cutting.tool = true;
        walker.report(Trouble::ToolNotCalled);
    }
    match walker.modes.spindle {
        Spindle::Off => walker.report(Trouble::SpindleOff),
        Spindle::Left => walker.report(Trouble::SpindleReversed),
        Spindle::Right if walker.modes.speed <= 0.0 => walker.report(Trouble::SpindleOff),
        Spindle::Right => {}
    }
    if !walker.modes.coolant {
        walker.report(Trouble::CoolantOff);
    }
    inside_arc(walker, one);
    if one.step(Z).is_some_and(|step| step > 0.0) {
        // On the way out nothing is cut.
        return;
    }
    peck(walker, one);
    let words = (walker.modes.speed, walker.modes.feed, walker.modes.feed_mode);
    let hangs_on_length = walker.modes.feed_mode == FeedMode::InverseTime;
    if walker.watch.cutting.looked_at.is_some_and(|known| same_words(known, words)) && !hangs_on_length {
        return;
    }
    walker.watch.cutting.looked_at = Some(words);
    speed(walker);
    feed(walker, one);
}

fn same_words(one: (f64, f64, FeedMode), other: (f64, f64, FeedMode)) -> bool {
    one.0.total_cmp(&other.0).is_eq() && one.1.total_cmp(&other.1).is_eq() && one.2 == other.2
}

fn speed(walker: &mut Walker<'_>) {
    let speed = walker.modes.speed;
    let limit = walker.card.machine.spindle_max_rpm;
    if speed > limit {
        walker.report(Trouble::SpindleOverLimit { speed, limit });
        return;
    }
    let plan = walker.modes.tool.and_then(|tool| walker.expected.tool(tool)).map(|tool| tool.speed);
    if let Some(plan) = plan
        && speed > 0.0
        && (speed / plan - 1.0).abs() > OFF_PLAN
    {
        walker.report(Trouble::SpindleOffPlan { speed, plan });
    }
}

/// Returns the feed in millimetres per minute; `None` where it cannot be known.
pub(in crate::program) fn minute_feed(modes: &Modes, unit: f64, length: Option<f64>) -> Option<f64> {
    let feed = match modes.feed_mode {
        FeedMode::PerMinute => modes.feed * unit,
        FeedMode::PerTurn => modes.feed * unit * modes.speed,
        FeedMode::InverseTime => modes.feed * length?,
    };
    feed.is_finite().then_some(feed)
}

/// Returns the feed in millimetres per turn; `None` where it cannot be known.
pub(in crate::program) fn feed_per_turn(modes: &Modes, unit: f64, length: Option<f64>) -> Option<f64> {
    match modes.feed_mode {
        FeedMode::PerTurn => Some(modes.feed * unit),
        _ if modes.speed > 0.0 => minute_feed(modes, unit, length).map(|feed| feed / modes.speed),
        _ => None,
    }
}

fn feed(walker: &mut Walker<'_>, one: &Move) {
    if walker.modes.feed <= 0.0 {
        walker.report(Trouble::FeedNotCalled);
        return;
    }
    let unit = walker.unit();
    let (Some(feed), Some(tool)) = (
        feed_per_turn(&walker.modes, unit, one.length()),
        walker.modes.tool.and_then(|tool| walker.expected.tool(tool)),
    ) else {
        return;
    };
    let (plan, floor) = (tool.feed, tool.least_feed);
    if feed > plan * (1.0 + OFF_PLAN) {
        walker.report(Trouble::FeedAbovePlan { feed, plan });
    } else if feed < floor * (1.0 - 1e-9) {
        let steps = walker.card.machine.feed_dial_percent.iter().copied();
        let rubs_up_to = steps.filter(|step| feed * step / 100.0 < floor).fold(0.0, f64::max);
        let hardens = walker.card.part.material.work_hardens;
        walker.report(Trouble::FeedUnderFloor { feed, floor, rubs_up_to, hardens });
    } else if feed < plan * (1.0 - OFF_PLAN) {
        walker.report(Trouble::FeedBelowPlan { feed, plan });
    }
}

fn peck(walker: &mut Walker<'_>, one: &Move) {
    let Within::Down { peck: Some(peck) } = one.within else { return };
    let Some(tool) = walker.modes.tool.and_then(|tool| walker.expected.tool(tool)) else { return };
    let least = LEAST_PECK_DIAMETERS * tool.diameter;
    if peck < least * (1.0 - 1e-9) && walker.watch.cutting.peck.is_none_or(|known| known.total_cmp(&peck).is_ne()) {
        walker.watch.cutting.peck = Some(peck);
        walker.report(Trouble::PeckSmall { peck, least, hardens: walker.card.part.material.work_hardens });
    }
}

/// With cutter compensation on the inside of an arc, the cutter must be smaller than the arc (RS274/NGC).
fn inside_arc(walker: &mut Walker<'_>, one: &Move) {
    let Kind::Arc(arc) = one.kind else { return };
    let inside = match walker.modes.side {
        Side::Off => false,
        Side::Left => !arc.clockwise,
        Side::Right => arc.clockwise,
    };
    let Some(tool) = walker.modes.tool.and_then(|tool| walker.expected.tool(tool)) else { return };
    if inside && tool.diameter / 2.0 >= arc.radius {
        walker.report(Trouble::CutterTooLarge { cutter: tool.diameter, pocket: 2.0 * arc.radius });
    }
}
