//! Calls that a program makes: unit, register, tool, length, incremental, data.

use super::Walker;
use crate::job::{CardUnit, REGISTER_NAMES};
use crate::program::block::Block;
use crate::program::modes::{Length, Spindle};
use crate::program::place::{Place, Z};
use crate::program::trouble::Trouble;

/// What has been told once and need not be told at every block.
#[derive(Debug, Default)]
pub(super) struct Told {
    start: bool,
    no_register: bool,
    no_length: bool,
    /// The line since which incremental moves have been made.
    incremental_since: Option<u64>,
}

impl Walker<'_> {
    pub(super) fn call_unit(&mut self, inch: bool) {
        self.modes.inch = Some(inch);
        if inch != (self.card.unit == CardUnit::Inch) {
            self.report(Trouble::UnitMismatch { program_inch: inch });
        }
    }

    /// Returns the millimetres of one unit of length: called, or else the card's.
    pub(in crate::program) fn unit(&self) -> f64 {
        if self.modes.inch.unwrap_or(self.card.unit == CardUnit::Inch) { 25.4 } else { 1.0 }
    }

    pub(super) fn call_register(&mut self, code: u32) {
        self.left_incremental();
        let number = match code {
            590..=593 => 6 + code - 590,
            _ => code / 10 - 53,
        };
        let number = usize::try_from(number).unwrap_or_default();
        self.modes.register = Some(number);
        if number == self.expected.register {
            return;
        }
        let called = name(number);
        if self.expected.protected.contains(&number) {
            self.report(Trouble::RegisterProtected { called });
        } else {
            self.report(Trouble::RegisterWrong { called, claimed: name(self.expected.register) });
        }
    }

    pub(super) fn call_length(&mut self, block: &Block) {
        self.left_incremental();
        // RS274/NGC: G43 without H takes the length of the tool in the spindle.
        let called = block.count_of(b'H').or_else(|| self.modes.tool.filter(|_| block.word(b'H').is_none()));
        let Some(called) = called else {
            self.report(Trouble::NotUnderstood("G43 without an H that can be read".to_owned()));
            return;
        };
        self.modes.length = Length::Called(called);
        self.calls.no_length = false;
        if self.modes.tool == Some(called) {
            return;
        }
        let own = self.modes.tool.and_then(|tool| self.expected.tool(tool));
        let off = own.zip(self.expected.tool(called)).map(|(own, other)| other.length - own.length);
        self.report(Trouble::LengthWrong { tool: self.modes.tool, called, off });
    }

    /// M6: the waiting tool comes into the spindle. The spindle stops and its nose stays where it is, so the height of the
    /// tip changes by the difference of the lengths.
    pub(super) fn change_tool(&mut self) {
        self.left_incremental();
        self.holes.close(self.expected, &mut self.reports);
        let old = self.modes.tool.and_then(|tool| self.expected.tool(tool)).map(|tool| tool.length);
        self.modes.tool = self.modes.next_tool;
        let new = self.modes.tool.and_then(|tool| self.expected.tool(tool)).map(|tool| tool.length);
        if let Some(place) = self.spot.get_mut(Z)
            && let Place::At(height) = *place
        {
            *place = old.zip(new).map_or(Place::Unknown, |(old, new)| Place::At(height + old - new));
        }
        self.modes.spindle = Spindle::Off;
        self.modes.length = Length::Off;
        self.calls.no_length = false;
        self.watch.new_tool();
        if let Some(tool) = self.modes.tool.filter(|tool| *tool != 0 && self.expected.tool(*tool).is_none()) {
            self.report(Trouble::ToolNotOnCard(tool));
        }
    }

    pub(super) fn call_incremental(&mut self, on: bool) {
        self.modes.incremental = Some(on);
        self.calls.incremental_since = None;
    }

    /// Incremental moves that were not ended before something is called that belongs to absolute ones.
    pub(super) fn left_incremental(&mut self) {
        if self.modes.is_incremental()
            && let Some(since) = self.calls.incremental_since.take()
        {
            self.report(Trouble::IncrementalLeftOn { since });
        }
    }

    /// What must have been called before an axis moves in program coordinates.
    pub(super) fn called_before_motion(&mut self, block: &Block) {
        if !self.calls.start {
            self.calls.start = true;
            if self.modes.inch.is_none() {
                self.report(Trouble::UnitNotCalled);
            }
            if self.modes.incremental.is_none() {
                self.report(Trouble::DistanceNotCalled);
            }
        }
        if self.modes.register.is_none() && !self.calls.no_register {
            self.calls.no_register = true;
            self.report(Trouble::RegisterNotCalled);
        }
        if self.modes.length == Length::Off && block.word(b'Z').is_some() && !self.calls.no_length {
            self.calls.no_length = true;
            self.report(Trouble::LengthNotCalled { tool: self.modes.tool });
        }
        if self.modes.is_incremental() && self.calls.incremental_since.is_none() {
            self.calls.incremental_since = Some(self.at.line);
            self.report(Trouble::Incremental);
        }
    }

    /// G10: L2 writes the origin of register P, in machine coordinates (RS274/NGC; P 1 is G54, 9 is G59.3).
    pub(super) fn write_data(&mut self, block: &Block) {
        let number = block.count_of(b'P').and_then(|number| usize::try_from(number).ok());
        let register = number.filter(|number| (1..=REGISTER_NAMES.len()).contains(number));
        if block.count_of(b'L') != Some(2) || register.is_none() {
            self.report(Trouble::NotUnderstood("G10 other than L2 P1 to P9".to_owned()));
            return;
        }
        let protected = register.is_some_and(|number| self.expected.protected.contains(&number));
        self.report(Trouble::RegisterWritten { register: register.map(name), protected });
    }

    pub(super) fn stop_in_cut(&mut self) {
        if self.is_in_cut() {
            self.report(Trouble::StopInCut);
        }
    }

    /// G4.
    pub(super) fn dwell(&mut self, _block: &Block) {
        if self.is_in_cut() {
            self.report(Trouble::DwellInCut { hardens: self.card.part.material.work_hardens });
        }
    }

    /// Returns whether the tip stands in the metal.
    fn is_in_cut(&self) -> bool {
        self.holes.is_below(&self.spot)
    }
}

/// Returns the name of a register by its number, 1 to 9.
fn name(number: usize) -> &'static str {
    number.checked_sub(1).and_then(|index| REGISTER_NAMES.get(index)).copied().unwrap_or("a register")
}
