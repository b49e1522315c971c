//! Part, features and tools.

use super::super::CardFault;
use super::super::card::{Bore, DrawnDirection, Feature, Material, Part, PressFit, Tool};
use super::super::cut::{Cut, Spot};
use super::At;
use crate::quantity::Length;

pub(super) fn part(at: &At<'_>) -> Result<Part, CardFault> {
    Ok(Part {
        name: at.text("name")?,
        drawing: at.text("drawing")?,
        revision: at.text("revision")?,
        batch: at.count("batch")?,
        diameter: at.length("diameter")?,
        material: material(&at.inside("material"))?,
    })
}

fn material(at: &At<'_>) -> Result<Material, CardFault> {
    Ok(Material {
        name: at.text("name")?,
        specific_cutting_force_mpa: at.base("specific_cutting_force")?,
        chip_exponent: at.base("chip_exponent")?,
        yield_mpa: at.base("yield_strength")?,
        work_hardens: at.flag("work_hardens")?,
        source: at.text("source")?,
    })
}

pub(super) fn feature(at: &At<'_>) -> Result<Feature, CardFault> {
    let clockwise = at.text("drawn")? == "clockwise";
    Ok(Feature {
        id: at.text("id")?,
        name: at.text("name")?,
        drawing_angle_deg: at.base("angle")?,
        drawn_direction: if clockwise { DrawnDirection::Clockwise } else { DrawnDirection::CounterClockwise },
        along: at.length("along")?,
        across: at.length("across")?,
        radius: at.length("radius")?,
        diameter: at.length("diameter")?,
        depth: at.length("depth")?,
        tip_depth: at.length("tip_depth")?,
        through: at.flag("through")?,
        position_zone: at.length("position_zone")?,
        hole_wander: at.length("hole_wander")?,
        tool: at.count("tool")?,
        cut: cut(at)?,
        bore: if at.has("bore") { Some(bore(&at.inside("bore"))?) } else { None },
    })
}

fn stated(at: &At<'_>, key: &str) -> Result<Option<Length>, CardFault> {
    if at.has(key) { at.length(key).map(Some) } else { Ok(None) }
}

fn cut(at: &At<'_>) -> Result<Cut, CardFault> {
    Ok(Cut {
        spot: if at.has("spot") { Some(spot(&at.inside("spot"))?) } else { None },
        cross_bore: stated(at, "cross_bore")?,
        breakout: at.length("breakout")?,
        room_beyond: stated(at, "room_beyond")?,
        under_holder: stated(at, "under_holder")?,
    })
}

fn spot(at: &At<'_>) -> Result<Spot, CardFault> {
    Ok(Spot { diameter: at.length("diameter")?, angle_deg: at.base("angle")?, texture: at.length("texture")? })
}

fn bore(at: &At<'_>) -> Result<Bore, CardFault> {
    Ok(Bore {
        target: at.length("target")?,
        window: at.inside("window").length_pair("smallest", "largest")?,
        pin_gauge_step: at.length("pin_gauge_step")?,
        damping: at.base("damping")?,
        guard: at.length("guard")?,
        press: if at.has("press") { Some(press_fit(&at.inside("press"))?) } else { None },
    })
}

fn press_fit(at: &At<'_>) -> Result<PressFit, CardFault> {
    Ok(PressFit {
        joint_diameter: at.length("joint_diameter")?,
        pin_diameter: at.length("pin_diameter")?,
        hub_outer_diameter: at.length("hub_outer_diameter")?,
        engagement_length: at.length("engagement_length")?,
        hub_modulus_mpa: at.base("hub_modulus")?,
        hub_poisson: at.base("hub_poisson")?,
        pin_modulus_mpa: at.base("pin_modulus")?,
        pin_poisson: at.base("pin_poisson")?,
        bore_roughness: at.length("bore_roughness")?,
        pin_roughness: at.length("pin_roughness")?,
        friction: (at.base("friction.lower")?, at.base("friction.upper")?),
    })
}

pub(super) fn tool(at: &At<'_>) -> Result<Tool, CardFault> {
    Ok(Tool {
        number: at.count("number")?,
        name: at.text("name")?,
        diameter: at.length("diameter")?,
        point_angle_deg: at.base("point_angle")?,
        length: at.length("length")?,
        cutting_speed_m_min: at.in_unit("cutting_speed", "m/min")?,
        feed_mm_rev: at.base("feed")?,
        edge_radius_um: at.in_unit("edge_radius", "um")?,
        least_chip_factor: at.base("least_chip_factor")?,
        stick_out: stated(at, "stick_out")?,
        modulus_mpa: if at.has("modulus") { Some(at.base("modulus")?) } else { None },
    })
}
