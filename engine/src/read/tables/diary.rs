//! The diary, by the clock or by minutes.

use crate::diagnose::{Findings, code};
use crate::model::{Clock, Column, DiaryRow, FaultyDiary, Minutes, Ref, Study, Worker, study::DiaryTime};
use crate::read::quantity::TIME;
use crate::read::table::{Columns, Row, Table};
use std::collections::HashSet;

/// Reads every row.
pub fn read(table: &Table, study: &mut Study, findings: &Findings) {
    let Some(by_clock) = by_clock(table.columns(), findings) else {
        study.faulty.diary = FaultyDiary::Any;
        return;
    };
    let (mut rows, mut faulty, mut whose_known) = (Vec::new(), HashSet::new(), true);
    for row in table.rows(findings) {
        match diary_row(&row, by_clock, study) {
            Ok(read) => rows.push(read),
            Err(Some(worker)) => drop(faulty.insert(worker)),
            Err(None) => whose_known = false,
        }
    }
    let whose_known = whose_known && table.len() > 0 && !table.is_ragged();
    study.faulty.diary = if whose_known { FaultyDiary::Of(faulty) } else { FaultyDiary::Any };
    study.diary = rows;
}

/// Whether the diary is told by the clock; `None` with a finding where its columns leave it open.
pub fn by_clock(columns: &Columns, findings: &Findings) -> Option<bool> {
    let clock = [Column::Start, Column::End].map(|c| columns.has(c));
    let minutes = [Column::Shift, Column::Minutes].map(|c| columns.has(c));
    match (clock, minutes) {
        ([true, true], [false, false]) => return Some(true),
        ([false, false], [true, true]) => return Some(false),
        ([true, true], [_, true]) => {
            let message = "the diary tells its tasks both by the clock and by minutes";
            findings.report(
                &code::MIXED_DIARY,
                columns.span(),
                message,
                "keep `start` and `end`, or `shift` and `minutes`",
            );
        }
        ([true, true], [true, false]) => return Some(true),
        _ => {
            let message = "the diary does not say how long each task lasted";
            let help = "it needs the columns worker,start,end,task or worker,shift,task,minutes";
            findings.report(&code::MISSING_COLUMN, columns.span(), message, help);
        }
    }
    None
}

/// One row; the error names whose it is, where that could be read.
pub fn diary_row(row: &Row, by_clock: bool, study: &Study) -> Result<DiaryRow, Option<Ref<Worker>>> {
    let worker = row.named(Column::Worker, &study.workers);
    let task = row.named(Column::Task, &study.tasks);
    let when = if by_clock { clock(row, &study.clock) } else { minutes(row, &study.clock) };
    let read = || Some(DiaryRow { worker: worker?, task: task?, when: when?, span: row.span() });
    read().ok_or(worker)
}

fn clock(row: &Row, clock: &Clock) -> Option<DiaryTime> {
    let (start, end) = (row.moment(Column::Start, clock), row.moment(Column::End, clock));
    let (start, end) = (start?, end?);
    if end <= start {
        let (from, to) = (clock.shown(start), clock.shown(end));
        let message = format!("the row ends at {to}, not after its start at {from}");
        let help = "check both times; past midnight the date of the end is the next day";
        row.wrong(&code::END_BEFORE_START, Column::End, message, help);
        return None;
    }
    Some(DiaryTime::Clock { start, end })
}

fn minutes(row: &Row, clock: &Clock) -> Option<DiaryTime> {
    let shift = row.day_or_moment(Column::Shift, clock);
    let text = row.need(Column::Minutes, "90")?;
    let bare = text.ends_with(|c: char| c.is_ascii_digit());
    let unit = row.heading_unit(Column::Minutes);
    let minutes = match bare && unit.is_none() {
        true => row.number(Column::Minutes, text)?,
        false => row.quantity(Column::Minutes, &TIME)?,
    };
    if minutes <= 0.0 {
        let message = format!(
            "a task cannot last {text}{}",
            if bare { format!(" {}", unit.unwrap_or("minutes")) } else { String::new() }
        );
        row.wrong(
            &code::IMPOSSIBLE_VALUE,
            Column::Minutes,
            message,
            "write how long it lasted, or take the row away",
        );
        return None;
    }
    Some(DiaryTime::Minutes { shift: shift?, minutes: Minutes(minutes) })
}
