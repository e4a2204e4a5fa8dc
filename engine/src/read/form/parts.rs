//! The parts of `study.yaml` as sheets: the settings, and a sheet for each list of entries.

use super::pages::column;
use crate::model::{FormColumn, FormEntry, FormSheet};
use crate::read::fields::settings::STUDY;
use crate::read::fields::{Field, Shape};
use crate::read::workbook::notation::write;
use crate::read::workbook::study::{Entries, NAME, SETTING, SETTINGS, VALUE, entries};
use crate::read::yaml::{Document, Node};

/// Rows to be filled in on a sheet of entries.
const SPARE_ROWS: u32 = 12;

/// The sheets of everything that is not measured.
pub fn sheets(document: &Document) -> Vec<FormSheet> {
    let top = document.top().pairs();
    let of = |field: &Field| top.iter().find(|(name, _)| name == field.name).map(|(_, node)| node);
    let own = STUDY.iter().filter_map(|field| Some(entry_sheet(field, entries(field)?, of(field))));
    std::iter::once(settings(&of)).chain(own).collect()
}

fn settings<'a, 'n: 'a>(of: &impl Fn(&Field) -> Option<&'a Node<'n>>) -> FormSheet {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for field in STUDY.iter().filter(|field| entries(field).is_none()) {
        let node = of(field);
        match field.shape {
            Shape::Record(fields) => rows.extend(record(field, fields, node)),
            _ => rows.push(row(field.name.to_owned(), node, field)),
        }
    }
    let head = |heading: &str, about: &str, entry| FormColumn {
        heading: heading.to_owned(),
        about: about.to_owned(),
        entry,
    };
    FormSheet {
        name: SETTINGS.to_owned(),
        columns: vec![
            head(SETTING, "what is set", FormEntry::Fixed),
            head(VALUE, "what it is; a quantity with its unit", FormEntry::Text),
            head("meaning", "what it means", FormEntry::Fixed),
        ],
        rows: numbered(rows),
        spare_rows: 0,
    }
}

/// The settings of a group, but for the tables, which are sheets of the workbook.
fn record(group: &Field, fields: &[Field], node: Option<&Node>) -> Vec<Vec<String>> {
    let values = node.map_or(Vec::new(), Node::pairs);
    let is_table = |field: &&Field| group.name == "tables" && matches!(field.shape, Shape::Text);
    let set = |field: &Field| {
        let value = values.iter().find(|(name, _)| name == field.name).map(|(_, node)| node);
        row(format!("{}.{}", group.name, field.name), value, field)
    };
    let mut rows: Vec<_> = fields.iter().filter(|field| !is_table(field)).map(set).collect();
    if node.is_some_and(|node| !node.is_null()) && values.is_empty() {
        // A group without any setting is not the same as no group at all.
        rows.insert(0, vec![group.name.to_owned(), "{}".to_owned(), group.about.to_owned()]);
    }
    rows
}

fn row(setting: String, value: Option<&Node>, field: &Field) -> Vec<String> {
    vec![setting, value.map_or(String::new(), |node| cell(node, &field.shape)), field.about.to_owned()]
}

fn cell(node: &Node, shape: &Shape) -> String {
    if node.is_null() { String::new() } else { write(node, shape) }
}

fn entry_sheet(field: &Field, kind: Entries, node: Option<&Node>) -> FormSheet {
    let (fields, named) = match kind {
        Entries::Named(fields) => (fields, true),
        Entries::Listed(fields) => (fields, false),
    };
    let name = FormColumn {
        heading: NAME.to_owned(),
        about: "the name by which the tables call it".to_owned(),
        entry: FormEntry::Text,
    };
    let own = fields.iter().map(|field| column(field.name.to_owned(), Some(field)));
    let found: Vec<(Option<String>, Node)> = match (node, named) {
        (Some(node), true) => node.pairs().into_iter().map(|(name, node)| (Some(name), node)).collect(),
        (Some(node), false) => node.members().into_iter().map(|node| (None, node)).collect(),
        (None, _) => Vec::new(),
    };
    let row = |(name, node): &(Option<String>, Node)| {
        let values = node.pairs();
        let value = |field: &Field| {
            let node = values.iter().find(|(name, _)| name == field.name).map(|(_, node)| node);
            node.map_or(String::new(), |node| cell(node, &field.shape))
        };
        name.iter().cloned().chain(fields.iter().map(value)).collect::<Vec<String>>()
    };
    FormSheet {
        name: field.name.to_owned(),
        columns: named.then_some(name).into_iter().chain(own).collect(),
        rows: numbered(found.iter().map(row).collect()),
        spare_rows: SPARE_ROWS,
    }
}

fn numbered(rows: Vec<Vec<String>>) -> Vec<(u32, Vec<String>)> {
    rows.into_iter().enumerate().map(|(at, row)| (at as u32 + 2, row)).collect()
}
