//! Which groups are read together, and in which chunks of the tables their rows lie.

use super::part::{Chunk, Part};
use crate::model::{Column, Group, Ref, Study};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// Most readings of a portion: some 200 bytes each are kept at a time, and as much again where they are scattered.
const MOST: usize = 1_500_000;

/// Groups that are read together.
pub struct Portion {
    /// The groups.
    pub groups: Vec<Ref<Group>>,
    /// Whether these are all the groups there are, so that no row need be passed over.
    pub whole: bool,
    /// The chunks in which their readings lie: numbers of part and chunk.
    pub readings: Vec<(usize, Chunk)>,
    /// The same of the diary.
    pub diary: Vec<(usize, Chunk)>,
    /// Readings in it, about.
    pub rows: usize,
}

/// All groups in portions, in the order in which their readings begin; groups without readings come with the last.
pub fn of(declared: &Study, readings: &[Part], diary: &[Part]) -> Vec<Portion> {
    let all: Vec<Ref<Group>> = declared.groups.iter().map(|(group, ..)| group).collect();
    let rows = readings.iter().map(Part::rows).sum();
    if rows <= MOST {
        let chunks = |parts| chunks(parts).collect();
        return vec![Portion {
            groups: all,
            whole: true,
            readings: chunks(readings),
            diary: chunks(diary),
            rows,
        }];
    }
    let (readings, diary) = (Census::of(declared, readings), Census::of(declared, diary));
    let mut order = all;
    order.sort_by_key(|group| readings.first(*group));
    let mut portions: Vec<(Vec<Ref<Group>>, usize)> = Vec::new();
    for group in order {
        let own = readings.rows(group);
        match portions.last_mut() {
            Some((groups, rows)) if *rows + own <= MOST => {
                groups.push(group);
                *rows += own;
            }
            _ => portions.push((vec![group], own)),
        }
    }
    let portion = |(mut groups, rows): (Vec<Ref<Group>>, usize)| {
        groups.sort();
        let (readings, diary) = (readings.chunks_of(&groups), diary.chunks_of(&groups));
        Portion { groups, whole: false, readings, diary, rows }
    };
    portions.into_iter().map(portion).collect()
}

/// One group; every chunk is looked through for it.
pub fn of_group(group: Ref<Group>, declared: &Study, readings: &[Part], diary: &[Part]) -> Portion {
    let (readings, diary) = (Census::of(declared, readings), Census::of(declared, diary));
    let groups = vec![group];
    let rows = readings.rows(group);
    Portion {
        whole: false,
        readings: readings.chunks_of(&groups),
        diary: diary.chunks_of(&groups),
        rows,
        groups,
    }
}

fn chunks(parts: &[Part]) -> impl Iterator<Item = (usize, Chunk)> + '_ {
    parts.iter().enumerate().flat_map(|(number, part)| (0..part.chunks()).map(move |chunk| (number, chunk)))
}

/// Rows by group.
type Rows = BTreeMap<Ref<Group>, usize>;

/// How many rows of each group lie in each chunk.
struct Census {
    chunks: Vec<((usize, Chunk), Rows)>,
    /// Of every group with rows: the number of its first chunk, and its rows.
    groups: BTreeMap<Ref<Group>, (usize, usize)>,
}

impl Census {
    /// Counts the rows of a table; what cannot be read is told when it is read for good.
    fn of(declared: &Study, parts: &[Part]) -> Census {
        let all: Vec<(usize, Chunk)> = chunks(parts).collect();
        let counted = |&(part, chunk): &(usize, Chunk)| {
            let mut rows = BTreeMap::new();
            let mut last: Option<(Ref<Group>, usize)> = None;
            parts[part].each_cell(chunk, Column::Worker, |name| {
                let Some(worker) = declared.workers.find(name) else { return };
                let group = declared.workers[worker].group;
                match &mut last {
                    Some((own, n)) if *own == group => *n += 1,
                    _ => {
                        if let Some((own, n)) = last.replace((group, 1)) {
                            *rows.entry(own).or_insert(0) += n;
                        }
                    }
                }
            });
            if let Some((own, n)) = last {
                *rows.entry(own).or_insert(0) += n;
            }
            ((part, chunk), rows)
        };
        let chunks: Vec<((usize, Chunk), Rows)> = all.par_iter().map(counted).collect();
        let mut groups: BTreeMap<Ref<Group>, (usize, usize)> = BTreeMap::new();
        for (number, (_, rows)) in chunks.iter().enumerate() {
            rows.iter().for_each(|(group, n)| groups.entry(*group).or_insert((number, 0)).1 += n);
        }
        Census { chunks, groups }
    }

    fn rows(&self, group: Ref<Group>) -> usize {
        self.groups.get(&group).map_or(0, |(_, rows)| *rows)
    }

    /// The number of the first chunk with rows of a group; past all of them where it has none.
    fn first(&self, group: Ref<Group>) -> usize {
        self.groups.get(&group).map_or(self.chunks.len(), |(first, _)| *first)
    }

    /// The chunks with rows of any of these groups. A chunk without a row that can be read is looked at with every portion, so
    /// that it is told what is wrong with it.
    fn chunks_of(&self, groups: &[Ref<Group>]) -> Vec<(usize, Chunk)> {
        let has =
            |rows: &Rows| rows.is_empty() || rows.keys().any(|group| groups.binary_search(group).is_ok());
        self.chunks.iter().filter(|(_, rows)| has(rows)).map(|(place, _)| *place).collect()
    }
}
