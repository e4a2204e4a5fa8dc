//! The diary, by the clock or by minutes.

use crate::diagnose::{Findings, code};
use crate::model::{Clock, Column, DiaryRow, FaultyDiary, Minutes, Ref, Study, Worker, study::DiaryTime};
use crate::read::quantity::TIME;
use crate::read::table::{Columns, Row, Table};
use std::collections::HashSet;

/// Reads every row.
pub fn read(table: &Table, study: &mut Study, findings: &Findings) {
    let Some(told) = told(table.columns(), findings) else {
        study.faulty.diary = FaultyDiary::Any;
        return;
    };
    let (mut rows, mut faulty, mut whose_known) = (Vec::new(), HashSet::new(), true);
    for row in table.rows(findings) {
        match diary_row(&row, told, study) {
            Ok(read) => rows.push(read),
            Err(Some(worker)) => drop(faulty.insert(worker)),
            Err(None) => whose_known = false,
        }
    }
    let whose_known = whose_known && table.len() > 0 && !table.is_ragged();
    study.faulty.diary = if whose_known { FaultyDiary::Of(faulty) } else { FaultyDiary::Any };
    study.diary = rows;
}

/// How the columns of a diary let it tell its times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// By the clock.
    Clock,
    /// By minutes within a shift.
    Minutes,
    /// Each row in one of the two ways.
    Either,
}

/// How a diary tells its times; `None` with a finding where its columns leave it open.
pub fn told(columns: &Columns, findings: &Findings) -> Option<Told> {
    let clock = [Column::Start, Column::End].map(|c| columns.has(c));
    let minutes = [Column::Shift, Column::Minutes].map(|c| columns.has(c));
    match (clock, minutes) {
        ([true, true], [_, false]) => return Some(Told::Clock),
        ([false, false], [true, true]) => return Some(Told::Minutes),
        ([true, true], [true, true]) => return Some(Told::Either),
        ([true, true], [false, true]) => {
            let message = "the diary tells its tasks both by the clock and by minutes";
            findings.report(&code::MIXED_DIARY, columns.span(), message, ONE_WAY);
        }
        _ => {
            let message = "the diary does not say how long each task lasted";
            let help = "it needs the columns worker,start,end,task or worker,shift,task,minutes";
            findings.report(&code::MISSING_COLUMN, columns.span(), message, help);
        }
    }
    None
}

/// What to do about a time that is told in two ways.
const ONE_WAY: &str = "keep `start` and `end`, or `shift` and `minutes`";

/// One row; the error names whose it is, where that could be read.
pub fn diary_row(row: &Row, told: Told, study: &Study) -> Result<DiaryRow, Option<Ref<Worker>>> {
    let worker = row.named(Column::Worker, &study.workers);
    let task = row.named(Column::Task, &study.tasks);
    let when = match told {
        Told::Clock => clock(row, &study.clock),
        Told::Minutes => minutes(row, &study.clock),
        Told::Either => either(row, &study.clock),
    };
    let read = || Some(DiaryRow { worker: worker?, task: task?, when: when?, span: row.span() });
    read().ok_or(worker)
}

/// A row of a diary that has the columns for both ways. A `shift` without `minutes` beside a time by the clock is a remark.
fn either(row: &Row, times: &Clock) -> Option<DiaryTime> {
    let has = |column: Column| row.text(column).is_some();
    match (has(Column::Start) || has(Column::End), has(Column::Minutes), has(Column::Shift)) {
        (true, false, _) => clock(row, times),
        (false, true, _) | (false, false, true) => minutes(row, times),
        (true, true, _) => {
            let message = "this row tells its time both by the clock and by minutes";
            row.wrong(&code::MIXED_DIARY, Column::Minutes, message, ONE_WAY);
            None
        }
        (false, false, false) => {
            let message = "the row does not say how long the task lasted";
            let help = "write `start` and `end`, or `shift` and `minutes`";
            row.wrong(&code::EMPTY_CELL, Column::Start, message, help);
            None
        }
    }
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
