//! How much play has a slot that is being opened, how much of a commanded wall cut comes off, and what to command next?

mod advice;
mod chance;
mod choice;
mod cutter;
mod filter;
mod recent;

use self::advice::Standing;
use self::choice::Pass;
use self::filter::{Feel, Filter, Known};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

static LOOKS: [Input; 5] = [
    Input::word("before", &["not-cut", "cut"], "whether a pass was made before this look; the first look has none")
        .or_word("not-cut"),
    Input::quantity(
        "wall_allowance",
        "mm",
        "allowance commanded on each wall in that pass (at the first look: in the cut before it); plus leaves metal, minus \
         opens the slot by twice as much",
    )
    .or(0.0),
    Input::quantity("play_measured", "mm", "slot width minus jaw width as measured; minus while it is too tight"),
    Input::quantity("play_uncertainty", "mm", "standard uncertainty of that by the scatter of the readings").above(0.0),
    Input::word(
        "feel",
        &["not-felt", "will-not-start", "binds", "slides", "rocks", "slides-at-least"],
        "how the fixture goes on the jaws; slides-at-least for a slot that is not the tight one of the two",
    )
    .or_word("not-felt"),
];

const ADVICE: &[&str] = &["fits", "cut", "read-again", "not-proven", "too-wide"];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "creep-up-estimate",
    version: 1,
    topic: "fit",
    question: "How much play has a slot that is being opened, how much of a commanded wall cut comes off, and which wall \
         allowance is to be commanded next?",
    formula: "particle filter over (clearance c, share k, leftover l on each wall, disagreement b of the gauges, hand h), \
         fixed seed: a pass of u more on each wall engages E = u + l (+- relocation); E >= 0.005 mm takes k E (1 + 0.07 N) \
         + 0.0015 N off a wall, a thinner one rubs: nothing with chance 0.6, else up to E; l becomes what was left, or 0 \
         for a cutter that leaves nothing to a later pass; measured play = c + b + N play_uncertainty; the hand says \
         will-not-start, binds, slides, rocks at -0.002, 0.005, 0.020 mm + h + 0.002 N, h = 0.0015 N; before the first \
         look k is even over 0.3 to 1, l = (1 - k) times 0 to 0.060 in 85 of 100 jobs and 0 else. Next pass: the most \
         likely to land in the window of those that overshoot with a chance of at most 0.0014 in the first pass and 2.5 \
         times as much in each later one, up to 0.022 (coarse gauge, that leaves more than 0.004 mm uncertain: 0.0011, \
         1.7 times, up to 0.005), twice as much after a look without a cut",
    inputs: &[
        Input::records("looks", &LOOKS, "every look at the slot, oldest first").least_items(1),
        Input::quantity("window_smallest", "mm", "smallest play wanted"),
        Input::quantity("window_largest", "mm", "largest play wanted; a slot wider than that is scrap"),
        Input::quantity(
            "gauge_disagreement",
            "mm",
            "the most by which slot gauge and jaw gauge may constantly disagree",
        )
        .at_least(0.0)
        .or(0.003),
        Input::quantity(
            "relocation",
            "mm",
            "standard deviation of where the fixture comes back to in the vise, for one pass and the next",
        )
        .at_least(0.0)
        .or(0.0),
        Input::quantity("command_step", "mm", "smallest step of the wall allowance that can be commanded; 0 = any")
            .at_least(0.0)
            .or(0.0),
    ],
    outputs: &[
        Output::quantity("play", "mm", "estimated play; minus while it is too tight"),
        Output::quantity("play_half_width", "mm", "half width round it that holds the true play with 95 %"),
        Output::quantity("share", "1", "share of a commanded cut that comes off"),
        Output::quantity("share_deviation", "1", "standard uncertainty of the share"),
        Output::quantity("leftover", "mm", "what is left on each wall of what was commanded, expected"),
        Output::quantity("chance_inside", "1", "chance that the play is inside the window"),
        Output::quantity("chance_too_wide", "1", "chance that it is wider"),
        Output::word("advice", ADVICE, "what to do next"),
        Output::quantity("wall_allowance", "mm", "allowance to command on each wall next; plus leaves metal")
            .null_when("the advice is fits or too-wide"),
        Output::quantity("expected_opening", "mm", "how much that pass is expected to open the slot")
            .null_when("the advice is fits or too-wide"),
        Output::quantity("chance_landing", "1", "chance that the play is inside the window after that pass")
            .null_when("the advice is fits or too-wide"),
        Output::quantity("chance_overshoot", "1", "chance that the slot is too wide after that pass")
            .null_when("the advice is fits or too-wide"),
        Output::quantity("chance_rub", "1", "chance that the pass is too thin to cut and only rubs")
            .null_when("the advice is fits or too-wide"),
    ],
    refusals: &[
        Refusal::of("window_largest", "not above window_smallest"),
        Refusal::of("looks", "more than 40 of them, or a first one that follows a cut"),
    ],
    usual_mistake: "forgetting that what the cutter sprang away from is still there and comes off in a later pass",
    validity: "both walls of a slot cut alike with one cutter; play of some hundredths; the scatter of cutter and hand is \
         assumed, not measured on your machine",
    source: "the project's own simulation study; particle filter after Gordon, Salmond and Smith (1993)",
    example: r#"{"looks": [
            {"wall_allowance": 0.1, "play_measured": -0.11, "play_uncertainty": 0.0015, "feel": "will-not-start"},
            {"before": "cut", "wall_allowance": 0.06, "play_measured": -0.055, "play_uncertainty": 0.0015,
             "feel": "will-not-start"}],
            "window_smallest": 0.005, "window_largest": 0.02}"#,
    solve,
};

