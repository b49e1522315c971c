//! The words for each trouble: what is wrong and what to do.

use super::{Flip, Transform, Trouble};
use crate::job::CardUnit;
use crate::quantity::{Dimension, Unit, print};

/// Prints numbers in the unit of the card.
struct Numbers(CardUnit);

impl Numbers {
    fn length(&self, mm: f64) -> String {
        let (name, step) = if self.0 == CardUnit::Inch { ("in", 0.0001) } else { ("mm", 0.001) };
        let unit = Unit::of(Dimension::Length, name);
        unit.map_or_else(String::new, |unit| print::at_resolution(unit.from_base(mm), step, unit))
    }

    /// Feed per turn: one place more than a length.
    fn feed(&self, mm: f64) -> String {
        let (name, step) = if self.0 == CardUnit::Inch { ("in/rev", 0.00001) } else { ("mm/rev", 0.0001) };
        Unit::named(name).map_or_else(String::new, |unit| print::at_resolution(unit.from_base(mm), step, unit))
    }
}

fn degrees(angle: f64) -> String {
    Unit::named("deg").map_or_else(String::new, |unit| print::at_resolution(angle, 0.001, unit))
}

fn named_tool(tool: Option<u32>) -> String {
    tool.map_or_else(|| "no tool called".to_owned(), |tool| format!("tool {tool}"))
}

impl Trouble {
    /// Says what is wrong and what to do, with numbers in the unit of the card.
    pub fn says(&self, unit: CardUnit) -> String {
        let numbers = Numbers(unit);
        self.says_of_calls()
            .or_else(|| self.says_of_tools(&numbers))
            .or_else(|| self.says_of_rotary(&numbers))
            .or_else(|| self.says_of_moves(&numbers))
            .or_else(|| self.says_of_cutting(&numbers))
            .or_else(|| self.says_of_holes(&numbers))
            .unwrap_or_else(|| self.says_of_text())
    }

    fn says_of_calls(&self) -> Option<String> {
        Some(match self {
            Self::RegisterNotCalled => {
                "It moves before a register is called: it would run in whichever is live. Call the claimed one first."
                    .to_owned()
            }
            Self::RegisterWrong { called, claimed } => {
                format!("{called} is called; this setup was written into {claimed}.")
            }
            Self::RegisterProtected { called } => {
                format!("{called} is called: it belongs to another job, and nobody may use it here.")
            }
            Self::RegisterWritten { register, protected } => format!(
                "It writes into {}: {} Take the block out.",
                register.unwrap_or("a register"),
                if *protected {
                    "it belongs to another job."
                } else {
                    "what was captured at the machine would be overwritten."
                }
            ),
            Self::CommonShift => {
                "It sets a shift that is common to all registers: everything would be displaced. Take it out."
                    .to_owned()
            }
            Self::UnitMismatch { program_inch } => format!(
                "The program is in {}, card and machine in {}: 25.4 times wrong wherever the control is not switched over.",
                if *program_inch { "inches (G20)" } else { "millimetres (G21)" },
                if *program_inch { "millimetres" } else { "inches" }
            ),
            Self::UnitNotCalled => {
                "It moves before G20 or G21 is called: the unit is what the last program left.".to_owned()
            }
            Self::DistanceNotCalled => {
                "It moves before G90 or G91 is called: absolute or not is what the last program left.".to_owned()
            }
            Self::Incremental => {
                "Moves are incremental (G91) here: each starts from the last. Look whether that is meant.".to_owned()
            }
            Self::IncrementalLeftOn { since } => {
                format!("Incremental (G91) is still on since line {since}: G90 is missing.")
            }
            _ => return None,
        })
    }

    fn says_of_tools(&self, numbers: &Numbers) -> Option<String> {
        Some(match self {
            Self::ToolNotOnCard(tool) => {
                format!("Tool {tool} is not on the card: its length, feed and size cannot be checked.")
            }
            Self::ToolNotCalled => {
                "It cuts before any tool is called: it would cut with whatever is in the spindle.".to_owned()
            }
            Self::LengthNotCalled { tool } => format!(
                "Z moves without a length call (G43 H), {}: the tip would be lower by the whole tool.",
                named_tool(*tool)
            ),
            Self::LengthWrong { tool, called, off } => format!(
                "H{called} is called, {}: the tip would {}.",
                named_tool(*tool),
                match off {
                    Some(off) if *off < 0.0 => format!("be {} LOWER than programmed", numbers.length(-off)),
                    Some(off) => format!("be {} higher than programmed", numbers.length(*off)),
                    None => "not be where the program says".to_owned(),
                }
            ),
            _ => return None,
        })
    }

