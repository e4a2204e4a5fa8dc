//! From a figure down to its readings, each figure on the way once.

use super::addresses::{Addresses, Entry};

/// A figure or reading on the way down.
#[derive(Debug)]
pub(crate) struct Stop<'a> {
    /// How far below the figure that was asked for.
    pub(crate) depth: usize,
    /// What stands here.
    pub(crate) entry: &'a Entry<'a>,
}

/// Everything behind `start`, itself first: what a working refers to follows it, one deeper, in the order of its inputs.
pub(crate) fn walk<'a>(addresses: &'a Addresses<'a>, start: &'a Entry<'a>) -> Vec<Stop<'a>> {
    let mut stops: Vec<Stop<'a>> = Vec::new();
    let mut ahead = vec![Stop { depth: 0, entry: start }];
    while let Some(stop) = ahead.pop() {
        if stops.iter().any(|seen| seen.entry.address == stop.entry.address) {
            continue;
        }
        ahead.extend(
            behind(addresses, stop.entry)
                .into_iter()
                .rev()
                .map(|entry| Stop { depth: stop.depth + 1, entry }),
        );
        stops.push(stop);
    }
    stops
}

/// What the working of an entry refers to.
fn behind<'a>(addresses: &'a Addresses<'a>, entry: &Entry<'_>) -> Vec<&'a Entry<'a>> {
    let inputs = entry.thing.trail().iter().flat_map(|step| &step.inputs);
    inputs.filter_map(|input| addresses.at(&input.from)).collect()
}
