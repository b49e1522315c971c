//! What the setup asks of a program, worked out once before the first block is read: every number by a registered
//! calculation.

use serde_json::{Map, Value, json};

use crate::calc::{self, Refused};
use crate::job::{Feature, JobCard, Tool, WorkTurns, register_number};
use crate::program::setup::Setup;

/// Everything that blocks are compared with. Coordinates are those of the claimed register, in millimetres and degrees.
#[derive(Debug, Clone)]
pub struct Expected {
    /// Number of the claimed register, 1 to 9.
    pub register: usize,
    /// Numbers of the registers that nobody may touch.
    pub protected: Vec<usize>,
    /// The claimed register as written: X, Y, Z, A.
    pub written: Option<[f64; 4]>,
    /// The turning sense, where it is known.
    pub work_turns: Option<WorkTurns>,
    /// The holes of the card; empty when the turning sense is unknown.
    pub holes: Vec<Hole>,
    /// The plan of every tool on the card.
    pub tools: Vec<ToolPlan>,
    /// Largest radius that swings.
    pub swing: f64,
    /// Lowest height of the tip at which the rotary may turn.
    pub index_height: f64,
    /// Radius of the part where it is cut.
    pub part_radius: f64,
    /// Height of the clearance plane over the centreline.
    pub clearance_plane: f64,
    /// Distance along the axis, from the back face, that the fixture surely takes up.
    pub fixture_along: f64,
    /// Machine direction from the back face into the part, +1 or -1.
    pub top_sign: f64,
    /// Ranges of the programmed A in which something dips too near to the table.
    pub forbidden: Vec<Forbidden>,
}

/// A hole of the card, where the program should cut it.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Id of the feature.
    pub id: String,
    /// X in the program.
    pub x: f64,
    /// Y in the program.
    pub y: f64,
    /// A in the program, 0 to 360.
    pub a: f64,
    /// Z of the surface in the program.
    pub surface: f64,
    /// Z of the tip at the bottom.
    pub bottom: f64,
    /// Radius of the surface: what turns an angle into a distance.
    pub radius: f64,
    /// Diameter, or the size that a bore aims for.
    pub diameter: f64,
    /// Smallest and largest size allowed, for a bore that is cut to size.
    pub window: Option<(f64, f64)>,
    /// Diameter of the position zone.
    pub zone: f64,
    /// Number of the tool that cuts it.
    pub tool: u32,
}

/// The plan of a tool.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolPlan {
    /// Number.
    pub number: u32,
    /// Diameter, mm.
    pub diameter: f64,
    /// Length, mm.
    pub length: f64,
    /// Spindle speed of the plan, rpm.
    pub speed: f64,
    /// Feed of the plan, mm per turn.
    pub feed: f64,
    /// Feed under which the chip gets thinner than the margin allows, mm per turn.
    pub least_feed: f64,
}

/// A range of the rotary in which something dips too near to the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Forbidden {
    /// What dips.
    pub what: String,
    /// Start of the range, programmed A, going up.
    pub from: f64,
    /// End of it.
    pub to: f64,
}

impl Expected {
    /// Works out what a setup asks of a program.
    ///
    /// # Errors
    /// A calculation refuses what stands on the card or was measured; its words name the input at fault.
    pub fn of(setup: &Setup<'_>) -> Result<Self, Refused> {
        let card = setup.card;
        let swing = swing(setup)?;
        let radii = card.features.iter().map(|feature| feature.radius.mm());
        let part_radius = radii.fold(card.part.diameter.mm() / 2.0, f64::max);
        let register = register_number(&card.register.name).unwrap_or(1);
        let turns = setup.work_turns();
        let forbidden = turns.map_or_else(|| Ok(Vec::new()), |turns| forbidden(setup, turns))?;
        Ok(Self {
            register,
            protected: card.register.protected.iter().filter_map(|name| register_number(name)).collect(),
            written: setup.register(),
            work_turns: turns,
            holes: turns.map_or_else(|| Ok(Vec::new()), |turns| holes(setup, turns))?,
            tools: card.tools.iter().map(|tool| plan(setup, tool)).collect::<Result<_, _>>()?,
            swing,
            index_height: swing + card.machine.swing_margin.mm(),
            part_radius,
            clearance_plane: part_radius + card.first_run.clearance.mm(),
            fixture_along: card.fixture.touch_along.mm(),
            top_sign: card.machine.top_faces.sign(),
            forbidden,
        })
    }

    /// Finds the plan of a tool.
    pub fn tool(&self, number: u32) -> Option<&ToolPlan> {
        self.tools.iter().find(|tool| tool.number == number)
    }
}

/// The outputs of a calculation.
pub(super) struct Outputs(Map<String, Value>);

