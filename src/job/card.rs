//! What a job card holds once it has been read and checked: every number finite, every name unique, every reference found.

use super::cut::Cut;
use super::datums::Datums;
use crate::quantity::Length;

/// A job card: everything that a person knows before walking to the machine.
#[derive(Debug, Clone, PartialEq)]
pub struct JobCard {
    /// Short name in lower case, used in the session's file name.
    pub id: String,
    /// What the person calls the job.
    pub title: String,
    /// What it is for: a setup, or a quick task that needs no job card.
    pub task: Task,
    /// True for the embedded practice cards.
    pub practice: bool,
    /// The unit in which bare numbers are meant, on the card and at the machine.
    pub unit: CardUnit,
    /// How much the workbook asks for.
    pub depth: Depth,
    /// Remarks for whoever reads the card: what was chosen, what is to be confirmed.
    pub notes: Vec<String>,
    /// The part and its batch.
    pub part: Part,
    /// What is to be cut, in order of work.
    pub features: Vec<Feature>,
    /// The machine's profile.
    pub machine: Machine,
    /// The instruments used.
    pub instruments: Instruments,
    /// The ring fixture and the jaws it stands on.
    pub fixture: Fixture,
    /// How each datum is picked up.
    pub datums: Datums,
    /// The tools, by the number called in the program.
    pub tools: Vec<Tool>,
    /// What the fixture's register is and which ones nobody may touch.
    pub register: RegisterClaim,
    /// Uncertainties that the tram shares its zone with.
    pub budget: Budget,
    /// How the first cut is approached.
    pub first_run: FirstRun,
    /// The card as it was read, for the log: at most 48 KiB.
    pub text: String,
}

/// What a card is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    /// The whole setup.
    Setup,
    /// Levelling one part now.
    Level,
    /// Finding the run-out of one part.
    RunOut,
}

/// The unit of bare numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CardUnit {
    /// Millimetres.
    Millimetre,
    /// Inches.
    Inch,
}

/// How much the workbook asks for (shop-sense 22).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// The four steps and the gates that stop crashes.
    Quick,
    /// The usual.
    Normal,
    /// Everything a customer's record needs.
    Record,
}

/// The part and its batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Name of the part.
    pub name: String,
    /// Drawing number.
    pub drawing: String,
    /// Revision of the drawing.
    pub revision: String,
    /// Pieces to deliver, 1 to 10,000.
    pub batch: u32,
    /// Outside diameter that the ring grips.
    pub diameter: Length,
    /// What it is made of.
    pub material: Material,
}

/// A material and its cutting constants.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Name and condition.
    pub name: String,
    /// Specific cutting force at 1 mm chip thickness (`k_c1.1`), `MPa`.
    pub specific_cutting_force_mpa: f64,
    /// Exponent of the chip thickness (`m_c`), 0 to 1.
    pub chip_exponent: f64,
    /// Yield strength `R_p0.2`, `MPa`.
    pub yield_mpa: f64,
    /// Whether a rubbing edge hardens the skin.
    pub work_hardens: bool,
    /// Where the constants come from.
    pub source: String,
}

/// From which side of zero the drawing counts its angles, seen looking at the finished top.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnDirection {
    /// Counter-clockwise.
    CounterClockwise,
    /// Clockwise.
    Clockwise,
}

impl DrawnDirection {
    /// Returns the word that the calculations use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::CounterClockwise => "counter-clockwise",
            Self::Clockwise => "clockwise",
        }
    }
}

/// One feature to be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// Short name, unique on the card: lower case letters, digits, `-`.
    pub id: String,
    /// Name as the drawing has it.
    pub name: String,
    /// Angle on the drawing, degrees, seen looking at the finished top.
    pub drawing_angle_deg: f64,
    /// The sense in which the drawing counts it.
    pub drawn_direction: DrawnDirection,
    /// Distance from the fixture's back face, along the rotary axis, always positive.
    pub along: Length,
    /// Sideways offset, plus = machine +Y at the index where it is drilled.
    pub across: Length,
    /// Radius of the surface in which it starts.
    pub radius: Length,
    /// Finished diameter.
    pub diameter: Length,
    /// Drilled depth at full diameter.
    pub depth: Length,
    /// How far the tool's tip goes below the surface.
    pub tip_depth: Length,
    /// Whether it goes through.
    pub through: bool,
    /// Diameter of the round position zone.
    pub position_zone: Length,
    /// Standard uncertainty of where the hole lands by cutting (drill wander).
    pub hole_wander: Length,
    /// Number of the tool that cuts it.
    pub tool: u32,
    /// What else is known of its cut.
    pub cut: Cut,
    /// For a bore cut to size and pressed: window, pin and fit.
    pub bore: Option<Bore>,
}

