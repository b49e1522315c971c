//! Brief: the drawing, the view, which way things turn, and whether the error budget closes.

use serde_json::{Value, json};

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happening, Outputs, Question, Scope, Situation, Step,
    Worksheet, shown,
};
use crate::job::{Feature, JobCard, TopFaces};
use crate::steps::voids::NOTHING;

static REVISION: AskSpec = AskSpec::new(
    "brief.revision-current",
    AskKind::YesNo,
    "Is the drawing in your hand the revision on the card?",
    NOTHING,
);
static VIEW: AskSpec = AskSpec::choice(
    "brief.view",
    &["at-the-top", "from-behind"],
    "From where does the drawing show the hole angles: looking at the finished top, or from behind?",
    NOTHING,
);
static TOP_FACES: AskSpec = AskSpec::choice(
    "brief.top-faces",
    &["plus-x", "minus-x"],
    "Stand at the machine. Which way does the finished top of the part face?",
    &[Happening::RotaryMoved],
);
static READY: AskSpec = AskSpec::new(
    "brief.machine-ready",
    AskKind::YesNo,
    "Machine warmed up as its manual says, guards and interlocks working, emergency stop known, eye protection on?",
    NOTHING,
);

/// The brief.
pub(super) struct Brief;

impl Step for Brief {
    fn id(&self) -> &'static str {
        "brief"
    }

    fn title(&self) -> &'static str {
        "brief"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &[]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        &[Happening::RotaryMoved]
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[&REVISION, &VIEW, &TOP_FACES, &READY];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("brief.view-as-card", "gate: the drawing is read from the side that the card says"),
            ("brief.faces-as-card", "gate: the top faces as the card says"),
            ("brief.entry-slope", "gate: no hole starts on a slope of more than 6 degrees"),
            ("brief.index", "finding: programmed A of a feature"),
            ("brief.budget-closes", "gate: a feature's position zone leaves a share for the tram"),
            ("brief.tram-limit", "finding and fact: pad difference allowed by the error budget"),
            ("brief.tram-half-width", "finding and fact: A may be off by this much"),
            ("brief.angle-uncertainty", "fact: the tram's share as a standard uncertainty of A"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Guards and interlocks stay working. Know where the emergency stop is before you start.");
    sheet.caution("Eye protection on. No gloves, loose sleeves, rings or long hair near a turning spindle.");
    sheet.trap("Angles read from the wrong side of the drawing mirror the whole pattern.");
    let part = &sheet.card().part;
    let say = format!("Drawing {} revision {}: is that what you hold in your hand?", part.drawing, part.revision);
    sheet.tick(
        Question::of(&REVISION).say(say),
        "Stop: work only to the current revision. Get it, or change the card.",
    )?;
    view_gate(sheet)?;
    faces_gate(sheet)?;
    sheet.tick(Question::of(&READY), "Warm the machine up, and put guards and eye protection in place.")?;
    for feature in &sheet.card().features {
        index_of(sheet, feature)?;
        entry_slope(sheet, feature)?;
    }
    budget(sheet)
}

fn view_gate(sheet: &mut Worksheet<'_>) -> Option<()> {
    let answer = sheet.answer(Question::of(&VIEW))?;
    sheet.gate(GateCheck {
        id: "brief.view-as-card",
        about: String::new(),
        kind: GateKind::Stop,
        pass: answer.word() == "at-the-top",
        measured: None,
        limit: None,
        says: (
            "The angles are seen looking at the finished top, as on the card.".to_owned(),
            "The card holds angles seen looking AT the finished top. Turn every angle and its sense round on the card first: \
             read from behind, the pattern would be mirrored."
                .to_owned(),
        ),
        rests_on: vec![answer.seq],
    })
}

