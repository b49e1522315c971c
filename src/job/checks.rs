//! What no single field shows: order of sizes, references, names used twice, shapes that cannot be.

use std::cmp::Ordering;

use super::CardFault;
use super::node::Node;
use crate::quantity::{Length, Quantity};

/// The first value must lie below the second: (first, second, may they be equal, why).
type Order = (&'static str, &'static str, bool, &'static str);

static ORDERS: [Order; 7] = [
    ("fixture.play_window.smallest", "fixture.play_window.largest", false, "The window runs from small to large."),
    ("fixture.play_window.smallest", "fixture.play_wanted", true, "The play aimed for lies in its window."),
    ("fixture.play_wanted", "fixture.play_window.largest", true, "The play aimed for lies in its window."),
    ("part.diameter", "fixture.ring_bore", false, "The part slides into the free ring."),
    ("fixture.half_height", "fixture.height", false, "Half the height runs from the middle to the top face."),
    ("fixture.edge_span", "fixture.width", true, "Both places lie on the fixture's top edge."),
    ("machine.spindle_base", "machine.spindle_max", true, "Full power begins below the highest speed."),
];

static FEATURE_ORDERS: [Order; 9] = [
    ("diameter", "cross_bore", true, "A hole breaks into a bore that is no smaller."),
    ("depth", "tip_depth", true, "The tip of a drill goes deeper than its full diameter."),
    ("bore.window.smallest", "bore.window.largest", false, "The window runs from small to large."),
    ("bore.window.smallest", "bore.target", true, "The size aimed for lies in its window."),
    ("bore.target", "bore.window.largest", true, "The size aimed for lies in its window."),
    ("bore.window.largest", "bore.press.pin_diameter", false, "A pin that is pressed in is larger than its bore."),
    ("bore.press.joint_diameter", "bore.press.hub_outer_diameter", false, "The part surrounds the joint."),
    ("bore.press.engagement_length", "depth", true, "The pin is held by the bore only as deep as it is."),
    ("bore.press.friction.lower", "bore.press.friction.upper", false, "Lower before upper."),
];

/// The largest ratio of the ring's free bore to the part: a ring closes by its gap, not by centimetres.
const MOST_RING_RATIO: f64 = 1.2;

/// Finds every fault between fields; where a field itself had a fault, nothing is said again.
pub(super) fn faults(root: &Node) -> Vec<CardFault> {
    let mut faults: Vec<CardFault> = ORDERS.iter().filter_map(|order| disorder(root, "", order)).collect();
    faults.extend(ring_and_part(root));
    faults.extend(names_used_twice(root));
    for (index, feature) in root.list("features").iter().enumerate() {
        let path = format!("features[{index}].");
        faults.extend(FEATURE_ORDERS.iter().filter_map(|order| disorder(feature, &path, order)));
        faults.extend(tool_of(root, feature, &path));
        faults.extend(size_of_bore(feature, &path));
    }
    faults.extend(critical_feature(root));
    faults.extend(registers(root));
    faults.extend(dials(root));
    faults.extend(stops(root));
    faults.extend(datums(root));
    faults.extend(air_lift(root));
    faults.extend(seat_corners(root));
    faults.extend(mark(root));
    faults
}

fn compared(first: &Quantity, second: &Quantity) -> Option<Ordering> {
    match (first.length(), second.length()) {
        (Some(first), Some(second)) => Some(first.cmp(&second)),
        _ => first.base_value().partial_cmp(&second.base_value()),
    }
}

fn disorder(node: &Node, prefix: &str, (first, second, may_equal, why): &Order) -> Option<CardFault> {
    let (small, large) = (node.quantity(first)?, node.quantity(second)?);
    let right = match compared(small, large)? {
        Ordering::Less => true,
        Ordering::Equal => *may_equal,
        Ordering::Greater => false,
    };
    let word = if *may_equal { "at most" } else { "below" };
    let what = format!("{} is not {word} {prefix}{second}, which is {}", small.echo(), large.echo());
    (!right).then(|| CardFault::new(format!("{prefix}{first}"), what, *why))
}

fn ring_and_part(root: &Node) -> Option<CardFault> {
    let (ring, part) = (root.quantity("fixture.ring_bore")?, root.quantity("part.diameter")?);
    let ratio = ring.base_value() / part.base_value();
    let hint = if (20.0..32.0).contains(&ratio) {
        "One looks like mm and the other like inches: write the unit with the number."
    } else {
        "The ring only closes by its gap."
    };
    let what = format!("{} is far wider than the part, which is {}", ring.echo(), part.echo());
    (ratio > MOST_RING_RATIO).then(|| CardFault::new("fixture.ring_bore", what, hint))
}

fn names_used_twice(root: &Node) -> Vec<CardFault> {
    let mut faults = twice(root, "features", "id", |feature| feature.text("id").map(str::to_owned));
    faults.extend(twice(root, "tools", "number", |tool| tool.count("number").map(|number| number.to_string())));
    faults.extend(twice(root, "first_run.stops", "name", |stop| stop.text("name").map(str::to_owned)));
    faults
}

fn twice(root: &Node, list: &str, key: &str, name: impl Fn(&Node) -> Option<String>) -> Vec<CardFault> {
    let names: Vec<Option<String>> = root.list(list).iter().map(name).collect();
    let repeated = names.iter().enumerate().filter_map(|(index, name)| {
        let name = name.as_ref()?;
        let first = names.iter().position(|other| other.as_ref() == Some(name))?;
        let path = format!("{list}[{index}].{key}");
        let what = format!("{name} stands in {list}[{first}] already");
        (first < index).then(|| CardFault::new(path, what, "Each one needs its own."))
    });
    repeated.collect()
}

fn tool_of(root: &Node, feature: &Node, path: &str) -> Option<CardFault> {
    let number = feature.count("tool")?;
    let tools = root.list("tools");
    let path = format!("{path}tool");
    let Some(tool) = tools.iter().find(|tool| tool.count("number") == Some(number)) else {
        let known: Vec<String> = tools.iter().filter_map(|tool| tool.count("number")).map(|n| n.to_string()).collect();
        let complete = known.len() == tools.len() && !tools.is_empty();
        let hint = format!("Tools on the card: {}.", known.join(", "));
        return complete.then(|| CardFault::new(path, format!("no tool has the number {number}"), hint));
    };
    let (drill, hole) = (tool.quantity("diameter")?, feature.quantity("diameter")?);
    let what = format!("tool {number} of {} is larger than the hole of {}", drill.echo(), hole.echo());
    let larger = compared(drill, hole) == Some(Ordering::Greater);
    larger.then(|| CardFault::new(path, what, "Look at both diameters and their units."))
}

/// A decimal slip moves target and window together; the finished diameter shows it.
fn size_of_bore(feature: &Node, path: &str) -> Option<CardFault> {
    let (target, diameter) = (feature.quantity("bore.target")?, feature.quantity("diameter")?);
    let ratio = target.base_value() / diameter.base_value();
    let what = format!("{} is far from the finished diameter of {}", target.echo(), diameter.echo());
    let hint = "Look at the decimal points and the units.";
    (!(0.95..=1.05).contains(&ratio)).then(|| CardFault::new(format!("{path}bore.target"), what, hint))
}

fn critical_feature(root: &Node) -> Option<CardFault> {
    let critical = root.text("budget.critical_feature")?;
    let ids: Vec<&str> = root.list("features").iter().filter_map(|feature| feature.text("id")).collect();
    let unknown = !ids.contains(&critical) && ids.len() == root.list("features").len() && !ids.is_empty();
    let hint = format!("Features on the card: {}.", ids.join(", "));
    unknown.then(|| CardFault::new("budget.critical_feature", format!("no feature is called {critical}"), hint))
}

fn registers(root: &Node) -> Vec<CardFault> {
    let protected: Vec<Option<&str>> = root.list("register.protected").iter().map(|name| name.text("")).collect();
    let claimed = root.text("register.claimed");
    let mut faults = Vec::new();
    for (index, name) in protected.iter().enumerate().filter_map(|(index, name)| name.map(|name| (index, name))) {
        let path = format!("register.protected[{index}]");
        if Some(name) == claimed {
            let what = format!("{name} is claimed by this job and protected from it");
            faults.push(CardFault::new(path, what, "Claim a free register, or take this one off the list."));
        } else if protected.iter().take(index).any(|other| *other == Some(name)) {
            faults.push(CardFault::new(path, format!("{name} stands here twice"), "Leave one out."));
        }
    }
    faults
}

fn dials(root: &Node) -> Vec<CardFault> {
    let mut faults = Vec::new();
    for list in ["machine.rapid_dial", "machine.feed_dial"] {
        faults.extend(out_of_turn(root, list, "", Ordering::Less, "Write the steps from low to high, each once."));
    }
    faults
}

fn stops(root: &Node) -> Vec<CardFault> {
    out_of_turn(root, "first_run.stops", "height", Ordering::Greater, "Write the stops from high to low.")
}

fn out_of_turn(root: &Node, list: &str, key: &str, wanted: Ordering, hint: &str) -> Vec<CardFault> {
    let items = root.list(list);
    let pairs = items.iter().zip(items.iter().skip(1)).enumerate();
    let wrong = pairs.filter_map(|(index, (first, second))| {
        let (first, second) = (first.quantity(key)?, second.quantity(key)?);
        let dot = if key.is_empty() { "" } else { "." };
        let path = format!("{list}[{}]{dot}{key}", index + 1);
        let what = format!("{} follows {}", second.echo(), first.echo());
        (compared(first, second)? != wanted).then(|| CardFault::new(path, what, hint))
    });
    wrong.collect()
}

/// A way of picking up that lacks what it rests on.
fn datums(root: &Node) -> Vec<CardFault> {
    let mut faults = Vec::new();
    let way = |path: &str| root.text(path).unwrap_or_default();
    let no_round = root.find("datums.round").is_none();
    if way("datums.x.by") == "two-faces" && root.find("datums.x.opposite").is_none() {
        let hint = "Measure from the back face to the opposite one and write it as datums.x.opposite.";
        faults.push(CardFault::new("datums.x.by", "two faces need their distance", hint));
    }
    let middle = way("datums.y.middle");
    if no_round && (way("datums.x.by") == "round" || ["bore", "boss", "sweep"].contains(&middle)) {
        let hint = "Write where it is and how large: datums.round.along and datums.round.diameter.";
        faults.push(CardFault::new("datums.round", "a bore or boss is picked up and none is described", hint));
    }
    if way("datums.x.by") == "round" && middle == "two-faces" {
        let hint = "Let datums.y.middle be bore, boss or sweep: X is then its centre.";
        faults.push(CardFault::new("datums.x.by", "X rests on the round, and Y does not touch it", hint));
    }
    faults
}

/// An air pass lifted by less than the deepest tip would cut.
fn air_lift(root: &Node) -> Option<CardFault> {
    let lift = root.quantity("first_run.air_lift")?;
    let tips = root.list("features").iter().filter_map(|feature| feature.quantity("tip_depth"));
    let deepest = tips.max_by_key(|tip| tip.length())?;
    let what = format!("{} does not lift the deepest tip of {} out of the part", lift.echo(), deepest.echo());
    let too_low = lift.length()? <= deepest.length()?;
    too_low.then(|| CardFault::new("first_run.air_lift", what, "Lift by the deepest tip and 5 mm (0.2 in) more."))
}

fn seat_corners(root: &Node) -> Option<CardFault> {
    let corners: Vec<(f64, f64)> = root
        .list("fixture.seat_corners")
        .iter()
        .filter_map(|corner| Some((corner.length("u")?.mm(), corner.length("v")?.mm())))
        .collect();
    let [first, second, third, fourth] = corners.as_slice() else { return None };
    let turns = [
        turn(first, second, third),
        turn(second, third, fourth),
        turn(third, fourth, first),
        turn(fourth, first, second),
    ];
    let round = turns.iter().all(|turn| *turn > 0.0) || turns.iter().all(|turn| *turn < 0.0);
    let hint = "Write the corners in turn round the face, clockwise or counter-clockwise.";
    let what = "these four places do not go round the face";
    (!round).then(|| CardFault::new("fixture.seat_corners", what, hint))
}

fn turn(from: &(f64, f64), by: &(f64, f64), to: &(f64, f64)) -> f64 {
    (by.0 - from.0) * (to.1 - by.1) - (by.1 - from.1) * (to.0 - by.0)
}

/// A mark in the middle cannot tell half a turn.
fn mark(root: &Node) -> Option<CardFault> {
    let mark = root.length("fixture.mark_flat_y")?;
    let off_centre = root.length("fixture.off_centre_tolerance").unwrap_or(Length::ZERO);
    let what = "this flat is as good as in the middle and cannot tell which way round the fixture is";
    (mark.abs() <= off_centre).then(|| CardFault::new("fixture.mark_flat_y", what, "Name a flat that is off centre."))
}
