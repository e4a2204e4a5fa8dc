//! Whether two readings of an archive have the same name. Of every name eight bytes are kept; what stands twice is looked up again.

use super::part::Part;
use crate::diagnose::{Findings, Span, code};
use crate::model::Column;
use rayon::prelude::*;
use std::collections::{BTreeMap, HashSet};
use std::hash::BuildHasher;

/// Parts by the first byte of a hash, so that none need be moved as a whole when it grows.
const SHELVES: usize = 256;

/// Names that stand twice of which is told; more of them say nothing new.
const TOLD: usize = 100;

/// Hashes of names.
pub struct Ids(Vec<Vec<u64>>);

impl Default for Ids {
    fn default() -> Self {
        Ids(vec![Vec::new(); SHELVES])
    }
}

impl Ids {
    /// Adds names by their hashes.
    pub fn extend(&mut self, hashes: Vec<u64>) {
        for hash in hashes {
            self.0[(hash >> 56) as usize].push(hash);
        }
    }

    /// The hashes that came twice.
    pub fn twice(&mut self) -> HashSet<u64> {
        let twice = |shelf: &mut Vec<u64>| -> Vec<u64> {
            shelf.sort_unstable();
            shelf.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| pair[0]).collect()
        };
        self.0.par_iter_mut().flat_map_iter(twice).collect()
    }
}

/// The hash of a name, the same throughout a run.
pub fn hash(name: &str) -> u64 {
    foldhash::quality::FixedState::default().hash_one(name)
}

/// Looks the names with these hashes up and reports those that do stand twice.
pub fn report(hashes: &HashSet<u64>, parts: &[Part], findings: &Findings) {
    let mut places: BTreeMap<String, Vec<Span>> = BTreeMap::new();
    for part in parts {
        for chunk in 0..part.chunks() {
            part.each_row(chunk, &Findings::default(), |row| {
                if let Some(id) = row.text(Column::Id).filter(|id| hashes.contains(&hash(id))) {
                    places.entry(id.to_owned()).or_default().push(row.at(Column::Id));
                }
            });
        }
    }
    for (id, mut spans) in places.into_iter().filter(|(_, spans)| spans.len() > 1).take(TOLD) {
        spans.reverse();
        findings.report_at(
            &code::DUPLICATE_ID,
            spans,
            format!("reading `{id}` stands twice"),
            "give one of them another id; if it is the same tube, take one row away",
        );
    }
}
