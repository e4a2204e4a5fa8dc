//! A table: a header row that repeats on every page, columns as wide as what they hold.

use super::text::{Runs, run};
use crate::figures::width;
use crate::page::{Side, Table, Text};

/// Width of the text on a page, in twentieths of a point.
pub(super) const TEXT_WIDTH: f64 = 9638.0;
/// What a cell has around its words.
const AROUND: f64 = 160.0;
/// The widest word that is not broken, and the widest cell that gets a line of its own, for letters of one point.
const LONGEST_WORD: f64 = 240.0;
const LONGEST_CELL: f64 = 460.0;

/// The table.
pub(super) fn table(table: &Table, description: &str, runs: &mut Runs) -> String {
    let (size, widths) = layout(table);
    let grid: String = widths.iter().map(|width| format!("<w:gridCol w:w=\"{width:.0}\"/>")).collect();
    let half_points = (2.0 * size).round();
    let properties = format!("<w:sz w:val=\"{half_points}\"/><w:szCs w:val=\"{half_points}\"/>");
    let total: f64 = widths.iter().sum();
    let mut xml = format!(
        "<w:tbl><w:tblPr><w:tblW w:w=\"{total:.0}\" w:type=\"dxa\"/><w:tblBorders>\
         <w:top w:val=\"single\" w:sz=\"12\" w:space=\"0\" w:color=\"1B1D1F\"/>\
         <w:bottom w:val=\"single\" w:sz=\"6\" w:space=\"0\" w:color=\"808080\"/>\
         <w:insideH w:val=\"single\" w:sz=\"4\" w:space=\"0\" w:color=\"B9BEC4\"/></w:tblBorders>\
         <w:tblLayout w:type=\"fixed\"/>\
         <w:tblCellMar><w:left w:w=\"0\" w:type=\"dxa\"/><w:right w:w=\"108\" w:type=\"dxa\"/></w:tblCellMar><w:tblLook w:val=\"0020\" w:firstRow=\"1\"/>\
         <w:tblDescription w:val=\"{}\"/></w:tblPr><w:tblGrid>{grid}</w:tblGrid>",
        super::text::escaped(description)
    );
    let heads = table.columns.iter().zip(&widths).map(|(column, &width)| {
        cell(&run(&column.head, &format!("<w:b/>{properties}")), column.side, width, true)
    });
    xml +=
        &format!("<w:tr><w:trPr><w:cantSplit/><w:tblHeader/></w:trPr>{}</w:tr>", heads.collect::<String>());
    for row in &table.rows {
        let mut cells = String::new();
        for ((words, column), &width) in row.iter().zip(&table.columns).zip(&widths) {
            cells += &cell(&runs.text(words, &properties), column.side, width, false);
        }
        xml += &format!("<w:tr><w:trPr><w:cantSplit/></w:trPr>{cells}</w:tr>");
    }
    xml + "</w:tbl>"
}

fn cell(runs: &str, side: Side, width: f64, head: bool) -> String {
    let under = match head {
        true => {
            "<w:tcBorders><w:bottom w:val=\"single\" w:sz=\"6\" w:space=\"0\" w:color=\"1B1D1F\"/></w:tcBorders>"
        }
        false => "",
    };
    let foot = if head { "<w:vAlign w:val=\"bottom\"/>" } else { "" };
    let side = if side == Side::Right { "<w:jc w:val=\"right\"/>" } else { "" };
    let next = if head { "<w:keepNext/>" } else { "" };
    format!(
        "<w:tc><w:tcPr><w:tcW w:w=\"{width:.0}\" w:type=\"dxa\"/>{under}{foot}</w:tcPr>\
         <w:p><w:pPr><w:pStyle w:val=\"TableText\"/>{next}{side}</w:pPr>{runs}</w:p></w:tc>"
    )
}

/// The size of the letters in points, and the width of each column: what its longest word needs, and a share of what is left
/// by what its longest cell would like.
fn layout(table: &Table) -> (f64, Vec<f64>) {
    let columns: Vec<(f64, f64)> = (0..table.columns.len()).map(|at| needs(table, at)).collect();
    let around = AROUND * columns.len() as f64;
    let fits = |size: &f64| columns.iter().map(|(_, wish)| wish * size).sum::<f64>() + around <= TEXT_WIDTH;
    let size = [9.0, 8.0].into_iter().find(fits).unwrap_or(7.5);
    let least: f64 = columns.iter().map(|(least, _)| least * size + AROUND).sum();
    let wanted: f64 = columns.iter().map(|(_, wish)| wish * size + AROUND).sum();
    let widths = columns.iter().map(|&(own_least, own_wish)| match () {
        // What fits as it would like stays so: a small table is not pulled to the margins.
        () if wanted <= TEXT_WIDTH => own_wish * size + AROUND,
        () if least >= TEXT_WIDTH => (own_least * size + AROUND) * TEXT_WIDTH / least,
        () => {
            let share = (own_wish - own_least) * size / (wanted - least);
            own_least * size + AROUND + share * (TEXT_WIDTH - least)
        }
    });
    (size, widths.collect())
}

/// How much wider than the typeface named the words of one may be that stands in for it where it is not installed, and how much wider
/// its bold letters (the widest that is common).
const STAND_IN: f64 = 1.16;
const STAND_IN_BOLD: f64 = 1.32;

/// The width of a column's longest word, which must not be broken whatever the typeface, and of its longest cell, in twentieths of a
/// point for letters of one point.
fn needs(table: &Table, at: usize) -> (f64, f64) {
    let longest = |words: &str| words.split([' ', '\n']).map(|word| width(word, 20.0)).fold(0.0, f64::max);
    // Some words are bold, which takes a letter more in ten.
    let wide = |words: &str| 1.08 * width(words, 20.0);
    let mut least = STAND_IN_BOLD * longest(&table.columns[at].head);
    let mut wish: f64 = least;
    for words in table.rows.iter().filter_map(|row| row.get(at)).map(Text::words) {
        least = least.max((STAND_IN * longest(&words)).min(LONGEST_WORD));
        wish = wish.max(wide(&words).min(LONGEST_CELL));
    }
    (least, wish.max(least))
}
