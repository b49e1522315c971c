//! What a pass takes off the two walls of a slot, in micrometres: a long cutter springs away, the thinnest passes rub.

use super::chance::Chance;

/// Engagement of a wall below which the edge rubs.
const LEAST_ENGAGEMENT: f64 = 5.0;
/// Scatter of the share that is taken.
const SHARE_SCATTER: f64 = 0.07;
/// Scatter of a cut wall.
const WALL_SCATTER: f64 = 1.5;
/// Chance that a rubbing edge takes nothing.
const TAKES_NOTHING: f64 = 0.6;

/// The luck of one pass.
pub(super) struct Luck {
    share: f64,
    wall: f64,
    rubs: [f64; 2],
}

impl Luck {
    pub(super) fn drawn(chance: &mut Chance) -> Self {
        let (share, wall) = (1.0 + SHARE_SCATTER * chance.normal(), WALL_SCATTER * chance.normal());
        Self { share, wall, rubs: [chance.uniform(), chance.uniform()] }
    }

    /// Returns what comes off each wall at these engagements, for a cutter that takes `share` of what it is set to.
    pub(super) fn taken(&self, share: f64, engaged: [f64; 2]) -> [f64; 2] {
        let [front, back] = engaged;
        if front >= LEAST_ENGAGEMENT && back >= LEAST_ENGAGEMENT {
            let both = front + back;
            let off = (share * both * self.share + std::f64::consts::SQRT_2 * self.wall).clamp(0.0, both);
            return [off * front / both, off * back / both];
        }
        let [front_rub, back_rub] = self.rubs;
        [self.one_wall(share, front, front_rub), self.one_wall(share, back, back_rub)]
    }

    fn one_wall(&self, share: f64, engaged: f64, rub: f64) -> f64 {
        if engaged >= LEAST_ENGAGEMENT {
            (share * engaged * self.share + self.wall).clamp(0.0, engaged)
        } else if rub > TAKES_NOTHING {
            engaged.max(0.0) * (rub - TAKES_NOTHING) / (1.0 - TAKES_NOTHING)
        } else {
            0.0
        }
    }
}

/// Returns whether either wall is engaged enough to be cut.
pub(super) fn cuts([front, back]: [f64; 2]) -> bool {
    front >= LEAST_ENGAGEMENT || back >= LEAST_ENGAGEMENT
}
