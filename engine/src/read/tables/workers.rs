//! The table of workers and their groups.

use crate::diagnose::Findings;
use crate::model::Study;
use crate::read::study_file::enrol;
use crate::read::table::{Columns, Table};

/// Its columns.
pub const COLUMNS: Columns = Columns { needed: &["worker", "group"], optional: &[] };

/// Enrols every worker of the table.
pub fn read(table: &Table, study: &mut Study, findings: &Findings) {
    for row in table.rows(findings) {
        let group = row.named("group", "group", &study.groups);
        if let (Some(name), Some(group)) = (row.need("worker", "W1"), group) {
            enrol(study, name, group, row.at("worker"), findings);
        }
    }
}