/// A bore that is cut to size in passes, and its press fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Bore {
    /// Size aimed for.
    pub target: Length,
    /// Smallest and largest size allowed.
    pub window: (Length, Length),
    /// Step between the pin gauges at hand.
    pub pin_gauge_step: Length,
    /// Share of the missing size that a pass takes, 0.3 to 1.
    pub damping: f64,
    /// How far inside the window a drifting bore raises the alarm.
    pub guard: Length,
    /// The press fit that it is for.
    pub press: Option<PressFit>,
}

/// A solid pin pressed into a bore.
#[derive(Debug, Clone, PartialEq)]
pub struct PressFit {
    /// Nominal diameter of the joint.
    pub joint_diameter: Length,
    /// Measured diameter of the pin.
    pub pin_diameter: Length,
    /// Twice the shortest distance from the bore's centre to an edge.
    pub hub_outer_diameter: Length,
    /// Length of engagement.
    pub engagement_length: Length,
    /// Elastic modulus of the part, `MPa`.
    pub hub_modulus_mpa: f64,
    /// Poisson's ratio of the part.
    pub hub_poisson: f64,
    /// Elastic modulus of the pin, `MPa`.
    pub pin_modulus_mpa: f64,
    /// Poisson's ratio of the pin.
    pub pin_poisson: f64,
    /// Roughness Rz of the bore.
    pub bore_roughness: Length,
    /// Roughness Rz of the pin.
    pub pin_roughness: Length,
    /// Lower and upper friction factor.
    pub friction: (f64, f64),
}

/// The sense in which the work turns about +X when a positive angle is commanded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkTurns {
    /// Takes +Y to +Z.
    RightHand,
    /// Takes +Z to +Y, as for a table-carried axis named after ISO 841.
    LeftHand,
}

impl WorkTurns {
    /// Returns the word that the calculations use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::RightHand => "right-hand",
            Self::LeftHand => "left-hand",
        }
    }

    /// Finds a sense by its word.
    pub fn named(word: &str) -> Option<Self> {
        [Self::RightHand, Self::LeftHand].into_iter().find(|turns| turns.word() == word)
    }
}

/// Where the finished top of the part looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TopFaces {
    /// Towards +X: the faceplate is on the left.
    PlusX,
    /// Towards -X.
    MinusX,
}

impl TopFaces {
    /// Returns the word that the calculations use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::PlusX => "+X",
            Self::MinusX => "-X",
        }
    }

    /// Returns +1 or -1: the machine direction from the back face into the part.
    pub const fn sign(self) -> f64 {
        match self {
            Self::PlusX => 1.0,
            Self::MinusX => -1.0,
        }
    }
}

/// The machine's profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Machine {
    /// Short name, lower case: the profile's file name.
    pub id: String,
    /// Description of machine and rotary.
    pub name: String,
    /// Turning sense as known from before; `None` forces the sense test to find it.
    pub work_turns: Option<WorkTurns>,
    /// Where the finished top looks.
    pub top_faces: TopFaces,
    /// Least increment of X, Y, Z.
    pub least_length: Length,
    /// Least increment of the rotary, degrees.
    pub least_angle_deg: f64,
    /// Travel of X, Y, Z.
    pub travel: [Length; 3],
    /// Lowest machine position of X, Y, Z; `None` when the sign of the positions has to tell it.
    pub travel_low: Option<[Length; 3]>,
    /// Rapid rate, mm/min.
    pub rapid_mm_min: f64,
    /// Deceleration, mm/s².
    pub deceleration_mm_s2: f64,
    /// The person's reaction time, s.
    pub reaction_s: f64,
    /// Highest spindle speed, rpm.
    pub spindle_max_rpm: f64,
    /// Speed from which full power is available, rpm.
    pub spindle_base_rpm: f64,
    /// Spindle power, kW.
    pub spindle_power_kw: f64,
    /// Height of the rotary's centre over the table.
    pub centre_height: Length,
    /// Standard uncertainty of the centre height.
    pub centre_height_uncertainty: Length,
    /// Index accuracy of the rotary, standard uncertainty, degrees.
    pub index_accuracy_deg: f64,
    /// Repeatability of the rotary, one standard deviation, degrees.
    pub rotary_repeat_deg: f64,
    /// Steps of the rapid override dial, percent, ascending.
    pub rapid_dial_percent: Vec<f64>,
    /// Steps of the feed override dial, percent, ascending.
    pub feed_dial_percent: Vec<f64>,
    /// Smallest gap allowed between anything that swings and anything that stands.
    pub swing_margin: Length,
    /// Stated holding torque of the rotary's brake, N m.
    pub brake_torque_nm: Option<f64>,
    /// What stands near the swing besides the table.
    pub obstacles: Vec<Obstacle>,
    /// Whether the displayed Z takes the tool length off when length compensation is on.
    pub display_includes_length: bool,
}

