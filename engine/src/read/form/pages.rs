//! The pages for the field: readings, diary, leak checks, workers.

use crate::model::{FormColumn, FormEntry, FormSheet};
use crate::read::fields::tables::{DIARY, LEAK_CHECKS, READINGS, WORKERS};
use crate::read::fields::{Field, Shape};
use crate::read::number::{Comma, number};
use crate::read::table::Wanted;
use crate::read::table::grid::Grid;
use crate::read::table::{called, comparable};

/// Rows to be filled in on a page.
const SPARE_ROWS: u32 = 50;

/// The columns of each page, and those that are left out: the unit stands on the tube.
const PAGES: [(&str, &[Field], &[&str]); 4] = [
    ("readings", READINGS, &["unit"]),
    ("diary", DIARY, &[]),
    ("leak_checks", LEAK_CHECKS, &[]),
    ("workers", WORKERS, &[]),
];

/// A page to be filled in from the start.
pub fn blank(name: &str) -> FormSheet {
    let page = PAGES.iter().find(|(page, ..)| *page == name);
    let columns = page.map_or(Vec::new(), |(_, fields, left_out)| {
        fields
            .iter()
            .filter(|field| !left_out.contains(&field.name))
            .map(|f| column(heading(f), Some(f)))
            .collect()
    });
    FormSheet { name: name.to_owned(), columns, rows: Vec::new(), spare_rows: SPARE_ROWS }
}

/// A page with what a table holds, each row where it stood.
pub fn filled(name: &str, wanted: &Wanted, grid: &Grid) -> FormSheet {
    let Some(((_, header), rows)) = grid.rows.split_first() else { return blank(name) };
    let fields: Vec<Option<&Field>> = header
        .iter()
        .map(|text| {
            let own = comparable(text);
            let name = called(&own, &wanted.synonyms);
            wanted.columns.iter().find(|field| field.name == name)
        })
        .collect();
    let columns =
        header.iter().zip(&fields).map(|(text, field)| column(text.trim().to_owned(), *field)).collect();
    let cell = |(at, text): (usize, &str)| match (grid.comma, fields.get(at)) {
        (Comma::Decimal, Some(Some(field))) => with_points(text.trim(), field.shape),
        _ => text.trim().to_owned(),
    };
    let first = grid.rows[0].0;
    let row = |(line, row): &(u32, csv::StringRecord)| {
        (line - first + 1, row.iter().enumerate().map(cell).collect::<Vec<String>>())
    };
    FormSheet { name: name.to_owned(), columns, rows: rows.iter().map(row).collect(), spare_rows: SPARE_ROWS }
}

/// A number or a stain whose commas part decimals, with points in their place.
fn with_points(text: &str, shape: Shape) -> String {
    let parts_decimals = match shape {
        Shape::Number => number(text, Comma::Decimal).is_ok(),
        Shape::Stain => true,
        _ => false,
    };
    if parts_decimals { text.replace(',', ".") } else { text.to_owned() }
}

/// The heading of a column to be filled in, with the unit in which it is asked for.
fn heading(field: &Field) -> String {
    match field.shape {
        Shape::Quantity(kind) => format!("{} [{}]", field.name, kind.usual_symbol()),
        _ => field.name.to_owned(),
    }
}

/// A column, as its field says what belongs in it.
pub fn column(heading: String, field: Option<&Field>) -> FormColumn {
    let entry = field.map_or(FormEntry::Text, |field| match field.shape {
        Shape::Number => FormEntry::Number,
        Shape::Quantity(_) if heading.contains('[') => FormEntry::Number,
        Shape::Moment => FormEntry::Moment,
        Shape::Choice(words) => FormEntry::Choice(words.iter().map(|w| (*w).to_owned()).collect()),
        Shape::NameOf(setting) => FormEntry::NameOf(setting.to_owned()),
        _ => FormEntry::Text,
    });
    FormColumn { heading, about: field.map_or("", |field| field.about).to_owned(), entry }
}