    fn says_of_rotary(&self, numbers: &Numbers) -> Option<String> {
        Some(match self {
            Self::IndexTooLow { height: Some(height), safe } => format!(
                "The rotary turns with the tip at {} over the centreline; what swings needs {}. Lift the tool first.",
                numbers.length(*height),
                numbers.length(*safe)
            ),
            Self::IndexTooLow { height: None, safe } => format!(
                "The rotary turns at a height that is not known. Command Z to at least {} with the tool's length before it.",
                numbers.length(*safe)
            ),
            Self::IndexForbidden { what, from, to } => format!(
                "The rotary comes between A {} and A {}, where {what} dips too near to the table.",
                degrees(*from),
                degrees(*to)
            ),
            Self::IndexLongWay { turns } => format!(
                "The rotary turns {} in one go: the long way round. Think of hoses and of what swings.",
                degrees(*turns)
            ),
            Self::IndexWinds { turned } => {
                format!("The rotary has turned {} from where it began: hoses wind up.", degrees(*turned))
            }
            Self::IndexInCycle => {
                "The rotary turns inside a canned cycle: RS-274 forbids it. G80, lift, turn, call the cycle again."
                    .to_owned()
            }
            Self::IndexInCut => {
                "The rotary turns during a feed move: this setup holds the work by its brake in the cut.".to_owned()
            }
            _ => return None,
        })
    }

    fn says_of_moves(&self, numbers: &Numbers) -> Option<String> {
        Some(match self {
            Self::TravelExceeded { axis, machine, travel } => format!(
                "Machine {axis} would have to be {}; the travel is {}.",
                numbers.length(*machine),
                numbers.length(*travel)
            ),
            Self::TravelSide { axis, machine } => format!(
                "Machine {axis} would have to be {}: beyond the machine's zero, where most machines end. Look at this one's travel.",
                numbers.length(*machine)
            ),
            Self::TravelSpan { axis, span, travel } => format!(
                "The moves in {axis} lie {} apart; the travel is {}.",
                numbers.length(*span),
                numbers.length(*travel)
            ),
            Self::RapidLow { gap, clearance } => format!(
                "A rapid comes down to {} over the work; the clearance plane is {}. Make the rest a feed move.",
                numbers.length(*gap),
                numbers.length(*clearance)
            ),
            Self::RapidIntoWork { depth } => format!("A rapid goes {} into the metal.", numbers.length(*depth)),
            Self::IntoFixture { height, swing } => format!(
                "The tool comes over the fixture at {} above the centreline; the fixture swings up to {}.",
                numbers.length(*height),
                numbers.length(*swing)
            ),
            Self::ArcDoesNotClose { off } => {
                format!("The ends of the arc do not fit its centre: {} are missing.", numbers.length(*off))
            }
            Self::ArcWithoutCentre => {
                "An arc has no centre and no radius that can be read: where it goes is not known.".to_owned()
            }
            Self::CycleWrong { what } => format!("The canned cycle cannot run: {what}."),
            Self::PlaceUnknown { axis } => {
                format!("Where {axis} goes hangs on something that is not understood: from here it is not checked.")
            }
            Self::TransformOn(what) => format!(
                "{} on: the pattern is not the drawing's. Switch it off, or prove the program without it.",
                match what {
                    Transform::MirrorOrScale => "Mirror or scale is",
                    Transform::Rotation => "Rotation of the coordinates is",
                    Transform::Polar => "Polar coordinates are",
                }
            ),
            _ => return None,
        })
    }

    fn says_of_cutting(&self, numbers: &Numbers) -> Option<String> {
        Some(match self {
            Self::SpindleOff => "It feeds into the work with the spindle off.".to_owned(),
            Self::SpindleReversed => "It feeds into the work with the spindle turning left (M4).".to_owned(),
            Self::CoolantOff => "It feeds into the work without coolant: coolant comes on before contact.".to_owned(),
            Self::SpindleOverLimit { speed, limit } => {
                format!("S{speed:.0}: the spindle of this machine turns {limit:.0} rpm at most.")
            }
            Self::SpindleOffPlan { speed, plan } => format!("S{speed:.0}; the cutting plan has {plan:.0} rpm."),
            Self::FeedNotCalled => "It feeds before any F was given, or at F 0.".to_owned(),
            Self::FeedAbovePlan { feed, plan } => format!(
                "The feed is {}; the cutting plan has {}: too much load on the tool.",
                numbers.feed(*feed),
                numbers.feed(*plan)
            ),
            Self::FeedBelowPlan { feed, plan } => {
                format!("The feed is {}; the cutting plan has {}.", numbers.feed(*feed), numbers.feed(*plan))
            }
            Self::FeedUnderFloor { feed, floor, rubs_up_to, hardens } => format!(
                "The feed is {}, the floor is {}: the edge rubs{} up to {rubs_up_to:.0} % of the feed override.",
                numbers.feed(*feed),
                numbers.feed(*floor),
                if *hardens { " and hardens the skin" } else { "" }
            ),
            Self::DwellInCut { hardens } => format!(
                "The tool dwells in the cut{}. Never dwell at the bottom.",
                if *hardens { ": this material hardens under it" } else { "" }
            ),
            Self::StopInCut => "The program stops with the tool in the cut (M0, M1 or spindle stop).".to_owned(),
            Self::PeckSmall { peck, least, hardens } => format!(
                "A peck of {} is smaller than {}: each one is a rub{}. Take the fewest pecks that clear the chips.",
                numbers.length(*peck),
                numbers.length(*least),
                if *hardens { " that hardens the skin for the next" } else { "" }
            ),
            Self::OverridesOff => {
                "M49 switches the override dials off: a first run needs them. Take it out.".to_owned()
            }
            Self::CutterTooLarge { cutter, pocket } => format!(
                "The cutter of {} does not fit into the pocket of {} that it circles.",
                numbers.length(*cutter),
                numbers.length(*pocket)
            ),
            _ => return None,
        })
    }