fn faces_gate(sheet: &mut Worksheet<'_>) -> Option<()> {
    let answer = sheet.answer(Question::of(&TOP_FACES))?;
    let card = sheet.card().machine.top_faces;
    let found = if answer.word() == "plus-x" { TopFaces::PlusX } else { TopFaces::MinusX };
    sheet.gate(GateCheck {
        id: "brief.faces-as-card",
        about: String::new(),
        kind: GateKind::Stop,
        pass: found == card,
        measured: None,
        limit: None,
        says: (
            format!("The top faces {}, as on the card.", card.word()),
            format!(
                "The card says the top faces {}. If the rotary was turned end for end, BOTH the facing and the turning sense \
                 change: put both right on the card, or the pattern is mirrored.",
                card.word()
            ),
        ),
        rests_on: vec![answer.seq],
    })
}

fn index_of(sheet: &mut Worksheet<'_>, feature: &Feature) -> Option<()> {
    let machine = &sheet.card().machine;
    // While the sense is unknown, the index is shown for the ISO 841 sense and made again after the sense test.
    let sense = machine.work_turns.unwrap_or(crate::job::WorkTurns::LeftHand);
    let outputs = sheet.reckon(
        &format!("index/{}", feature.id),
        "drawing-angle-to-index",
        json!({
            "drawing_angle": feature.drawing_angle_deg, "drawn_direction": feature.drawn_direction.word(),
            "top_faces": machine.top_faces.word(), "work_turns": sense.word(),
        }),
    )?;
    let shown = sheet.angle(outputs.value("index_angle")?);
    sheet.finding_about("brief.index", &feature.id, "programmed A", shown, &outputs);
    Some(())
}

/// Slope beyond which a drill walks and a flat is milled first: a shop rule (shop-sense, D22), not a standard.
const STEEPEST_ENTRY_DEG: f64 = 6.0;

fn entry_slope(sheet: &mut Worksheet<'_>, feature: &Feature) -> Option<()> {
    let outputs = sheet.reckon(
        &format!("entry-slope/{}", feature.id),
        "entry-slope",
        json!({"lateral_offset": feature.across.mm(), "surface_radius": feature.radius.mm(), "drill_diameter": feature.diameter.mm()}),
    )?;
    let slope = outputs.value("slope_at_centre")?;
    sheet.gate(GateCheck {
        id: "brief.entry-slope",
        about: feature.id.clone(),
        kind: GateKind::Ask,
        pass: slope <= STEEPEST_ENTRY_DEG,
        measured: Some(sheet.angle(slope)),
        limit: Some(sheet.angle(STEEPEST_ENTRY_DEG)),
        says: (
            format!("{} starts square enough.", feature.name),
            format!(
                "{} starts on a slope: the drill walks downhill. Spot-face it with an end mill first.",
                feature.name
            ),
        ),
        rests_on: Vec::new(),
    })
}

/// A share of a feature's zone: what it is of, its standard uncertainty in millimetres, and how to make it smaller.
type Share = (&'static str, f64, &'static str);

/// Lists what shares a feature's zone with the tram.
fn shares(card: &JobCard, feature: &Feature) -> [Share; 8] {
    let (budget, machine) = (&card.budget, &card.machine);
    let turned = |degrees: f64| feature.radius.mm() * degrees.to_radians();
    [
        ("Y pickup", budget.y_pickup.mm(), "touch at centre height, more often, or with a better instrument"),
        ("off-centre", budget.off_centre.mm(), "measure it by the flip at four angles"),
        ("axis slope", budget.axis_slope.mm(), "pick up Y where the tight feature is"),
        ("part in fixture", budget.part_in_fixture.mm(), "a closer ring, or clock every piece"),
        ("hole wander", feature.hole_wander.mm(), "spot first, a stiffer drill, or mill the hole"),
        ("positioning", budget.positioning.mm(), "warm the machine up and come from one side"),
        ("index accuracy", turned(machine.index_accuracy_deg), "correct the index, or a better rotary"),
        ("rotary repeat", turned(machine.rotary_repeat_deg), "always finish the turn from the same side, brake on"),
    ]
}

