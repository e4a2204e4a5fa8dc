//! The rows of a sheet, and the cells in it that cannot be read.

use super::archive::Refused;
use super::cell::text;
use crate::diagnose::{Code, code};
use crate::read::table::grid::{Epoch, Fault};
use calamine::{DataRef, DataType, Xlsx, XlsxError};
use csv::StringRecord;
use std::collections::BTreeMap;
use std::io::{Read, Seek};

/// Columns beyond which a cell belongs to no table of ours.
const MOST_COLUMNS: u32 = 1_000;
/// Most cells of a sheet, empty ones between filled ones included.
const MOST_CELLS: usize = 4_000_000;
/// Most bytes of text in a sheet: the same text may stand in many cells.
const MOST_TEXT: usize = 64 << 20;

/// What was read.
pub struct Sheet {
    /// Number and cells of every row that is not blank, from column A.
    pub rows: Vec<(u32, StringRecord)>,
    /// What cannot be read, or only as it was when last computed.
    pub faults: Vec<Fault>,
}

/// Reads a sheet.
pub fn read<R: Read + Seek>(xlsx: &mut Xlsx<R>, name: &str, epoch: Epoch) -> Result<Sheet, Refused> {
    let mut faults = Vec::new();
    let cells = values(xlsx, name, epoch, &mut faults)?;
    formulas(xlsx, name, &mut faults).map_err(damaged)?;
    merged(xlsx, name, &mut faults).map_err(damaged)?;
    Ok(Sheet { rows: rows(cells)?, faults })
}

/// What the reader of the archive or its XML complains of says nothing to the user.
fn damaged(_: XlsxError) -> Refused {
    Refused::Damaged
}

type Cells = BTreeMap<u32, Vec<(u16, String)>>;

fn values<R: Read + Seek>(
    xlsx: &mut Xlsx<R>,
    name: &str,
    epoch: Epoch,
    faults: &mut Vec<Fault>,
) -> Result<Cells, Refused> {
    let mut reader = xlsx.worksheet_cells_reader(name).map_err(damaged)?;
    let (mut cells, mut bytes) = (Cells::new(), 0);
    while let Some((cell, style)) = reader.next_cell_with_style_id().map_err(damaged)? {
        let (row, column) = cell.get_position();
        let format = reader.styles().get(style).and_then(|style| style.number_format.as_ref());
        let format = format.map_or("General", |format| format.format_code.as_str());
        let text = match text(cell.get_value(), format, epoch) {
            Ok(text) if text.trim().is_empty() => continue,
            Ok(text) => text,
            Err(shown) => {
                faults.push(at(
                    row,
                    column,
                    &code::CELL_ERROR,
                    format!("the cell shows {shown}"),
                    "put the formula or its input right, or write the value itself",
                ));
                shown
            }
        };
        bytes += text.len();
        match column {
            _ if bytes > MOST_TEXT => {
                return Err(Refused::TooLarge("it holds more than 64 MB of text".to_owned()));
            }
            column if column >= MOST_COLUMNS => {
                return Err(Refused::TooLarge(format!("it has cells beyond column {MOST_COLUMNS}")));
            }
            column => cells.entry(row).or_default().push((column as u16, text)),
        }
    }
    Ok(cells)
}

/// Formulas: what they last came to is read, where it is known.
fn formulas<R: Read + Seek>(
    xlsx: &mut Xlsx<R>,
    name: &str,
    faults: &mut Vec<Fault>,
) -> Result<(), XlsxError> {
    let mut reader = xlsx.worksheet_cells_reader(name)?;
    while let Some(cell) = reader.next_cell_with_formula_metadata()? {
        if cell.formula.is_none() {
            continue;
        }
        let (row, column) = cell.pos;
        faults.push(match cell.value {
            DataRef::Error(_) => continue,
            value if value.is_empty() => at(row, column, &code::FORMULA_WITHOUT_VALUE, "a formula stands here that has never been computed".to_owned(), "open the workbook in a spreadsheet and save it, or write the value itself"),
            _ => at(row, column, &code::FORMULA_READ, "a formula stands here; what it last came to is read".to_owned(), "nothing need be done if the spreadsheet saved it up to date; a measured value is best written as itself"),
        });
    }
    Ok(())
}

fn merged<R: Read + Seek>(xlsx: &mut Xlsx<R>, name: &str, faults: &mut Vec<Fault>) -> Result<(), XlsxError> {
    for region in xlsx.merge_cells_by_sheet_name(name)? {
        let field = |column: u32| column.min(MOST_COLUMNS) as u16;
        faults.push(Fault {
            lines: region.start.0 + 1..=region.end.0 + 1,
            fields: field(region.start.1)..=field(region.end.1),
            code: &code::MERGED_CELLS,
            message: "cells are merged here; only the first of them holds a value".to_owned(),
            help: "unmerge them and write the value into each",
        });
    }
    Ok(())
}

/// Hidden rows that hold something, a fault for each run of them.
pub fn hidden(rows: &[(u32, StringRecord)], hidden: &[u32]) -> Vec<Fault> {
    let filled = rows.iter().map(|(number, _)| *number).filter(|number| hidden.binary_search(number).is_ok());
    let numbers: Vec<u32> = filled.collect();
    let runs = numbers.chunk_by(|a, b| a + 1 == *b);
    let fault = |run: &[u32]| Fault {
        lines: run[0]..=run[run.len() - 1],
        fields: 0..=MOST_COLUMNS as u16,
        code: &code::HIDDEN_ROWS,
        message: match run {
            [one] => format!("row {one} is hidden in the spreadsheet and is read like the others"),
            [first, .., last] => {
                format!("rows {first} to {last} are hidden in the spreadsheet and are read like the others")
            }
            [] => String::new(),
        },
        help: "show them if they count; if they do not, delete them",
    };
    runs.map(fault).collect()
}

fn at(row: u32, column: u32, code: &'static Code, message: String, help: &'static str) -> Fault {
    let field = column.min(MOST_COLUMNS) as u16;
    Fault { lines: row + 1..=row + 1, fields: field..=field, code, message, help }
}

/// The rows with every cell in its place from column A.
fn rows(cells: Cells) -> Result<Vec<(u32, StringRecord)>, Refused> {
    let width =
        |row: &[(u16, String)]| row.iter().map(|(column, _)| usize::from(*column) + 1).max().unwrap_or(0);
    if cells.values().map(|row| width(row)).sum::<usize>() > MOST_CELLS {
        return Err(Refused::TooLarge(format!("it spreads over more than {MOST_CELLS} cells")));
    }
    let record = |row: Vec<(u16, String)>| {
        let mut texts = vec![""; width(&row)];
        row.iter().for_each(|(column, text)| texts[usize::from(*column)] = text);
        StringRecord::from(texts)
    };
    Ok(cells.into_iter().map(|(row, cells)| (row + 1, record(cells))).collect())
}
