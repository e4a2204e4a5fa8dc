//! `verify`: the published check values, recomputed on this machine.

use super::json;
use crate::arguments::{Format, Verify};
use crate::border::Border;
use crate::failure::Failure;
use crate::page::{Block, Column, Line, Page, Section, Table, Text, Tone, number, terminal};
use fullshift_engine::verify::{TableResult, run_all};
use serde::Serialize;

/// The result of one table for another program.
#[derive(Serialize)]
struct Row<'a> {
    id: &'a str,
    title: &'a str,
    source: &'a str,
    provenance: &'a str,
    values: usize,
    outside_tolerance: usize,
    peak_relative_error: Option<f64>,
    mean_relative_error: Option<f64>,
    agreed_digits: u32,
    largest_share_of_tolerance: Option<f64>,
    passed: bool,
    reason: Option<&'a str>,
}

#[derive(Serialize)]
struct Verified<'a> {
    format_version: u32,
    passed: bool,
    tables: Vec<Row<'a>>,
}

pub(super) fn run(typed: &Verify, border: &mut Border<'_>) -> Result<(), Failure> {
    let tables = run_all();
    let text = match typed.format {
        Format::Text => terminal::page(&page(&tables), border.width()),
        Format::Json => json(&Verified {
            format_version: 1,
            passed: tables.iter().all(|t| t.passed),
            tables: tables.iter().map(row).collect(),
        })?,
    };
    border.print(&text)?;
    match tables.iter().filter(|t| !t.passed).count() {
        0 => Ok(()),
        failed => Err(Failure::Machine {
            words: format!("{failed} of the published tables are not reproduced on this machine"),
            remedy:
                "Do not use its figures; build again from a clean checkout, and report the table if it stays."
                    .to_owned(),
        }),
    }
}

fn row(table: &TableResult) -> Row<'_> {
    Row {
        id: &table.id,
        title: &table.title,
        source: &table.source,
        provenance: &table.provenance,
        values: table.values,
        outside_tolerance: table.outside,
        peak_relative_error: Some(table.peak_relative_error).filter(|x| x.is_finite()),
        mean_relative_error: Some(table.mean_relative_error).filter(|x| x.is_finite()),
        agreed_digits: table.agreed_digits,
        largest_share_of_tolerance: table.worst.as_ref().map(|worst| worst.strain).filter(|x| x.is_finite()),
        passed: table.passed,
        reason: table.reason.as_deref(),
    }
}

fn page(tables: &[TableResult]) -> Page {
    let values: usize = tables.iter().map(|t| t.values).sum();
    let failed = tables.iter().filter(|t| !t.passed).count();
    let verdict = match failed {
        0 => Text::of(
            Tone::Below,
            format!(
                "All {values} values of {} tables agree, published or computed another way.",
                tables.len()
            ),
        ),
        _ => Text::of(
            Tone::Above,
            format!("{failed} of {} tables disagree: do not use this installation.", tables.len()),
        ),
    };
    let mut section = Section::headed(verdict);
    let columns = vec![
        Column::words("table"),
        Column::numbers("values"),
        Column::numbers("digits"),
        Column::numbers("peak error"),
        Column::numbers("mean error"),
        Column::numbers("of tolerance"),
        Column::words(""),
    ];
    let rows = tables.iter().map(|table| {
        vec![
            Text::from(table.id.as_str()),
            Text::from(table.values.to_string()),
            Text::from(table.agreed_digits.to_string()),
            Text::from(number::error(table.peak_relative_error)),
            Text::from(number::error(table.mean_relative_error)),
            Text::from(table.worst.as_ref().map_or(String::new(), |worst| share_used(worst.strain))),
            if table.passed { Text::from("agrees") } else { Text::of(Tone::Above, "disagrees") },
        ]
    });
    section.blocks.push(Block::Table(Table::of(columns, rows.collect())));
    section.blocks.push(Block::Outline(tables.iter().filter(|t| !t.passed).flat_map(complaint).collect()));
    let words = "Digits are those to which computed and published values agree at least, where the print has as many; \
                 errors are relative. Of tolerance: the largest share of what its table allows, relative or absolute, that an error \
                 uses; up to 100 % agrees. Tolerances and sources stand in fixtures/published and fixtures/SOURCES.md.";
    section.blocks.push(Block::Paragraph(Text::from(words)));
    Page { sections: vec![section] }
}

/// A share of the tolerance, in per cent.
fn share_used(strain: f64) -> String {
    match strain {
        0.0 => "0 %".to_owned(),
        strain if strain < 0.01 => "< 1 %".to_owned(),
        strain => format!("{:.0} %", (100.0 * strain).ceil()),
    }
}

/// What is wrong with a table that disagrees.
fn complaint(table: &TableResult) -> Vec<Line> {
    let mut lines = vec![Line::at(0, format!("{}: {} ({})", table.id, table.title, table.source))];
    if let Some(reason) = &table.reason {
        lines.push(Line::at(1, reason.clone()));
    }
    if let Some(worst) = &table.worst {
        let got = worst.got.map_or("nothing".to_owned(), |got| got.to_string());
        lines.push(Line::at(
            1,
            format!("{}: {} should be {}, got {got}", worst.inputs, worst.value, worst.expected),
        ));
    }
    lines
}
