//! What can be wrong with a program, each with its weight; the words for a person are in `words`.

mod words;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// To know.
    Note,
    /// To look at before the run.
    Look,
    /// Not to be run like this.
    Stop,
}

impl Severity {
    /// Returns its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Look => "look",
            Self::Stop => "stop",
        }
    }
}

/// One axis of the machine.
type Axis = char;

/// Which sign would put a pattern right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flip {
    /// The rotary angles.
    Angles,
    /// The sideways offsets.
    Across,
    /// The distances along the axis.
    Along,
}

/// A mode that moves or bends the whole pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Transform {
    /// Mirror, scale.
    MirrorOrScale,
    /// Rotation of the coordinates.
    Rotation,
    /// Polar coordinates.
    Polar,
}

/// Something that is wrong with a program. Lengths are millimetres, angles degrees.
#[derive(Debug, Clone, PartialEq)]
pub enum Trouble {
    /// Words that are not understood and may move the machine.
    NotUnderstood(String),
    /// A function of this machine that moves no axis, as far as RS-274 knows.
    MachineFunction(String),
    /// A comment without its end.
    OpenComment,
    /// A line that is too long to be a block.
    LineTooLong,
    /// A letter twice in one block.
    LetterTwice(char),
    /// No register is called before the first move.
    RegisterNotCalled,
    /// Another register is called.
    RegisterWrong { called: &'static str, claimed: &'static str },
    /// A register is called that belongs to somebody else.
    RegisterProtected { called: &'static str },
    /// The program writes into a register.
    RegisterWritten { register: Option<&'static str>, protected: bool },
    /// A shift that is common to all registers is set.
    CommonShift,
    /// The program is written in the other unit.
    UnitMismatch { program_inch: bool },
    /// The unit is not called before the first move.
    UnitNotCalled,
    /// Absolute or incremental is not called before the first move.
    DistanceNotCalled,
    /// Moves are incremental.
    Incremental,
    /// Incremental is still on where the next tool, length or register is called, or at the end.
    IncrementalLeftOn { since: u64 },
    /// A tool is called that is not on the card.
    ToolNotOnCard(u32),
    /// A cut without a tool call before.
    ToolNotCalled,
    /// The height moves without a length call since the tool change.
    LengthNotCalled { tool: Option<u32> },
    /// The length of another tool is called; the tip would be off by so much where both are known.
    LengthWrong { tool: Option<u32>, called: u32, off: Option<f64> },
    /// The rotary turns below the safe height, or at a height that is not known.
    IndexTooLow { height: Option<f64>, safe: f64 },
    /// The rotary turns through a range that is forbidden.
    IndexForbidden { what: String, from: f64, to: f64 },
    /// The rotary goes the long way round.
    IndexLongWay { turns: f64 },
    /// The rotary has turned more than once round.
    IndexWinds { turned: f64 },
    /// The rotary turns in a block of a canned cycle.
    IndexInCycle,
    /// The work turns during a feed move.
    IndexInCut,
    /// A move ends beyond the travel.
    TravelExceeded { axis: Axis, machine: f64, travel: f64 },
    /// A move crosses the end at which the machine's zero is taken to be.
    TravelSide { axis: Axis, machine: f64 },
    /// The moves of an axis lie further apart than its travel.
    TravelSpan { axis: Axis, span: f64, travel: f64 },
    /// A rapid comes below the clearance plane.
    RapidLow { gap: f64, clearance: f64 },
    /// A rapid goes into the metal.
    RapidIntoWork { depth: f64 },
    /// A move reaches into the fixture.
    IntoFixture { height: f64, swing: f64 },
    /// A cut with the spindle off.
    SpindleOff,
    /// A cut with the spindle turning the other way.
    SpindleReversed,
    /// A cut without coolant.
    CoolantOff,
    /// The spindle turns faster than it may.
    SpindleOverLimit { speed: f64, limit: f64 },
    /// The spindle speed is not the plan's.
    SpindleOffPlan { speed: f64, plan: f64 },
    /// A cut without a feed.
    FeedNotCalled,
    /// The feed is above the plan.
    FeedAbovePlan { feed: f64, plan: f64 },
    /// The feed is below the plan.
    FeedBelowPlan { feed: f64, plan: f64 },
    /// The chip is too thin even at this override.
    FeedUnderFloor { feed: f64, floor: f64, rubs_up_to: f64, hardens: bool },
    /// The tool dwells in the cut.
    DwellInCut { hardens: bool },
    /// The program stops in the cut.
    StopInCut,
    /// A peck is too small.
    PeckSmall { peck: f64, least: f64, hardens: bool },
    /// The override dials are switched off.
    OverridesOff,
    /// A hole that matches no feature.
    HoleUnknown { x: f64, y: f64, a: f64 },
    /// A cut sideways that lies in no feature.
    CutUnknown { x: f64, y: f64, a: Option<f64> },
    /// A hole that is off its place.
    HolePosition { feature: String, off: f64, zone: f64 },
    /// A hole at a wrong angle.
    HoleAngle { feature: String, found: f64, wanted: f64, off: f64, zone: f64 },
    /// A hole of a wrong depth.
    HoleDepth { feature: String, found: f64, wanted: f64 },
    /// A hole of a wrong size.
    HoleSize { feature: String, found: f64, wanted: f64 },
    /// A feature that is never cut.
    FeatureNotCut { feature: String },
    /// The pattern would match with one sign the other way.
    Mirrored { flip: Flip },
    /// The turning sense is not known, so angles are not compared.
    SenseUnknown,
    /// A cutter that is larger than the pocket it circles.
    CutterTooLarge { cutter: f64, pocket: f64 },
    /// An arc whose ends do not fit its centre.
    ArcDoesNotClose { off: f64 },
    /// An arc without a centre or radius.
    ArcWithoutCentre,
    /// A cycle that lacks a word or whose R lies below its bottom.
    CycleWrong { what: &'static str },
    /// A mode that bends the pattern.
    TransformOn(Transform),
    /// A place hangs on something that is not understood.
    PlaceUnknown { axis: Axis },
    /// A subprogram that is not there, or is too long to follow.
    SubprogramMissing(u32),
    /// Subprograms call each other too deep or too often.
    SubprogramTooDeep(u32),
    /// The program jumps to its beginning.
    RunsForEver,
    /// A block that repeats too often to be followed.
    RepeatsTooOften,
    /// Blocks stand after the end that no call reaches.
    AfterTheEnd,
    /// The program has no end.
    NoEnd,
    /// Nothing moves.
    NothingMoves,
}

impl Trouble {
    /// Returns its permanent short name.
    #[expect(clippy::too_many_lines, reason = "a table, one line a trouble")]
    pub const fn id(&self) -> &'static str {
        match self {
            Self::NotUnderstood(_) => "not-understood",
            Self::MachineFunction(_) => "machine-function",
            Self::OpenComment => "open-comment",
            Self::LineTooLong => "line-too-long",
            Self::LetterTwice(_) => "letter-twice",
            Self::RegisterNotCalled => "register-not-called",
            Self::RegisterWrong { .. } => "register-wrong",
            Self::RegisterProtected { .. } => "register-protected",
            Self::RegisterWritten { .. } => "register-written",
            Self::CommonShift => "common-shift",
            Self::UnitMismatch { .. } => "unit-mismatch",
            Self::UnitNotCalled => "unit-not-called",
            Self::DistanceNotCalled => "distance-not-called",
            Self::Incremental => "incremental",
            Self::IncrementalLeftOn { .. } => "incremental-left-on",
            Self::ToolNotOnCard(_) => "tool-not-on-card",
            Self::ToolNotCalled => "tool-not-called",
            Self::LengthNotCalled { .. } => "length-not-called",
            Self::LengthWrong { .. } => "length-wrong",
            Self::IndexTooLow { .. } => "index-too-low",
            Self::IndexForbidden { .. } => "index-forbidden",
            Self::IndexLongWay { .. } => "index-long-way",
            Self::IndexWinds { .. } => "index-winds",
            Self::IndexInCycle => "index-in-cycle",
            Self::IndexInCut => "index-in-cut",
            Self::TravelExceeded { .. } => "travel-exceeded",
            Self::TravelSide { .. } => "travel-side",
            Self::TravelSpan { .. } => "travel-span",
            Self::RapidLow { .. } => "rapid-low",
            Self::RapidIntoWork { .. } => "rapid-into-work",
            Self::IntoFixture { .. } => "into-fixture",
            Self::SpindleOff => "spindle-off",
            Self::SpindleReversed => "spindle-reversed",
            Self::CoolantOff => "coolant-off",
            Self::SpindleOverLimit { .. } => "spindle-over-limit",
            Self::SpindleOffPlan { .. } => "spindle-off-plan",
            Self::FeedNotCalled => "feed-not-called",
            Self::FeedAbovePlan { .. } => "feed-above-plan",
            Self::FeedBelowPlan { .. } => "feed-below-plan",
            Self::FeedUnderFloor { .. } => "feed-under-floor",
            Self::DwellInCut { .. } => "dwell-in-cut",
            Self::StopInCut => "stop-in-cut",
            Self::PeckSmall { .. } => "peck-small",
            Self::OverridesOff => "overrides-off",
            Self::HoleUnknown { .. } => "hole-unknown",
            Self::CutUnknown { .. } => "cut-unknown",
            Self::HolePosition { .. } => "hole-position",
            Self::HoleAngle { .. } => "hole-angle",
            Self::HoleDepth { .. } => "hole-depth",
            Self::HoleSize { .. } => "hole-size",
            Self::FeatureNotCut { .. } => "feature-not-cut",
            Self::Mirrored { .. } => "mirrored",
            Self::SenseUnknown => "sense-unknown",
            Self::CutterTooLarge { .. } => "cutter-too-large",
            Self::ArcDoesNotClose { .. } => "arc-does-not-close",
            Self::ArcWithoutCentre => "arc-without-centre",
            Self::CycleWrong { .. } => "cycle-wrong",
            Self::TransformOn(_) => "transform-on",
            Self::PlaceUnknown { .. } => "place-unknown",
            Self::SubprogramMissing(_) => "subprogram-missing",
            Self::SubprogramTooDeep(_) => "subprogram-too-deep",
            Self::RunsForEver => "runs-for-ever",
            Self::RepeatsTooOften => "repeats-too-often",
            Self::AfterTheEnd => "after-the-end",
            Self::NoEnd => "no-end",
            Self::NothingMoves => "nothing-moves",
        }
    }

    /// Returns its weight.
    pub fn severity(&self) -> Severity {
        match self {
            Self::MachineFunction(_) | Self::AfterTheEnd | Self::NoEnd => Severity::Note,
            Self::NotUnderstood(_)
            | Self::OpenComment
            | Self::LineTooLong
            | Self::LetterTwice(_)
            | Self::UnitNotCalled
            | Self::DistanceNotCalled
            | Self::Incremental
            | Self::IndexLongWay { .. }
            | Self::IndexWinds { .. }
            | Self::IndexInCut
            | Self::TravelSide { .. }
            | Self::RapidLow { .. }
            | Self::CoolantOff
            | Self::SpindleOffPlan { .. }
            | Self::FeedAbovePlan { .. }
            | Self::FeedBelowPlan { .. }
            | Self::CutUnknown { .. }
            | Self::SenseUnknown
            | Self::PlaceUnknown { .. }
            | Self::RunsForEver
            | Self::RepeatsTooOften
            | Self::HoleDepth { .. } => Severity::Look,
            Self::RegisterWritten { protected, .. } => look_unless(*protected),
            Self::FeedUnderFloor { hardens, .. } | Self::DwellInCut { hardens } | Self::PeckSmall { hardens, .. } => {
                look_unless(*hardens)
            }
            Self::HolePosition { off, zone, .. } | Self::HoleAngle { off, zone, .. } => look_unless(*off > zone / 2.0),
            _ => Severity::Stop,
        }
    }
}

const fn look_unless(worse: bool) -> Severity {
    if worse { Severity::Stop } else { Severity::Look }
}
