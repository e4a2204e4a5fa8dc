//! Finishing a page: tables and drawings get their numbers, and every link the place to which it leads.

use super::{Block, Captioned, Link, Page, Text};
use std::collections::{HashMap, HashSet};

/// The words before the numbers of captions.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Labels {
    /// `Table`.
    pub(crate) table: &'static str,
    /// `Figure`.
    pub(crate) drawing: &'static str,
}

/// The page with its captions numbered and its links resolved; a link to nothing becomes plain text.
pub(crate) fn finished(mut page: Page, labels: Labels) -> Page {
    texts(&mut page, &mut keep_units);
    let labelled = number(&mut page, labels);
    let mut workings = HashMap::new();
    let mut collect = |text: &mut Text| {
        for place in text.whole().iter().filter_map(|stretch| stretch.place.as_deref()) {
            if let Some(address) = place.strip_prefix(WORKING) {
                let number = workings.len() + 1;
                workings.entry(address.to_owned()).or_insert(number);
            }
        }
    };
    texts(&mut page, &mut collect);
    let mut resolver = Resolver { labelled, workings, first: HashSet::new() };
    texts(&mut page, &mut |text| resolver.resolve(text));
    let mut shown = resolver.first;
    texts(&mut page, &mut |text| drop_unused_ways_back(text, &mut shown));
    page
}

/// Units that stay on the line of their number.
const UNITS: [&str; 4] = ["%", "ppm", "ppb", "mg/m3"];

fn keep_units(text: &mut Text) {
    for stretch in text.whole_mut() {
        let mut kept = String::with_capacity(stretch.words.len());
        for (at, character) in stretch.words.char_indices() {
            let after_a_digit = || kept.ends_with(|before: char| before.is_ascii_digit());
            let before_a_unit = || UNITS.iter().any(|unit| stretch.words[at + 1..].starts_with(unit));
            kept.push(if character == ' ' && after_a_digit() && before_a_unit() {
                '\u{a0}'
            } else {
                character
            });
        }
        stretch.words = kept;
    }
}

/// What the place of a working is called until the page is finished; its address follows.
pub(crate) const WORKING: &str = "working of ";

/// The place of the first number that leads to working `number`.
fn place_of_number(number: usize) -> String {
    format!("number-{number}")
}

fn place_of_working(number: usize) -> String {
    format!("working-{number}")
}

fn number(page: &mut Page, labels: Labels) -> HashMap<String, (String, String)> {
    let (mut tables, mut drawings) = (0, 0);
    let mut labelled = HashMap::new();
    let mut label = |key: &str, words: &str, number: usize, kind: &str| {
        let label = format!("{words} {number}");
        labelled.insert(key.to_owned(), (label.clone(), format!("{kind}-{number}")));
        label
    };
    for block in page.sections.iter_mut().flat_map(|section| &mut section.blocks) {
        match block {
            Block::Table(table) => {
                if let Some(Captioned { key, label: own, .. }) = &mut table.caption {
                    tables += 1;
                    *own = label(key, labels.table, tables, "table");
                    *key = format!("table-{tables}");
                }
            }
            Block::Drawing(Captioned { key, label: own, .. }) => {
                drawings += 1;
                *own = label(key, labels.drawing, drawings, "figure");
                *key = format!("figure-{drawings}");
            }
            _ => {}
        }
    }
    labelled
}

/// Every text of the page, in order.
fn texts(page: &mut Page, see: &mut impl FnMut(&mut Text)) {
    for section in &mut page.sections {
        see(&mut section.heading);
        for block in &mut section.blocks {
            match block {
                Block::Paragraph(text) => see(text),
                Block::Outline(lines) => lines.iter_mut().for_each(|line| see(&mut line.text)),
                Block::List(points) => points.iter_mut().for_each(|point| see(&mut point.text)),
                Block::Drawing(drawing) => see(&mut drawing.caption),
                Block::Table(table) => {
                    table.caption.iter_mut().for_each(|caption| see(&mut caption.caption));
                    table.rows.iter_mut().flatten().for_each(&mut *see);
                }
                Block::Excerpt(_) | Block::Verbatim(_) => {}
            }
        }
    }
}

