//! The tables of a study into its readings, diary, leak checks and workers.

pub mod diary;
mod leak_checks;
pub mod present;
pub mod readings;
mod workers;

use super::Sources;
use super::study_file::Files;
use super::table::{Table, Wanted, open};
use crate::diagnose::{Findings, code};
use crate::model::{FaultyDiary, Study};

/// Reads every table that the study names.
pub fn read_all(files: &Files, study: &mut Study, sources: &mut Sources, findings: &Findings) {
    read_workers(files, study, sources, findings);
    study.faulty.diary = FaultyDiary::Any;
    let mut empty_diary = None;
    let mut table = |wanted: &Option<Wanted>| open(wanted.as_ref()?, sources, findings);
    if let Some(table) = table(&files.diary) {
        diary::read(&table, study, findings);
        empty_diary = is_without_rows(&table).then(|| table.span());
    }
    read_leak_checks(files, study, sources, findings);
    let mut table = |wanted: &Option<Wanted>| open(wanted.as_ref()?, sources, findings);
    if let Some(table) = table(&files.readings) {
        readings::read(&table, study, findings);
        if is_without_rows(&table) {
            let message = "nothing was measured yet: the readings table has a header but no rows";
            let help = "plan the visit with `fullshift plan`; an assessment would have no figure to give";
            findings.report(&code::NO_READINGS_YET, table.span(), message, help);
            return;
        }
    }
    if let Some(span) = empty_diary {
        let message = "the diary has a header but no rows";
        findings.report(&code::TABLE_WITHOUT_ROWS, span, message, "fill in at least one row");
    }
}

/// Reads the workers, before the tables that name them.
pub fn read_workers(files: &Files, study: &mut Study, sources: &mut Sources, findings: &Findings) {
    let Some(wanted) = &files.workers else { return };
    match open(wanted, sources, findings) {
        Some(table) => workers::read(&table, study, findings),
        None => study.workers.mark_unreadable(),
    }
}

/// Reads the leak checks.
pub fn read_leak_checks(files: &Files, study: &mut Study, sources: &mut Sources, findings: &Findings) {
    let Some(wanted) = &files.leak_checks else { return };
    match open(wanted, sources, findings) {
        Some(table) => leak_checks::read(&table, study, findings),
        None => study.faulty.leak_checks = true,
    }
}

fn is_without_rows(table: &Table) -> bool {
    table.len() == 0 && !table.is_ragged()
}