/// What an instrument shows and how well it repeats.
#[derive(Debug, Clone, PartialEq)]
pub struct Instrument {
    /// What it is.
    pub name: String,
    /// Smallest step it shows.
    pub resolution: Length,
    /// Standard deviation of one reading.
    pub repeatability: Length,
    /// How many readings are taken.
    pub repeats: u32,
}

/// The instruments of the job.
#[derive(Debug, Clone, PartialEq)]
pub struct Instruments {
    /// Edge finder or probe in the spindle.
    pub edge_finder: Instrument,
    /// Radius of its tip.
    pub tip_radius: Length,
    /// Standard uncertainty of the tip radius.
    pub tip_radius_uncertainty: Length,
    /// Reference tool touched on the setter.
    pub setter: Instrument,
    /// Height of the setter.
    pub setter_height: Length,
    /// Length of the reference tool.
    pub reference_tool_length: Length,
    /// Lever indicator for the tram.
    pub lever: Instrument,
    /// Whole travel of the lever indicator.
    pub lever_travel: Length,
    /// Bore gauge or blocks for slots.
    pub bore_gauge: Instrument,
    /// Micrometer for jaws and part.
    pub micrometer: Instrument,
    /// Feeler for the ring gap.
    pub feeler: Instrument,
    /// Indicator on the seat corners.
    pub seat_indicator: Instrument,
    /// What inspects the first article.
    pub inspection: Instrument,
}

/// Something that sticks out and swings round with the fixture.
#[derive(Debug, Clone, PartialEq)]
pub struct ProtrudingPoint {
    /// What it is: screw head, jaw screw end.
    pub name: String,
    /// Y from the fixture's middle at index 0.
    pub y: Length,
    /// Z from the fixture's middle at index 0.
    pub z: Length,
}

/// On which side of the fixture's back face the edge finder stands when it touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TipSide {
    /// On the plus side.
    Plus,
    /// On the minus side.
    Minus,
}

/// How two pads are read, which decides how their difference grows with the turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PadContact {
    /// Flat faces, read at fixed Y: with the tangent.
    Flats,
    /// Two high points that turn with the part and are followed: with the sine.
    HighPoints,
}

impl PadContact {
    /// Returns the word that the calculations use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Flats => "flats",
            Self::HighPoints => "high-points",
        }
    }
}

/// Spacing and depth of a fixture's slots and of the jaws that go into them.
#[derive(Debug, Clone, PartialEq)]
pub struct Slots {
    /// Middle of one slot to the middle of the other.
    pub spacing: Length,
    /// Middle of one jaw to the middle of the other.
    pub jaw_spacing: Length,
    /// Depth of the slots.
    pub depth: Length,
    /// How far the jaws stand into them.
    pub jaw_height: Length,
    /// Whether the slots' floors sit on the jaws; otherwise the back face sits on what carries the jaws.
    pub floor_seats: bool,
}

/// Corners in plan, where a jaw ends inside a slot that is closed at its end.
#[derive(Debug, Clone, PartialEq)]
pub struct SlotCorners {
    /// Radius that the cutter left in the slot's corners.
    pub slot_radius: Length,
    /// Radius of the jaw's corners; 0 is sharp.
    pub jaw_radius: Length,
}

/// The screw that closes a split ring.
#[derive(Debug, Clone, PartialEq)]
pub struct Clamp {
    /// Width of the ring along the part.
    pub ring_width: Length,
    /// Thread diameter of the screw.
    pub screw_diameter: Length,
    /// Tightening torque, N m.
    pub screw_torque_nm: f64,
    /// Torque over diameter and preload.
    pub torque_coefficient: f64,
    /// Friction of ring on part.
    pub friction: f64,
}

/// A box that stands near the swing, seen along the rotary axis, from the centreline.
#[derive(Debug, Clone, PartialEq)]
pub struct Obstacle {
    /// What it is.
    pub name: String,
    /// Front and rear.
    pub y: (Length, Length),
    /// Bottom and top.
    pub z: (Length, Length),
}