impl Outputs {
    /// Returns a quantity, in the unit of the catalogue.
    pub(super) fn value(&self, key: &str) -> Option<f64> {
        let found = self.0.get(key)?;
        found.as_f64().or_else(|| found.get("value").and_then(Value::as_f64))
    }

    fn number(&self, key: &'static str) -> Result<f64, Refused> {
        self.value(key).ok_or_else(|| Refused::new(key, format!("There is no {key} with these inputs.")))
    }

    fn first(&self, key: &str) -> f64 {
        let item = self.0.get(key).and_then(Value::as_array).and_then(|list| list.first());
        item.and_then(|item| item.get("value")).and_then(Value::as_f64).unwrap_or(0.0)
    }
}

/// Makes a registered calculation.
pub(super) fn reckon(name: &str, inputs: &Value) -> Result<Outputs, Refused> {
    let none = Map::new();
    calc::reckon(name, inputs.as_object().unwrap_or(&none)).map(Outputs)
}

fn swing(setup: &Setup<'_>) -> Result<f64, Refused> {
    if let Some(swing) = setup.found.as_ref().and_then(|found| found.swing) {
        return Ok(swing);
    }
    let fixture = &setup.card.fixture;
    let points: Vec<[f64; 2]> = fixture.protruding.iter().map(|point| [point.y.mm(), point.z.mm()]).collect();
    let off_centre = setup.off_centre();
    let outputs = reckon(
        "swing-radius",
        &json!({
            "fixture_width": fixture.width.mm(), "fixture_height": fixture.height.mm(), "off_centre_y": off_centre.0,
            "off_centre_z": off_centre.1, "protruding_points": points,
            "centre_height": setup.card.machine.centre_height.mm(),
        }),
    )?;
    outputs.number("largest_swing")
}

/// The ranges of A in which a corner of the fixture or something on it comes nearer to the table than the margin.
fn forbidden(setup: &Setup<'_>, turns: WorkTurns) -> Result<Vec<Forbidden>, Refused> {
    let card = setup.card;
    let limit = card.machine.centre_height.mm() - card.machine.swing_margin.mm();
    let mut ranges = Vec::new();
    if limit <= 0.0 {
        return Ok(ranges);
    }
    for (what, y, z) in what_swings(setup) {
        let outputs = reckon(
            "forbidden-index-range",
            &json!({"point_y": y, "point_z": z, "depth_limit": limit, "work_turns": turns.word()}),
        )?;
        if let (Some(from), Some(to)) = (outputs.value("index_from"), outputs.value("index_to")) {
            ranges.push(Forbidden { what, from, to });
        }
    }
    Ok(ranges)
}

/// Lists what swings round with the fixture at A 0: its corners and what sticks out.
fn what_swings(setup: &Setup<'_>) -> Vec<(String, f64, f64)> {
    let fixture = &setup.card.fixture;
    let (half_width, half_height) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let (off_y, off_z) = setup.off_centre();
    let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
    let corners =
        corners.map(|(y, z)| ("a corner of the fixture".to_owned(), y * half_width + off_y, z * half_height + off_z));
    let sticking_out = fixture.protruding.iter().map(|point| (point.name.clone(), point.y.mm(), point.z.mm()));
    corners.into_iter().chain(sticking_out).collect()
}

fn holes(setup: &Setup<'_>, turns: WorkTurns) -> Result<Vec<Hole>, Refused> {
    setup.card.features.iter().map(|feature| hole(setup, turns, feature)).collect()
}

fn hole(setup: &Setup<'_>, turns: WorkTurns, feature: &Feature) -> Result<Hole, Refused> {
    let card = setup.card;
    let a = index(card, turns, feature)?;
    let (off_y, off_z) = setup.off_centre();
    let shift = reckon(
        "off-centre-shift",
        &json!({"off_centre_y": off_y, "off_centre_z": off_z, "work_turns": turns.word(), "index_angles": [a]}),
    )?;
    let entry = reckon(
        "entry-slope",
        &json!({
            "lateral_offset": feature.across.mm(), "surface_radius": feature.radius.mm(), "drill_diameter": feature.diameter.mm(),
        }),
    )?;
    let [x, y, z, register_a] = setup.register().unwrap_or_default();
    let centre = centreline(setup, [x, y, z], feature)?;
    let at = reckon(
        "feature-at-index",
        &json!({
            "register_x": x, "register_y": y, "register_z": z, "register_a": register_a, "program_a": a,
            "along": feature.along.mm(), "top_faces": card.machine.top_faces.word(), "across": feature.across.mm(),
            "entry_height": entry.number("entry_height")?, "centreline_y": centre.0, "centreline_z": centre.1,
            "shift_y": shift.first("shifts_y"), "shift_z": shift.first("shifts_z"),
        }),
    )?;
    let surface = at.number("program_z")?;
    Ok(Hole {
        id: feature.id.clone(),
        x: at.number("program_x")?,
        y: at.number("program_y")?,
        a,
        surface,
        bottom: surface - feature.tip_depth.mm(),
        radius: feature.radius.mm(),
        diameter: feature.bore.as_ref().map_or(feature.diameter, |bore| bore.target).mm(),
        window: feature.bore.as_ref().map(|bore| (bore.window.0.mm(), bore.window.1.mm())),
        zone: feature.position_zone.mm(),
        tool: feature.tool,
    })
}

