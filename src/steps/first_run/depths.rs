//! How deep and how each hole is drilled: the spot before it, pecks or one stroke, the tip beyond a through hole, the
//! break into a cross bore, the reach of the tool (D22, D23; mistakes 38, 46 to 50, 52).

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Question, Worksheet, shown};
use crate::job::{Feature, Spot, Tool};
use crate::steps::first_run::{BREAKS_IN, CAPPED_FEED, PECKS, cutting};

/// Works out the depths of every feature.
pub(super) fn plans(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    for feature in &card.features {
        let tool = card.tools.iter().find(|tool| tool.number == feature.tool)?;
        if let Some(spot) = &feature.cut.spot {
            spotted(sheet, feature, tool, spot)?;
        }
        tip(sheet, feature, tool)?;
        reach(sheet, feature, tool)?;
    }
    Some(())
}

/// A spot goes deep enough for a full ring on the round surface, and its angle is no smaller than the drill's.
fn spotted(sheet: &mut Worksheet<'_>, feature: &Feature, tool: &Tool, spot: &Spot) -> Option<()> {
    let outputs = sheet.reckon(
        &format!("spot/{}", feature.id),
        "spot-depth",
        json!({
            "spot_diameter": spot.diameter.mm(), "spot_angle": spot.angle_deg, "surface_radius": feature.radius.mm(),
            "texture_depth": spot.texture.mm(),
        }),
    )?;
    let depth = sheet.fine(outputs.value("depth")?);
    sheet.finding_about(
        "run.spot-depth",
        &feature.id,
        "spot this deep for a full ring, texture and drop counted",
        depth,
        &outputs,
    );
    let (angle, drill) = (shown(spot.angle_deg, "deg", 0.1), shown(tool.point_angle_deg, "deg", 0.1));
    sheet.gate(GateCheck {
        id: "run.spot-angle",
        about: feature.id.clone(),
        kind: GateKind::Ask,
        pass: spot.angle_deg >= tool.point_angle_deg,
        measured: Some(angle.clone()),
        limit: Some(drill.clone()),
        says: (
            "The drill's point touches first.".to_owned(),
            format!(
                "{}: the spot of {angle} is narrower than the drill's {drill}: the lips strike the ring before the point, and chip. A spot drill of {drill} or more.",
                feature.name
            ),
        ),
        rests_on: Vec::new(),
    })
}

/// The full diameter reaches as deep as it must, and the tip stays clear of what lies beyond.
fn tip(sheet: &mut Worksheet<'_>, feature: &Feature, tool: &Tool) -> Option<()> {
    let outputs = sheet.reckon(
        &format!("through/{}", feature.id),
        "through-hole-depth",
        json!({
            "wall_thickness": feature.depth.mm(), "drill_diameter": tool.diameter.mm(), "point_angle": tool.point_angle_deg,
            "breakout": feature.cut.breakout.mm(),
        }),
    )?;
    let full = sheet.fine(feature.tip_depth.mm() - outputs.value("point_length")?);
    sheet.finding_about("run.full-depth", &feature.id, "full diameter down to", full, &outputs);
    if !feature.through {
        return Some(());
    }
    let (wanted, found) = (outputs.value("depth")?, feature.tip_depth.mm());
    let (wanted_shown, found_shown) = (sheet.fine(wanted), sheet.fine(found));
    sheet.gate(GateCheck {
        id: "run.through",
        about: feature.id.clone(),
        kind: GateKind::Ask,
        pass: found + 1e-9 >= wanted,
        measured: Some(found_shown.clone()),
        limit: Some(wanted_shown.clone()),
        says: (
            format!("{} goes right through.", feature.name),
            format!(
                "{} would not go through: wall, point of the drill and breakout want a tip depth of {wanted_shown}, the card has {found_shown}.",
                feature.name
            ),
        ),
        rests_on: Vec::new(),
    })?;
    beyond(sheet, feature, found - feature.depth.mm())
}

