//! What the edge finder, the setter and the indicator on the fixture's edge show at the pickup.

use crate::job::TipSide;
use crate::shop::whole::{Moment, Shop};

impl Shop {
    pub(super) fn touches(&mut self, at: &Moment<'_>) -> Option<String> {
        let instruments = self.card.instruments.clone();
        let (edge, setter, lever) = (&instruments.edge_finder, &instruments.setter, &instruments.lever);
        let (top, plus) = (self.truth.half.1 + self.truth.off_centre.1, at.ask.id.ends_with("plus"));
        Some(match at.ask.id {
            "pickup.machine-a" => {
                self.control.turn(self.truth.pickup_a, 0.0);
                self.angle(self.truth.pickup_a)
            }
            "pickup.tip-radius" => {
                let times = if self.is_planted("diameter-for-radius") { 2.0 } else { 1.0 };
                self.length(times * instruments.tip_radius.mm(), edge.resolution)
            }
            "pickup.touch-height" => self.length(self.card.fixture.touch_height.mm(), edge.resolution),
            "pickup.x-side" => self.tip_side().to_owned(),
            "pickup.tip-clear" => {
                if let Some(to) = at.answer.machine_move.as_ref().filter(|to| to.axis == "A") {
                    self.control.turn(to.to.value, 0.0);
                }
                "yes".to_owned()
            }
            "pickup.x" | "pickup.check-x" => self.read(at, edge, self.x_at_touch()),
            "pickup.y-front" | "pickup.y-back" => {
                let side = if at.ask.id == "pickup.y-back" { 1.0 } else { -1.0 };
                self.read(at, edge, self.y_at_touch(side))
            }
            "pickup.edge-rear" | "pickup.edge-front" => {
                let half = self.card.fixture.edge_span.mm() / 2.0 * self.truth.fixture_roll(self.truth.pickup_a).tan();
                let side = if at.ask.id == "pickup.edge-rear" { half } else { -half };
                self.read(at, lever, side)
            }
            "pickup.setter-touch" | "pickup.check-z" => {
                let table = self.truth.z - self.truth.centre_height;
                let touch = table + instruments.setter_height.mm() + instruments.reference_tool_length.mm();
                self.read(at, setter, touch)
            }
            "pickup.z-top" | "pickup.top-touch" => self.read(at, setter, self.truth.z + top),
            "pickup.y-turn-plus" | "pickup.y-turn-minus" => {
                let out = top + self.truth.tip;
                self.read(at, edge, self.truth.y + if plus { out } else { -out })
            }
            "pickup.check-y" => self.read(at, edge, self.truth.y),
            id if id.starts_with("pickup.slope-") => self.slope(at),
            _ => return None,
        })
    }

    fn tip_side(&self) -> &'static str {
        match self.card.fixture.back_face_side {
            TipSide::Plus => "plus-side",
            TipSide::Minus => "minus-side",
        }
    }

    /// Machine X where the tip touches the back face.
    pub(super) fn x_at_touch(&self) -> f64 {
        match self.card.fixture.back_face_side {
            TipSide::Plus => self.truth.x + self.truth.tip,
            TipSide::Minus => self.truth.x - self.truth.tip,
        }
    }

    /// Machine Y where the tip touches the fixture from the rear (+1) or the front (-1), with A where it stands.
    ///
    /// The fixture's four faces are turned about the axis; the one that looks to that side is touched at its height.
    fn y_at_touch(&self, side: f64) -> f64 {
        let truth = &self.truth;
        let (sine, cosine) = truth.fixture_roll(self.control.table_deg()).sin_cos();
        let height = self.card.fixture.touch_height.mm();
        let ((off_y, off_z), (half_y, half_z)) = (truth.off_centre, truth.half);
        let faces = [
            (1.0, 0.0, half_y + off_y),
            (-1.0, 0.0, half_y - off_y),
            (0.0, 1.0, half_z + off_z),
            (0.0, -1.0, half_z - off_z),
        ];
        let turned = faces.map(|(y, z, out)| (y * cosine - z * sine, y * sine + z * cosine, out));
        let looks_there = turned.iter().copied().find(|(y, _, _)| y * side > 0.7);
        let Some((normal_y, normal_z, out)) = looks_there else { return truth.y };
        truth.y + (out + truth.tip - height * normal_z) / normal_y
    }

    fn slope(&self, at: &Moment<'_>) -> String {
        let lever = &self.card.instruments.lever;
        if at.ask.id.ends_with("near") {
            return self.read(at, lever, 0.0);
        }
        let (axis, bar) = if at.ask.id.contains("slope-y") {
            (self.truth.slope.0, self.truth.bar.0)
        } else {
            (self.truth.slope.1, self.truth.bar.1)
        };
        let turned = if at.ask.round == 0 { bar } else { -bar };
        self.read(at, lever, (axis + turned) * self.card.fixture.parallel_span.mm())
    }
}
