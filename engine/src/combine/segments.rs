//! For which minutes each reading of a shift stands: to the midpoints of its neighbours in the same stretch of a task.

use crate::model::shift::{Segment, Shift};
use crate::model::{Concentration, Ref, Study, Task};
use chrono::NaiveDateTime;

/// The segments of a shift, by time.
pub fn of_shift(
    study: &Study,
    shift: &Shift,
    used: &[usize],
    concentrations: &[Concentration],
) -> Vec<Segment> {
    let point = |i: usize| {
        let reading = &study.readings[concentrations[i].reading];
        let start = minutes_between(shift.start, reading.start);
        (reading.task, (start, start + concentrations[i].drawn_minutes.unwrap_or(0.0)))
    };
    let mut segments = Vec::with_capacity(used.len());
    let mut taken = vec![false; used.len()];
    for stretch in stretches(shift) {
        let mut inside: Vec<(usize, (f64, f64))> = Vec::new();
        for (k, &i) in used.iter().enumerate() {
            let (task, drawn) = point(i);
            if !taken[k] && task == Some(stretch.task) && drawn.0 >= stretch.from && drawn.0 <= stretch.to {
                taken[k] = true;
                inside.push((i, drawn));
            }
        }
        segments.extend(parted(&inside, &stretch));
    }
    segments.sort_by(|a, b| a.from.total_cmp(&b.from));
    segments
}

struct Stretch {
    task: Ref<Task>,
    from: f64,
    to: f64,
    /// Whether the diary tells its ends; otherwise the readings do.
    ends_known: bool,
}

/// The stretches of one task each: the blocks of a diary by the clock, a task as a whole of one by minutes.
fn stretches(shift: &Shift) -> Vec<Stretch> {
    let mut list: Vec<Stretch> = Vec::new();
    for block in &shift.blocks {
        if shift.clock {
            let from = minutes_between(shift.start, block.start);
            list.push(Stretch { task: block.task, from, to: from + block.minutes.0, ends_known: true });
        } else if !list.iter().any(|s| s.task == block.task) {
            list.push(Stretch { task: block.task, from: 0.0, to: f64::INFINITY, ends_known: false });
        }
    }
    list
}

/// Parts a stretch among its readings at the midpoints between them.
fn parted(inside: &[(usize, (f64, f64))], stretch: &Stretch) -> Vec<Segment> {
    let middle = |drawn: (f64, f64)| 0.5 * (drawn.0 + drawn.1);
    let mut order: Vec<_> = inside.to_vec();
    order.sort_by(|a, b| middle(a.1).total_cmp(&middle(b.1)).then(a.0.cmp(&b.0)));
    let between = |k: usize| 0.5 * (middle(order[k].1) + middle(order[k + 1].1));
    let last = order.len().saturating_sub(1);
    let edge = |k: usize, (reading, drawn): (usize, (f64, f64))| {
        let first_edge = if stretch.ends_known { stretch.from } else { drawn.0 };
        let last_edge = if stretch.ends_known { stretch.to } else { drawn.1 };
        let from = if k == 0 { first_edge } else { between(k - 1) };
        let to = if k == last { last_edge } else { between(k) };
        Segment { reading, from, to, drawn }
    };
    order.iter().enumerate().map(|(k, &reading)| edge(k, reading)).collect()
}

fn minutes_between(from: NaiveDateTime, to: NaiveDateTime) -> f64 {
    (to - from).num_milliseconds() as f64 / 60_000.0
}