/// Gives the standard uncertainties that share a feature's zone with the tram, in millimetres.
pub(super) fn other_uncertainties(card: &JobCard, feature: &Feature) -> Vec<f64> {
    shares(card, feature).iter().map(|(_, uncertainty, _)| *uncertainty).collect()
}

/// Works out the budget of every feature; the tightest one sets the tram limit.
fn budget(sheet: &mut Worksheet<'_>) -> Option<()> {
    let mut tightest: Option<(&Feature, f64)> = None;
    for feature in &sheet.card().features {
        let limit = closes(sheet, feature)?;
        if tightest.is_none_or(|(_, least)| limit < least) {
            tightest = Some((feature, limit));
        }
    }
    let card = sheet.card();
    let (critical, _) = tightest?;
    let outputs = sheet.reckon(
        "tram-tolerance",
        "tram-tolerance",
        json!({
            "position_zone": critical.position_zone.mm(), "feature_radius": critical.radius.mm(),
            "other_uncertainties": other_uncertainties(card, critical), "pad_span": card.fixture.pad_span.mm(),
        }),
    )?;
    let limit = outputs.value("pad_difference_limit")?;
    let half_width = outputs.value("angle_half_width")?;
    let shown_limit = sheet.fine(limit);
    sheet.finding_about("brief.tram-limit", &critical.id, "pad difference allowed", shown_limit, &outputs);
    sheet.finding_about(
        "brief.tram-half-width",
        &critical.id,
        "A may be off by",
        shown(half_width, "deg", 0.001),
        &outputs,
    );
    sheet.hand("brief.tram-limit", limit, None);
    sheet.hand("brief.tram-half-width", half_width, None);
    sheet.hand("brief.angle-uncertainty", outputs.value("angle_uncertainty")?, None);
    Some(())
}

/// Stops where a feature's zone leaves nothing for the tram, and says what would help most.
fn closes(sheet: &mut Worksheet<'_>, feature: &Feature) -> Option<f64> {
    let card = sheet.card();
    let shares = shares(card, feature);
    let terms: Vec<Value> =
        shares.iter().map(|(name, uncertainty, _)| json!({"name": name, "uncertainty": uncertainty})).collect();
    let outputs = sheet.reckon(
        &format!("budget/{}", feature.id),
        "tram-budget",
        json!({
            "position_zone": feature.position_zone.mm(), "feature_radius": feature.radius.mm(),
            "pad_span": card.fixture.pad_span.mm(), "terms": terms,
        }),
    )?;
    let least = sheet.fine(outputs.value("least_zone")?);
    let zone = sheet.fine(feature.position_zone.mm());
    sheet.gate(GateCheck {
        id: "brief.budget-closes",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: outputs.flag("closes")?,
        measured: Some(least.clone()),
        limit: Some(zone.clone()),
        says: (
            format!("{}: the zone leaves a share for the tram.", feature.name),
            format!(
                "{}: no tram is good enough. Everything else alone uses a zone of {least}, and the drawing gives {zone}. What helps, the most first: {} Touching at centre height, more repeats and a better instrument shrink the pickup; a larger pad span only makes a tram easier to prove.",
                feature.name,
                ranked_help(&outputs, &shares)
            ),
        ),
        rests_on: Vec::new(),
    })?;
    Some(outputs.value("pad_difference_limit").unwrap_or(f64::INFINITY))
}

/// How many ways out are said.
const WAYS_OUT: usize = 3;

fn ranked_help(outputs: &Outputs, shares: &[Share]) -> String {
    let ranked = outputs.texts("ranked").into_iter().zip(outputs.values("shares")).zip(outputs.values("without"));
    let mut words = String::new();
    for ((name, share), without) in ranked.take(WAYS_OUT) {
        let way = shares.iter().find(|(known, _, _)| *known == name).map_or("", |(_, _, way)| *way);
        let enough = if without < 1.0 { "; that alone could be enough" } else { "" };
        words.push_str(&format!("{name} ({:.0} % of it): {way}{enough}. ", 100.0 * share));
    }
    words.trim_end().to_owned()
}
