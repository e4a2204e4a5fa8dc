//! How many tubes, in how many boxes, and whether they suit.

use crate::page::{Block, Column, Line, Section, Table, Text, Tone, number};
use fullshift_engine::model::Figure;
use fullshift_engine::model::plan::{GroupPlan, TubeNeed, TubeUse};

pub(super) fn section(group: &GroupPlan) -> Section {
    let mut section = Section::headed(format!("Tubes for {}", group.group));
    if group.tubes.is_empty() {
        section.blocks.push(Block::Paragraph("No tube of the study shows the group's substances.".into()));
        return section;
    }
    let columns = vec![
        Column::words("tube"),
        Column::words("agent"),
        Column::numbers("tubes"),
        Column::numbers("spares"),
        Column::words("boxes"),
        Column::numbers("draws"),
        Column::numbers("strokes"),
        Column::words("one draw"),
        Column::words("range"),
        Column::words("expected"),
    ];
    let rows = group.tubes.iter().flat_map(rows).collect();
    section.blocks.push(Block::Table(Table { columns, rows, ..Table::default() }));
    section.blocks.push(Block::Outline(remarks(&group.tubes)));
    section
}

/// A row a number of strokes; what holds for the whole type stands in the first.
fn rows(need: &TubeNeed) -> Vec<Vec<Text>> {
    let whole = [
        need.tube.clone(),
        need.agent.clone(),
        need.draws.to_string(),
        need.spares.to_string(),
        format!("{} of {}", need.boxes, need.box_size),
    ];
    let nothing: [String; 5] = Default::default();
    let row = |(place, drawn): (usize, &TubeUse)| {
        let first = if place == 0 { whole.clone() } else { nothing.clone() };
        first.into_iter().chain(of_use(drawn)).map(Text::from).collect()
    };
    need.uses.iter().enumerate().map(row).collect()
}

fn of_use(drawn: &TubeUse) -> [String; 5] {
    let ends = |figure: &Figure| {
        let end = |end: Option<f64>| number::number(end.unwrap_or(f64::NAN));
        format!("{} to {}", end(figure.low()), end(figure.high()))
    };
    let minutes = drawn.draw_minutes.map_or("not told".to_owned(), |m| format!("{} min", number::number(m)));
    [
        drawn.draws.to_string(),
        number::number(drawn.strokes),
        minutes,
        format!("{} {}", ends(&drawn.range), drawn.range.unit()),
        ends(&drawn.expected),
    ]
}

/// Each remark once, with the tubes it holds for.
fn remarks(tubes: &[TubeNeed]) -> Vec<Line> {
    let uses: Vec<(&TubeNeed, &TubeUse)> =
        tubes.iter().flat_map(|need| need.uses.iter().map(move |drawn| (need, drawn))).collect();
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    for (need, drawn) in &uses {
        let name = format!("{} x {}", need.tube, number::number(drawn.strokes));
        let basis = basis(&drawn.expected).map(|basis| format!("expected: {basis}"));
        for remark in drawn.remarks.iter().cloned().chain(basis) {
            match found.iter_mut().find(|(known, _)| *known == remark) {
                Some((_, names)) => names.push(name.clone()),
                None => found.push((remark, vec![name.clone()])),
            }
        }
    }
    let line = |(remark, names): (String, Vec<String>)| {
        let words =
            if names.len() == uses.len() { remark } else { format!("{}: {remark}", names.join(", ")) };
        Line::at(0, Text::of(Tone::Quiet, words))
    };
    found.into_iter().map(line).collect()
}

fn basis(expected: &Figure) -> Option<&str> {
    match expected {
        Figure::Given(estimate) => Some(estimate.method.as_str()),
        _ => None,
    }
}
