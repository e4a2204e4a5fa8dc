//! The table of workers and their groups.

use crate::diagnose::Findings;
use crate::model::{Column, Study};
use crate::read::study_file::enrol;
use crate::read::table::Table;

/// Enrols every worker of the table.
pub fn read(table: &Table, study: &mut Study, findings: &Findings) {
    if table.is_ragged() {
        study.workers.mark_unreadable();
    }
    for row in table.rows(findings) {
        let group = row.named(Column::Group, &study.groups);
        match (row.need(Column::Worker, "W1"), group) {
            (Some(name), Some(group)) => enrol(study, name, group, row.at(Column::Worker), findings),
            (Some(name), None) => study.workers.insert_faulty(name),
            (None, _) => {}
        }
    }
}
