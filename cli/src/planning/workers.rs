//! How many workers to sample, and which.

use crate::page::{Block, Column, Section, Table, Text, Tone, number};
use fullshift_engine::model::plan::{DrawSize, GroupPlan, Plan};

pub(super) fn section(group: &GroupPlan, plan: &Plan) -> Section {
    let named = match group.named {
        named if named == group.population => String::new(),
        named => format!(", {named} of them named in the study"),
    };
    let mut section =
        Section::headed(format!("Workers of {}: {}{named}", group.group, people(group.population)));
    section.blocks.push(Block::Table(sizes(&group.sizes)));
    let quiet = |words: String| Block::Paragraph(Text::of(Tone::Quiet, words));
    section.blocks.push(quiet(
        "`draw` is the exact fewest for one of the highest to be among them; the manual NIOSH 77-173 rounds to the nearest, so that its number can miss more often."
            .to_owned(),
    ));
    let names: Vec<String> = group.drawn.iter().map(|drawn| drawn.called()).collect();
    let by = match plan.wishes.workers {
        Some(count) => format!("the {count} asked for"),
        None => "the line marked *".to_owned(),
    };
    let words = Text::of(Tone::Strong, format!("Drawn at random ({by}): ")).then(names.join(", "));
    section.blocks.push(Block::Paragraph(words));
    if group.drawn.iter().any(|drawn| drawn.worker.is_none()) {
        let from = group.named + 1;
        section.blocks.push(quiet(format!(
            "Number the people whom the study does not name from {from} to {} on a roster before you look at the draw.",
            group.population
        )));
    }
    section
}

fn people(count: usize) -> String {
    if count == 1 { "1 person".to_owned() } else { format!("{count} people") }
}

fn sizes(sizes: &[DrawSize]) -> Table {
    let columns = ["highest", "workers", "confidence", "draw", "misses them", "manual", "misses them"];
    let mut columns: Vec<Column> = columns.into_iter().map(Column::numbers).collect();
    columns.push(Column::words(""));
    Table { columns, rows: sizes.iter().map(row).collect(), ..Table::default() }
}

fn row(size: &DrawSize) -> Vec<Text> {
    let cells = [
        number::share(size.highest),
        size.highest_workers.to_string(),
        number::share(size.confidence),
        size.workers.to_string(),
        number::share(size.missed),
        size.as_printed.to_string(),
        number::share(size.as_printed_missed),
        if size.used { "*".to_owned() } else { String::new() },
    ];
    cells.into_iter().map(Text::from).collect()
}
