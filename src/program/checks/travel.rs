//! Travel: machine coordinates where the register is known, otherwise how far the moves lie apart (mistake 39).

use crate::program::place::{Kind, Move, X, Y, Z, known};
use crate::program::trouble::Trouble;
use crate::program::walker::Walker;

const NAMES: [char; 3] = ['X', 'Y', 'Z'];
/// What rounding may add.
const HAIR_MM: f64 = 1e-6;

/// How far each axis has gone.
#[derive(Debug, Default)]
pub(super) struct Reached {
    span: [Option<(f64, f64)>; 3],
    told: [bool; 3],
}

pub(super) fn look(walker: &mut Walker<'_>, one: &Move) {
    for (axis, name) in NAMES.into_iter().enumerate() {
        if !one.moves(axis) {
            continue;
        }
        let Some((low, high)) = reached(one, axis) else { continue };
        let Some(travel) = walker.card.machine.travel.get(axis).map(|length| length.mm()) else { continue };
        match walker.expected.written {
            Some(written) => {
                let length = if axis == Z { tool_length(walker) } else { Some(0.0) };
                let (Some(register), Some(length)) = (written.get(axis).copied(), length) else { continue };
                let shift = register + length;
                in_machine(walker, name, (low + shift, high + shift), travel, register);
            }
            None => in_span(walker, axis, (low, high), travel),
        }
    }
}

fn tool_length(walker: &Walker<'_>) -> Option<f64> {
    walker.modes.tool.and_then(|tool| walker.expected.tool(tool)).map(|tool| tool.length)
}

/// Returns the lowest and highest coordinate of an axis on the way.
fn reached(one: &Move, axis: usize) -> Option<(f64, f64)> {
    let to = known(&one.to, axis)?;
    let from = known(&one.from, axis).unwrap_or(to);
    Some(match one.kind {
        Kind::Arc(arc) if axis == X || axis == Y => {
            let (x, y) = arc.centre?;
            let middle = if axis == X { x } else { y };
            // The whole circle is looked at: an arc that leaves the travel and comes back is no good either.
            if arc.is_whole() { (middle - arc.radius, middle + arc.radius) } else { (from.min(to), from.max(to)) }
        }
        _ => (from.min(to), from.max(to)),
    })
}

/// The machine's zero is taken to lie at the end of the travel from which the register counts: that is usual, not certain.
fn in_machine(walker: &mut Walker<'_>, axis: char, (low, high): (f64, f64), travel: f64, register: f64) {
    let farthest = if low.abs() > high.abs() { low } else { high };
    if farthest.abs() > travel + HAIR_MM {
        walker.report(Trouble::TravelExceeded { axis, machine: farthest, travel });
    } else if register < 0.0 && high > HAIR_MM {
        walker.report(Trouble::TravelSide { axis, machine: high });
    } else if register > 0.0 && low < -HAIR_MM {
        walker.report(Trouble::TravelSide { axis, machine: low });
    }
}

fn in_span(walker: &mut Walker<'_>, axis: usize, (low, high): (f64, f64), travel: f64) {
    let reached = &mut walker.watch.travel;
    let Some(slot) = reached.span.get_mut(axis) else { return };
    let (least, most) = slot.map_or((low, high), |(least, most)| (least.min(low), most.max(high)));
    *slot = Some((least, most));
    let told = reached.told.get_mut(axis);
    if most - least > travel + HAIR_MM
        && let Some(told @ false) = told
    {
        *told = true;
        let name = NAMES.get(axis).copied().unwrap_or('?');
        walker.report(Trouble::TravelSpan { axis: name, span: most - least, travel });
    }
}
