//! The tables of a study into its readings, diary, leak checks and workers.

mod diary;
mod leak_checks;
pub mod present;
mod readings;
mod workers;

use super::Sources;
use super::fields::Field;
use super::fields::tables::{DIARY, LEAK_CHECKS, READINGS, WORKERS};
use super::study_file::Wanted;
use super::table::{Table, open};
use crate::diagnose::{Findings, Span, code};
use crate::model::Study;

/// Reads every table that the study names; the workers first, since the others name them.
pub fn read_all(wanted: &Wanted, study: &mut Study, sources: &mut Sources, findings: &Findings) {
    match table(&wanted.workers, WORKERS, sources, findings) {
        Some(table) => workers::read(&table, study, findings),
        None if wanted.workers.is_some() => study.workers.mark_unreadable(),
        None => {}
    }
    study.faulty.diary = true;
    if let Some(table) = table(&wanted.diary, DIARY, sources, findings) {
        diary::read(&table, study, findings);
        without_rows(&table, "diary", findings);
    }
    if let Some(table) = table(&wanted.leak_checks, LEAK_CHECKS, sources, findings) {
        leak_checks::read(&table, study, findings);
    }
    if let Some(table) = table(&wanted.readings, READINGS, sources, findings) {
        readings::read(&table, study, findings);
        without_rows(&table, "readings table", findings);
    }
}

fn table(
    wanted: &Option<(String, Span)>,
    columns: &[Field],
    sources: &mut Sources,
    findings: &Findings,
) -> Option<Table> {
    let (name, mentioned) = wanted.as_ref()?;
    open(name, *mentioned, columns, sources, findings)
}

fn without_rows(table: &Table, what: &str, findings: &Findings) {
    if table.len() == 0 && !table.is_ragged() {
        let message = format!("the {what} has a header but no rows");
        findings.report(&code::TABLE_WITHOUT_ROWS, table.span(), message, "fill in at least one row");
    }
}
