//! Thousands of levels on a simulated rotary: how few moves the fit and the next step need, and how rarely they accept
//! what is not level. Source of model and figures: the project's own study of levels by simulation.

use super::level_line::{Contact, Pads, Seen, fit};
use super::level_now::now;
use super::next_step::{Action, MOST_PAIRS, ONE_SIDED, Standing, decide, most_pairs};
use super::reading_noise::noise;
use crate::calc::readings::statistics::Statistics;

/// A plain generator of repeatable numbers (splitmix64, from memory).
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        f64::from(u32::try_from((mixed ^ (mixed >> 31)) >> 32).unwrap()) / f64::from(u32::MAX)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn normal(&mut self) -> f64 {
        (-2.0 * self.share().max(1e-12).ln()).sqrt() * (std::f64::consts::TAU * self.share()).cos()
    }

    fn either(&mut self) -> f64 {
        if self.share() < 0.5 { 1.0 } else { -1.0 }
    }
}

const STEP: f64 = 0.001;
const REPEAT: f64 = 0.0005;
const FINE: f64 = 0.0025;

/// What is simulated: the tolerance, whether the sense is known, how wide the noise is against what is assumed, slips.
#[derive(Clone, Copy)]
struct Cell {
    tolerance: f64,
    known: bool,
    noise: f64,
    slips: f64,
}

/// One rotary, one part, one indicator.
struct Truth {
    span: f64,
    tilt: f64,
    sense: f64,
    points: bool,
    deviation: f64,
    assumed: f64,
}

impl Truth {
    fn roll(dice: &mut Dice, cell: Cell) -> Self {
        let division =
            [0.0127, 0.01, 0.002].into_iter().nth(usize::from(dice.share() > 0.67) + usize::from(dice.share() > 0.5));
        let null = 0.15 * division.unwrap_or(0.01);
        let with = |own: f64| own.hypot(null).hypot(0.001);
        Self {
            span: dice.between(10.0, 80.0),
            tilt: dice.between(0.05_f64.ln(), 8.0_f64.ln()).exp() * dice.either(),
            sense: dice.either(),
            points: dice.share() < 0.5,
            deviation: with(cell.noise * dice.between(0.001, 0.003)),
            assumed: with(FINE),
        }
    }

    fn difference(&self, angle: f64) -> f64 {
        let turn = (self.tilt + self.sense * angle).to_radians();
        self.span * if self.points { turn.sin() } else { turn.tan() }
    }
}

/// One try: where the rotary was sent, and what was read.
struct Read {
    angle: f64,
    rear: Vec<f64>,
    front: Vec<f64>,
}

/// Levels one part; the moves and one more, and whether what was accepted is not level. `None` when it gave up.
fn level(dice: &mut Dice, cell: Cell) -> Option<(usize, bool)> {
    let truth = Truth::roll(dice, cell);
    let span = truth.span * dice.between(0.95, 1.05);
    let contact = if truth.points { Contact::HighPoints } else { Contact::Flats };
    let pads = Pads { span, span_deviation: 0.029 * span, contact };
    let guess = if cell.known { truth.sense } else { dice.either() };
    let mut tries: Vec<Read> = Vec::new();
    let mut angle = 0.0;
    for cycle in 1..=15 {
        let stands = truth.difference(angle + REPEAT * dice.normal());
        tries.push(Read { angle, rear: Vec::new(), front: Vec::new() });
        for pair in 0.. {
            read(dice, cell, &truth, stands, tries.last_mut()?);
            if pair == 0 {
                continue;
            }
            match next(&truth, cell, pads, guess, &tries) {
                (Action::Accept, _) => return Some((cycle, stands.abs() > cell.tolerance)),
                (Action::ReadAgain, _) => {}
                (Action::Move, to) => {
                    angle = to;
                    break;
                }
                (Action::NotPossible, _) => return None,
            }
        }
    }
    None
}

fn read(dice: &mut Dice, cell: Cell, truth: &Truth, stands: f64, newest: &mut Read) {
    let shown = |height: f64| (height / 0.001).round() * 0.001;
    let slip = if dice.share() < cell.slips { 0.1 * dice.either() } else { 0.0 };
    newest.rear.push(shown(stands + truth.deviation * dice.normal()) + slip);
    newest.front.push(shown(truth.deviation * dice.normal()));
}

