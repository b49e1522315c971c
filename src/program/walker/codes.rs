//! The codes of a block, in the order in which RS274/NGC carries them out.

use super::{Next, Walker};
use crate::program::block::{Block, Label};
use crate::program::modes::{FeedMode, Length, Motion, Plane, Side, Spindle};
use crate::program::place::Z;
use crate::program::trouble::{Transform, Trouble};

/// What the axis words of a block belong to, when not to the motion in force.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Once {
    /// G4: a dwell.
    Dwell,
    /// G10: data are written.
    Data,
    /// G28 and G30: to the reference point.
    Reference,
    /// G53: in machine coordinates.
    Machine,
    /// G52 and G92: a common shift.
    Shift,
    /// A code that is not understood and takes its words with it.
    Unknown,
}

impl Walker<'_> {
    /// Carries a block out.
    pub(super) fn carry_out(&mut self, block: &Block) -> Next {
        self.other_letters(block);
        if let Some(feed) = block.number_of(b'F') {
            self.modes.feed = feed;
        }
        if let Some(speed) = block.number_of(b'S') {
            self.modes.speed = speed;
        }
        if let Some(tool) = block.count_of(b'T') {
            self.modes.next_tool = Some(tool);
        }
        self.functions(block);
        let once = self.preparations(block);
        self.after_preparations(block, once);
        self.program_flow(block)
    }

    /// Letters that this setup has no use for are named, never skipped in silence.
    fn other_letters(&mut self, block: &Block) {
        for word in &block.words {
            if matches!(word.letter, b'B' | b'C' | b'E' | b'U' | b'V' | b'W') {
                self.report(Trouble::NotUnderstood(format!("{} axis or word", char::from(word.letter))));
            }
        }
    }

    /// M functions that act before the motion.
    fn functions(&mut self, block: &Block) {
        for code in block.codes(b'M') {
            match code {
                Some(60) => self.change_tool(),
                Some(30) => self.modes.spindle = Spindle::Right,
                Some(40) => self.modes.spindle = Spindle::Left,
                Some(50) => {
                    self.modes.spindle = Spindle::Off;
                    self.stop_in_cut();
                }
                Some(70 | 80) => self.modes.coolant = true,
                Some(90) => self.modes.coolant = false,
                Some(490) => self.report(Trouble::OverridesOff),
                Some(0 | 10 | 20 | 300 | 480 | 980 | 990) => {}
                Some(code) => self.report(Trouble::MachineFunction(format!("M{}", in_words(code)))),
                None => self.report(Trouble::NotUnderstood("M without a number that can be read".to_owned())),
            }
        }
    }

    /// G codes: modes are set at once, what the axis words belong to is given back.
    fn preparations(&mut self, block: &Block) -> Option<Once> {
        let mut once = None;
        for code in block.codes(b'G') {
            let Some(code) = code else {
                self.report(Trouble::NotUnderstood("G without a number that can be read".to_owned()));
                once = Some(Once::Unknown);
                continue;
            };
            match code {
                40 => once = Some(Once::Dwell),
                100 => once = Some(Once::Data),
                280 | 300 => once = Some(Once::Reference),
                530 => once = Some(Once::Machine),
                520 | 920 => once = Some(Once::Shift),
                921..=923 => {}
                _ => {
                    if !(self.motion_code(code) || self.mode_code(code, block)) {
                        self.report(Trouble::NotUnderstood(format!("G{}", in_words(code))));
                        once = Some(Once::Unknown);
                    }
                }
            }
        }
        once
    }

    fn motion_code(&mut self, code: u32) -> bool {
        let motion = match code {
            0 => Motion::Rapid,
            10 => Motion::Feed,
            20 => Motion::Arc(true),
            30 => Motion::Arc(false),
            730 | 810 | 820 | 830 | 840 | 850 | 860 | 890 => Motion::Cycle(code),
            800 => Motion::None,
            _ => return false,
        };
        let in_cycle = matches!(self.modes.motion, Motion::Cycle(_));
        match motion {
            Motion::Cycle(_) if !in_cycle => {
                // Where the tool stands when a cycle is called is where G98 goes back to.
                self.modes.initial = self.spot.get(Z).copied().unwrap_or_default();
                self.modes.cycle = crate::program::modes::CycleWords::default();
            }
            _ => {}
        }
        self.modes.motion = motion;
        true
    }

    fn mode_code(&mut self, code: u32, block: &Block) -> bool {
        match code {
            170 => self.modes.plane = Plane::Xy,
            180 => self.modes.plane = Plane::Zx,
            190 => self.modes.plane = Plane::Yz,
            200 => self.call_unit(true),
            210 => self.call_unit(false),
            400 => self.modes.side = Side::Off,
            410 => self.modes.side = Side::Left,
            420 => self.modes.side = Side::Right,
            430 => self.call_length(block),
            490 => self.modes.length = Length::Off,
            540 | 550 | 560 | 570 | 580 | 590..=593 => self.call_register(code),
            900 => self.call_incremental(false),
            910 => self.call_incremental(true),
            930 => self.modes.feed_mode = FeedMode::InverseTime,
            940 => self.modes.feed_mode = FeedMode::PerMinute,
            950 => self.modes.feed_mode = FeedMode::PerTurn,
            980 => self.modes.to_retract = false,
            990 => self.modes.to_retract = true,
            510 | 511 => self.report(Trouble::TransformOn(Transform::MirrorOrScale)),
            680 => self.report(Trouble::TransformOn(Transform::Rotation)),
            160 => self.report(Trouble::TransformOn(Transform::Polar)),
            // The path modes (G61, G64), and what a safe first line switches off.
            610 | 611 | 640 | 150 | 500 | 501 | 690 => {}
            _ => return false,
        }
        true
    }

    fn after_preparations(&mut self, block: &Block, once: Option<Once>) {
        match once {
            Some(Once::Dwell) => self.dwell(block),
            Some(Once::Data) => self.write_data(block),
            Some(Once::Reference) => self.go_to_reference(block),
            Some(Once::Shift) => self.report(Trouble::CommonShift),
            Some(Once::Unknown) => self.lose_place(block),
            Some(Once::Machine) => self.motion(block, true),
            None => self.motion(block, false),
        }
    }

    fn program_flow(&mut self, block: &Block) -> Next {
        if let Some((number, Label::Call(with_values))) = block.label {
            if with_values {
                self.report(Trouble::NotUnderstood(format!("values handed to subprogram {number}")));
            }
            return Next::Call(number, 1);
        }
        for code in block.codes(b'M') {
            match code {
                Some(0 | 10) => self.stop_in_cut(),
                Some(20 | 300) => {
                    self.left_incremental();
                    return Next::End;
                }
                Some(980) => return self.call(block),
                Some(990) => return Next::Back,
                _ => {}
            }
        }
        Next::On
    }

    /// M98 P L: P holds the number, L (or the digits above four of P, which are not read here) the repeats.
    fn call(&mut self, block: &Block) -> Next {
        let Some(number) = block.count_of(b'P') else {
            self.report(Trouble::NotUnderstood("M98 without a P that can be read".to_owned()));
            return Next::On;
        };
        Next::Call(number, block.count_of(b'L').unwrap_or(1))
    }
}

/// Writes a code in tenths as a person does: 591 is 59.1.
fn in_words(tenths: u32) -> String {
    let (whole, rest) = (tenths / 10, tenths % 10);
    if rest == 0 { whole.to_string() } else { format!("{whole}.{rest}") }
}