struct Resolver {
    /// Label and place of each caption by its key.
    labelled: HashMap<String, (String, String)>,
    /// Number of each working by its address.
    workings: HashMap<String, usize>,
    /// Workings to which a number has led so far.
    first: HashSet<String>,
}

impl Resolver {
    fn resolve(&mut self, text: &mut Text) {
        for stretch in text.whole_mut() {
            if let Some(address) = stretch.place.as_deref().and_then(|place| place.strip_prefix(WORKING)) {
                let number = self.workings.get(address).copied().unwrap_or_default();
                stretch.place = Some(place_of_working(number));
                stretch.link = stretch.link.take().map(|_| Link::Place(place_of_number(number)));
                continue;
            }
            stretch.link = match stretch.link.take() {
                Some(Link::Caption(key)) => self.labelled.get(&key).map(|(label, place)| {
                    stretch.words.clone_from(label);
                    Link::Place(place.clone())
                }),
                Some(Link::Working(address)) => self.workings.get(&address).map(|&number| {
                    let place = place_of_number(number);
                    if stretch.place.is_none() && self.first.insert(place.clone()) {
                        stretch.place = Some(place);
                    }
                    Link::Place(place_of_working(number))
                }),
                other => other,
            };
        }
    }
}

/// A working to which no number leads has no way back.
fn drop_unused_ways_back(text: &mut Text, shown: &mut HashSet<String>) {
    for stretch in text.whole_mut() {
        let lost = match &stretch.link {
            Some(Link::Place(place)) => place.starts_with("number-") && !shown.contains(place),
            _ => false,
        };
        if lost {
            stretch.link = None;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Section, Stretch, Table};
    use super::*;

    const LABELS: Labels = Labels { table: "Table", drawing: "Figure" };

    fn page(texts: Vec<Text>) -> Page {
        let mut section = Section::default();
        section.blocks.extend(texts.into_iter().map(Block::Paragraph));
        for key in ["one", "two"] {
            section.blocks.push(Block::Table(Table::of(Vec::new(), Vec::new()).captioned(key, "Words")));
        }
        Page { sections: vec![section] }
    }

    fn first(page: &Page, at: usize) -> &Stretch {
        match &page.sections[0].blocks[at] {
            Block::Paragraph(text) => &text.whole()[0],
            _ => panic!("no text stands there"),
        }
    }

    #[test]
    fn a_reference_before_its_table_gets_the_number_of_the_table() {
        let page = finished(page(vec![Text::caption("two")]), LABELS);
        assert_eq!(first(&page, 0).words, "Table 2");
        assert_eq!(first(&page, 0).link, Some(Link::Place("table-2".to_owned())));
    }

    #[test]
    fn a_reference_to_nothing_leads_nowhere() {
        let page = finished(page(vec![Text::linked("R1", Link::Working("R1".to_owned()))]), LABELS);
        assert_eq!((first(&page, 0).words.as_str(), &first(&page, 0).link), ("R1", &None));
    }

    #[test]
    fn the_first_number_and_its_working_lead_to_each_other() {
        let number = || Text::linked("12", Link::Working("W1/twa".to_owned()));
        let place = Some(format!("{WORKING}W1/twa"));
        let back = Some(Link::Place(String::new()));
        let working = Text::stretch(Stretch { words: "W1".into(), place, link: back, ..Stretch::default() });
        let page = finished(page(vec![number(), number(), working]), LABELS);
        assert_eq!(first(&page, 0).place.as_deref(), Some("number-1"));
        assert_eq!(first(&page, 1).place, None);
        assert_eq!(first(&page, 1).link, Some(Link::Place("working-1".to_owned())));
        assert_eq!(first(&page, 2).place.as_deref(), Some("working-1"));
        assert_eq!(first(&page, 2).link, Some(Link::Place("number-1".to_owned())));
    }
}
