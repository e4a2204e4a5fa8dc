//! The table of leak checks.

use crate::diagnose::nearest;
use crate::diagnose::{Findings, code};
use crate::model::{Column, LeakCheck, Study};
use crate::read::table::{Row, Table};

/// What is understood as an answer.
const ANSWERS: [(&str, bool); 6] =
    [("yes", true), ("no", false), ("true", true), ("false", false), ("1", true), ("0", false)];

/// Reads every leak check.
pub fn read(table: &Table, study: &mut Study, findings: &Findings) {
    let read: Vec<LeakCheck> = table.rows(findings).filter_map(|row| leak_check(&row, study)).collect();
    study.faulty.leak_checks = table.is_ragged() || read.len() < table.len();
    study.leak_checks = read;
}

fn leak_check(row: &Row, study: &Study) -> Option<LeakCheck> {
    let pump = row.named(Column::Pump, &study.pumps);
    let tube = row.named(Column::Tube, &study.tubes);
    let at = row.moment(Column::At, &study.clock);
    let passed = row.need(Column::Passed, "yes").and_then(|text| answer(row, text));
    Some(LeakCheck { pump: pump?, tube: tube?, at: at?, passed: passed?, span: row.span() })
}

fn answer(row: &Row, text: &str) -> Option<bool> {
    let found = ANSWERS.iter().find(|(word, _)| word.eq_ignore_ascii_case(text)).map(|(_, answer)| *answer);
    if found.is_none() {
        let help = nearest(text, ["yes", "no"].into_iter());
        row.wrong(&code::BAD_CHOICE, Column::Passed, format!("`{text}` is neither yes nor no"), help);
    }
    found
}
