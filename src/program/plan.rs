//! The prove-out plan: for each tool its first approach, first turn of the rotary and first cut, with the numbers that a
//! person compares on the screen (D19, D20).

use serde_json::{Value, json};

use crate::job::JobCard;
use crate::program::checks::{feed_per_turn, minute_feed};
use crate::program::expected::{Expected, reckon};
use crate::program::modes::Modes;
use crate::program::place::{A, Move, Within, X, Y, Z, known};
use crate::program::reports::At;
use crate::program::walker::pecks;

/// The most tools that a plan is made for.
const MOST_TOOLS: usize = 100;

/// The first move of its kind of one tool.
#[derive(Debug, Clone, Copy)]
struct First {
    at: At,
    one: Move,
}

/// The first cut with its feed.
#[derive(Debug, Clone, Copy)]
struct FirstCut {
    at: At,
    one: Move,
    minute: Option<f64>,
    turn: Option<f64>,
}

#[derive(Debug, Clone, Copy, Default)]
struct OfTool {
    tool: Option<u32>,
    approach: Option<First>,
    index: Option<First>,
    cut: Option<FirstCut>,
}

/// The first moves of every tool.
#[derive(Debug, Default)]
pub(super) struct FirstMoves {
    tools: Vec<OfTool>,
    newest: usize,
}

impl FirstMoves {
    /// Takes a move in.
    pub(super) fn see(&mut self, modes: &Modes, at: At, one: &Move, in_metal: bool, expected: &Expected) {
        let Some(firsts) = self.of_tool(modes.tool) else { return };
        if firsts.index.is_none() && one.moves(A) {
            firsts.index = Some(First { at, one: *one });
        }
        let comes_down = known(&one.to, Z)
            .is_some_and(|to| to < expected.index_height && known(&one.from, Z).is_none_or(|from| from > to));
        if firsts.approach.is_none() && comes_down {
            firsts.approach = Some(First { at, one: *one });
        }
        if firsts.cut.is_none() && in_metal && !one.is_rapid() {
            let unit = if modes.inch == Some(true) { 25.4 } else { 1.0 };
            let (minute, turn) = (minute_feed(modes, unit, one.length()), feed_per_turn(modes, unit, one.length()));
            firsts.cut = Some(FirstCut { at, one: *one, minute, turn });
        }
    }

    fn of_tool(&mut self, tool: Option<u32>) -> Option<&mut OfTool> {
        if self.tools.get(self.newest).is_none_or(|known| known.tool != tool) {
            self.newest = match self.tools.iter().position(|known| known.tool == tool) {
                Some(place) => place,
                None if self.tools.len() >= MOST_TOOLS => return None,
                None => {
                    self.tools.push(OfTool { tool, ..OfTool::default() });
                    self.tools.len() - 1
                }
            };
        }
        self.tools.get_mut(self.newest)
    }

    /// Works the plan out.
    pub(super) fn plan(&self, card: &JobCard, expected: &Expected) -> Vec<ToolPart> {
        let cutting = self.tools.iter().filter(|firsts| firsts.cut.is_some());
        cutting.map(|firsts| part(firsts, card, expected)).collect()
    }
}

/// The plan of one tool. Lengths in millimetres in coordinates of the claimed register, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolPart {
    /// The tool.
    pub tool: Option<u32>,
    /// First approach: block, and the heights between which it runs.
    pub approach: Option<Approach>,
    /// First turn of the rotary: block, and A from and to.
    pub index: Option<(At, Option<f64>, Option<f64>)>,
    /// First cut.
    pub cut: Option<Cut>,
    /// Where to stop and what the screen shows then.
    pub stops: Vec<Stop>,
}

/// The first approach.
#[derive(Debug, Clone, PartialEq)]
pub struct Approach {
    /// Where it stands.
    pub at: At,
    /// Height before, where it is known.
    pub from: Option<f64>,
    /// Height at its end.
    pub to: f64,
    /// Gap to the surface at its end.
    pub gap: f64,
    /// Whether it is a rapid.
    pub rapid: bool,
    /// Highest rapid setting that a person can stop in that gap, percent.
    pub rapid_ceiling: Option<f64>,
    /// The dial step for it; `None` when no step is low enough.
    pub rapid_step: Option<f64>,
}

/// The first cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Where it stands.
    pub at: At,
    /// Height before.
    pub from: Option<f64>,
    /// Height at the bottom, where single block ends.
    pub to: Option<f64>,
    /// Feed per turn.
    pub feed: Option<f64>,
    /// Lowest feed setting at which the chip is thick enough, percent, as a step of the dial.
    pub lowest_feed_step: Option<f64>,
    /// Seconds that the cut takes at each step of the feed dial.
    pub seconds: Vec<(f64, f64)>,
    /// Height at the end of the first peck, where it pecks.
    pub first_peck: Option<f64>,
}

/// One stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// Its name on the card.
    pub name: String,
    /// Block in which it is passed.
    pub at: At,
    /// Height in the program.
    pub program_z: f64,
    /// Machine Z, where the register is known.
    pub machine_z: Option<f64>,
    /// Distance to go in Z.
    pub to_go: f64,
}

