//! A bore cut to size in passes that never go past the target, and the press fit it is for (R8, R9, D24, D25).

use serde_json::json;

use crate::checklist::{
    AskKind, AskSpec, Entry, GateCheck, GateKind, Outputs, Question, Reader, Window, Worksheet, shown,
};
use crate::job::{Bore, CardUnit, Depth, Feature, PressFit};
use crate::steps::voids::{NOTHING, PROVEN};

pub(super) static PROGRAMMED: AskSpec =
    AskSpec::new("run.bore-programmed", AskKind::Length, "Bore diameter programmed for this pass.", NOTHING);
pub(super) static GO: AskSpec = AskSpec::new(
    "run.bore-go",
    AskKind::Length,
    "Spindle stopped, tool up, bore clean and cool: the largest pin that GOES.",
    NOTHING,
);
pub(super) static NO_GO: AskSpec =
    AskSpec::new("run.bore-no-go", AskKind::Length, "The smallest pin that does NOT go.", NOTHING);
pub(super) static GAUGE: AskSpec =
    AskSpec::new("run.bore-gauge", AskKind::Length, "The same bore by bore gauge.", NOTHING)
        .read_once_by(Reader::BoreGauge);
pub(super) static LEAD_IN: AskSpec = AskSpec::new(
    "run.press-ready",
    AskKind::YesNo,
    "Press: lead-in chamfer, vent for trapped air and oil, burrs off where the bores meet, shield and eye protection?",
    PROVEN,
);
pub(super) static PRESS_FORCE: AskSpec = AskSpec::new(
    "run.press-force",
    AskKind::Force,
    "One even stroke. Force at full depth, where a gauge shows it.",
    PROVEN,
);

/// Passes after which something else is wrong.
const MOST_PASSES: u32 = 20;

struct Pass {
    programmed: f64,
    middle: f64,
}

/// The largest bore that may be programmed next, millimetres, and why.
struct MostNext {
    programmed: f64,
    why: &'static str,
}

/// Share of what is missing that a second pass may take while the response is unknown: a response of 1.5 still stays
/// below the target (shop rule).
const SECOND_PASS_SHARE: f64 = 2.0 / 3.0;

/// Goes through the passes until the bore is inside its window, then judges the press fit.
pub(super) fn to_size(sheet: &mut Worksheet<'_>, feature: &Feature, bore: &Bore) -> Option<()> {
    let first = first_round(sheet, feature);
    let mut passes: Vec<Pass> = Vec::new();
    let mut most = MostNext { programmed: f64::INFINITY, why: "" };
    for number in 0..MOST_PASSES {
        let round = first + number;
        let pass = one_pass(sheet, feature, bore, (round, &most))?;
        let (low, high) = bore.window;
        if pass.middle > high.mm() {
            return too_large(sheet, feature, bore, round, pass.middle);
        }
        let inside = low.mm() <= pass.middle;
        passes.push(pass);
        if inside {
            sheet.moved();
            return finished(sheet, feature, bore, round);
        }
        most = next_pass(sheet, feature, bore, (round, &passes))?;
    }
    None
}

/// Rounds of different bores are kept apart by the feature's place on the card.
fn first_round(sheet: &Worksheet<'_>, feature: &Feature) -> u32 {
    let place = sheet.card().features.iter().position(|other| other.id == feature.id).unwrap_or(0);
    u32::try_from(place).unwrap_or(0) * 100
}

fn one_pass(
    sheet: &mut Worksheet<'_>,
    feature: &Feature,
    bore: &Bore,
    (round, most): (u32, &MostNext),
) -> Option<Pass> {
    sheet.caution("Spindle stopped and tool up before gauging. Gauge only a clean, cool bore.");
    let reach = bore.target.mm() / 10.0;
    let window = Window::around(bore.target.mm(), reach);
    let say = format!("{}, pass {}: bore diameter programmed.", feature.name, round % 100 + 1);
    let programmed = sheet.answer(Question::of(&PROGRAMMED).round(round).say(say).expect(window))?;
    not_too_far(sheet, feature, (round, programmed), most)?;
    let programmed = programmed.number();
    let go = sheet.answer(Question::of(&GO).round(round).expect(window))?;
    let no_go = sheet.answer(Question::of(&NO_GO).round(round).expect(window))?;
    let outputs = sheet.reckon(
        &format!("pins/{round}"),
        "pin-gauge-bracket",
        json!({"go_size": go.number(), "no_go_size": no_go.number(), "gauge_limit": 0.0}),
    )?;
    let middle = outputs.value("bore_estimate")?;
    let about = format!("{}/{}", feature.id, round % 100 + 1);
    let shown_middle = sheet.fine(middle);
    sheet.finding_about("run.bore-middle", &about, "bore", shown_middle, &outputs);
    sheet.with_uncertainty(outputs.value("standard_uncertainty")?);
    if sheet.card().depth > Depth::Quick {
        gauge_agrees(sheet, round, middle, bore)?;
    }
    Some(Pass { programmed, middle })
}

