//! The shifts that the diary tells: each worker's rows in order of time, parted where a long rest lies between.

use crate::diagnose::{Findings, code};
use crate::model::shift::{Block, Shift};
use crate::model::study::{DiaryRow, DiaryTime, Worker};
use crate::model::{Adjust, Minutes, Ref, Study};
use chrono::{Duration, NaiveDateTime};
use std::collections::BTreeMap;

/// Longest working period that is no slip of the pen.
const LONGEST_HOURS: i64 = 24;

/// The shifts, by group, worker and start.
pub fn shifts(study: &Study, findings: &Findings) -> Vec<Shift> {
    let mut by_worker: BTreeMap<Ref<Worker>, Vec<&DiaryRow>> = BTreeMap::new();
    for row in &study.diary {
        by_worker.entry(row.worker).or_default().push(row);
    }
    let mut shifts: Vec<Shift> =
        by_worker.into_iter().flat_map(|(worker, rows)| shifts_of(worker, rows, study, findings)).collect();
    shifts.sort_by_key(|s| (s.group, s.worker, s.start));
    name(study, &mut shifts);
    shifts
}

fn shifts_of(worker: Ref<Worker>, rows: Vec<&DiaryRow>, study: &Study, findings: &Findings) -> Vec<Shift> {
    let by_clock = by_clock_parts(&rows, study, findings);
    let by_minutes = by_minutes_parts(&rows);
    report_told_twice(&by_clock, &by_minutes, study.workers.name(worker), study, findings);
    let group = study.workers[worker].group;
    let shift = |(clock, blocks): (bool, Vec<Block>)| {
        let (first, last) = (blocks.first()?, blocks.last()?);
        let (start, end) = (first.start, last.end);
        // By the day nothing is left of a limit where the shift takes the whole of it.
        let lowered = study.limits.iter().any(|limit| limit.adjust == Adjust::Daily);
        let longest = Duration::hours(LONGEST_HOURS);
        if end - start > longest || (lowered && end - start == longest) {
            let name = study.workers.name(worker);
            let message = format!(
                "this shift of {name} lasts from {} to {}",
                study.clock.shown(start),
                study.clock.shown(end)
            );
            let help = match end - start > longest {
                true => "check the dates; a new shift begins after a rest of `shift: {new_after: 4 h}`",
                false => {
                    "check the dates; `adjust: daily` leaves nothing of a limit for a whole day, so lower it in another way"
                }
            };
            findings.report_at(&code::SHIFT_TOO_LONG, vec![first.span, last.span], message, help);
        }
        let blocks = joined(blocks);
        Some(Shift { name: String::new(), worker, group, start, end, clock, blocks, readings: Vec::new() })
    };
    let by_clock = by_clock.into_iter().map(|blocks| (true, blocks));
    let by_minutes = by_minutes.into_iter().map(|blocks| (false, blocks));
    by_clock.chain(by_minutes).filter_map(shift).collect()
}

/// One shift can be told by the clock and another by minutes, but not the same: shifts of one day, or where one begins within
/// the other, cannot be told apart. Both come by their start.
fn report_told_twice(
    by_clock: &[Vec<Block>],
    by_minutes: &[Vec<Block>],
    worker: &str,
    study: &Study,
    findings: &Findings,
) {
    if by_clock.is_empty() {
        return;
    }
    let day = |moment: NaiveDateTime| study.clock.local(moment).date();
    for block in by_minutes.iter().filter_map(|blocks| blocks.first()) {
        let later = by_clock.partition_point(|blocks| blocks[0].start <= block.start);
        let before = later.checked_sub(1).map(|at| &by_clock[at]);
        let same = |other: &&Vec<Block>| day(other[0].start) == day(block.start);
        let within = |other: &&Vec<Block>| other.last().is_some_and(|last| block.start < last.end);
        let other = before.filter(|other| same(other) || within(other)).or(by_clock.get(later).filter(same));
        let Some(other) = other else { continue };
        let message = format!(
            "a shift of {worker} is told by minutes, and by the clock from {}",
            study.clock.shown(other[0].start)
        );
        let help = "tell each shift in one way, by `start` and `end` or by `shift` and `minutes`";
        findings.report_at(&code::MIXED_DIARY, vec![block.span, other[0].span], message, help);
    }
}

fn milliseconds(minutes: Minutes) -> Duration {
    Duration::milliseconds((minutes.0 * 60_000.0).round() as i64)
}

/// Rows by the clock, parted at long rests; overlaps become findings.
fn by_clock_parts(rows: &[&DiaryRow], study: &Study, findings: &Findings) -> Vec<Vec<Block>> {
    let mut blocks: Vec<Block> = rows.iter().filter_map(|row| clock_block(row)).collect();
    blocks.sort_by_key(|b| (b.start, b.span));
    let rest = milliseconds(study.shift.new_after);
    let mut parts: Vec<Vec<Block>> = Vec::new();
    for block in blocks {
        match parts.last_mut().and_then(|part| part.last().copied().map(|last| (part, last))) {
            Some((part, last)) if block.start - last.end < rest => {
                report_overlap(&last, &block, study, findings);
                part.push(block);
            }
            _ => parts.push(vec![block]),
        }
    }
    parts
}

fn clock_block(row: &DiaryRow) -> Option<Block> {
    let DiaryTime::Clock { start, end } = row.when else { return None };
    let minutes = Minutes((end - start).num_milliseconds() as f64 / 60_000.0);
    Some(Block { task: row.task, start, end, minutes, span: row.span })
}

fn report_overlap(before: &Block, after: &Block, study: &Study, findings: &Findings) {
    if after.start < before.end {
        let message = format!(
            "this row starts at {}, before the worker's previous row ends at {}",
            study.clock.shown(after.start),
            study.clock.shown(before.end)
        );
        let help = "let one row end where the next begins";
        findings.report_at(&code::DIARY_OVERLAP, vec![after.span, before.span], message, help);
    }
}

/// Rows by minutes: those of one shift follow each other in the order of the table.
fn by_minutes_parts(rows: &[&DiaryRow]) -> Vec<Vec<Block>> {
    let mut parts: BTreeMap<NaiveDateTime, Vec<Block>> = BTreeMap::new();
    for row in rows {
        let DiaryTime::Minutes { shift, minutes } = row.when else { continue };
        let blocks = parts.entry(shift).or_default();
        let start = blocks.last().map_or(shift, |block| block.end);
        let end = start + milliseconds(minutes);
        blocks.push(Block { task: row.task, start, end, minutes, span: row.span });
    }
    parts.into_values().collect()
}

/// Neighbouring blocks of one task become one.
fn joined(blocks: Vec<Block>) -> Vec<Block> {
    let mut list: Vec<Block> = Vec::with_capacity(blocks.len());
    for block in blocks {
        match list.last_mut() {
            Some(last) if last.task == block.task && last.end == block.start => {
                last.minutes.0 += block.minutes.0;
                last.end = block.end;
            }
            _ => list.push(block),
        }
    }
    list
}

/// `W3/2027-03-10`; a second shift of the same day has its hour added.
fn name(study: &Study, shifts: &mut [Shift]) {
    let mut before = None;
    for shift in shifts {
        let start = study.clock.local(shift.start);
        let day = format!("{}/{}", study.workers.name(shift.worker), start.date());
        let another = before.replace((shift.worker, start.date())) == Some((shift.worker, start.date()));
        shift.name = if another { format!("{day} {}", start.format("%H:%M")) } else { day };
    }
}
