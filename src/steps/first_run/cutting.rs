//! The numbers of the cut: speed, feed, chip, forces, power, and the feed floor of every tool (D20 to D22).
//!
//! The cutting constants come from the card, which states their source; handbook tables differ by a fifth, and that is
//! shown with every force that rests on them.

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Worksheet, shown};
use crate::job::Tool;

/// The feed floor of a tool.
pub(super) struct Floor {
    /// Number of the tool.
    pub(super) tool: u32,
    /// Lowest feed setting, percent.
    pub(super) percent: f64,
    /// Programmed feed, millimetres per turn.
    pub(super) feed: f64,
}

/// Works out the plan of every tool that the features use, each once.
pub(super) fn plans(sheet: &mut Worksheet<'_>) -> Option<Vec<Floor>> {
    let card = sheet.card();
    let mut floors: Vec<Floor> = Vec::new();
    for feature in &card.features {
        let tool = card.tools.iter().find(|tool| tool.number == feature.tool)?;
        if floors.iter().all(|floor| floor.tool != tool.number) {
            floors.push(plan(sheet, tool)?);
        }
    }
    Some(floors)
}

fn plan(sheet: &mut Worksheet<'_>, tool: &Tool) -> Option<Floor> {
    let about = format!("t{}", tool.number);
    let speed = capped_speed(sheet, &about, tool)?;
    let loads = forces(sheet, &about, tool, &speed)?;
    power(sheet, &about, loads)?;
    depth_ratio(sheet, &about, tool)?;
    let percent = feed_floor(sheet, &about, tool)?;
    Some(Floor { tool: tool.number, percent, feed: tool.feed_mm_rev })
}

struct Speed {
    rpm: f64,
    cutting_m_min: f64,
}

fn capped_speed(sheet: &mut Worksheet<'_>, about: &str, tool: &Tool) -> Option<Speed> {
    let outputs = sheet.reckon(
        &format!("speed/{about}"),
        "spindle-speed",
        json!({
            "cutting_speed": tool.cutting_speed_m_min, "tool_diameter": tool.diameter.mm(),
            "speed_limit": sheet.card().machine.spindle_max_rpm, "feed_per_rev": tool.feed_mm_rev,
        }),
    )?;
    let rpm = outputs.value("spindle_speed")?;
    let label = if outputs.flag("limited")? { "spindle speed, capped: the feed follows it" } else { "spindle speed" };
    sheet.finding_about("run.speed", about, label, shown(rpm, "rpm", 0.1), &outputs);
    let feed = outputs.value("feed_rate")?;
    sheet.finding_about("run.feed", about, "feed", shown(feed, "mm/min", 0.1), &outputs);
    Some(Speed { rpm, cutting_m_min: outputs.value("actual_cutting_speed")? })
}

/// Half width by which handbook tables of the specific cutting force differ, as a share (stated on the practice cards).
const TABLES_DIFFER: f64 = 0.2;

/// Gives a force the spread of the tables as a standard uncertainty.
fn with_spread(sheet: &mut Worksheet<'_>, value: f64) {
    sheet.with_uncertainty(value * TABLES_DIFFER / 3.0_f64.sqrt());
}

/// Works out the forces; returns the power needed, kilowatts.
fn forces(sheet: &mut Worksheet<'_>, about: &str, tool: &Tool, speed: &Speed) -> Option<(f64, f64)> {
    let material = &sheet.card().part.material;
    let outputs = sheet.reckon(
        &format!("loads/{about}"),
        "drill-loads",
        json!({
            "drill_diameter": tool.diameter.mm(), "feed_per_rev": tool.feed_mm_rev, "cutting_speed": speed.cutting_m_min,
            "point_angle": tool.point_angle_deg, "specific_force": material.specific_cutting_force_mpa,
            "chip_exponent": material.chip_exponent,
        }),
    )?;
    let chip = sheet.length(outputs.value("chip_thickness")?, 0.0001);
    sheet.finding_about("run.chip", about, "chip thickness", chip, &outputs);
    let thrust = outputs.value("thrust")?;
    let label = "thrust (30 to 60 % more with a plain point)";
    sheet.finding_about("run.thrust", about, label, shown(thrust, "N", 0.1), &outputs);
    with_spread(sheet, thrust);
    let torque = outputs.value("torque")?;
    sheet.finding_about("run.torque", about, "torque", shown(torque, "N m", 0.001), &outputs);
    with_spread(sheet, torque);
    Some((outputs.value("power")?, speed.rpm))
}