fn gauge_agrees(sheet: &mut Worksheet<'_>, round: u32, middle: f64, bore: &Bore) -> Option<()> {
    let step = bore.pin_gauge_step.mm();
    let window = Window::around(middle, step + 2.0 * sheet.card().instruments.bore_gauge.resolution.mm());
    let question = Question::of(&GAUGE).round(round).expect(window);
    sheet.measure(question).map(|_| ())
}

/// One big last pass is how a bore comes out too large: no pass goes further than was worked out, but for the last digit.
fn not_too_far(
    sheet: &mut Worksheet<'_>,
    feature: &Feature,
    (round, programmed): (u32, &Entry),
    most: &MostNext,
) -> Option<()> {
    if most.programmed.is_infinite() {
        return Some(());
    }
    let (found, limit) = (sheet.at_least_increment(programmed.number()), sheet.fine(most.programmed));
    sheet.gate(GateCheck {
        id: "run.bore-pass",
        about: format!("{}/{}", feature.id, round % 100 + 1),
        kind: GateKind::Stop,
        pass: programmed.number() <= most.programmed + sheet.card().machine.least_length.mm(),
        measured: Some(found.clone()),
        limit: Some(limit.clone()),
        says: (
            "The pass goes no further than was worked out.".to_owned(),
            format!("A bore of {found} programmed now goes too far, {limit} is the most: {}. Do not cut it; program the smaller pass, and type that.", most.why),
        ),
        rests_on: vec![programmed.seq],
    })
}

fn next_pass(
    sheet: &mut Worksheet<'_>,
    feature: &Feature,
    bore: &Bore,
    (round, passes): (u32, &[Pass]),
) -> Option<MostNext> {
    let (first, latest) = (passes.first()?, passes.last()?);
    if passes.len() < 2 {
        // One pass tells nothing about the response: the next one takes half of what is missing.
        let half = latest.programmed + (bore.target.mm() - latest.middle) / 2.0;
        let to = sheet.at_least_increment(half);
        sheet.set("bore", to, None, format!("{}: second pass, half of what is missing", feature.name));
        let programmed = latest.programmed + (bore.target.mm() - latest.middle) * SECOND_PASS_SHARE;
        return Some(MostNext { programmed, why: "after one pass nobody knows yet how the cutter answers" });
    }
    let outputs = sheet.reckon(
        &format!("next-pass/{round}"),
        "bore-next-pass",
        json!({
            "target_bore": bore.target.mm(), "programmed_first": first.programmed, "measured_first": first.middle,
            "programmed_second": latest.programmed, "measured_second": latest.middle, "damping": bore.damping,
        }),
    )?;
    let about = format!("{}/{}", feature.id, round % 100 + 1);
    sheet.finding_about(
        "run.bore-response",
        &about,
        "measured over programmed",
        shown(outputs.value("response_ratio")?, "1", 0.001),
        &outputs,
    );
    let to = sheet.fine(outputs.value("programmed_next")?);
    sheet.finding_about("run.bore-next", &about, "program next", to.clone(), &outputs);
    sheet.set("bore", to, None, format!("{}: bore to program next, damped, never past the target", feature.name));
    Some(MostNext {
        programmed: outputs.value("programmed_next")?,
        why: "the last pass is damped and never goes past the target",
    })
}

fn too_large(sheet: &mut Worksheet<'_>, feature: &Feature, bore: &Bore, round: u32, middle: f64) -> Option<()> {
    let rests_on =
        [&GO, &NO_GO].into_iter().flat_map(|spec| sheet.standing(spec.id, round)).map(|entry| entry.seq).collect();
    sheet.gate(GateCheck {
        id: "run.bore-size",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: false,
        measured: Some(sheet.fine(middle)),
        limit: Some(sheet.fine(bore.window.1.mm())),
        says: (
            String::new(),
            "The bore is over its window. A warm bore or a chip under the pin? Clean, cool, gauge again; if it stays, set the piece aside.".to_owned(),
        ),
        rests_on,
    })
}

fn finished(sheet: &mut Worksheet<'_>, feature: &Feature, bore: &Bore, round: u32) -> Option<()> {
    let pins = Outputs { role: format!("pins/{round}"), map: serde_json::Map::new() };
    let (go, no_go) = (last(sheet, &GO, round)?, last(sheet, &NO_GO, round)?);
    let middle = f64::midpoint(go.number(), no_go.number());
    let size = sheet.fine(middle);
    sheet.finding_about("run.bore-size", &feature.id, "bore, inside its window", size.clone(), &pins);
    sheet.hand_about("run.bore-size", &feature.id, middle, None);
    sheet.gate(GateCheck {
        id: "run.bore-size",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: true,
        measured: Some(size),
        limit: Some(sheet.fine(bore.target.mm())),
        says: ("The bore is inside its window: stop boring.".to_owned(), String::new()),
        rests_on: vec![go.seq, no_go.seq],
    })?;
    match &bore.press {
        Some(press) => press_fit(sheet, feature, press, middle),
        None => Some(()),
    }
}

