//! The particle filter: many cutters and slots that could be, weighed by what was measured and felt. Micrometres.

use statrs::function::erf::erfc;

use super::chance::Chance;
use super::cutter::Luck;

/// How the fixture goes on the jaws.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Feel {
    NotFelt,
    WillNotStart,
    Binds,
    Slides,
    Rocks,
    /// The other slot is the tight one, and the fixture slides or rocks.
    SlidesAtLeast,
}

impl Feel {
    /// Clearances between which a hand says this word.
    const fn bounds(self) -> (f64, f64) {
        match self {
            Self::NotFelt => (f64::NEG_INFINITY, f64::INFINITY),
            Self::WillNotStart => (f64::NEG_INFINITY, BINDS_FROM),
            Self::Binds => (BINDS_FROM, SLIDES_FROM),
            Self::Slides => (SLIDES_FROM, ROCKS_FROM),
            Self::Rocks => (ROCKS_FROM, f64::INFINITY),
            Self::SlidesAtLeast => (SLIDES_FROM, f64::INFINITY),
        }
    }
}

const BINDS_FROM: f64 = -2.0;
const SLIDES_FROM: f64 = 5.0;
const ROCKS_FROM: f64 = 20.0;
/// Scatter of a hand from one try to the next, and of one job from another.
const FEEL_SCATTER: f64 = 2.0;
const FEEL_OF_THE_JOB: f64 = 1.5;
/// A hand may say anything once in a while.
const WRONG_WORD: f64 = 1e-4;
/// How many cutters in a hundred leave metal that a later pass takes, before anything is known.
const LEAVES_METAL: f64 = 0.85;
/// Least and greatest share that a cutter takes, and the most that an earlier cut could have been set to.
const SHARE: (f64, f64) = (0.3, 1.0);
const EARLIER_CUT: f64 = 60.0;
/// Particles at the start and after the first thinning.
const AT_FIRST: usize = 6000;
const LATER: usize = 2000;
const START: u64 = 12_345;

/// What is known beforehand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    /// Largest constant disagreement of the gauges.
    pub(super) disagreement: f64,
    /// Scatter of where the fixture comes back to in the vise.
    pub(super) relocation: f64,
}

impl Known {
    /// Returns the standard uncertainty of the clearance after one look, from its scatter and the gauges' disagreement.
    pub(super) fn leaves_uncertain(&self, scatter: f64) -> f64 {
        scatter.hypot(self.disagreement / 3.0_f64.sqrt())
    }
}

/// One slot and cutter that could be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Particle {
    pub(super) clearance: f64,
    pub(super) share: f64,
    /// What is left on each wall of what was commanded.
    pub(super) leftover: [f64; 2],
    leaves_metal: bool,
    disagreement: f64,
    hand: f64,
    /// Where the fixture stood in the vise.
    pub(super) stood: f64,
    pub(super) weight: f64,
}

/// The particles with their weights, which sum to 1.
pub(super) struct Filter {
    known: Known,
    pub(super) chance: Chance,
    pub(super) particles: Vec<Particle>,
}

impl Filter {
    /// Begins at the first measured clearance; `passes` tells whether cuts follow, which need more particles.
    pub(super) fn start(known: Known, measured: f64, uncertainty: f64, passes: bool) -> Self {
        let mut chance = Chance::from(START);
        let count = if passes { AT_FIRST } else { LATER };
        let mut one = |_| {
            let share = chance.between(SHARE.0, SHARE.1);
            let leaves_metal = chance.uniform() < LEAVES_METAL;
            let leftover = if leaves_metal { (1.0 - share) * chance.between(0.0, EARLIER_CUT) } else { 0.0 };
            let disagreement = chance.between(-known.disagreement, known.disagreement);
            Particle {
                clearance: measured - disagreement + uncertainty * chance.normal(),
                share,
                leftover: [leftover; 2],
                leaves_metal,
                disagreement,
                hand: FEEL_OF_THE_JOB * chance.normal(),
                stood: known.relocation * chance.normal(),
                weight: 1.0,
            }
        };
        let particles = (0..count).map(&mut one).collect();
        Self { known, chance, particles }
    }

    /// Weighs the particles by a measured clearance.
    pub(super) fn measure(&mut self, measured: f64, uncertainty: f64) {
        for particle in &mut self.particles {
            let off = (measured - particle.clearance - particle.disagreement) / uncertainty;
            particle.weight *= (-0.5 * off * off).exp();
        }
    }

    /// Weighs the particles by what the hand said.
    pub(super) fn feel(&mut self, feel: Feel) {
        if feel == Feel::NotFelt {
            return;
        }
        let (low, high) = feel.bounds();
        for particle in &mut self.particles {
            let felt = particle.clearance - particle.hand;
            particle.weight *= WRONG_WORD + below(high - felt) - below(low - felt);
        }
    }

