//! Why figures are missing: said once for all that share the reason.

use crate::page::{Block, Line, Text, Tone};

/// Reasons with the things they hold for, in the order in which they came up.
#[derive(Debug, Default)]
pub(super) struct Notes(Vec<(String, Vec<String>)>);

/// Things named before the others are counted.
const NAMED: usize = 4;

impl Notes {
    /// Notes that `what` is missing because of `reason`.
    pub(super) fn add(&mut self, what: impl Into<String>, reason: Option<&str>) {
        let Some(reason) = reason else { return };
        match self.0.iter_mut().find(|(known, _)| known == reason) {
            Some((_, things)) => things.push(what.into()),
            None => self.0.push((reason.to_owned(), vec![what.into()])),
        }
    }

    /// A line a reason; nothing where nothing is missing.
    pub(super) fn block(self) -> Option<Block> {
        let line = |(reason, things): (String, Vec<String>)| {
            Line::at(0, Text::of(Tone::Quiet, format!("{}: {reason}", named(&things))))
        };
        (!self.0.is_empty()).then(|| Block::Outline(self.0.into_iter().map(line).collect()))
    }
}

fn named(things: &[String]) -> String {
    let first = things[..things.len().min(NAMED)].join(", ");
    match things.len().saturating_sub(NAMED) {
        0 => first,
        more => format!("{first} and {more} more"),
    }
}
