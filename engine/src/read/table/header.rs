//! The header of a table, matched to the columns that are known.

use crate::diagnose::nearest;
use crate::diagnose::{FileId, Findings, Span, code};
use crate::model::Column;
use crate::model::column::Cells;
use crate::read::fields::{Field, Shape};

/// One column of the header as written: `temperature [C]` is named `temperature` and has the unit `C`.
#[derive(Debug, PartialEq)]
struct Heading {
    name: String,
    unit: Option<String>,
}

/// The column's own name, where the study says that it goes by another.
pub fn called<'a>(name: &'a str, synonyms: &[(String, &'static str)]) -> &'a str {
    synonyms.iter().find(|(other, _)| other == name).map_or(name, |(_, own)| own)
}

/// The name by which a heading is compared: case, blanks and hyphens do not count.
pub fn comparable(text: &str) -> String {
    heading(text).name
}

fn heading(text: &str) -> Heading {
    let text = text.trim();
    let (name, unit) = match text.find(['[', '(']) {
        Some(at) => (&text[..at], Some(text[at + 1..].trim_end_matches([']', ')']).trim().to_owned())),
        None => (text, None),
    };
    Heading { name: name.trim().to_lowercase().replace([' ', '-'], "_"), unit }
}

/// Most columns of a table; more stand only in a file that is none.
const MOST_COLUMNS: usize = 10_000;

/// Matches the header to the known columns; `None` with findings where a needed one is missing.
pub fn columns(
    file: FileId,
    name: &str,
    header: (u32, &csv::StringRecord),
    (columns, synonyms): (&[Field], &[(String, &'static str)]),
    findings: &Findings,
) -> Option<(Cells, Vec<(Column, String)>)> {
    let (line, header) = header;
    if header.len() > MOST_COLUMNS {
        let message = format!("the first line of {name} has {} columns", header.len());
        let help = format!(
            "no table of a study has more than {MOST_COLUMNS}; begin it with a header line: {}",
            self::line(columns)
        );
        findings.report(&code::UNKNOWN_FORMAT, Span::Cell { file, line, field: None }, message, help);
        return None;
    }
    let own = |text: &str| {
        let Heading { name, unit } = heading(text);
        Heading { name: called(&name, synonyms).to_owned(), unit }
    };
    let headings: Vec<Heading> = header.iter().map(own).collect();
    let at = |field: usize| Span::Cell { file, line, field: Some(field as u16) };
    let known = || columns.iter().map(|column| column.name);
    let called = |name: &str| Column::called(name).filter(|_| known().any(|k| k == name));
    let (mut cells, mut units, mut extra) = (Cells::default(), Vec::new(), Vec::new());
    for (field, heading) in headings.iter().enumerate() {
        let Some(column) = called(&heading.name) else {
            extra.extend((!heading.name.is_empty()).then_some((field, heading.name.as_str())));
            continue;
        };
        if let Some(first) = cells.field(column) {
            let spans = vec![at(field), at(first as usize)];
            let message = format!("column `{column}` stands twice in {name}");
            findings.report_at(&code::DUPLICATE_COLUMN, spans, message, "keep one of the two");
        } else {
            cells.add(column, field as u16);
            let help = columns.iter().find(|known| known.name == column.name()).and_then(without_unit);
            if let (Some(unit), Some(help)) = (&heading.unit, help) {
                let message = format!("`{column}` takes no unit, and `{unit}` is not understood");
                let help = format!("head the column `{column}`{help}");
                findings.report(&code::BAD_QUANTITY, at(field), message, help);
            }
            units.extend(heading.unit.clone().map(|unit| (column, unit)));
        }
    }
    let missing: Vec<&str> =
        needed(columns).filter(|n| called(n).and_then(|column| cells.field(column)).is_none()).collect();
    match missing.is_empty() {
        true => report_extra(&extra, name, &at, known(), findings),
        false => {
            report_missing(&missing, &extra, name, Span::Cell { file, line, field: None }, columns, findings)
        }
    }
    missing.is_empty().then_some((cells, units))
}

/// What to do about a unit in the heading of a column that takes none; behind words brackets hold a remark.
fn without_unit(field: &Field) -> Option<&'static str> {
    match field.shape {
        // The minutes of a task may be told in hours.
        Shape::Number if field.name == Column::Minutes.name() => None,
        Shape::Number => Some(""),
        Shape::Moment => {
            Some("; a time zone stands under `study`, an offset from UTC behind the time that needs one")
        }
        _ => None,
    }
}

/// Missing columns: one finding for each that a misspelt one was probably meant for, one for all others.
fn report_missing(
    missing: &[&str],
    extra: &[(usize, &str)],
    name: &str,
    header: Span,
    columns: &[Field],
    findings: &Findings,
) {
    let mut others = Vec::new();
    for needed in missing {
        match nearest(needed, extra.iter().map(|(_, n)| *n)).strip_prefix("did you mean ") {
            Some(near) => {
                let message = format!("{name} has no column `{needed}`");
                findings.report(
                    &code::MISSING_COLUMN,
                    header,
                    message,
                    format!("is it the one called {near}"),
                );
            }
            None => others.push(format!("`{needed}`")),
        }
    }
    let all: Vec<&str> = needed(columns).collect();
    let (word, help) = match others.len() {
        0 => return,
        n if n < all.len() && !extra.is_empty() => {
            let heading = shortened(extra[0].1);
            let help = format!(
                "every row needs: {}; is it under another heading, as `{heading}`? then say so in study.yaml under `columns`, as {{{}: {heading}}}",
                all.join(", "),
                others[0].trim_matches('`')
            );
            (if n == 1 { "column" } else { "columns" }, help)
        }
        1 => ("column", format!("every row needs: {}", all.join(", "))),
        n if n == all.len() => ("columns", format!("begin the table with a header line: {}", line(columns))),
        _ => ("columns", format!("every row needs: {}", all.join(", "))),
    };
    findings.report(
        &code::MISSING_COLUMN,
        header,
        format!("{name} has no {word} {}", others.join(", ")),
        help,
    );
}

/// A header line that makes a table: the columns that every row needs, and of a diary how it is mostly told.
pub fn line(columns: &[Field]) -> String {
    let is_diary = columns.iter().any(|column| column.name == Column::Minutes.name());
    if is_diary { "worker,start,end,task".to_owned() } else { needed(columns).collect::<Vec<_>>().join(",") }
}

/// The names of the columns that every row needs.
pub fn needed(columns: &[Field]) -> impl Iterator<Item = &'static str> {
    columns.iter().filter(|column| column.needed).map(|column| column.name)
}

fn report_extra<'a>(
    extra: &[(usize, &str)],
    name: &str,
    at: &dyn Fn(usize) -> Span,
    known: impl Iterator<Item = &'a str> + Clone,
    findings: &Findings,
) {
    let Some(&(first, _)) = extra.first() else { return };
    let names: Vec<String> = extra.iter().take(8).map(|(_, n)| format!("`{}`", shortened(n))).collect();
    let more = if extra.len() > 8 { format!(" and {} more", extra.len() - 8) } else { String::new() };
    let near = extra.iter().take(8).find_map(|(_, n)| {
        let near = nearest(n, known.clone());
        near.starts_with("did").then(|| format!("`{}`: {near}", shortened(n)))
    });
    findings.report(
        &code::EXTRA_COLUMNS,
        at(first),
        format!("{name} has columns that are not used: {}{more}", names.join(", ")),
        near.unwrap_or_else(|| "nothing need be done; their cells stay in the file".to_owned()),
    );
}

fn shortened(name: &str) -> String {
    match name.char_indices().nth(40) {
        Some((end, _)) => format!("{}...", &name[..end]),
        None => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_heading_may_carry_its_unit() {
        assert_eq!(
            heading(" Temperature [C] "),
            Heading { name: "temperature".into(), unit: Some("C".into()) }
        );
        assert_eq!(heading("Pre-tube"), Heading { name: "pre_tube".into(), unit: None });
    }
}
