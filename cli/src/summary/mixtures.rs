//! A line a shift: the index of a mixture and what each substance brings to it.

use super::notes::Notes;
use super::words;
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Section, Table, Text, Tone};
use fullshift_engine::model::assessment::MixtureResult;
use fullshift_engine::model::profile::Verdict;

pub(super) fn section(group: &str, mixture: &str, shifts: &[&MixtureResult]) -> Section {
    let indices = shifts.iter().map(|shift| &shift.index);
    let mut section = Section::headed(words::with_ranges(format!("Index of {mixture} in {group}"), indices));
    section.blocks.push(Block::Table(table(shifts)));
    let mut notes = Notes::default();
    for shift in shifts {
        notes.add(format!("index of {}", shift.shift), shift.index.reason());
    }
    section.blocks.extend(notes.block());
    section
}

fn table(shifts: &[&MixtureResult]) -> Table {
    let parts = shifts.first().map_or(&[][..], |shift| &shift.parts);
    let mut columns = vec![Column::words("shift"), Column::words("index"), Column::words("against 1")];
    columns.extend(parts.iter().map(|part| Column::words(format!("of it {}", part.agent))));
    Table::of(columns, shifts.iter().map(|shift| row(shift)).collect())
}

fn row(shift: &MixtureResult) -> Vec<Text> {
    let (word, tone) = words::verdict(shift.verdict);
    let word = word.trim_end_matches(" against");
    let mut cells = vec![
        Text::from(shift.shift.as_str()),
        figure::bare(&shift.index, Form::Ratio).into(),
        Text::of(if shift.verdict == Verdict::Below { Tone::Plain } else { tone }, word),
    ];
    cells.extend(shift.parts.iter().map(|part| Text::from(figure::bare(&part.ratio, Form::Ratio))));
    cells
}
