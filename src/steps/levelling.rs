//! Levelling two places with the rotary: tries are read, fitted together, and answered with the next thing to do, until
//! the level is shown (D10, D11, decisions 5 and 8). The rotary tram and levelling without a card both go this way.

mod asking;
mod gain;
mod judging;
mod picture;
mod tries;

use crate::checklist::{AskSpec, Scatter, Worksheet};
use crate::job::WorkTurns;
use judging::Action;
use tries::Tries;

/// Tries after which it is not a matter of turning any more.
const MOST_TRIES: u32 = 15;

/// The asks of a try.
pub(super) struct Asks {
    /// A as it stands.
    pub(super) machine_a: &'static AskSpec,
    /// From which side it came there.
    pub(super) approach: &'static AskSpec,
    /// The rear place.
    pub(super) rear: &'static AskSpec,
    /// The front place.
    pub(super) front: &'static AskSpec,
    /// Whether a level within its limit is accepted; left out, it is.
    pub(super) accept: Option<&'static AskSpec>,
}

/// The permanent ids of what is found and what must hold.
pub(super) struct Names {
    pub(super) one_way: &'static str,
    pub(super) difference: &'static str,
    pub(super) now: &'static str,
    pub(super) roll: &'static str,
    pub(super) next_a: &'static str,
    pub(super) gain: &'static str,
    pub(super) fits: &'static str,
    pub(super) scatter: &'static str,
    pub(super) level: &'static str,
}

/// How the two places are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// The needle against a preset.
    Needle,
    /// Z jogged down until the needle stands on zero; the Z display is read.
    ZNull,
}

impl Way {
    /// Returns the way of its word.
    pub(super) fn named(word: &str) -> Self {
        if word == "z-null" { Self::ZNull } else { Self::Needle }
    }

    /// Returns the word used in asks and calculations.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Needle => "needle",
            Self::ZNull => "z-null",
        }
    }
}

/// What a level is worked out with; lengths in millimetres, angles in degrees.
pub(super) struct Setting {
    pub(super) asks: &'static Asks,
    pub(super) names: &'static Names,
    /// Distance between the two places.
    pub(super) span: f64,
    /// Height of the rear place over the front one by drawing.
    pub(super) step: f64,
    /// `flats` or `high-points`.
    pub(super) contact: &'static str,
    /// How they are read.
    pub(super) way: Way,
    /// How finely and how well.
    pub(super) scatter: Scatter,
    /// The turning sense, when it is known.
    pub(super) sense: Option<WorkTurns>,
    /// The sense to begin with when it is not.
    pub(super) likely: WorkTurns,
    /// How well the rotary comes back.
    pub(super) rotary_repeat: f64,
    /// The rotary's smallest step.
    pub(super) least_angle: f64,
    /// Largest difference allowed.
    pub(super) limit: f64,
    /// Whole travel of the indicator, when the needle is read and it is known.
    pub(super) travel: Option<f64>,
    /// Readings of each place in the first try and in later ones, before any is read again.
    pub(super) readings: (u32, u32),
    /// Whether the side of approach is asked in the first try.
    pub(super) approach_first: bool,
}

impl Setting {
    /// Returns the word of the sense for the fit.
    fn sense_word(&self) -> &'static str {
        self.sense.map_or("unknown", WorkTurns::word)
    }
}

/// What one try read and what came of it.
#[derive(Debug, Clone)]
pub(super) struct Try {
    /// Machine A, degrees.
    pub(super) machine_a: f64,
    /// Rear minus front, known step taken off, millimetres.
    pub(super) difference: f64,
    /// Standard uncertainty of the difference, millimetres.
    pub(super) uncertainty: f64,
    /// Roll of the part, degrees.
    pub(super) roll: f64,
    /// The entries it rests on.
    pub(super) entries: Vec<u64>,
}

/// Where the part is level, and how it was found.
#[derive(Debug, Clone)]
pub(super) struct Level {
    /// The first try.
    pub(super) first: Try,
    /// The try that is level.
    pub(super) last: Try,
    /// The turning sense: as given, or as the tries have settled it.
    pub(super) turns: Option<WorkTurns>,
}

/// Goes through the tries until the part is shown to be level.
pub(super) fn level(sheet: &mut Worksheet<'_>, setting: &Setting) -> Option<Level> {
    let tries = Tries::gather(sheet, setting);
    tries.came_from_one_side(sheet, setting)?;
    let newest = tries.newest();
    if tries.is_read(newest, setting) {
        return answer(sheet, setting, &tries);
    }
    let expected = match tries.before(newest) {
        Some(before) => {
            let judged = judging::judge(sheet, setting, &before, newest.saturating_sub(1))?;
            judging::turn(sheet, setting, newest.saturating_sub(1), &judged);
            judged.into_next()
        }
        None => asking::Expected::nothing(),
    };
    asking::read(sheet, setting, &tries, newest, &expected)?;
    // A try that is not read is asked for, so nothing comes here.
    None
}

/// Reads the first try and shows the move that it asks for; once it is made, nothing stands in the way.
pub(super) fn first_move(sheet: &mut Worksheet<'_>, setting: &Setting) -> Option<()> {
    let tries = Tries::gather(sheet, setting);
    let newest = tries.newest();
    if !tries.is_read(newest, setting) {
        asking::read(sheet, setting, &tries, newest, &asking::Expected::nothing())?;
    }
    let judged = judging::judge(sheet, setting, &tries, newest)?;
    judging::turn(sheet, setting, newest, &judged);
    Some(())
}

/// Answers the newest try, which is read: level, another pair, or a turn.
fn answer(sheet: &mut Worksheet<'_>, setting: &Setting, tries: &Tries<'_>) -> Option<Level> {
    let newest = tries.newest();
    let judged = judging::judge(sheet, setting, tries, newest)?;
    match judged.action() {
        Action::Accept if judging::is_accepted(sheet, setting, newest, &judged)? => {
            sheet.moved();
            let first = judging::first_try(sheet, setting, tries, judged.turns())?;
            return Some(judged.into_level(first));
        }
        Action::ReadAgain => asking::pair(sheet, setting, tries, newest)?,
        Action::Accept | Action::Move if newest + 1 < MOST_TRIES => {
            judging::turn(sheet, setting, newest, &judged);
            asking::read(sheet, setting, tries, newest + 1, &judged.into_next())?;
        }
        Action::Accept | Action::Move | Action::NotPossible => {
            judging::not_possible(sheet, setting, newest, &judged)?;
        }
    }
    None
}
