//! Accept, read once more or turn: which of them leads to a proven level with the fewest moves.

use crate::calc::inspection::probability::between;

/// What is known when it is decided.
#[derive(Debug, Clone, Copy)]
pub(super) struct Standing {
    /// Rear minus front as it stands.
    pub(super) difference: f64,
    /// Its standard deviation.
    pub(super) deviation: f64,
    /// Degrees of freedom of that.
    pub(super) freedom: f64,
    /// Pairs read in place.
    pub(super) pairs: f64,
    /// Difference expected after the move.
    pub(super) after: f64,
    /// Its standard deviation.
    pub(super) after_deviation: f64,
    /// Whether the rotary can make the move at all.
    pub(super) can_move: bool,
    /// Largest difference allowed.
    pub(super) tolerance: f64,
    /// Standard deviation of the difference of one pair.
    pub(super) pair_deviation: f64,
    /// Most pairs that are worth reading in place.
    pub(super) most_pairs: f64,
}

/// What to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Action {
    /// It is shown to be level.
    Accept,
    /// Read another pair where it stands.
    ReadAgain,
    /// Turn.
    Move,
    /// Neither reading nor turning can show it.
    NotPossible,
}

/// From here on a level is shown to be within.
pub(super) const WITHIN: f64 = 0.95;
/// As long as more pairs are worth reading, this much is wanted.
const SURELY_WITHIN: f64 = 0.98;
/// One pair cannot show a slip.
const FEWEST_PAIRS: f64 = 2.0;
/// A level that could be shown with this probability by reading on is read on.
const WORTH_READING_ON: f64 = 0.2;
/// Factor of a one-sided 95 %.
pub(super) const ONE_SIDED: f64 = 1.645;

/// Most pairs that anybody reads in place.
pub(super) const MOST_PAIRS: u32 = 60;
/// Pairs in place that cost less than a move, whatever the indicator.
const CHEAPER_THAN_A_MOVE: u32 = 20;

/// Returns how many pairs are worth reading in place: as many as prove half the tolerance, at least 20, at most 60.
pub(super) fn most_pairs(tolerance: f64, pair_deviation: f64) -> f64 {
    let needed = (2.0 * ONE_SIDED * pair_deviation / tolerance).powi(2).ceil();
    needed.clamp(f64::from(CHEAPER_THAN_A_MOVE), f64::from(MOST_PAIRS))
}

/// Returns the probability that a value with Student's t lies within a limit on both sides; not a number for what is none.
pub(super) fn inside(limit: f64, middle: f64, deviation: f64, freedom: f64) -> f64 {
    /// Further out nothing changes.
    const FAR: f64 = 1e6;
    let (low, high) = ((-limit - middle) / deviation, (limit - middle) / deviation);
    if low.is_nan() || high.is_nan() {
        return f64::NAN;
    }
    between(low.clamp(-FAR, FAR), high.clamp(-FAR, FAR), freedom)
}

/// Decides; also returns the probabilities of being within now and after the move.
pub(super) fn decide(at: Standing) -> (Action, f64, f64) {
    let probability = |limit: f64, middle: f64, deviation: f64| {
        if limit <= 0.0 { 0.0 } else { inside(limit, middle, deviation, at.freedom) }
    };
    let within = probability(at.tolerance, at.difference, at.deviation);
    let after = probability(at.tolerance, at.after, at.after_deviation);
    let can_read = at.pairs < at.most_pairs;
    let provable = at.tolerance - ONE_SIDED * at.pair_deviation / at.most_pairs.max(1.0).sqrt();
    let stay = probability(provable, at.difference, at.deviation);
    let go = probability(provable, at.after, at.after_deviation);
    let enough = at.pairs >= FEWEST_PAIRS;
    let action = if enough && (within >= SURELY_WITHIN || (within >= WITHIN && !can_read)) {
        Action::Accept
    } else if can_read && (within >= WITHIN || stay >= WORTH_READING_ON || stay >= go || !at.can_move) {
        Action::ReadAgain
    } else if at.can_move {
        Action::Move
    } else {
        Action::NotPossible
    };
    (action, within, after)
}