    fn says_of_holes(&self, numbers: &Numbers) -> Option<String> {
        Some(match self {
            Self::HoleUnknown { x, y, a } => format!(
                "A hole at X {} Y {} A {} matches no feature of the card.",
                numbers.length(*x),
                numbers.length(*y),
                degrees(*a)
            ),
            Self::CutUnknown { x, y, a } => format!(
                "A cut sideways at X {} Y {}{} lies in no feature of the card.",
                numbers.length(*x),
                numbers.length(*y),
                a.map_or_else(String::new, |a| format!(" A {}", degrees(a)))
            ),
            Self::HolePosition { feature, off, zone } => format!(
                "{feature}: programmed {} beside its place; its whole zone is {} across.",
                numbers.length(*off),
                numbers.length(*zone)
            ),
            Self::HoleAngle { feature, found, wanted, off, zone } => format!(
                "{feature}: programmed at A {}, it belongs at A {}: {} off on the surface, its whole zone is {} across.",
                degrees(*found),
                degrees(*wanted),
                numbers.length(*off),
                numbers.length(*zone)
            ),
            Self::HoleDepth { feature, found, wanted } => format!(
                "{feature}: the tip goes to Z {}, the card asks for Z {}.",
                numbers.length(*found),
                numbers.length(*wanted)
            ),
            Self::HoleSize { feature, found, wanted } => format!(
                "{feature}: it would become {} in diameter; the card asks for {}.",
                numbers.length(*found),
                numbers.length(*wanted)
            ),
            Self::FeatureNotCut { feature } => format!("{feature} is never cut."),
            Self::Mirrored { flip } => format!(
                "The pattern is mirrored: the holes match the card with {} the other way. Look at the drawing's view, the sense of the rotary and its facing.",
                match flip {
                    Flip::Angles => "the sign of A",
                    Flip::Across => "the sign of Y",
                    Flip::Along => "the sign of X",
                }
            ),
            Self::SenseUnknown => {
                "The turning sense of the rotary is not known: angles and holes are not compared. Make the sense test first."
                    .to_owned()
            }
            _ => return None,
        })
    }

    fn says_of_text(&self) -> String {
        match self {
            Self::NotUnderstood(what) => format!("Not understood: {what}"),
            Self::MachineFunction(what) => format!("{what} is a function of this machine: look into its manual."),
            Self::OpenComment => {
                "A comment is not closed in its line, or stands in another: controls differ in what they read then."
                    .to_owned()
            }
            Self::LineTooLong => "The line is too long to be a block and was not read.".to_owned(),
            Self::LetterTwice(letter) => {
                format!("{letter} stands twice in one block: controls differ in which they take.")
            }
            Self::SubprogramMissing(number) => {
                format!(
                    "Subprogram {number} is not in this file, or is too long to follow: what it does is not checked."
                )
            }
            Self::SubprogramTooDeep(number) => {
                format!("The calls of subprogram {number} go too deep or run too often to be followed.")
            }
            Self::RunsForEver => "M99 in the main program begins again from the top, for ever.".to_owned(),
            Self::RepeatsTooOften => "The block repeats more often than is followed here.".to_owned(),
            Self::AfterTheEnd => "Blocks stand after the end of the program that no call reaches.".to_owned(),
            Self::NoEnd => "The program has no end (M2 or M30): modes stay as they are.".to_owned(),
            Self::NothingMoves => "Nothing moves: is this the program?".to_owned(),
            other => other.id().to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_in_the_unit_of_the_card() {
        let low = Trouble::RapidLow { gap: 2.54, clearance: 25.4 };
        assert!(low.says(CardUnit::Inch).contains("0.1000 in over"));
        assert!(low.says(CardUnit::Millimetre).contains("2.540 mm over"));
        let feed = Trouble::FeedBelowPlan { feed: 0.0254, plan: 0.06 };
        assert!(feed.says(CardUnit::Inch).contains("0.00100 in/rev"), "{}", feed.says(CardUnit::Inch));
    }
}
