//! One row, and the questions a study asks of its cells. A wrong answer becomes a finding and `None`.

use super::moment::{date, date_time};
use super::time_slips::slip;
use super::{Columns, Table};
use crate::diagnose::nearest;
use crate::diagnose::{Code, Findings, Span, code};
use crate::model::column::Cells;
use crate::model::{Clock, Column, Named, NoInstant, Ref};
use crate::read::number::{Comma, NotANumber, number};
use crate::read::quantity::{self, Kind, NoQuantity, quantity_text};
use chrono::{NaiveDateTime, NaiveTime};
use std::cell::Cell;
use std::sync::Arc;

/// A text without blanks around it, seen at once where there are none.
#[inline]
fn trimmed(text: &str) -> &str {
    match text.as_bytes() {
        [only] | [only, .., _] if !only.is_ascii_graphic() => text.trim(),
        [.., last] if !last.is_ascii_graphic() => text.trim(),
        _ => text,
    }
}

/// The number of the thing that each column named last: rows that follow each other mostly name the same.
#[derive(Debug, Default)]
pub struct Recent([Cell<u32>; Column::COUNT]);

impl Recent {
    fn of(&self, column: Column) -> &Cell<u32> {
        &self.0[column as usize]
    }
}

/// A row of a table.
pub struct Row<'a> {
    columns: &'a Columns,
    line: u32,
    record: &'a csv::StringRecord,
    recent: &'a Recent,
    findings: &'a Findings,
}

impl Table {
    /// The rows.
    pub fn rows<'a>(&'a self, findings: &'a Findings) -> impl Iterator<Item = Row<'a>> {
        self.rows.iter().map(move |(line, record)| self.columns.row(*line, record, &self.recent, findings))
    }

    /// Its columns.
    pub fn columns(&self) -> &Columns {
        &self.columns
    }

    /// Number of rows.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether rows were left out because they do not fit the header.
    pub fn is_ragged(&self) -> bool {
        self.ragged
    }

    /// The place of the header.
    pub fn span(&self) -> Span {
        self.columns.span()
    }
}

impl Columns {
    /// A row of these columns.
    pub fn row<'a>(
        &'a self,
        line: u32,
        record: &'a csv::StringRecord,
        recent: &'a Recent,
        findings: &'a Findings,
    ) -> Row<'a> {
        Row { columns: self, line, record, recent, findings }
    }

    /// The place of the header.
    pub fn span(&self) -> Span {
        Span::File(self.file)
    }

    /// Whether the header has a column.
    pub fn has(&self, column: Column) -> bool {
        self.cells.field(column).is_some()
    }

    /// The field that holds a column.
    pub fn field(&self, column: Column) -> Option<u16> {
        self.cells.field(column)
    }

    /// The same columns for another thread: what is shared by counting is copied, so that the count is not fought over.
    pub fn apart(&self) -> Columns {
        Columns { cells: Arc::new(*self.cells), ..self.clone() }
    }
}

impl<'a> Row<'a> {
    /// The place of the row.
    pub fn span(&self) -> Span {
        Span::Cell { file: self.columns.file, line: self.line, field: None }
    }

    /// The place of a cell.
    pub fn at(&self, column: Column) -> Span {
        self.span().cell(self.columns.cells.field(column))
    }

    /// The columns of the table, for later questions about places.
    pub fn cells(&self) -> Arc<Cells> {
        self.columns.cells.clone()
    }