    /// Makes a pass with this much more off each wall (minus backs off).
    pub(super) fn pass(&mut self, offset: f64) {
        for particle in &mut self.particles {
            let stands = self.known.relocation * self.chance.normal();
            let engaged = particle.engaged(offset, stands);
            let [front, back] = engaged;
            let [off_front, off_back] = Luck::drawn(&mut self.chance).taken(particle.share, engaged);
            particle.clearance += off_front + off_back;
            particle.stood = stands;
            if particle.leaves_metal {
                particle.leftover = [front - off_front, back - off_back];
            }
        }
    }

    /// Brings the weights to a sum of 1, and thins out particles that no longer count.
    pub(super) fn settle(&mut self) {
        let sum: f64 = self.particles.iter().map(|particle| particle.weight).sum();
        let even = 1.0 / count_of(self.particles.len());
        for particle in &mut self.particles {
            // Readings that no particle explains: all stand for themselves again, and the next reading decides.
            particle.weight = if sum > f64::MIN_POSITIVE { particle.weight / sum } else { even };
        }
        let counting = 1.0 / self.particles.iter().map(|particle| particle.weight.powi(2)).sum::<f64>();
        if counting < count_of(self.particles.len()) / 2.0 {
            self.thin();
        }
    }

    /// Systematic resampling with a little shaking.
    fn thin(&mut self) {
        let (mut target, step) = (self.chance.uniform() / count_of(LATER), 1.0 / count_of(LATER));
        let mut kept = Vec::with_capacity(LATER);
        let mut reached = 0.0;
        for particle in std::mem::take(&mut self.particles) {
            reached += particle.weight;
            while target <= reached && kept.len() < LATER {
                kept.push(self.shaken(particle));
                target += step;
            }
        }
        self.particles = kept;
        let even = 1.0 / count_of(self.particles.len().max(1));
        self.particles.iter_mut().for_each(|particle| particle.weight = even);
    }

    fn shaken(&mut self, mut particle: Particle) -> Particle {
        let chance = &mut self.chance;
        particle.share = (particle.share + 0.01 * chance.normal()).clamp(SHARE.0 - 0.05, SHARE.1);
        particle.clearance += 0.3 * chance.normal();
        let shake = 0.3 * chance.normal();
        if particle.leaves_metal {
            particle.leftover = particle.leftover.map(|leftover| leftover + shake);
        }
        let most = self.known.disagreement;
        particle.disagreement = (particle.disagreement + 0.2 * chance.normal()).clamp(-most, most);
        particle.hand += 0.1 * chance.normal();
        particle
    }

    /// Draws where the fixture will stand and the luck of the next pass, once for each particle.
    pub(super) fn next_passes(&mut self) -> Vec<(f64, Luck)> {
        let (chance, scatter) = (&mut self.chance, self.known.relocation);
        self.particles.iter().map(|_| (scatter * chance.normal(), Luck::drawn(chance))).collect()
    }

    /// Sums the weights of the particles for which something holds.
    pub(super) fn chance_of(&self, holds: impl Fn(&Particle) -> bool) -> f64 {
        self.particles.iter().filter(|particle| holds(particle)).map(|particle| particle.weight).sum()
    }

    /// Returns the weighted mean of something.
    pub(super) fn mean(&self, of: impl Fn(&Particle) -> f64) -> f64 {
        self.particles.iter().map(|particle| particle.weight * of(particle)).sum()
    }

    /// Returns the standard deviation of the clearance round its mean.
    pub(super) fn deviation(&self, mean: f64) -> f64 {
        self.mean(|particle| (particle.clearance - mean).powi(2)).sqrt()
    }

    /// Returns the half width round the mean clearance that holds 95 %.
    pub(super) fn half_width(&self, mean: f64) -> f64 {
        let mut off: Vec<(f64, f64)> =
            self.particles.iter().map(|particle| ((particle.clearance - mean).abs(), particle.weight)).collect();
        off.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut held = 0.0;
        off.iter()
            .find(|(_, weight)| {
                held += weight;
                held >= 0.95
            })
            .or(off.last())
            .map_or(0.0, |(distance, _)| *distance)
    }
}

impl Particle {
    /// Returns how deep each wall is engaged with this much more off each, the fixture standing here.
    pub(super) fn engaged(&self, offset: f64, stands: f64) -> [f64; 2] {
        let [front, back] = self.leftover;
        let moved = stands - self.stood;
        [offset + front + moved, offset + back - moved]
    }
}

/// Returns the chance that the scatter of a hand stays below a distance.
fn below(distance: f64) -> f64 {
    0.5 * erfc(-distance / FEEL_SCATTER * std::f64::consts::FRAC_1_SQRT_2)
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand particles")]
fn count_of(count: usize) -> f64 {
    count as f64
}
