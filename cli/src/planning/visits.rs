//! When to draw tubes: a line a worker's shift.

use crate::page::{Block, Line, Section, Text, Tone, number};
use fullshift_engine::model::plan::{GrabTime, GroupPlan, Visit};

pub(super) fn section(group: &GroupPlan) -> Section {
    let quiet = "  at random, one in each equal part of a task's time";
    let heading = Text::of(Tone::Strong, format!("Times for {}", group.group)).and(Tone::Quiet, quiet);
    let mut section = Section::headed(heading);
    section.blocks.push(Block::Outline(group.visits.iter().flat_map(visit).collect()));
    section
}

/// The worker and the shift after which the times are laid; below it the times of each task.
fn visit(visit: &Visit) -> Vec<Line> {
    let like = match &visit.shift_as {
        Some(shift) => format!(", a shift like {shift}"),
        None => ", minutes from the start of the shift; the diary has no shift of the group".to_owned(),
    };
    let mut lines = vec![Line::at(0, Text::of(Tone::Strong, visit.worker.as_str()).and(Tone::Quiet, like))];
    let mut tasks: Vec<Option<&str>> = Vec::new();
    for time in &visit.times {
        if !tasks.contains(&time.task.as_deref()) {
            tasks.push(time.task.as_deref());
        }
    }
    for task in tasks {
        let own: Vec<&GrabTime> = visit.times.iter().filter(|time| time.task.as_deref() == task).collect();
        let at: Vec<&str> = own.iter().map(|time| time.at.as_str()).collect();
        let name = task.map(|task| format!("{task} ")).unwrap_or_default();
        let tubes = own.first().map(|time| tubes(time)).unwrap_or_default();
        lines.push(Line::at(1, Text::from(format!("{name}{}", at.join(", "))).and(Tone::Quiet, tubes)));
    }
    lines.extend(visit.note.iter().map(|note| Line::at(1, Text::of(Tone::Open, note.as_str()))));
    lines
}

fn tubes(time: &GrabTime) -> String {
    let each = |tube: &fullshift_engine::model::plan::TubeChoice| match tube.strokes {
        1.0 => format!("{} 1 stroke", tube.tube),
        strokes => format!("{} {} strokes", tube.tube, number::number(strokes)),
    };
    format!("  {}", time.tubes.iter().map(each).collect::<Vec<_>>().join(" + "))
}
