//! Run-out: readings round a full turn tell a part that sits off the axis from one that is squeezed out of round.

use serde_json::json;

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happening, Question, Scope, Situation, Step, Worksheet,
};
use crate::scene::{Axis, Plot, Standing};
use crate::steps::voids::{LOADED, NOTHING};

static PLACES: AskSpec = AskSpec::new(
    "run-out.places",
    AskKind::Count,
    "At how many places round the turn will you read? 8 is good; 5 to 36.",
    NOTHING,
);
static READING: AskSpec =
    AskSpec::new("run-out.reading", AskKind::Length, "Needle on the outside of the part (plus = higher).", LOADED);

/// Run-out.
pub(super) struct RunOut;

impl Step for RunOut {
    fn id(&self) -> &'static str {
        "run-out"
    }

    fn title(&self) -> &'static str {
        "run-out of a part"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &[]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        LOADED
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ALL: &[&AskSpec] = &[&PLACES, &READING];
        ALL
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("run-out.places", "gate: enough places, and not too many"),
            ("run-out.next-a", "move: the A of the next place"),
            ("run-out.eccentricity", "finding and fact: how far the part sits off the axis"),
            ("run-out.high-spot", "finding: A at which the high spot stands under the indicator"),
            ("run-out.oval", "finding and fact: high to low from a squeezed shape"),
            ("run-out.long-axis", "finding: A at which the longer diameter stands under the indicator"),
            ("run-out.residual", "finding: what neither explains"),
            ("run-out.shift", "finding: how far to shift the part, with the high spot under the indicator"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Tip clear of everything that swings before the first turn; hands clear, one place at a time.");
    sheet.trap("A squeezed part looks eccentric on two readings: shifting it makes nothing better.");
    let places = places(sheet)?;
    let mut readings = Vec::new();
    let mut angles = Vec::new();
    for place in 0..places {
        let angle = 360.0 * f64::from(place) / f64::from(places);
        let shown = sheet.angle(angle);
        sheet.set("A", shown.clone(), None, "from where you began; brake off, always turning the same way");
        let say = format!("Place {} of {places}, {shown} from where you began: needle, plus = higher.", place + 1);
        readings.push(sheet.number(Question::of(&READING).round(place).say(say))?);
        angles.push(angle);
    }
    sheet.moved();
    result(sheet, &angles, &readings)
}

/// Fewest places that tell an oval from a shift, and most that anybody reads.
const FEWEST: f64 = 5.0;
const MOST: f64 = 36.0;

fn places(sheet: &mut Worksheet<'_>) -> Option<u32> {
    let entry = sheet.answer(Question::of(&PLACES))?;
    let number = entry.number();
    sheet.gate(GateCheck {
        id: "run-out.places",
        about: String::new(),
        kind: GateKind::Stop,
        pass: (FEWEST..=MOST).contains(&number),
        measured: None,
        limit: None,
        says: (
            format!("{number} places."),
            "5 places are the fewest that tell a squeezed part from one off the axis, 36 the most that are worth it."
                .to_owned(),
        ),
        rests_on: vec![entry.seq],
    })?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the range was checked above")]
    Some(number as u32)
}

fn result(sheet: &mut Worksheet<'_>, angles: &[f64], readings: &[f64]) -> Option<()> {
    let outputs = sheet.reckon("round", "second-harmonic", json!({"angles": angles, "readings": readings}))?;
    let eccentricity = outputs.value("eccentricity")?;
    let oval = outputs.value("oval")?;
    let off = sheet.fine(eccentricity);
    sheet.finding("run-out.eccentricity", "part off the axis by", off, &outputs);
    let squeezed = sheet.fine(oval);
    if let Some(high) = outputs.value("high_point_angle") {
        let shown = sheet.angle(high);
        sheet.finding("run-out.high-spot", "high spot up at", shown, &outputs);
    }
    sheet.finding("run-out.oval", "out of round, high to low", squeezed, &outputs);
    if let Some(long) = outputs.value("long_axis_angle") {
        let shown = sheet.angle(long);
        sheet.finding("run-out.long-axis", "longer diameter up at", shown, &outputs);
    }
    if let Some(left) = outputs.value("residual_deviation") {
        let left = sheet.fine(left);
        sheet.finding("run-out.residual", "left over", left, &outputs);
    }
    let shift = sheet.fine(outputs.value("shift")?);
    sheet.finding("run-out.shift", "with the high spot up, push the part down by", shift, &outputs);
    sheet.hand("run-out.eccentricity", eccentricity, None);
    sheet.hand("run-out.oval", oval, None);
    plot(sheet, angles, readings);
    Some(())
}

fn plot(sheet: &mut Worksheet<'_>, angles: &[f64], readings: &[f64]) {
    let length = sheet.fine(0.0);
    let across = Axis { label: "turn of A", unit: "deg", resolution: 1.0 };
    let up = Axis { label: "needle", unit: length.unit.name, resolution: length.resolution };
    let mut plot = Plot::of("round the turn", across, up).round();
    for (angle, reading) in angles.iter().zip(readings) {
        plot = plot.point((*angle, length.unit.from_base(*reading)), 0.0, Standing::Taken, "");
    }
    sheet.plot(plot);
}