fn part(firsts: &OfTool, card: &JobCard, expected: &Expected) -> ToolPart {
    let surface = surface(firsts, expected);
    ToolPart {
        tool: firsts.tool,
        approach: firsts.approach.and_then(|first| approach(&first, surface, card)),
        index: firsts.index.map(|first| (first.at, known(&first.one.from, A), known(&first.one.to, A))),
        cut: firsts.cut.map(|first| cut(&first, firsts.tool, card, expected)),
        stops: stops(firsts, surface, card, expected),
    }
}

/// The height of the surface under the first cut: the feature's, or else the part's.
fn surface(firsts: &OfTool, expected: &Expected) -> f64 {
    let spot = firsts.cut.map(|first| first.one.to).unwrap_or_default();
    let near = |x: f64, y: f64| {
        let beside = |hole: &&crate::program::expected::Hole| {
            let turned = known(&spot, A).map_or(0.0, |a| (a - hole.a + 180.0).rem_euclid(360.0) - 180.0);
            (x - hole.x).hypot(y - hole.y).hypot(turned) < hole.diameter.max(1.0)
        };
        expected.holes.iter().find(beside).map(|hole| hole.surface)
    };
    known(&spot, X).zip(known(&spot, Y)).and_then(|(x, y)| near(x, y)).unwrap_or(expected.part_radius)
}

fn approach(first: &First, surface: f64, card: &JobCard) -> Option<Approach> {
    let to = known(&first.one.to, Z)?;
    let gap = to - surface;
    let machine = &card.machine;
    let ceiling = value(
        "rapid-ceiling",
        &json!({
            "clearance": gap, "deceleration": machine.deceleration_mm_s2, "reaction_time": machine.reaction_s,
            "rapid_rate": machine.rapid_mm_min,
        }),
        "ceiling",
    );
    let step = ceiling.and_then(|limit| {
        value(
            "dial-step",
            &json!({"limit": limit, "dial_steps": machine.rapid_dial_percent, "rule": "at-most"}),
            "dial_step",
        )
    });
    Some(Approach {
        at: first.at,
        from: known(&first.one.from, Z),
        to,
        gap,
        rapid: first.one.is_rapid(),
        rapid_ceiling: ceiling,
        rapid_step: step,
    })
}

fn cut(first: &FirstCut, tool: Option<u32>, card: &JobCard, expected: &Expected) -> Cut {
    let floor = tool.and_then(|tool| expected.tool(tool)).map(|tool| tool.least_feed);
    let dial = &card.machine.feed_dial_percent;
    let lowest = floor.zip(first.turn.filter(|feed| *feed > 0.0)).and_then(|(floor, feed)| {
        let inputs = json!({"limit": 100.0 * floor / feed, "dial_steps": dial, "rule": "at-least"});
        value("dial-step", &inputs, "dial_step")
    });
    let full =
        first.one.length().zip(first.minute.filter(|feed| *feed > 0.0)).map(|(length, feed)| 60.0 * length / feed);
    let seconds = full.map(|full| {
        let turning = dial.iter().copied().filter(|step| *step > 0.0);
        turning.map(|step| (step, full * 100.0 / step)).collect()
    });
    Cut {
        at: first.at,
        from: known(&first.one.from, Z),
        to: known(&first.one.to, Z),
        feed: first.turn,
        lowest_feed_step: lowest,
        seconds: seconds.unwrap_or_default(),
        first_peck: first_peck(&first.one),
    }
}

fn first_peck(one: &Move) -> Option<f64> {
    let Within::Down { peck: Some(peck) } = one.within else { return None };
    let (from, to) = (known(&one.from, Z)?, known(&one.to, Z)?);
    pecks(from, to, peck, 1).first().map(|(depth, _)| *depth)
}

/// The card's stops, each in the move that passes it: the approach or the cut.
fn stops(firsts: &OfTool, surface: f64, card: &JobCard, expected: &Expected) -> Vec<Stop> {
    let moves = [firsts.approach.map(|first| (first.at, first.one)), firsts.cut.map(|first| (first.at, first.one))];
    let length = firsts.tool.and_then(|tool| expected.tool(tool)).map(|tool| tool.length);
    let mut list = Vec::new();
    for (name, height) in &card.first_run.stops {
        let now = surface + height.mm();
        let passing = moves.into_iter().flatten().find(|(_, one)| passes(one, now));
        let Some((at, target)) = passing.and_then(|(at, one)| known(&one.to, Z).map(|to| (at, to))) else { continue };
        let register = expected.written.and_then(|written| written.get(Z).copied());
        let inputs = json!({
            "program_z_now": now, "program_z_target": target, "z_register": register.unwrap_or(0.0),
            "tool_length": length.unwrap_or(0.0),
        });
        let Ok(outputs) = reckon("distance-to-go", &inputs) else { continue };
        let Some(to_go) = outputs.value("distance_to_go") else { continue };
        let machine_z = register.and(length).and_then(|_| outputs.value("machine_z_now"));
        list.push(Stop { name: name.clone(), at, program_z: now, machine_z, to_go });
    }
    list
}

fn passes(one: &Move, height: f64) -> bool {
    known(&one.to, Z).is_some_and(|to| to <= height) && known(&one.from, Z).is_none_or(|from| from >= height)
}

fn value(name: &str, inputs: &Value, key: &str) -> Option<f64> {
    reckon(name, inputs).ok()?.value(key)
}
