//! Linear pickup: X, Y and Z of the rotary centreline in the ways that the card says, each checked a second way where it
//! can be, each with its uncertainty term by term; the slope of the axis; check touches after an interruption.

mod asks;
mod back_face;
mod budget;
mod check_touch;
mod flip;
mod names;
mod round;
mod z_and_slope;

use crate::checklist::{AskSpec, Consultation, Happening, Question, Scope, Situation, Step, Window, Worksheet};
use crate::job::XMethod;
use crate::steps::linear_pickup::asks::{MACHINE_A, TIP_RADIUS, TOUCH_HEIGHT};
use crate::steps::voids::PICKUP;

/// Linear pickup.
pub(super) struct LinearPickup;

impl Step for LinearPickup {
    fn id(&self) -> &'static str {
        "linear-pickup"
    }

    fn title(&self) -> &'static str {
        "linear pickup"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &["fixture-fit"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        PICKUP
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        asks::ALL
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        names::NAMES
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

/// How far the tip's radius may be off the card before it is questioned, millimetres.
const TIP_WINDOW_MM: f64 = 0.1;
/// Slope beyond which something is set up anew and not compensated, mm/m (D3: 0.5 mrad, a default).
const STEEPEST_MM_M: f64 = 0.5;

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Jog at the lowest step when the tip is near. Keep to the edge finder's own speed limit. Nobody else at the controls.");
    sheet.trap("A single middle is the centreline PLUS the off-centre: only the flip tells.");
    let card = sheet.card();
    let machine_a = sheet.number(Question::of(&MACHINE_A).expect(Window { low: -360.0, high: 720.0 }))?;
    let tip_on_card = card.instruments.tip_radius.mm();
    let radius = sheet.number(Question::of(&TIP_RADIUS).expect(Window::around(tip_on_card, TIP_WINDOW_MM)))?;
    let reach = card.fixture.height.mm() / 2.0;
    let height = sheet.number(Question::of(&TOUCH_HEIGHT).expect(Window::around(0.0, reach)))?;
    let first =
        if back_face::BEFORE_Y.contains(&card.datums.x.by) { Some(back_face::by_faces(sheet, radius)?) } else { None };
    let centreline = flip::centreline(sheet, radius, height, machine_a)?;
    let x = match (first, card.datums.x.by) {
        (Some(x), _) => x,
        (None, XMethod::Round) => back_face::by_round(sheet, radius, &centreline)?,
        (None, _) => back_face::by_edge(sheet, radius, &centreline)?,
    };
    let y = centreline.touched;
    let z = z_and_slope::centreline(sheet, machine_a)?;
    z_and_slope::quarter_turn(sheet, radius, &z)?;
    z_and_slope::axis_slope(sheet)?;
    z_and_slope::at_the_feature(sheet, &y)?;
    for (axis, touched) in [x, y, z].iter().enumerate() {
        back_face::as_expected(sheet, axis, touched.value, touches_of(sheet, axis))?;
    }
    sheet.hand("pickup.machine-a", machine_a, None);
    check_touch::after_interruptions(sheet, &check_touch::Standing { x, y, z })
}

/// Lists the entries that an axis rests on.
fn touches_of(sheet: &Worksheet<'_>, axis: usize) -> Vec<u64> {
    let asks: &[&AskSpec] = match axis {
        0 => &[&asks::X, &asks::X_OPPOSITE, &asks::EDGE_X, &asks::EDGE_Y, &asks::ROUND_X, &asks::SWEEP_X],
        1 => &[&asks::Y_FRONT, &asks::Y_BACK, &asks::ROUND_Y, &asks::SWEEP_Y],
        _ => &[&asks::SETTER_TOUCH, &asks::TOP_TOUCH],
    };
    let of_these = |id: &str| asks.iter().any(|ask| ask.id == id);
    sheet.at().entries.iter().filter(|entry| of_these(entry.spec.id)).map(|entry| entry.seq).collect()
}

/// Returns where a machine position along an axis (0 = X, 1 = Y, 2 = Z) can lie at all.
fn travel(sheet: &Worksheet<'_>, axis: usize) -> Window {
    let reach = sheet.card().machine.travel.get(axis).map_or(f64::INFINITY, |length| length.mm());
    Window { low: -reach, high: reach }
}