/// The ring fixture and the jaws it stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixture {
    /// Short name.
    pub id: String,
    /// Width across the two faces touched for Y.
    pub width: Length,
    /// Height across top and bottom.
    pub height: Length,
    /// Measured half height, middle to top face.
    pub half_height: Length,
    /// How far the fixture's width may be off its card when it is measured at the machine.
    pub width_tolerance: Length,
    /// Bore of the ring when its gap is free.
    pub ring_bore: Length,
    /// Width of the free gap.
    pub free_gap: Length,
    /// Length of a jaw along the slot.
    pub jaw_length: Length,
    /// Fillet radius in the slot's floor corners.
    pub fillet_radius: Length,
    /// Chamfer of the jaw's edges.
    pub jaw_chamfer: Length,
    /// Smallest and largest play wanted in the slots.
    pub play_window: (Length, Length),
    /// Play aimed for when slots are opened.
    pub play_wanted: Length,
    /// The most by which slot gauge and jaw gauge may constantly disagree.
    pub gauge_disagreement: Length,
    /// Standard deviation of where the fixture comes back to in the vise.
    pub relocation: Length,
    /// Spacing and depth of the slots.
    pub slots: Option<Slots>,
    /// Corners in plan, when the slots are closed at their ends.
    pub slot_corners: Option<SlotCorners>,
    /// The screw that closes the ring.
    pub clamp: Option<Clamp>,
    /// Where the four seat corners are indicated: (u, v) from the middle of the seat, in turn round the face.
    pub seat_corners: [(Length, Length); 4],
    /// Largest seat tilt allowed, degrees.
    pub seat_tilt_limit_deg: f64,
    /// Y of the off-centre flat that tells the fixture's right way round.
    pub mark_flat_y: Length,
    /// Off-centre expected from last time, Y and Z at index 0.
    pub off_centre_expected: (Length, Length),
    /// How far it may differ from that.
    pub off_centre_tolerance: Length,
    /// What sticks out.
    pub protruding: Vec<ProtrudingPoint>,
    /// Distance between the two pads of the part that are trammed.
    pub pad_span: Length,
    /// Height of the rear pad over the front pad on the drawing.
    pub pad_step: Length,
    /// How the two pads are read.
    pub pad_contact: PadContact,
    /// Distance between the two places indicated on the fixture's own top edge.
    pub edge_span: Length,
    /// Side on which the edge finder stands at the back face.
    pub back_face_side: TipSide,
    /// Height over the centreline at which the Y faces are touched; 0 is best.
    pub touch_height: Length,
    /// Distance from the back face at which the centreline is picked up.
    pub touch_along: Length,
    /// Distance along X between the two places for the axis parallelism check.
    pub parallel_span: Length,
    /// How much the captured A may differ from piece to piece, degrees (hand clocking).
    pub clocking_window_deg: f64,
}

/// A tool of the job.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Number called in the program.
    pub number: u32,
    /// What it is.
    pub name: String,
    /// Diameter.
    pub diameter: Length,
    /// Point angle, degrees, 60 to 180.
    pub point_angle_deg: f64,
    /// Stored length.
    pub length: Length,
    /// Cutting speed, m/min.
    pub cutting_speed_m_min: f64,
    /// Feed, mm per revolution.
    pub feed_mm_rev: f64,
    /// Radius of the cutting edge, micrometres.
    pub edge_radius_um: f64,
    /// Least chip as a share of the edge radius (0.2 to 0.4 is usual).
    pub least_chip_factor: f64,
    /// How far it stands out of its holder.
    pub stick_out: Option<Length>,
    /// Elastic modulus of the tool, `MPa`.
    pub modulus_mpa: Option<f64>,
}

/// The register that this job claims and those that nobody may touch.
#[derive(Debug, Clone, PartialEq)]
pub struct RegisterClaim {
    /// RS-274 name of the claimed register: G54 to G59.3.
    pub name: String,
    /// RS-274 names of registers that belong to other jobs.
    pub protected: Vec<String>,
}

/// Standard uncertainties that share the position zone with the tram.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    /// Of the Y pick-up.
    pub y_pickup: Length,
    /// Of the off-centre.
    pub off_centre: Length,
    /// Of the axis slope over the reach.
    pub axis_slope: Length,
    /// Of how the part sits in the fixture.
    pub part_in_fixture: Length,
    /// Of the machine's positioning.
    pub positioning: Length,
    /// The feature whose zone decides.
    pub critical_feature: String,
}

/// How the first cut is approached.
#[derive(Debug, Clone, PartialEq)]
pub struct FirstRun {
    /// Distances over the surface at which the run is stopped and read, largest first.
    pub stops: Vec<(String, Length)>,
    /// Gap in which a rapid move must be stopped by hand.
    pub rapid_gap: Length,
    /// How far the air pass is lifted.
    pub air_lift: Length,
    /// Height of the clearance plane over the surface.
    pub clearance: Length,
    /// Safety factor on the least chip, 2 by habit.
    pub chip_margin: f64,
}