fn last<'a>(sheet: &Worksheet<'a>, spec: &AskSpec, round: u32) -> Option<&'a Entry> {
    sheet.standing(spec.id, round).last().copied()
}

fn press_fit(sheet: &mut Worksheet<'_>, feature: &Feature, press: &PressFit, bore: f64) -> Option<()> {
    let outputs = sheet.reckon(
        &format!("press/{}", feature.id),
        "press-fit-pressure",
        json!({
            "fit_diameter": press.joint_diameter.mm(), "hub_outside_diameter": press.hub_outer_diameter.mm(),
            "hub_modulus": press.hub_modulus_mpa, "hub_poisson": press.hub_poisson, "pin_modulus": press.pin_modulus_mpa,
            "pin_poisson": press.pin_poisson, "interference": press.pin_diameter.mm() - bore,
            "bore_roughness": press.bore_roughness.mm() * 1000.0, "pin_roughness": press.pin_roughness.mm() * 1000.0,
            "engaged_length": press.engagement_length.mm(), "friction_low": press.friction.0, "friction_high": press.friction.1,
        }),
    )?;
    let interference = sheet.length(press.pin_diameter.mm() - bore, 1e-5);
    sheet.finding_about("run.interference", &feature.id, "interference", interference, &outputs);
    let effective = sheet.length(outputs.value("effective_interference")?, 1e-5);
    sheet.finding_about("run.effective-interference", &feature.id, "effective interference", effective, &outputs);
    let (stress_unit, force_unit) = if sheet.card().unit == CardUnit::Inch { ("psi", "lbf") } else { ("MPa", "N") };
    let pressure = in_unit(outputs.value("pressure")?, stress_unit, 0.1);
    sheet.finding_about("run.press-pressure", &feature.id, "pressure", pressure, &outputs);
    let low = in_unit(outputs.value("least_force")?, force_unit, 1.0);
    sheet.finding_about("run.press-force-low", &feature.id, "least force", low, &outputs);
    let high = in_unit(outputs.value("greatest_force")?, force_unit, 1.0);
    sheet.finding_about("run.press-force-high", &feature.id, "greatest force", high, &outputs);
    stress_gate(sheet, feature, &outputs, stress_unit)?;
    sheet.tick(
        Question::of(&LEAD_IN).round(first_round(sheet, feature)),
        "Deburr, vent and shield first: a crooked or blocked pin breaks and flies.",
    )?;
    if sheet.card().depth == Depth::Record { force_gate(sheet, feature, &outputs, force_unit) } else { Some(()) }
}

fn in_unit(base: f64, unit: &str, resolution: f64) -> crate::checklist::Quantified {
    let mut quantified = shown(0.0, unit, resolution);
    quantified.value = quantified.unit.from_base(base);
    quantified
}

fn stress_gate(sheet: &mut Worksheet<'_>, feature: &Feature, outputs: &Outputs, unit: &str) -> Option<()> {
    let (stress, limit) = (outputs.value("hub_von_mises_stress")?, sheet.card().part.material.yield_mpa);
    let measured = in_unit(stress, unit, 0.1);
    sheet.finding_about("run.press-stress", &feature.id, "stress at the bore", measured.clone(), outputs);
    sheet.gate(GateCheck {
        id: "run.press-stress",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: stress <= limit,
        measured: Some(measured),
        limit: Some(in_unit(limit, unit, 1.0)),
        says: (
            "The part stays elastic.".to_owned(),
            "The part would yield or crack at the bore: a thinner pin, or a larger bore. Is the interference on diameter?".to_owned(),
        ),
        rests_on: Vec::new(),
    })
}

fn force_gate(sheet: &mut Worksheet<'_>, feature: &Feature, outputs: &Outputs, unit: &str) -> Option<()> {
    let answer = sheet.answer(Question::of(&PRESS_FORCE).round(first_round(sheet, feature)))?;
    let (low, high) = (outputs.value("least_force")?, outputs.value("greatest_force")?);
    let force = answer.number();
    sheet.gate(GateCheck {
        id: "run.press-force",
        about: feature.id.clone(),
        kind: GateKind::Ask,
        pass: (low..=high).contains(&force),
        measured: Some(in_unit(force, unit, 1.0)),
        limit: Some(in_unit(high, unit, 1.0)),
        says: (
            "The force is in its window.".to_owned(),
            "The force is outside its window: crooked start, trapped air, or another interference than measured."
                .to_owned(),
        ),
        rests_on: vec![answer.seq],
    })
}
