//! Places as the user gets them: the file named, the line or the row quoted.

use super::super::table::fields;
use super::{Content, Sources};
use crate::diagnose::{FileId, Finding, Findings, Place, Report, Span, cell_name};
use std::borrow::Cow;
use std::collections::HashMap;

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
        let mut quotes = self.quotes();
        findings.into_sorted().into_iter().map(|finding| quotes.resolve(finding)).collect()
    }

    /// For quoting many places.
    pub fn quotes(&self) -> Quotes<'_> {
        Quotes { sources: self, pages: HashMap::new() }
    }
}

/// Quotes the places of findings. Of every file the page that was quoted last stays open, as the next place mostly lies on it.
pub struct Quotes<'a> {
    sources: &'a Sources,
    pages: HashMap<FileId, Page<'a>>,
}

/// Lines of a file that follow each other.
struct Page<'a> {
    bytes: Cow<'a, [u8]>,
    /// Number of the first of them.
    first: u32,
    /// Where each starts.
    starts: Vec<usize>,
}

impl<'a> Page<'a> {
    fn of(bytes: Cow<'a, [u8]>, first: u32) -> Page<'a> {
        Page { starts: fields::starts(&bytes), bytes, first }
    }

    fn has(&self, line: u32) -> bool {
        line >= self.first && self.start(line) < self.bytes.len()
    }

    /// Where a line starts; the end where it is not on the page.
    fn start(&self, line: u32) -> usize {
        let at = line.checked_sub(self.first).and_then(|at| self.starts.get(at as usize));
        at.copied().unwrap_or(self.bytes.len())
    }

    fn cell(&self, line: u32, field: Option<u16>, separator: u8) -> Place {
        let Some(field) = field else {
            return Place { column: 0, length: 0, ..self.text(line, 1, 0) };
        };
        let cell = fields::locate(&self.bytes, (self.start(line), line), field, separator);
        self.text(cell.line, cell.column, cell.length)
    }

    fn text(&self, line: u32, column: u32, length: u32) -> Place {
        let text = fields::line(&self.bytes, self.start(line));
        Place { line, column, length, ..excerpt(&text, column.saturating_sub(1)) }
    }
}

impl<'a> Quotes<'a> {
    /// A finding as the user gets it.
    pub fn resolve(&mut self, finding: Finding) -> Report {
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

    fn place(&mut self, span: Span) -> Place {
        let (id, sources) = (span.file(), self.sources);
        let mut place = match span {
            Span::File(_) => Place::default(),
            Span::Text { line, column, length, .. } => self.page(id, line).text(line, column, length),
            Span::Cell { line, field, .. } => match sources.files.get(id.0 as usize).map(|f| &f.content) {
                Some(Content::Grid { rows, .. }) => quoted_row(rows, line, field),
                Some(Content::Bytes { separator, .. }) => {
                    self.page(id, line).cell(line, field, separator.unwrap_or(b','))
                }
                Some(Content::Long(long)) => self.page(id, line).cell(line, field, long.separator),
                None => Place::default(),
            },
        };
        match sources.sheet(id) {
            Some((workbook, sheet)) => {
                place.file = workbook.to_owned();
                place.sheet = Some(sheet.to_owned());
                place.cell = (place.column > 0).then(|| cell_name(place.line, place.column));
            }
            None => place.file = sources.name(id).to_owned(),
        }
        place
    }

    /// The page of a file with a line on it.
    fn page(&mut self, file: FileId, line: u32) -> &Page<'a> {
        let sources = self.sources;
        let open = || match sources.long(file) {
            Some(long) => {
                let (bytes, first) = long.around(line);
                Page::of(Cow::Owned(bytes), first)
            }
            None => Page::of(Cow::Borrowed(sources.bytes(file)), 1),
        };
        let page = self.pages.entry(file).or_insert_with(open);
        if !page.has(line) && sources.long(file).is_some() {
            *page = open();
        }
        page
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_has_its_own_lines_and_not_the_first_of_the_next() {
        let page = Page::of(Cow::Borrowed(b"R1,W1\nR2,W2\n"), 5);
        assert_eq!([4, 5, 6, 7].map(|line| page.has(line)), [false, true, true, false]);
        let cell = page.cell(6, Some(1), b',');
        assert_eq!((cell.line, cell.column, cell.length, cell.excerpt.as_str()), (6, 4, 2, "R2,W2"));
        assert_eq!(page.cell(7, Some(1), b',').excerpt, "");
    }
}
