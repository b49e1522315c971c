//! From the tree that was read to the card that the engine works with.

mod datums;
mod parts;
mod setting;

use super::CardFault;
use super::card::{CardUnit, Depth, JobCard, Task};
use super::node::Node;
use crate::quantity::{Length, Quantity, Unit};

/// Builds the card; the tree has no faults any more, so a gap is a fault of the program, and says so.
pub(super) fn card(root: &Node, text: &str) -> Result<JobCard, CardFault> {
    let root = At { node: root, path: String::new() };
    Ok(JobCard {
        id: root.text("id")?,
        title: root.text("title")?,
        task: Task::Setup,
        practice: root.flag("practice")?,
        unit: if root.text("unit")? == "in" { CardUnit::Inch } else { CardUnit::Millimetre },
        depth: depth(&root.text("depth")?),
        notes: root.texts("notes")?,
        part: parts::part(&root.inside("part"))?,
        features: root.each("features", parts::feature)?,
        machine: setting::machine(&root.inside("machine"))?,
        instruments: setting::instruments(&root.inside("instruments"))?,
        fixture: setting::fixture(&root.inside("fixture"))?,
        datums: datums::datums(&root.inside("datums"))?,
        tools: root.each("tools", parts::tool)?,
        register: setting::register(&root.inside("register"))?,
        budget: setting::budget(&root.inside("budget"))?,
        first_run: setting::first_run(&root.inside("first_run"))?,
        text: text.to_owned(),
    })
}

fn depth(word: &str) -> Depth {
    match word {
        "quick" => Depth::Quick,
        "record" => Depth::Record,
        _ => Depth::Normal,
    }
}

/// A place in the tree, which knows its path for the fault that must not happen.
struct At<'a> {
    node: &'a Node,
    path: String,
}

impl At<'_> {
    fn inside(&self, key: &str) -> Self {
        let path = format!("{}{}{key}", self.path, if self.path.is_empty() { "" } else { "." });
        At { node: self.node.find(key).unwrap_or(&Node::Absent), path }
    }

    fn gap(&self, key: &str) -> CardFault {
        let path = self.inside(key).path;
        CardFault::new(path, "this was read and is not there", "This is a fault of the program; please report it.")
    }

    fn has(&self, key: &str) -> bool {
        self.node.find(key).is_some()
    }

    fn text(&self, key: &str) -> Result<String, CardFault> {
        self.node.text(key).map(str::to_owned).ok_or_else(|| self.gap(key))
    }

    fn flag(&self, key: &str) -> Result<bool, CardFault> {
        self.node.flag(key).ok_or_else(|| self.gap(key))
    }

    fn count(&self, key: &str) -> Result<u32, CardFault> {
        self.node.count(key).ok_or_else(|| self.gap(key))
    }

    fn length(&self, key: &str) -> Result<Length, CardFault> {
        self.node.length(key).ok_or_else(|| self.gap(key))
    }

    /// The value in the base unit of its kind: mm, deg, mm/min, `MPa`, s, kW, a plain number.
    fn base(&self, key: &str) -> Result<f64, CardFault> {
        self.node.quantity(key).map(Quantity::base_value).ok_or_else(|| self.gap(key))
    }

    fn in_unit(&self, key: &str, unit: &str) -> Result<f64, CardFault> {
        let quantity = self.node.quantity(key).ok_or_else(|| self.gap(key))?;
        let unit = Unit::of(quantity.unit().dimension, unit).ok_or_else(|| self.gap(key))?;
        Ok(quantity.value_in(unit))
    }

    fn lengths<const N: usize>(&self, keys: [&str; N]) -> Result<[Length; N], CardFault> {
        let mut lengths = [Length::ZERO; N];
        for (length, key) in lengths.iter_mut().zip(keys) {
            *length = self.length(key)?;
        }
        Ok(lengths)
    }

    fn length_pair(&self, first: &str, second: &str) -> Result<(Length, Length), CardFault> {
        Ok((self.length(first)?, self.length(second)?))
    }

    fn each<T>(&self, key: &str, build: impl Fn(&Self) -> Result<T, CardFault>) -> Result<Vec<T>, CardFault> {
        let list = self.inside(key);
        let items = self.node.list(key).iter().enumerate();
        items.map(|(index, node)| build(&At { node, path: format!("{}[{index}]", list.path) })).collect()
    }

    fn texts(&self, key: &str) -> Result<Vec<String>, CardFault> {
        self.each(key, |item| item.node.text("").map(str::to_owned).ok_or_else(|| item.gap("")))
    }

    fn bases(&self, key: &str) -> Result<Vec<f64>, CardFault> {
        self.each(key, |item| item.node.quantity("").map(Quantity::base_value).ok_or_else(|| item.gap("")))
    }
}
