//! `tables:` and `columns:`: which files hold the tables, and how they are written.

use super::super::fields::Field;
use super::super::fields::settings::{COLUMNS, TABLES};
use super::super::fields::tables::{DIARY, LEAK_CHECKS, READINGS, WORKERS};
use super::super::table::moment::{DATES, Dates};
use super::super::table::{Wanted, comparable};
use super::super::yaml::{Map, Node};
use crate::diagnose::nearest;
use crate::diagnose::{Findings, Span, code};

/// What the study names beside itself.
#[derive(Default)]
pub struct Files {
    /// Readings.
    pub readings: Option<Wanted>,
    /// Diary.
    pub diary: Option<Wanted>,
    /// Leak checks.
    pub leak_checks: Option<Wanted>,
    /// Workers and their groups.
    pub workers: Option<Wanted>,
    /// The logo of the report, with the place where it is named.
    pub logo: Option<(String, Span)>,
}

/// `tables:` with `columns:`.
pub fn tables(top: &Map, findings: &Findings) -> Files {
    let example = "tables: {readings: readings.csv, diary: diary.csv}";
    let columns = top.get("columns").map(|node| node.map(COLUMNS, findings));
    let Some(node) = top.need("tables", example, findings) else { return Files::default() };
    let map = node.map(TABLES, findings);
    let dates = map.get("dates").and_then(|n| n.choice(&DATES, findings)).unwrap_or_default();
    let wanted = |kind, node, fields| wanted(kind, node, fields, columns.as_ref(), dates, findings);
    Files {
        readings: wanted("readings", map.need("readings", "readings: readings.csv", findings), READINGS),
        diary: wanted("diary", map.need("diary", "diary: diary.csv", findings), DIARY),
        leak_checks: wanted("leak_checks", map.get("leak_checks"), LEAK_CHECKS),
        workers: wanted("workers", map.get("workers"), WORKERS),
        logo: None,
    }
}

fn wanted(
    kind: &'static str,
    node: Option<Node>,
    columns: &'static [Field],
    headings: Option<&Map>,
    dates: Dates,
    findings: &Findings,
) -> Option<Wanted> {
    let node = node?;
    let headings = headings.and_then(|map| map.get(kind));
    let synonyms = headings.map_or(Vec::new(), |node| synonyms(&node, columns, findings));
    Some(Wanted { kind, name: node.text(findings)?, span: node.span(), columns, synonyms, dates })
}

/// The other headings of a table's columns, each as it is compared with the name that it stands for.
fn synonyms(node: &Node, columns: &[Field], findings: &Findings) -> Vec<(String, &'static str)> {
    let mut list = Vec::new();
    for (name, entry) in node.entries(findings) {
        let Some(column) = columns.iter().find(|column| column.name == name) else {
            let message = format!("`{name}` is not a column of this table");
            let help = nearest(&name, columns.iter().map(|column| column.name));
            findings.report(&code::UNKNOWN_KEY, entry.key_span(), message, help);
            continue;
        };
        let headings = if entry.is_list() { entry.list(findings) } else { vec![entry] };
        let texts = headings.iter().filter_map(|heading| heading.text(findings));
        list.extend(texts.map(|text| (comparable(&text), column.name)));
    }
    list
}