fn index(card: &JobCard, turns: WorkTurns, feature: &Feature) -> Result<f64, Refused> {
    let outputs = reckon(
        "drawing-angle-to-index",
        &json!({
            "drawing_angle": feature.drawing_angle_deg, "drawn_direction": feature.drawn_direction.word(),
            "top_faces": card.machine.top_faces.word(), "work_turns": turns.word(),
        }),
    )?;
    outputs.number("index_angle")
}

/// Returns the centreline at the feature's X, with the slope of the axis where it was measured.
fn centreline(setup: &Setup<'_>, [x, y, z]: [f64; 3], feature: &Feature) -> Result<(f64, f64), Refused> {
    let sign = setup.card.machine.top_faces.sign();
    let slope = setup.found.as_ref().map_or((0.0, 0.0), |found| found.axis_slope);
    let outputs = reckon(
        "centreline-at-feature",
        &json!({
            "centreline_y": y, "centreline_z": z, "axis_slope_y": slope.0, "axis_slope_z": slope.1,
            "reference_x": x + sign * setup.card.fixture.touch_along.mm(), "feature_x": x + sign * feature.along.mm(),
        }),
    )?;
    Ok((outputs.number("centreline_y_at_feature")?, outputs.number("centreline_z_at_feature")?))
}

fn plan(setup: &Setup<'_>, tool: &Tool) -> Result<ToolPlan, Refused> {
    let card = setup.card;
    let speed = reckon(
        "spindle-speed",
        &json!({
            "cutting_speed": tool.cutting_speed_m_min, "tool_diameter": tool.diameter.mm(),
            "speed_limit": card.machine.spindle_max_rpm, "feed_per_rev": tool.feed_mm_rev,
        }),
    )?;
    let floor = reckon(
        "feed-floor-drill",
        &json!({
            "feed_per_rev": tool.feed_mm_rev, "point_angle": tool.point_angle_deg, "edge_radius": tool.edge_radius_um,
            "minimum_chip_ratio": tool.least_chip_factor, "chip_margin": card.first_run.chip_margin,
        }),
    )?;
    Ok(ToolPlan {
        number: tool.number,
        diameter: tool.diameter.mm(),
        length: setup.length(tool.number).unwrap_or_else(|| tool.length.mm()),
        speed: speed.number("spindle_speed")?,
        feed: tool.feed_mm_rev,
        least_feed: tool.feed_mm_rev * floor.number("feed_floor")? / 100.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::practice_cards;

    fn expected(index: usize) -> Expected {
        let card = crate::job::read(practice_cards()[index].1).unwrap();
        Expected::of(&Setup::of_card(&card)).unwrap()
    }

    // Swing of the first practice job: sqrt(52^2 + 38.5^2) of its ring screw; margin 5 (worked by hand).
    #[test]
    fn heights_of_the_first_practice_job() {
        let expected = expected(0);
        assert!((expected.swing - 64.701_236).abs() < 1e-6);
        assert!((expected.index_height - 69.701_236).abs() < 1e-6);
        assert!((expected.clearance_plane - 34.0).abs() < 1e-9);
        assert!(expected.forbidden.is_empty());
    }

    // Both practice machines bring a hole up at its drawing angle (derivation of the turning sense, ISO 841).
    #[test]
    fn holes_stand_where_the_drawing_puts_them() {
        let first: Vec<(f64, f64)> = expected(0).holes.iter().map(|hole| (hole.a, hole.x)).collect();
        assert_eq!(first, [(0.0, 28.0), (180.0, 28.0), (90.0, 36.0), (270.0, 36.0)]);
        let second: Vec<f64> = expected(1).holes.iter().map(|hole| hole.a).collect();
        for (found, wanted) in second.iter().zip([0.0, 120.0, 240.0, 60.0]) {
            assert!((found - wanted).abs() < 1e-9);
        }
        assert!(expected(1).holes.iter().all(|hole| hole.x < 0.0), "the top faces -X");
    }
}
