//! The moves of a block.

use super::Walker;
use crate::program::block::Block;
use crate::program::checks;
use crate::program::modes::Motion;
use crate::program::place::{A, Kind, Move, Place, Spot, Within, Z};
use crate::program::trouble::Trouble;

/// The axes of this setup in the order of a [`Spot`].
const LETTERS: [u8; 4] = [b'X', b'Y', b'Z', b'A'];

/// Machine Z from here up counts as the machine's own zero.
const MACHINE_TOP_MM: f64 = -0.5;

impl Walker<'_> {
    /// Carries out the axis words of a block with the motion in force.
    pub(super) fn motion(&mut self, block: &Block, in_machine: bool) {
        let has_axis = LETTERS.iter().any(|letter| block.word(*letter).is_some());
        match self.modes.motion {
            Motion::Cycle(_) if !in_machine => {
                if has_axis || block.word(b'R').is_some() {
                    self.cycle(block);
                }
                return;
            }
            Motion::Arc(_) if !in_machine => {
                if has_axis || [b'I', b'J', b'K', b'R'].iter().any(|letter| block.word(*letter).is_some()) {
                    self.called_before_motion(block);
                    self.arc(block);
                }
                return;
            }
            _ if !has_axis => return,
            Motion::None if !in_machine => {
                self.report(Trouble::NotUnderstood("axis words after G80 without a motion".to_owned()));
                return self.lose_place(block);
            }
            _ => {}
        }
        if !in_machine {
            self.called_before_motion(block);
        }
        let kind = if self.modes.motion == Motion::Feed && !in_machine { Kind::Feed } else { Kind::Rapid };
        let to = self.target(block, in_machine);
        self.go(to, kind, Within::Block);
    }

    /// Works out where the axis words of a block lead.
    pub(super) fn target(&mut self, block: &Block, in_machine: bool) -> Spot {
        let mut to = self.spot;
        for (axis, letter) in LETTERS.into_iter().enumerate() {
            let Some(word) = block.word(letter) else { continue };
            let here = self.spot.get(axis).copied().unwrap_or_default();
            let place = match word.number {
                None => {
                    self.report(Trouble::PlaceUnknown { axis: char::from(letter) });
                    Place::Unknown
                }
                Some(number) => {
                    let value = if axis == A { number } else { number * self.unit() };
                    self.place(axis, here, value, in_machine)
                }
            };
            if let Some(slot) = to.get_mut(axis) {
                *slot = place;
            }
        }
        to
    }

    fn place(&self, axis: usize, here: Place, value: f64, in_machine: bool) -> Place {
        if in_machine {
            return self.place_in_machine(axis, value);
        }
        match (self.modes.is_incremental(), here) {
            (false, _) => finite(value),
            (true, Place::At(from)) => finite(from + value),
            (true, Place::Home | Place::Unknown) => Place::Unknown,
        }
    }

    /// Turns a machine coordinate into one of the claimed register, where that was written; the tip hangs below the
    /// spindle by the tool's length.
    fn place_in_machine(&self, axis: usize, value: f64) -> Place {
        let tool = self.modes.tool.and_then(|tool| self.expected.tool(tool)).map(|tool| tool.length);
        match (self.expected.written, axis, tool) {
            (Some(written), Z, Some(length)) => finite(value - written[Z] - length),
            (_, Z, _) if value >= MACHINE_TOP_MM => Place::Home,
            (Some(written), axis, _) if axis != Z => {
                written.get(axis).map_or(Place::Unknown, |register| finite(value - register))
            }
            _ => Place::Unknown,
        }
    }

    /// G28 and G30: by way of the point named, to the reference point of the axes named (all of them when none is).
    pub(super) fn go_to_reference(&mut self, block: &Block) {
        let named = |axis: usize| LETTERS.get(axis).is_some_and(|letter| block.word(*letter).is_some());
        let none_named = (0..LETTERS.len()).all(|axis| !named(axis));
        let by_way_of = self.target(block, false);
        self.go(by_way_of, Kind::Rapid, Within::Block);
        let mut to = self.spot;
        for (axis, slot) in to.iter_mut().enumerate() {
            if none_named || named(axis) {
                *slot = if axis == Z { Place::Home } else { Place::Unknown };
            }
        }
        self.go(to, Kind::Rapid, Within::Block);
    }

    /// After a code that is not understood, the axes named in its block are no longer known.
    pub(super) fn lose_place(&mut self, block: &Block) {
        for (axis, letter) in LETTERS.into_iter().enumerate() {
            if block.word(letter).is_some()
                && let Some(slot) = self.spot.get_mut(axis)
            {
                *slot = Place::Unknown;
                self.report(Trouble::PlaceUnknown { axis: char::from(letter) });
            }
        }
    }

    /// Makes a move and shows it to the checks.
    pub(super) fn go(&mut self, to: Spot, kind: Kind, within: Within) {
        let one = Move { from: self.spot, to, kind, within };
        self.moves += 1;
        checks::look_at(self, &one);
        self.spot = to;
    }
}

/// Numbers beyond all machines are no places.
fn finite(value: f64) -> Place {
    if value.abs() < 1e9 { Place::At(value) } else { Place::Unknown }
}
