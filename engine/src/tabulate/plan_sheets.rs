//! The pages of a plan for a field workbook.

use crate::model::form::{FormColumn, FormEntry, FormSheet};
use crate::tabulate::TableFile;

/// The tables that are of use in the field, each with the name of its page.
const PAGES: [(&str, &str); 3] =
    [("workers.csv", "plan workers"), ("times.csv", "plan times"), ("tubes.csv", "plan tubes")];

/// Whom to sample, when, and with which tubes, as pages that nobody need fill in.
pub fn sheets(tables: &[TableFile]) -> Result<Vec<FormSheet>, csv::Error> {
    let named =
        |(file, page): (&str, &'static str)| Some((tables.iter().find(|table| table.name == file)?, page));
    PAGES.into_iter().filter_map(named).map(|(table, page)| sheet(&table.bytes, page)).collect()
}

fn sheet(bytes: &[u8], name: &str) -> Result<FormSheet, csv::Error> {
    let mut reader = csv::Reader::from_reader(bytes);
    let column = |heading: &str| FormColumn {
        heading: heading.replace('_', " "),
        about: String::new(),
        entry: FormEntry::Fixed,
    };
    let columns = reader.headers()?.iter().map(column).collect();
    let rows = reader.records().zip(2..).map(|(row, number)| Ok((number, row?.iter().map(plain).collect())));
    Ok(FormSheet {
        name: name.to_owned(),
        columns,
        rows: rows.collect::<Result<_, csv::Error>>()?,
        spare_rows: 0,
    })
}

/// A whole number without the point that the table writer gives it.
fn plain(cell: &str) -> String {
    cell.strip_suffix(".0").unwrap_or(cell).to_owned()
}