fn beyond(sheet: &mut Worksheet<'_>, feature: &Feature, out: f64) -> Option<()> {
    let Some(room) = feature.cut.room_beyond else { return Some(()) };
    let (out_shown, room_shown) = (sheet.fine(out), sheet.fine(room.mm()));
    sheet.gate(GateCheck {
        id: "run.room-beyond",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: out < room.mm(),
        measured: Some(out_shown.clone()),
        limit: Some(room_shown.clone()),
        says: (
            "The tip stays clear of what lies beyond.".to_owned(),
            format!("{}: the tip comes out by {out_shown} and only {room_shown} is free beyond: it would drill into the fixture or the table.", feature.name),
        ),
        rests_on: Vec::new(),
    })
}

/// The holder stays over the fixture at full depth, and the tool stands out no further than it must.
fn reach(sheet: &mut Worksheet<'_>, feature: &Feature, tool: &Tool) -> Option<()> {
    let Some(stick_out) = tool.stick_out else { return Some(()) };
    let card = sheet.card();
    let swing = sheet.at().handed.number("fit.swing")?;
    let under = feature.cut.under_holder.map_or(swing, crate::quantity::Length::mm);
    let outputs = sheet.reckon(
        &format!("reach/{}", feature.id),
        "stick-out-needed",
        json!({
            "obstacle_radius": under, "hole_bottom_radius": (feature.radius.mm() - feature.tip_depth.mm()).max(0.0),
            "safety_margin": card.machine.swing_margin.mm(),
        }),
    )?;
    let needed = outputs.value("stick_out")?;
    let (needed_shown, found) = (sheet.length(needed, 0.1), sheet.length(stick_out.mm(), 0.1));
    sheet.finding_about(
        "run.stick-out",
        &feature.id,
        "tool out of the holder at least, and not a millimetre more",
        needed_shown.clone(),
        &outputs,
    );
    sheet.gate(GateCheck {
        id: "run.stick-out",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: stick_out.mm() >= needed,
        measured: Some(found.clone()),
        limit: Some(needed_shown.clone()),
        says: (
            "The holder stays clear of the fixture.".to_owned(),
            format!(
                "{}: tool {} stands out by {found} and needs {needed_shown}: the HOLDER would run into what stands under it before the hole is deep enough. A longer tool, or state on the card what really stands under the holder.",
                feature.name, tool.number
            ),
        ),
        rests_on: Vec::new(),
    })?;
    bends(sheet, tool, stick_out.mm())
}

/// Side force for which a bend is shown, newtons: a figure to compare tools by, not a force of this cut.
const SIDE_FORCE_N: f64 = 10.0;
/// Share of the diameter that bends like a solid rod where flutes are ground in (D23).
const FLUTED: f64 = 0.8;

fn bends(sheet: &mut Worksheet<'_>, tool: &Tool, stick_out: f64) -> Option<()> {
    let (about, Some(modulus)) = (format!("t{}", tool.number), tool.modulus_mpa) else { return Some(()) };
    if sheet.reckoned(&format!("bends/{about}")).is_some() {
        return Some(());
    }
    let outputs = sheet.reckon(
        &format!("bends/{about}"),
        "tool-deflection",
        json!({
            "side_force": SIDE_FORCE_N, "flute_length": stick_out, "flute_diameter": FLUTED * tool.diameter.mm(),
            "elastic_modulus": modulus,
        }),
    )?;
    let bend = sheet.length(outputs.value("deflection")?, 0.0001);
    sheet.finding_about("run.bends", &about, "bends at the tip for every 10 N from the side", bend, &outputs);
    Some(())
}

/// Most pecks that are named one by one.
const MOST_PECKS_NAMED: usize = 12;

