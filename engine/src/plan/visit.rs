//! When tubes are to be drawn in a shift: at random within equal parts of each task's time.

use super::draw::Draw;
use crate::model::plan::{GrabTime, TubeChoice, Visit};
use crate::model::shift::Shift;
use crate::model::{Ref, Study, Task, Unsampled};
use chrono::Duration;

/// Fewest grab times in a task: with one nothing is known of how the air varies in it.
const FEWEST_IN_A_TASK: usize = 2;

/// Minutes of a stretch of a task, from and to, counted from the start of the shift.
type Stretch = (f64, f64);

/// A task of a shift with its stretches and the tubes for it.
struct Part<'a> {
    task: Option<Ref<Task>>,
    stretches: Vec<Stretch>,
    tubes: &'a [TubeChoice],
    draw_minutes: f64,
}

impl Part<'_> {
    fn minutes(&self) -> f64 {
        self.stretches.iter().map(|(from, to)| to - from).sum()
    }

    /// The whole minutes at which a draw can start and still end in the same stretch.
    fn starts(&self) -> Vec<f64> {
        let within = |&(from, to): &Stretch| {
            let last = to - self.draw_minutes;
            (0..).map(move |minute| from.ceil() + f64::from(minute)).take_while(move |start| *start <= last)
        };
        self.stretches.iter().flat_map(within).collect()
    }
}

/// What is to be drawn for a task: its tubes, and how long they take one after the other. `None` is the shift of which no task is known.
pub type Wanted<'a> = dyn Fn(Option<Ref<Task>>) -> (&'a [TubeChoice], f64) + 'a;

/// The visit of a worker's shift, laid after the diary of `shift`, or over `minutes` without a known task.
pub fn visit(
    study: &Study,
    worker: String,
    shift: Option<&Shift>,
    times: usize,
    wanted: &Wanted,
    draw: &mut Draw,
) -> Visit {
    let parts = parts(study, shift, wanted);
    let counts = counts(&parts, times);
    let mut notes = Vec::new();
    let mut found: Vec<(f64, usize)> = Vec::new();
    for (number, (part, &count)) in parts.iter().zip(&counts).enumerate() {
        let drawn = starts(part, count, draw);
        if drawn.len() < count {
            let name = part.task.map_or("the shift", |task| study.tasks.name(task));
            notes.push(format!("{name} has time for {} of {count} draws", drawn.len()));
        }
        found.extend(drawn.into_iter().map(|start| (start, number)));
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let time = |(minutes, number): (f64, usize)| GrabTime {
        at: on_the_clock(study, shift, minutes),
        minutes,
        task: parts[number].task.map(|task| study.tasks.name(task).to_owned()),
        tubes: parts[number].tubes.to_vec(),
    };
    Visit {
        worker,
        shift_as: shift.map(|shift| shift.name.clone()),
        times: found.into_iter().map(time).collect(),
        note: (!notes.is_empty()).then(|| notes.join("; ")),
    }
}

/// The tasks of a shift that are to be sampled; those that count as zero on the user's word are not.
fn parts<'a>(study: &Study, shift: Option<&Shift>, wanted: &Wanted<'a>) -> Vec<Part<'a>> {
    let Some(shift) = shift else {
        let (tubes, draw_minutes) = wanted(None);
        let stretches = vec![(0.0, study.shift.reference.0)];
        return vec![Part { task: None, stretches, tubes, draw_minutes }];
    };
    let mut parts: Vec<Part<'a>> = Vec::new();
    for block in shift.blocks.iter().filter(|b| study.tasks[b.task].unsampled != Unsampled::Zero) {
        let from = (block.start - shift.start).num_milliseconds() as f64 / 60_000.0;
        let stretch = (from, from + block.minutes.0);
        match parts.iter_mut().find(|part| part.task == Some(block.task)) {
            Some(part) => part.stretches.push(stretch),
            None => {
                let (tubes, draw_minutes) = wanted(Some(block.task));
                parts.push(Part { task: Some(block.task), stretches: vec![stretch], tubes, draw_minutes });
            }
        }
    }
    parts.retain(|part| !part.tubes.is_empty());
    parts
}

/// Grab times by task: two for each, the others where most minutes stand behind one time.
fn counts(parts: &[Part], times: usize) -> Vec<usize> {
    let mut counts = vec![FEWEST_IN_A_TASK; parts.len()];
    for _ in FEWEST_IN_A_TASK * parts.len()..times {
        let behind_one = |i: &usize| parts[*i].minutes() / (counts[*i] as f64);
        // The first of equal ones, so that the order of the diary decides.
        let neediest = (0..parts.len()).rev().max_by(|a, b| behind_one(a).total_cmp(&behind_one(b)));
        let Some(i) = neediest else { break };
        counts[i] += 1;
    }
    counts
}

/// `count` starts at random, one in each of as many equal parts of the possible ones, none before the draw before it has ended.
fn starts(part: &Part, count: usize, draw: &mut Draw) -> Vec<f64> {
    let possible = part.starts();
    let mut found: Vec<f64> = Vec::new();
    for stratum in 0..count {
        let (from, to) = (stratum * possible.len() / count, (stratum + 1) * possible.len() / count);
        let free = found.last().map_or(f64::NEG_INFINITY, |last| last + part.draw_minutes);
        let open: Vec<f64> = possible[from..to].iter().copied().filter(|start| *start >= free).collect();
        if !open.is_empty() {
            found.push(open[draw.below(open.len())]);
        }
    }
    found
}

fn on_the_clock(study: &Study, shift: Option<&Shift>, minutes: f64) -> String {
    match shift {
        Some(shift) if shift.clock => {
            let at = shift.start + Duration::milliseconds((minutes * 60_000.0).round() as i64);
            study.clock.time_shown(at)
        }
        _ => format!("+{minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(stretches: &[Stretch], draw_minutes: f64) -> Part<'static> {
        Part { task: None, stretches: stretches.to_vec(), tubes: &[], draw_minutes }
    }

    #[test]
    fn each_equal_part_of_a_task_has_one_start() {
        let part = part(&[(0.0, 100.0), (200.0, 300.0)], 5.0);
        for seed in 0..200 {
            let found = starts(&part, 4, &mut Draw::new(seed, 0));
            assert_eq!(found.len(), 4);
            assert!(
                found[0] < 50.0 && found[1] <= 95.0 && found[2] < 250.0 && found[3] <= 295.0,
                "{found:?}"
            );
            assert!(found.windows(2).all(|w| w[1] >= w[0] + 5.0), "{found:?}");
        }
    }

    #[test]
    fn a_draw_ends_in_the_stretch_in_which_it_starts() {
        assert_eq!(part(&[(0.0, 5.0), (10.5, 14.0)], 3.0).starts(), [0.0, 1.0, 2.0, 11.0]);
        assert!(part(&[(0.0, 2.0)], 3.0).starts().is_empty());
    }

    #[test]
    fn every_task_has_two_times_and_the_longest_the_rest() {
        let parts = [part(&[(0.0, 60.0)], 1.0), part(&[(60.0, 360.0)], 1.0)];
        assert_eq!(counts(&parts, 8), [2, 6]);
        assert_eq!(counts(&parts, 3), [2, 2]);
        assert_eq!(counts(&[], 8), [0; 0]);
    }
}
