//! The tables of a study into its readings, diary, leak checks and workers.

mod diary;
mod leak_checks;
pub mod present;
mod readings;
mod workers;

use super::Sources;
use super::study_file::Files;
use super::table::{Table, Wanted, open};
use crate::diagnose::{Findings, code};
use crate::model::{FaultyDiary, Study};

/// Reads every table that the study names; the workers first, since the others name them.
pub fn read_all(files: &Files, study: &mut Study, sources: &mut Sources, findings: &Findings) {
    let mut table = |wanted: &Option<Wanted>| open(wanted.as_ref()?, sources, findings);
    match table(&files.workers) {
        Some(table) => workers::read(&table, study, findings),
        None if files.workers.is_some() => study.workers.mark_unreadable(),
        None => {}
    }
    study.faulty.diary = FaultyDiary::Any;
    let mut empty_diary = None;
    if let Some(table) = table(&files.diary) {
        diary::read(&table, study, findings);
        empty_diary = is_without_rows(&table).then(|| table.span());
    }
    match table(&files.leak_checks) {
        Some(table) => leak_checks::read(&table, study, findings),
        None => study.faulty.leak_checks = files.leak_checks.is_some(),
    }
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

fn is_without_rows(table: &Table) -> bool {
    table.len() == 0 && !table.is_ragged()
}
