//! The rows of a portion, sorted into a study for every group.

use super::super::table::Row;
use super::super::tables::diary::diary_row;
use super::super::tables::readings::{Drawn, drawn};
use super::ids::hash;
use super::part::{Chunk, Part};
use super::{Archive, Portion};
use crate::diagnose::{Findings, code};
use crate::model::{Column, DiaryRow, Group, LeakCheck, Pump, Reading, Ref, SpoiledTube, Study};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::PoisonError;

/// The studies of the groups of a portion; what cannot be read becomes findings, in the order of the tables.
pub fn studies(archive: &Archive, portion: &Portion, findings: &Findings) -> Vec<(Ref<Group>, Study)> {
    let (readings, diary) = (
        read(&portion.readings, findings, |at, chunk, heard| {
            readings_of(archive, portion, &archive.readings[at], chunk, heard)
        }),
        read(&portion.diary, findings, |at, chunk, heard| {
            diary_of(archive, portion, &archive.diary[at], chunk, heard)
        }),
    );
    // The words for the report, and its logo, are the same for all.
    let bare = Study { report: Default::default(), ..archive.declared.clone() };
    let mut studies: BTreeMap<Ref<Group>, Study> =
        portion.groups.iter().map(|&group| (group, bare.clone())).collect();
    let mut ids = archive.ids.lock().unwrap_or_else(PoisonError::into_inner);
    for chunk in readings {
        ids.extend(chunk.ids);
        for (group, rows) in chunk.rows.groups {
            if let Some(study) = studies.get_mut(&group) {
                append(&mut study.readings, rows);
            }
        }
        for (group, tube) in chunk.spoiled {
            if let Some(study) = studies.get_mut(&group) {
                study.spoiled.push(tube);
            }
        }
    }
    for (group, rows) in diary.into_iter().flat_map(|chunk| chunk.groups) {
        if let Some(study) = studies.get_mut(&group) {
            append(&mut study.diary, rows);
        }
    }
    for study in studies.values_mut() {
        study.leak_checks = leak_checks(archive, study);
    }
    studies.into_iter().collect()
}

/// Without a copy where the list is empty, as it mostly is.
fn append<T>(list: &mut Vec<T>, rows: Vec<T>) {
    if list.is_empty() { *list = rows } else { list.extend(rows) }
}

/// Every chunk on its own, collected in their order with what was found in each.
fn read<T: Send>(
    chunks: &[(usize, Chunk)],
    findings: &Findings,
    read: impl Fn(usize, Chunk, &Findings) -> T + Sync,
) -> Vec<T> {
    let each = |&(part, chunk): &(usize, Chunk)| {
        let heard = Findings::default();
        let rows = read(part, chunk, &heard);
        (rows, heard)
    };
    let all: Vec<(T, Findings)> = chunks.par_iter().map(each).collect();
    let keep = |(rows, heard): (T, Findings)| {
        findings.absorb(heard);
        rows
    };
    all.into_iter().map(keep).collect()
}

/// The rows of a chunk by their group, those of each in the order of the table.
struct ByGroup<T> {
    groups: Vec<(Ref<Group>, Vec<T>)>,
    /// Where each group stands in the list.
    at: HashMap<Ref<Group>, usize>,
    /// Where the row before was put: rows of a group mostly follow each other.
    last: Option<usize>,
}

impl<T> Default for ByGroup<T> {
    fn default() -> Self {
        ByGroup { groups: Vec::new(), at: HashMap::new(), last: None }
    }
}

impl<T> ByGroup<T> {
    fn push(&mut self, group: Ref<Group>, row: T) {
        let same = self.last.filter(|&at| self.groups[at].0 == group);
        let at = same.unwrap_or_else(|| *self.at.entry(group).or_insert(self.groups.len()));
        self.last = Some(at);
        match self.groups.get_mut(at) {
            Some((_, rows)) => rows.push(row),
            None => {
                // Groups are mostly of a size.
                let rows = self.groups.last().map_or(1, |(_, rows)| rows.len());
                self.groups.push((group, Vec::with_capacity(rows)));
                self.groups[at].1.push(row);
            }
        }
    }
}

#[derive(Default)]
struct ReadingsChunk {
    rows: ByGroup<Reading>,
    spoiled: Vec<(Ref<Group>, SpoiledTube)>,
    ids: Vec<u64>,
}

/// The group of a row's worker, where that can be told.
fn group_of(archive: &Archive, row: &Row) -> Option<Ref<Group>> {
    let workers = &archive.declared.workers;
    row.find(Column::Worker, workers).map(|worker| workers[worker].group)
}

/// Whether a row is passed over: it belongs to another portion.
fn elsewhere(archive: &Archive, portion: &Portion, row: &Row) -> bool {
    let other = |group| portion.groups.binary_search(&group).is_err();
    !portion.whole && group_of(archive, row).is_some_and(other)
}

fn readings_of(
    archive: &Archive,
    portion: &Portion,
    part: &Part,
    chunk: Chunk,
    findings: &Findings,
) -> ReadingsChunk {
    let (declared, mut read) = (&archive.declared, ReadingsChunk::default());
    part.each_row(chunk, findings, |row| {
        if elsewhere(archive, portion, row) {
            return;
        }
        let id = row.need(Column::Id, "R1");
        read.ids.extend(id.map(hash));
        match drawn(row, id, declared) {
            Some(Drawn::Reading(reading)) => match declared.group_of(&reading) {
                Some(group) => read.rows.push(group, reading),
                None => of_nobody(row),
            },
            Some(Drawn::Spoiled(tube)) => {
                read.spoiled.extend(group_of(archive, row).map(|group| (group, tube)))
            }
            None => {}
        }
    });
    read
}

/// An archive is walked by groups, and a reading belongs to a group by its worker.
fn of_nobody(row: &Row) {
    let message = "in an archive a reading without `worker` belongs to no group";
    let help = "keep the readings that nobody wore in a study of their own, with a diary of the same days";
    row.wrong(&code::EMPTY_CELL, Column::Worker, message, help);
}

fn diary_of(
    archive: &Archive,
    portion: &Portion,
    part: &Part,
    chunk: Chunk,
    findings: &Findings,
) -> ByGroup<DiaryRow> {
    let (declared, mut rows) = (&archive.declared, ByGroup::default());
    part.each_row(chunk, findings, |row| {
        if elsewhere(archive, portion, row) {
            return;
        }
        if let Ok(told) = diary_row(row, archive.told, declared) {
            rows.push(declared.workers[told.worker].group, told);
        }
    });
    rows
}

/// The leak checks of the pumps that a group used.
fn leak_checks(archive: &Archive, study: &Study) -> Vec<LeakCheck> {
    if archive.leak_checks.is_empty() {
        return Vec::new();
    }
    let pumps: BTreeSet<Ref<Pump>> = study.readings.iter().map(|reading| reading.pump).collect();
    let of_pump = |pump| archive.leak_checks.get(pump).into_iter().flatten().cloned();
    pumps.iter().flat_map(of_pump).collect()
}
