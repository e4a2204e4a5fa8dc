//! Rows that the spreadsheet does not show, as after filtering: the reader of cells does not tell them apart.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// The numbers of the hidden rows of a sheet, rising. What cannot be found is not hidden: the reader of cells tells of damage.
pub fn rows(book: &[u8], sheet: &str) -> Vec<u32> {
    let Ok(mut archive) = ZipArchive::new(Cursor::new(book)) else { return Vec::new() };
    path(&mut archive, sheet)
        .and_then(|path| part(&mut archive, &path))
        .map_or(Vec::new(), |xml| hidden(&xml))
}

type Archive<'a> = ZipArchive<Cursor<&'a [u8]>>;

fn part(archive: &mut Archive<'_>, path: &str) -> Option<String> {
    let mut text = String::new();
    archive.by_name(path).ok()?.read_to_string(&mut text).ok()?;
    Some(text)
}

/// Where in the archive a sheet stands: the workbook gives its relation, the relations its place [ECMA-376, part 1, 18.2.19].
fn path(archive: &mut Archive<'_>, sheet: &str) -> Option<String> {
    let book = part(archive, "xl/workbook.xml")?;
    let named = |tag: &BytesStart| attribute(tag, "name").as_deref() == Some(sheet);
    let relation = first(&book, "sheet", |tag| named(tag).then(|| attribute(tag, "id")).flatten())?;
    let relations = part(archive, "xl/_rels/workbook.xml.rels")?;
    let own = |tag: &BytesStart| attribute(tag, "Id").as_deref() == Some(&relation);
    let target =
        first(&relations, "Relationship", |tag| own(tag).then(|| attribute(tag, "Target")).flatten())?;
    Some(match target.strip_prefix('/') {
        Some(whole) => whole.to_owned(),
        None => format!("xl/{target}"),
    })
}

fn hidden(sheet: &str) -> Vec<u32> {
    let (mut rows, mut number) = (Vec::new(), 0);
    let _ = first(sheet, "row", |tag| {
        number = attribute(tag, "r").and_then(|r| r.parse().ok()).unwrap_or(number + 1);
        if attribute(tag, "hidden").is_some_and(|flag| flag == "1" || flag == "true") {
            rows.push(number);
        }
        None::<()>
    });
    rows
}

/// The first answer to a tag of this name.
fn first<T>(xml: &str, name: &str, mut ask: impl FnMut(&BytesStart) -> Option<T>) -> Option<T> {
    let mut reader = Reader::from_str(xml);
    loop {
        match reader.read_event().ok()? {
            Event::Start(tag) | Event::Empty(tag) if tag.local_name().as_ref() == name => {
                if let Some(answer) = ask(&tag) {
                    return Some(answer);
                }
            }
            Event::Eof => return None,
            _ => {}
        }
    }
}

fn attribute(tag: &BytesStart, name: &str) -> Option<String> {
    let own = tag.attributes().flatten().find(|a| a.key.local_name().as_ref() == name)?;
    quick_xml::escape::unescape(&own.value).ok().map(|text| text.into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hidden_rows_are_found_by_their_number_or_their_place() {
        let sheet = r#"<worksheet><sheetData><row r="1"/><row r="4" hidden="1"><c/></row><row hidden="true"/><row r="9"/></sheetData></worksheet>"#;
        assert_eq!(hidden(sheet), [4, 5]);
    }

    #[test]
    fn what_is_no_workbook_hides_nothing() {
        assert!(rows(b"id,worker", "readings").is_empty());
        assert!(hidden("<worksheet><row").is_empty());
    }
}
