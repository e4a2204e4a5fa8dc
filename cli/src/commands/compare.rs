//! `compare`: two groups, or one before and after a control.

use super::json;
use super::result::stop;
use crate::arguments::{Compare, Format};
use crate::border::Border;
use crate::failure::Failure;
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Line, Page, Section, Table, Text, Tone, short, terminal};
use crate::summary::words;
use fullshift_engine::model::comparison::{Comparison, LimitComparison, Ratio, Side};

const CAUTION: &str = "The confidence of a fall is one minus the one-sided p-value. It says nothing of why: other work, weather and workers change \
    exposures too.";

pub(super) fn run(typed: &Compare, border: &mut Border<'_>) -> Result<(), Failure> {
    let second = match (&typed.other, &typed.after) {
        (Some(group), None) => (typed.study.as_path(), group.as_str()),
        (None, Some(study)) => (study.as_path(), typed.group.as_str()),
        (Some(group), Some(study)) => (study.as_path(), group.as_str()),
        (None, None) => {
            return Err(Failure::command(
                "one group alone cannot be compared",
                "Name a second group, or the study after the control with --after STUDY.",
            ));
        }
    };
    match fullshift_engine::compare((&typed.study, &typed.group), second) {
        Ok(Ok(found)) if found.results.is_empty() => Err(Failure::command(
            "the two are not held against the same limits",
            "Compare groups that are assessed for the same substance.",
        )),
        Ok(Ok(found)) => border.print(&match typed.format {
            Format::Json => json(&found)?,
            Format::Text => terminal::page(&page(&found), border.width()),
        }),
        Ok(Err(words)) => Err(Failure::command(words, "Name the groups as study.yaml has them.")),
        Err(stopped) => stop(typed.format, &stopped, border),
    }
}

fn page(found: &Comparison) -> Page {
    let side = |side: &Side| format!("{} ({})", side.group, short(&side.study));
    let mut head = Section::headed(format!("{} after {}", side(&found.second), side(&found.first)));
    let columns = ["", "", "shifts", "GM before", "GM after", "ratio", "confidence of a fall"];
    let columns = columns.into_iter().map(Column::words).collect();
    let rows = found.results.iter().flat_map(rows).collect();
    head.blocks.push(Block::Table(Table { columns, rows, ..Table::default() }));
    head.blocks.push(Block::Outline(notes(&found.results)));
    let ranges = found.results.iter().map(|result| &result.unpaired.ratio);
    let words = figure::ranges_are(ranges).map(|words| format!("{words}. ")).unwrap_or_default();
    head.blocks.push(Block::Paragraph(Text::of(Tone::Quiet, format!("{words}{CAUTION}"))));
    Page { sections: vec![head] }
}

/// A row across all shifts, and one within the workers who are in both.
fn rows(result: &LimitComparison) -> Vec<Vec<Text>> {
    let own = [
        format!("{} {}", result.agent, words::limit_kind(result.kind)),
        "all shifts".to_owned(),
        format!("{}, {}", result.first_n, result.second_n),
        figure::with_unit(&result.first_gm, Form::Amount),
        figure::with_unit(&result.second_gm, Form::Amount),
    ];
    let within = [String::new(), "within workers".to_owned(), String::new(), String::new(), String::new()];
    [(own, &result.unpaired), (within, &result.paired)]
        .into_iter()
        .map(|(cells, ratio)| cells.into_iter().chain(of_ratio(ratio)).map(Text::from).collect())
        .collect()
}

fn of_ratio(ratio: &Ratio) -> [String; 2] {
    [figure::bare(&ratio.ratio, Form::Ratio), figure::bare(&ratio.confidence_of_fall, Form::Share)]
}

/// Reasons and remarks, each once.
fn notes(results: &[LimitComparison]) -> Vec<Line> {
    let mut told: Vec<String> = Vec::new();
    for result in results {
        for (way, ratio) in [("all shifts", &result.unpaired), ("within workers", &result.paired)] {
            let reason = ratio.ratio.reason().map(str::to_owned);
            for note in ratio.notes.iter().cloned().chain(reason) {
                let line = format!("{way}: {note}");
                if !told.contains(&line) {
                    told.push(line);
                }
            }
        }
    }
    told.into_iter().map(|line| Line::at(0, Text::of(Tone::Quiet, line))).collect()
}
