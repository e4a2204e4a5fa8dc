//! A table in columns; where it is too wide its widest columns are wrapped.

use super::paint::paint;
use super::wrap::{columns, wrapped};
use crate::page::{Column, Side, Table, Text, Tone};
use std::fmt::Write;

const NARROWEST: usize = 6;

/// The table at `width` columns.
pub(super) fn table(table: &Table, width: usize) -> String {
    let heads: Vec<Text> = table.columns.iter().map(|c| Text::of(Tone::Quiet, c.head.as_str())).collect();
    let (widths, gap) = layout(table, width);
    let rows = std::iter::once(&heads).chain(&table.rows);
    rows.fold(String::new(), |text, row| text + &row_text(row, &table.columns, &widths, gap))
}

/// The width of each column and the gap between two: roomy where the page allows it, then with broken headings, then
/// with a narrow gap, and at last with broken cells.
fn layout(table: &Table, width: usize) -> (Vec<usize>, usize) {
    let unbroken = [(roomy(table), 2), (narrow(table), 2)];
    let fitting = unbroken.into_iter().find(|(widths, gap)| total(widths, *gap) <= width);
    fitting.unwrap_or_else(|| (fitted(narrow(table), width), 1))
}

/// The width of each column that breaks nothing.
fn roomy(table: &Table) -> Vec<usize> {
    let head = |column: &Column| columns(&column.head.as_str().into());
    table.columns.iter().enumerate().map(|(at, column)| head(column).max(widest_cell(table, at))).collect()
}

fn widest_cell(table: &Table, at: usize) -> usize {
    table.rows.iter().filter_map(|row| row.get(at)).map(columns).max().unwrap_or(0)
}

/// The width of each column when its heading is broken at every space.
fn narrow(table: &Table) -> Vec<usize> {
    let word = |column: &Column| column.head.split(' ').map(|w| columns(&w.into())).max().unwrap_or(0);
    table.columns.iter().enumerate().map(|(at, column)| word(column).max(widest_cell(table, at))).collect()
}

fn total(widths: &[usize], gap: usize) -> usize {
    widths.iter().sum::<usize>() + gap * widths.len().saturating_sub(1)
}

/// Takes from the widest columns what is too much.
fn fitted(mut widths: Vec<usize>, width: usize) -> Vec<usize> {
    while total(&widths, 1) > width {
        match widths.iter_mut().max() {
            Some(widest) if *widest > NARROWEST => *widest -= 1,
            _ => break,
        }
    }
    widths
}

fn row_text(row: &[Text], shape: &[Column], widths: &[usize], gap: usize) -> String {
    let cells: Vec<Vec<Text>> = row.iter().zip(widths).map(|(cell, &width)| wrapped(cell, width)).collect();
    let height = cells.iter().map(Vec::len).max().unwrap_or(0);
    let mut text = String::new();
    for line in 0..height {
        let mut written = String::new();
        let mut behind = 0;
        for ((cell, column), &width) in cells.iter().zip(shape).zip(widths) {
            let empty = Text::default();
            let piece = cell.get(line).unwrap_or(&empty);
            let space = width.saturating_sub(columns(piece));
            let (before, after) = if column.side == Side::Right { (space, 0) } else { (0, space) };
            let _ = write!(written, "{:1$}{2}", "", behind + before, paint(piece));
            behind = after + gap;
        }
        let _ = writeln!(text, "{}", written.trim_end());
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(rows: &[[&str; 2]], width: usize) -> String {
        let columns = vec![Column::words("shift"), Column::numbers("TWA")];
        let rows = rows.iter().map(|row| row.map(Text::from).into()).collect();
        anstream::adapter::strip_str(&table(&Table::of(columns, rows), width)).to_string()
    }

    #[test]
    fn words_stand_left_and_numbers_right() {
        assert_eq!(shown(&[["W1", "11.2"], ["W10", "8"]], 40), "shift   TWA\nW1     11.2\nW10       8\n");
    }

    #[test]
    fn a_heading_is_broken_before_any_cell() {
        let columns = vec![Column::words("worst 15 min"), Column::numbers("tubes drawn")];
        let table = Table::of(columns, vec![vec!["22 [1, 3]".into(), "1".into()]]);
        let shown = anstream::adapter::strip_str(&super::table(&table, 18)).to_string();
        assert_eq!(shown, "worst 15   tubes\nmin        drawn\n22 [1, 3]      1\n");
    }

    #[test]
    fn a_table_that_is_too_wide_wraps_its_widest_column() {
        assert_eq!(shown(&[["one two three", "1"]], 14), "shift      TWA\none two      1\nthree\n");
    }
}
