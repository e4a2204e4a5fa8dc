//! Places as the user gets them: the file named, the line or the row quoted.

use super::super::table::fields;
use super::{Content, Sources};
use crate::diagnose::{Finding, Findings, Place, Report, Span, cell_name};

/// Widest excerpt shown, in characters.
const EXCERPT_WIDTH: usize = 110;
/// Characters of context kept left of the place when a long line is cut.
const EXCERPT_CONTEXT: usize = 40;
/// What parts the cells of a quoted row.
const CELL_RULE: &str = " | ";

impl Sources {
    /// A place in words, as `readings.csv:14` or `field.xlsx#readings!14`.
    pub fn named(&self, span: Span) -> String {
        let name = self.name(span.file());
        match span {
            Span::File(_) => name.to_owned(),
            Span::Text { line, .. } | Span::Cell { line, .. } => match self.sheet(span.file()) {
                Some(_) => format!("{name}!{line}"),
                None => format!("{name}:{line}"),
            },
        }
    }

    /// The findings as the user gets them: places resolved, lines quoted.
    pub fn reports(&self, findings: Findings) -> Vec<Report> {
        findings.into_sorted().into_iter().map(|f| self.resolve(f)).collect()
    }

    /// A finding as the user gets it.
    pub fn resolve(&self, finding: Finding) -> Report {
        Report {
            code: finding.code.id,
            name: finding.code.name,
            severity: finding.severity,
            decision: finding.decision,
            message: finding.message,
            help: finding.help,
            places: finding.spans.into_iter().map(|s| self.place(s)).collect(),
        }
    }

    fn place(&self, span: Span) -> Place {
        let id = span.file();
        let mut place = match span {
            Span::File(_) => Place::default(),
            Span::Text { line, column, length, .. } => quoted_text((self.bytes(id), 1), line, column, length),
            Span::Cell { line, field, .. } => match self.files.get(id.0 as usize).map(|f| &f.content) {
                Some(Content::Grid { rows, .. }) => quoted_row(rows, line, field),
                Some(Content::Bytes { separator, .. }) => {
                    quoted_cell((self.bytes(id), 1), line, field, separator.unwrap_or(b','))
                }
                Some(Content::Long(long)) => {
                    let (bytes, first) = long.around(line);
                    quoted_cell((&bytes, first), line, field, long.separator)
                }
                None => Place::default(),
            },
        };
        match self.sheet(id) {
            Some((workbook, sheet)) => {
                place.file = workbook.to_owned();
                place.sheet = Some(sheet.to_owned());
                place.cell = (place.column > 0).then(|| cell_name(place.line, place.column));
            }
            None => place.file = self.name(id).to_owned(),
        }
        place
    }
}

/// Bytes of a file from a line on, of which the number is told.
type From<'a> = (&'a [u8], u32);

fn quoted_cell(from: From, line: u32, field: Option<u16>, separator: u8) -> Place {
    let Some(field) = field else {
        return Place { column: 0, length: 0, ..quoted_text(from, line, 1, 0) };
    };
    let before = from.1 - 1;
    let cell = fields::locate(from.0, line - before, field, separator);
    quoted_text(from, cell.line + before, cell.column, cell.length)
}

fn quoted_text((bytes, first): From, line: u32, column: u32, length: u32) -> Place {
    let text = fields::line(bytes, line - (first - 1));
    Place { line, column, length, ..excerpt(&text, column.saturating_sub(1)) }
}

/// A row of a sheet with its cells side by side.
fn quoted_row(rows: &[(u32, csv::StringRecord)], line: u32, field: Option<u16>) -> Place {
    let empty = csv::StringRecord::new();
    let row = rows.binary_search_by_key(&line, |(line, _)| *line).map_or(&empty, |at| &rows[at].1);
    let cells: Vec<String> = row.iter().map(|cell| cell.replace(['\n', '\r'], " ")).collect();
    let width = |cell: Option<&String>| cell.map_or(0, |c| c.chars().count());
    let Some(field) = field else {
        return Place { line, ..excerpt(&cells.join(CELL_RULE), 0) };
    };
    let field = usize::from(field);
    let from: usize = (0..field).map(|f| width(cells.get(f)) + CELL_RULE.len()).sum();
    let length = width(cells.get(field)).max(1) as u32;
    Place { line, column: field as u32 + 1, length, ..excerpt(&cells.join(CELL_RULE), from as u32) }
}

/// The part of a line around the character `at`.
fn excerpt(text: &str, at: u32) -> Place {
    let from = match text.chars().count() > EXCERPT_WIDTH {
        true => (at as usize).saturating_sub(EXCERPT_CONTEXT),
        false => 0,
    };
    let excerpt = text.chars().skip(from).take(EXCERPT_WIDTH).collect();
    Place { excerpt, excerpt_cut: from > 0, excerpt_mark: at - from as u32, ..Place::default() }
}