fn power(sheet: &mut Worksheet<'_>, about: &str, (needed, rpm): (f64, f64)) -> Option<()> {
    let (machine, material) = (&sheet.card().machine, &sheet.card().part.material);
    let outputs = sheet.reckon(
        &format!("power/{about}"),
        "spindle-power-available",
        json!({"rated_power": machine.spindle_power_kw, "base_speed": machine.spindle_base_rpm, "spindle_speed": rpm}),
    )?;
    let available = outputs.value("available_power")?;
    sheet.gate(GateCheck {
        id: "run.power",
        about: about.to_owned(),
        kind: GateKind::Ask,
        pass: needed <= available,
        measured: Some(shown(needed, "kW", 0.01)),
        limit: Some(shown(available, "kW", 0.01)),
        says: (
            format!(
                "The spindle has the power at that speed. (Cutting constants: {}; tables differ by a fifth.)",
                material.source
            ),
            "The spindle has not the power at that speed: a smaller feed, or a speed nearer to its base speed."
                .to_owned(),
        ),
        rests_on: Vec::new(),
    })
}

/// First peck, each peck after it, and least peck, in drill diameters: a shop rule (D22), not a standard.
const FIRST_PECK_DIAMETERS: f64 = 1.5;
const PECK_RATIO: f64 = 0.7;
const LEAST_PECK_DIAMETERS: f64 = 0.5;

/// Works out in which steps a feature is drilled.
pub(super) fn pecks(sheet: &mut Worksheet<'_>, about: &str, depth: f64, tool: &Tool) -> Option<Outputs> {
    let diameter = tool.diameter.mm();
    sheet.reckon(
        &format!("pecks/{about}"),
        "peck-schedule",
        json!({
            "depth": depth, "drill_diameter": diameter, "first_peck": FIRST_PECK_DIAMETERS * diameter,
            "peck_ratio": PECK_RATIO, "least_peck": LEAST_PECK_DIAMETERS * diameter,
        }),
    )
}

/// Shows depth over diameter of the deepest hole that a tool drills, and why that means one stroke or pecks.
fn depth_ratio(sheet: &mut Worksheet<'_>, about: &str, tool: &Tool) -> Option<()> {
    let drilled = sheet.card().features.iter().filter(|feature| feature.tool == tool.number);
    let deepest = drilled.map(|feature| feature.depth.mm()).fold(0.0, f64::max);
    let outputs = pecks(sheet, about, deepest, tool)?;
    let ratio = outputs.value("depth_ratio")?;
    let label = match outputs.word("drilling_way")? {
        "continuous" => "depth over diameter: one continuous stroke, up to 3 the chips still clear",
        "peck" => "depth over diameter: peck, the fewest that clear the chips",
        _ => "depth over diameter: a special drill is wanted",
    };
    sheet.finding_about("run.depth-ratio", about, label, shown(ratio, "1", 0.01), &outputs);
    Some(())
}

fn feed_floor(sheet: &mut Worksheet<'_>, about: &str, tool: &Tool) -> Option<f64> {
    let outputs = sheet.reckon(
        &format!("floor/{about}"),
        "feed-floor-drill",
        json!({
            "feed_per_rev": tool.feed_mm_rev, "point_angle": tool.point_angle_deg, "edge_radius": tool.edge_radius_um,
            "minimum_chip_ratio": tool.least_chip_factor, "chip_margin": sheet.card().first_run.chip_margin,
        }),
    )?;
    let floor = outputs.value("feed_floor")?;
    let label = if outputs.flag("programmed_feed_rubs")? {
        "feed floor: the programmed chip is below the margin, look at the feed"
    } else {
        "feed floor (handbook-type constants, a factor of two either way)"
    };
    sheet.finding_about("run.feed-floor", about, label, shown(floor, "%", 0.1), &outputs);
    Some(floor)
}