/// Micrometres in a millimetre: the filter works in micrometres.
const MICROMETRES: f64 = 1000.0;
const MOST_LOOKS: usize = 40;
/// A gauge is coarse when a look leaves more than this uncertain, micrometres.
const COARSE: f64 = 4.0;
struct Look {
    cut: bool,
    allowance: f64,
    play: f64,
    uncertainty: f64,
    feel: Feel,
}

fn solve(given: &Given) -> Result<Answer, Refused> {
    let window = (given.number("window_smallest")? * MICROMETRES, given.number("window_largest")? * MICROMETRES);
    if window.1 <= window.0 {
        return Err(Refused::new("window_largest", "window_largest must be above window_smallest."));
    }
    let looks = given.records("looks")?.iter().map(look).collect::<Result<Vec<_>, _>>()?;
    if looks.len() > MOST_LOOKS || looks.first().is_some_and(|first| first.cut) {
        let reason = format!("looks must be at most {MOST_LOOKS}, and no pass of theirs comes before the first one.");
        return Err(Refused::new("looks", reason));
    }
    let known = Known {
        disagreement: given.number("gauge_disagreement")? * MICROMETRES,
        relocation: given.number("relocation")? * MICROMETRES,
    };
    let step = given.number("command_step")? * MICROMETRES;
    let question = question(&looks, [window.0, window.1, known.disagreement, known.relocation, step]);
    recent::answered(question, || {
        let mut filter = played_back(known, &looks)?;
        Ok(answer(&mut filter, &looks, window, (known, step)))
    })
}

/// Everything that the answer depends on, bit by bit.
fn question(looks: &[Look], limits: [f64; 5]) -> Vec<u64> {
    let of_look = |look: &Look| {
        let words = [u64::from(look.cut), look.feel as u64];
        words.into_iter().chain([look.allowance, look.play, look.uncertainty].map(f64::to_bits)).collect::<Vec<_>>()
    };
    looks.iter().flat_map(of_look).chain(limits.map(f64::to_bits)).collect()
}

fn look(given: &Given) -> Result<Look, Refused> {
    Ok(Look {
        cut: given.word("before")? == "cut",
        allowance: given.number("wall_allowance")? * MICROMETRES,
        play: given.number("play_measured")? * MICROMETRES,
        uncertainty: given.number("play_uncertainty")? * MICROMETRES,
        feel: match given.word("feel")? {
            "will-not-start" => Feel::WillNotStart,
            "binds" => Feel::Binds,
            "slides" => Feel::Slides,
            "rocks" => Feel::Rocks,
            "slides-at-least" => Feel::SlidesAtLeast,
            _ => Feel::NotFelt,
        },
    })
}

/// Plays every look and pass back through the filter.
fn played_back(known: Known, looks: &[Look]) -> Result<Filter, Refused> {
    let Some((first, later)) = looks.split_first() else { return Err(Refused::undeclared("looks")) };
    let passes = first.feel != Feel::Slides || !later.is_empty();
    let mut filter = Filter::start(known, first.play, first.uncertainty, passes);
    filter.feel(first.feel);
    filter.settle();
    let mut allowance = first.allowance;
    for look in later {
        if look.cut {
            filter.pass(allowance - look.allowance);
            allowance = look.allowance;
        }
        filter.measure(look.play, look.uncertainty);
        filter.feel(look.feel);
        filter.settle();
    }
    Ok(filter)
}

fn answer(filter: &mut Filter, looks: &[Look], window: (f64, f64), (known, command_step): (Known, f64)) -> Answer {
    let play = filter.mean(|particle| particle.clearance);
    let share = filter.mean(|particle| particle.share);
    let inside = filter.chance_of(|particle| window.0 <= particle.clearance && particle.clearance <= window.1);
    let too_wide = filter.chance_of(|particle| particle.clearance > window.1);
    let answer = Answer::new()
        .with("play", play / MICROMETRES)
        .with("play_half_width", filter.half_width(play) / MICROMETRES)
        .with("share", share)
        .with("share_deviation", filter.mean(|particle| (particle.share - share).powi(2)).sqrt())
        .with("leftover", filter.mean(|particle| particle.leftover.iter().sum::<f64>() / 2.0) / MICROMETRES)
        .with("chance_inside", inside.min(1.0))
        .with("chance_too_wide", too_wide.min(1.0));
    let coarse = looks.last().is_some_and(|look| known.leaves_uncertain(look.uncertainty) > COARSE);
    let standing = Standing { play, inside, too_wide, coarse };
    let (advice, next) = standing.advise(filter, looks, window, command_step);
    let of_next = |value: fn(&Pass) -> f64| next.as_ref().map(value);
    let allowance = looks.iter().rev().find(|look| look.cut).or(looks.first()).map_or(0.0, |look| look.allowance);
    answer
        .with("advice", advice)
        .with("wall_allowance", of_next(|pass| pass.offset).map(|offset| (allowance - offset) / MICROMETRES))
        .with("expected_opening", of_next(|pass| pass.opens / MICROMETRES))
        .with("chance_landing", of_next(|pass| pass.lands.min(1.0)))
        .with("chance_overshoot", of_next(|pass| pass.overshoots.min(1.0)))
        .with("chance_rub", of_next(|pass| (1.0 - pass.cuts).clamp(0.0, 1.0)))
}
