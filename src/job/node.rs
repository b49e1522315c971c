//! A card as read: the same tree as the file, with quantities understood and defaults filled in.

use crate::quantity::{Length, Quantity};

/// A value of the card, or `Absent` where none stands or where it had a fault.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Node {
    Absent,
    Text(String),
    Flag(bool),
    Quantity(Quantity),
    List(Vec<Self>),
    Object(Vec<(&'static str, Self)>),
}

impl Node {
    /// Finds a value by its path from here: `features[2].bore.window.smallest`.
    pub(super) fn find(&self, path: &str) -> Option<&Self> {
        let mut node = self;
        for step in path.split(['.', '[']).filter(|step| !step.is_empty()) {
            node = match (node, step.strip_suffix(']')) {
                (Self::List(items), Some(index)) => items.get(index.parse::<usize>().ok()?)?,
                (Self::Object(fields), None) => fields.iter().find(|(key, _)| *key == step).map(|(_, node)| node)?,
                _ => return None,
            };
        }
        if *node == Self::Absent { None } else { Some(node) }
    }

    pub(super) fn list(&self, path: &str) -> &[Self] {
        match self.find(path) {
            Some(Self::List(items)) => items,
            _ => &[],
        }
    }

    pub(super) fn text(&self, path: &str) -> Option<&str> {
        match self.find(path)? {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    pub(super) fn flag(&self, path: &str) -> Option<bool> {
        match self.find(path)? {
            Self::Flag(flag) => Some(*flag),
            _ => None,
        }
    }

    pub(super) fn quantity(&self, path: &str) -> Option<&Quantity> {
        match self.find(path)? {
            Self::Quantity(quantity) => Some(quantity),
            _ => None,
        }
    }

    pub(super) fn length(&self, path: &str) -> Option<Length> {
        self.quantity(path).and_then(Quantity::length)
    }

    pub(super) fn count(&self, path: &str) -> Option<u32> {
        self.quantity(path).and_then(Quantity::count)
    }
}