    /// The unit that the heading of a column gives.
    pub fn heading_unit(&self, column: Column) -> Option<&'a str> {
        self.columns.units.iter().find(|(name, _)| *name == column).map(|(_, unit)| unit.as_str())
    }

    /// Reports what is wrong with the heading of a column.
    pub fn wrong_heading(
        &self,
        code: &'static Code,
        column: Column,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        let header = Span::Cell { file: self.columns.file, line: self.columns.line, field: None };
        self.findings.report(code, header.cell(self.columns.cells.field(column)), message, help);
    }

    /// How a comma in a number of this table is meant.
    pub fn comma(&self) -> Comma {
        self.columns.comma
    }

    /// A cell, if it is there and not empty.
    pub fn text(&self, column: Column) -> Option<&'a str> {
        let field = self.columns.cells.field(column)?;
        self.record.get(usize::from(field)).map(trimmed).filter(|text| !text.is_empty())
    }

    /// A cell that must not be empty.
    pub fn need(&self, column: Column, example: &str) -> Option<&'a str> {
        let text = self.text(column);
        if text.is_none() {
            let message = format!("`{column}` is empty");
            self.findings.report(
                &code::EMPTY_CELL,
                self.at(column),
                message,
                format!("write, for example, {example}"),
            );
        }
        text
    }

    /// Reports what is wrong with a cell.
    pub fn wrong(
        &self,
        code: &'static Code,
        column: Column,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.findings.report(code, self.at(column), message, help);
    }

    /// The declared thing that a cell names, if there is one.
    pub fn find<T>(&self, column: Column, list: &Named<T>) -> Option<Ref<T>> {
        list.find_again(self.text(column)?, self.recent.of(column))
    }

    /// The declared thing that a cell must name.
    pub fn named<T>(&self, column: Column, list: &Named<T>) -> Option<Ref<T>> {
        let name = self.need(column, list.names().next().unwrap_or("its name"))?;
        let found = list.find_again(name, self.recent.of(column));
        if found.is_none() && !list.excuses(name) {
            let names: Vec<&str> = list.names().collect();
            let message = format!("no {column} called `{name}` is declared");
            let near = nearest(name, names.into_iter());
            let help = match column {
                _ if near.starts_with("did") => near,
                Column::Worker => format!("{near}; or add `{name}` to a group"),
                _ => format!("{near}; or declare `{name}` under `{column}s` in study.yaml"),
            };
            self.wrong(&code::UNKNOWN_NAME, column, message, help);
        }
        found
    }

    /// A bare number.
    pub fn number(&self, column: Column, text: &str) -> Option<f64> {
        match number(text, self.columns.comma) {
            Ok(value) => Some(value),
            Err(NotANumber::AmbiguousComma) => {
                self.ambiguous(column, text);
                None
            }
            Err(NotANumber::TooLarge) => {
                let message = format!("`{text}` is larger than `{column}` can be");
                self.wrong(&code::IMPOSSIBLE_VALUE, column, message, "check the number");
                None
            }
            Err(NotANumber::Unreadable) => {
                let message = format!("`{text}` is not a number");
                self.wrong(&code::BAD_CELL, column, message, "write digits only, as 12 or 0.5");
                None
            }
        }
    }

    /// Reports a number whose comma may part decimals or thousands.
    pub fn ambiguous(&self, column: Column, text: &str) {
        let message = quantity::ambiguous(text);
        let help = "write a decimal point, or part the cells of the table with semicolons";
        self.wrong(&code::AMBIGUOUS_NUMBER, column, message, help);
    }

    /// Reports a cell that is no quantity.
    pub fn no_quantity(&self, column: Column, wrong: NoQuantity, help: &str) {
        match wrong {
            NoQuantity::AmbiguousComma(number) => self.ambiguous(column, &number),
            wrong => wrong.report(self.at(column), help, self.findings),
        }
    }

    /// A quantity whose unit stands in the cell or in the header.
    pub fn quantity(&self, column: Column, kind: &Kind) -> Option<f64> {
        let text = self.text(column)?;
        let bare = number(text, Comma::Decimal).is_ok();
        let full = match self.heading_unit(column) {
            Some(unit) if bare => format!("{text} {unit}"),
            _ => text.to_owned(),
        };
        match quantity_text(&full, kind, self.columns.comma) {
            Ok(value) => Some(value),
            Err(wrong) => {
                let example = kind.examples.split(", ").next().unwrap_or("");
                let unit = example.rsplit(' ').next().unwrap_or("");
                let help = format!("write it as {}, or head the column `{column} [{unit}]`", kind.examples);
                self.no_quantity(column, wrong, &help);
                None
            }
        }
    }

    /// The instant of a local date and time.
    pub fn moment(&self, column: Column, clock: &Clock) -> Option<NaiveDateTime> {
        let text = self.need(column, "2027-03-09 22:40")?;
        self.moment_of(column, text, false, clock)
    }

    fn moment_of(
        &self,
        column: Column,
        text: &str,
        day_suffices: bool,
        clock: &Clock,
    ) -> Option<NaiveDateTime> {
        let read = date_time(text, self.columns.dates).or_else(|| date_time(text, self.columns.serial));
        let Some((local, offset)) = read else {
            let (message, help) = slip(text, self.columns.dates, day_suffices);
            self.wrong(&code::BAD_CELL, column, message, help);
            return None;
        };
        self.instant(column, text, clock.instant(local, offset))
    }

    /// The instant of a date and time, or of a date alone: then of its midnight.
    pub fn day_or_moment(&self, column: Column, clock: &Clock) -> Option<NaiveDateTime> {
        let text = self.need(column, "2027-03-09 06:00")?;
        match date(text, self.columns.dates).or_else(|| date(text, self.columns.serial)) {
            Some(day) => self.instant(column, text, clock.instant(day.and_time(NaiveTime::MIN), None)),
            None => self.moment_of(column, text, true, clock),
        }
    }

    fn instant(
        &self,
        column: Column,
        text: &str,
        found: Result<NaiveDateTime, NoInstant>,
    ) -> Option<NaiveDateTime> {
        let (message, help) = match found {
            Ok(instant) => return Some(instant),
            Err(NoInstant::Twice(first, second)) => (
                format!("the clock showed {text} twice that night"),
                format!(
                    "add the offset from UTC: `{text} {first}` for the first time, `{text} {second}` for the second"
                ),
            ),
            Err(NoInstant::Never) => (
                format!("the clock was put forward over {text}; it never showed that time"),
                "correct the time, or the `time_zone` of the study".to_owned(),
            ),
            Err(NoInstant::WrongOffset(right)) => (
                format!("{text} has another offset from UTC in the study's time zone"),
                format!("it is {right}"),
            ),
            Err(NoInstant::OffsetWithoutZone) => (
                format!("{text} tells an offset from UTC, but the study names no time zone"),
                "add `time_zone`, as Europe/Berlin, under `study`, or take the offset away".to_owned(),
            ),
        };
        self.wrong(&code::NO_SUCH_TIME, column, message, help);
        None
    }
}
