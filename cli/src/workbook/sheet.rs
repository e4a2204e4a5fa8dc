//! One sheet: its headings behind glass, its cells open, ready to be printed.

use super::{Paper, choice};
use fullshift_engine::model::{Form, FormColumn, FormEntry, FormSheet};
use rust_xlsxwriter::{
    Color, ExcelDateTime, Format, FormatAlign, FormatBorder, IgnoreError, ProtectionOptions, Worksheet,
    XlsxError,
};

/// How a date and time is shown.
const MOMENT: &str = "yyyy-mm-dd hh:mm";
/// A format that keeps what is typed: `8/14` is a stain, not a day in August.
const AS_TYPED: &str = "@";
/// Points that two lines of a heading take.
const HEADING_HEIGHT: f64 = 31.0;
/// Points of a row in which somebody writes by hand.
const SPARE_HEIGHT: f64 = 21.0;
/// Longest head of a printed page.
const LONGEST_HEAD: usize = 120;
/// Rows for which the choices are offered.
pub(super) const CHOICE_ROWS: u32 = 2_000;

/// Writes a sheet.
pub(super) fn write(
    to: &mut Worksheet,
    page: &FormSheet,
    form: &Form,
    paper: Paper,
) -> Result<(), XlsxError> {
    to.set_name(&page.name)?;
    for (at, column) in (0u16..).zip(&page.columns) {
        to.write_string_with_format(0, at, &column.heading, &heading(column))?;
        to.set_column_width(at, width(page, at, column))?;
        to.set_column_format(at, &open(column))?;
        for row in 1..=last_row(page) {
            to.write_blank(row, at, &open(column).set_border(FormatBorder::Hair))?;
        }
        if let Some(validation) = choice::validation(column, form)? {
            to.add_data_validation(1, at, CHOICE_ROWS, at, &validation)?;
        }
        to.ignore_error_range(1, at, CHOICE_ROWS, at, IgnoreError::NumberStoredAsText)?;
    }
    to.set_row_height(0, HEADING_HEIGHT)?;
    for row in last_row(page) + 1 - page.spare_rows..=last_row(page) {
        to.set_row_height(row, SPARE_HEIGHT)?;
    }
    for (row, cells) in &page.rows {
        for (at, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
            let text_column =
                FormColumn { heading: String::new(), about: String::new(), entry: FormEntry::Text };
            let column = page.columns.get(usize::from(at)).unwrap_or(&text_column);
            cell(to, row - 1, at, text, column)?;
        }
    }
    lay_out(to, page, form, paper)
}

/// The last row that is laid out, from 0.
fn last_row(page: &FormSheet) -> u32 {
    page.rows.last().map_or(1, |(row, _)| *row) + page.spare_rows - 1
}

fn cell(to: &mut Worksheet, row: u32, at: u16, text: &str, column: &FormColumn) -> Result<(), XlsxError> {
    let format = open(column).set_border(FormatBorder::Hair);
    match column.entry {
        FormEntry::Number if text.parse().is_ok_and(|number: f64| number.to_string() == text) => {
            to.write_number_with_format(row, at, text.parse::<f64>().unwrap_or_default(), &format)?;
        }
        FormEntry::Moment if is_moment(text) => {
            let moment = ExcelDateTime::parse_from_str(&format!("{text}:00"))?;
            to.write_datetime_with_format(row, at, moment, &format)?;
        }
        // A text in a column of numbers or times stays the text that it is, whatever it looks like.
        FormEntry::Number | FormEntry::Moment => {
            to.write_string_with_format(row, at, text, &format.set_num_format(AS_TYPED))?;
        }
        _ => {
            to.write_string_with_format(row, at, text, &format)?;
        }
    }
    Ok(())
}

/// Whether a text is `2027-03-09 22:40` exactly, so that it comes back as it is.
fn is_moment(text: &str) -> bool {
    let form = "0000-00-00 00:00";
    text.len() == form.len()
        && text.chars().zip(form.chars()).all(|(c, f)| if f == '0' { c.is_ascii_digit() } else { c == f })
        && ExcelDateTime::parse_from_str(&format!("{text}:00")).is_ok()
}

fn heading(column: &FormColumn) -> Format {
    let format = Format::new()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::Top)
        .set_border(FormatBorder::Thin)
        .set_num_format(AS_TYPED);
    match column.entry {
        FormEntry::Fixed => format,
        _ => format.set_background_color(Color::RGB(0x00E6_E6E6)),
    }
}

fn open(column: &FormColumn) -> Format {
    let format = Format::new().set_align(FormatAlign::Top);
    match column.entry {
        FormEntry::Fixed => format,
        FormEntry::Number => format.set_unlocked(),
        FormEntry::Moment => format.set_unlocked().set_num_format(MOMENT),
        _ => format.set_unlocked().set_text_wrap().set_num_format(AS_TYPED),
    }
}

/// Characters that a column is wide: as its longest cell asks for, within bounds; headings are wrapped.
fn width(page: &FormSheet, at: u16, column: &FormColumn) -> f64 {
    let cells = page.rows.iter().filter_map(|(_, cells)| cells.get(usize::from(at)));
    let words = column.heading.split(' ');
    let longest = cells.map(String::as_str).chain(words).map(|text| text.chars().count()).max();
    let least = if column.entry == FormEntry::Moment { MOMENT.len() } else { 7 };
    let most = if column.entry == FormEntry::Fixed { 100 } else { 44 };
    longest.unwrap_or(0).clamp(least, most) as f64 + 2.0
}

/// Protection without a password, and what a printed page needs.
fn lay_out(to: &mut Worksheet, page: &FormSheet, form: &Form, paper: Paper) -> Result<(), XlsxError> {
    let mut allowed = ProtectionOptions::new();
    allowed.format_columns = true;
    allowed.format_rows = true;
    allowed.insert_rows = true;
    allowed.delete_rows = true;
    allowed.sort = true;
    allowed.use_autofilter = true;
    to.protect_with_options(&allowed);
    let last_column = u16::try_from(page.columns.len().max(1) - 1).unwrap_or(u16::MAX);
    to.set_print_area(0, 0, last_row(page), last_column)?;
    to.set_freeze_panes(1, 0)?;
    to.set_repeat_rows(0, 0)?;
    to.set_paper_size(paper.number()).set_landscape().set_print_fit_to_pages(1, 0);
    let title: String = form.title.chars().take(LONGEST_HEAD).collect();
    to.set_header(format!("&L{}&R{}", title.replace('&', "&&"), page.name));
    to.set_footer("&LDay and name:&RPage &P of &N");
    Ok(())
}