fn next(truth: &Truth, cell: Cell, pads: Pads, guess: f64, tries: &[Read]) -> (Action, f64) {
    let sums: Vec<_> = tries.iter().map(|one| (Statistics::of(&one.rear), Statistics::of(&one.front))).collect();
    let squares = sums.iter().map(|(rear, front)| rear.squares + front.squares).sum();
    let freedom = sums.iter().map(|(rear, front)| rear.count + front.count - 2.0).sum();
    let noise = noise(truth.assumed.powi(2), 0.001, squares, freedom);
    let rotary = (pads.span * REPEAT.to_radians()).powi(2);
    let newest = tries.last().unwrap();
    let seen: Vec<Seen> = tries
        .iter()
        .zip(&sums)
        .map(|(one, (rear, front))| Seen {
            turned: one.angle - newest.angle,
            difference: rear.mean - front.mean,
            variance: noise.variance * (rear.count.recip() + front.count.recip()) + 1e-6 / 6.0 + rotary,
        })
        .collect();
    let (one, other) = (fit(pads, &seen, guess), fit(pads, &seen, -guess));
    let line = if !cell.known && other.cost + 0.5 < one.cost { other } else { one };
    let here = now(&line, seen.last().unwrap(), *line.shares.last().unwrap(), seen.last().unwrap().variance - rotary);
    let to = ((newest.angle + line.level) / STEP).round() * STEP;
    let (after, variance) = line.at(to - newest.angle);
    let pair_deviation = (2.0 * noise.variance).sqrt();
    let (action, _, _) = decide(Standing {
        difference: here.difference,
        deviation: here.variance.sqrt(),
        freedom: noise.freedom,
        pairs: sums.last().unwrap().0.count,
        after,
        after_deviation: (variance + rotary).sqrt(),
        can_move: (to - newest.angle).abs() > STEP / 2.0,
        tolerance: cell.tolerance,
        pair_deviation,
        most_pairs: most_pairs(cell.tolerance, pair_deviation),
    });
    (action, to)
}

/// Median and 95 % of the cycles, share of false accepts, and how many were levelled.
fn figures(cell: Cell, seed: u64, trials: usize) -> (usize, usize, f64, usize) {
    let mut dice = Dice(seed);
    let mut cycles = Vec::new();
    let mut wrong = 0_u32;
    for _ in 0..trials {
        if let Some((cycle, bad)) = level(&mut dice, cell) {
            cycles.push(cycle);
            wrong += u32::from(bad);
        }
    }
    cycles.sort_unstable();
    let done = cycles.len();
    (cycles[done / 2], cycles[done * 95 / 100], f64::from(wrong) / f64::from(u32::try_from(done).unwrap()), done)
}

// The study's figures to reach: median and 95 % of the cycles, and false accepts; two seeds. The shares of false accepts
// are held with room for 3,000 trials (a share of 0.5 % comes out up to 0.9 %).
#[test]
fn few_moves_and_hardly_a_false_accept() {
    for (tolerance, known, median, late, wrong) in [
        (0.025, true, 2, 3, 0.004),
        (0.012, true, 2, 3, 0.009),
        (0.005, true, 3, 4, 0.02),
        (0.025, false, 3, 3, 0.004),
        (0.012, false, 3, 4, 0.009),
        (0.005, false, 3, 5, 0.02),
    ] {
        for seed in [11, 4711] {
            let cell = Cell { tolerance, known, noise: 1.0, slips: 0.0 };
            let (half, most, bad, done) = figures(cell, seed, 3000);
            println!("{tolerance} known {known}: {half}/{most}, false {:.2} %", 100.0 * bad);
            assert!(
                half <= median && most <= late && bad <= wrong && done == 3000,
                "{tolerance} {known} {half} {most} {bad}"
            );
        }
    }
}

// "Within with 95 %" must be so in at least 95 %, also when the indicator scatters twice as much as was assumed, and
// with a slip of a tenth in every hundredth reading.
#[test]
fn the_promise_holds_when_the_noise_was_underestimated_and_with_slips() {
    for (tolerance, noise, slips) in [(0.012, 2.0, 0.0), (0.005, 2.0, 0.0), (0.012, 1.0, 0.01), (0.005, 2.0, 0.01)] {
        let (_, _, bad, done) = figures(Cell { tolerance, known: true, noise, slips }, 99, 2000);
        println!("{tolerance} noise {noise} slips {slips}: false {:.2} %, levelled {done}", 100.0 * bad);
        assert!(bad < 0.05 && done > 1900, "{tolerance} {noise} {slips}: {bad} {done}");
    }
}

// The study: an indicator that repeats to 10.8 um can never show 5 um.
#[test]
fn no_number_of_pairs_makes_a_coarse_indicator_fine() {
    let pair = std::f64::consts::SQRT_2 * 0.0108;
    assert!(ONE_SIDED * pair / f64::from(MOST_PAIRS).sqrt() > 0.0025 * 0.9);
}