/// What the program must do beside its end points, asked where it applies: pecks, a capped speed, a break into a bore.
pub(super) fn asked(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    for (round, feature) in (0_u32..).zip(&card.features) {
        let about = format!("t{}", feature.tool);
        if let Some(speed) = sheet.reckoned(&format!("speed/{about}")) {
            capped(sheet, round, feature, &speed)?;
        }
        let tool = card.tools.iter().find(|tool| tool.number == feature.tool)?;
        let pecks = cutting::pecks(sheet, &feature.id, feature.depth.mm(), tool)?;
        pecked(sheet, round, feature, &pecks)?;
        breaks_in(sheet, round, feature)?;
    }
    Some(())
}

fn capped(sheet: &mut Worksheet<'_>, round: u32, feature: &Feature, speed: &Outputs) -> Option<()> {
    let first = sheet.card().features.iter().position(|other| other.tool == feature.tool);
    if !speed.flag("limited")? || first != usize::try_from(round).ok() {
        return Some(());
    }
    let rpm = shown(speed.value("spindle_speed")?, "rpm", 1.0);
    let feed = shown(speed.value("feed_rate")?, "mm/min", 0.1);
    let say = format!(
        "Tool {}: the speed is capped at {rpm}, so the feed per turn holds only with a feed of {feed}. Are that S and that F what the screen shows?",
        feature.tool
    );
    sheet.tick(
        Question::of(&CAPPED_FEED).round(round).say(say),
        "The feed was reckoned from a speed that the spindle does not reach: put the F word right, from the capped speed.",
    )
}

fn pecked(sheet: &mut Worksheet<'_>, round: u32, feature: &Feature, pecks: &Outputs) -> Option<()> {
    if pecks.word("drilling_way")? == "continuous" {
        return Some(());
    }
    let ratio = shown(pecks.value("depth_ratio")?, "1", 0.1);
    if pecks.word("drilling_way")? == "special" {
        sheet.gate(GateCheck {
            id: "run.special-drill",
            about: feature.id.clone(),
            kind: GateKind::Ask,
            pass: false,
            measured: Some(ratio.clone()),
            limit: Some(shown(8.0, "1", 0.1)),
            says: (String::new(), format!("{} is {ratio} diameters deep, beyond 8 a special drill, coolant through it and a pilot are wanted.", feature.name)),
            rests_on: Vec::new(),
        })?;
    }
    let depths = pecks.values("peck_depths");
    let named: Vec<String> =
        depths.iter().take(MOST_PECKS_NAMED).map(|depth| sheet.length(*depth, 0.01).to_string()).collect();
    let more = if depths.len() > MOST_PECKS_NAMED { ", ..." } else { "" };
    let say = format!(
        "{} ({ratio} diameters): {} pecks to {}{more}, the fewest that clear the chips. Does the program peck no smaller, come out each time, go in at full feed, and never dwell?",
        feature.name,
        depths.len(),
        named.join(", ")
    );
    sheet.tick(
        Question::of(&PECKS).round(round).say(say),
        "Change the program: each small peck and each dwell rubs a hard skin that the next lip must cut.",
    )
}

fn breaks_in(sheet: &mut Worksheet<'_>, round: u32, feature: &Feature) -> Option<()> {
    let (Some(bore), Some(tool)) =
        (feature.cut.cross_bore, sheet.card().tools.iter().find(|tool| tool.number == feature.tool))
    else {
        return Some(());
    };
    let outputs = sheet.reckon(
        &format!("breakout/{}", feature.id),
        "cross-bore-breakout",
        json!({"hole_diameter": tool.diameter.mm(), "cross_bore_diameter": bore.mm()}),
    )?;
    let length = sheet.fine(outputs.value("interrupted_length")?);
    sheet.finding_about(
        "run.breaks-in",
        &feature.id,
        "cuts only part of its circle over the last",
        length.clone(),
        &outputs,
    );
    let say = format!(
        "{} breaks into the cross bore: over the last {length} the drill grabs. Feed kept above its floor right through, hand off the feed override there?",
        feature.name
    );
    sheet.tick(
        Question::of(&BREAKS_IN).round(round).say(say),
        "Letting go of the feed at the break-in lets the drill grab and snap: leave the override alone there.",
    )
}
