//! How much of a shift its readings and its diary cover.

use crate::check::notebook::{Notebook, Saying, named};
use crate::diagnose::{Span, code};
use crate::model::shift::{Block, Shift};
use crate::model::{Agent, LimitKind, Purpose, Ref, Study, Task, Unsampled};
use std::collections::{BTreeMap, BTreeSet};

/// Readings of a task in a shift from which on its spread is known at all well.
const ENOUGH: usize = 3;

/// Share of a shift's minutes from which on a task weighs.
const WEIGHS: f64 = 0.25;

/// Notes tasks with few readings, windows longer than tasks, and gaps in the diary.
pub fn check(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    few_readings(study, shifts, notebook);
    long_windows(study, shifts, notebook);
    diary_gaps(study, shifts, notebook);
}

/// Shifts of which something is said together, with the places of their blocks.
#[derive(Default)]
struct Concerned<'a> {
    shifts: Vec<&'a str>,
    spans: Vec<Span>,
}

impl<'a> Concerned<'a> {
    fn add(&mut self, shift: &'a Shift, span: Span) {
        if self.shifts.last() != Some(&shift.name.as_str()) {
            self.shifts.push(&shift.name);
        }
        self.spans.push(span);
    }
}

fn blocks_of(shift: &Shift, task: Ref<Task>) -> impl Iterator<Item = &Block> {
    shift.blocks.iter().filter(move |block| block.task == task)
}

/// Tasks with few readings, and the rows of the diary that tell of them.
#[derive(Default)]
struct Few {
    tasks: BTreeSet<Ref<Task>>,
    spans: Vec<Span>,
}

fn few_readings(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    let mut few: BTreeMap<Ref<Agent>, Few> = BTreeMap::new();
    for shift in shifts {
        let total: f64 = shift.blocks.iter().map(|block| block.minutes.0).sum();
        for ((agent, task), readings) in counted(shift, study) {
            let minutes: f64 = blocks_of(shift, task).map(|block| block.minutes.0).sum();
            let first = blocks_of(shift, task).next();
            if let (true, Some(first)) = (readings < ENOUGH && minutes >= WEIGHS * total, first) {
                let few = few.entry(agent).or_default();
                few.tasks.insert(task);
                few.spans.push(first.span);
            }
        }
    }
    for (agent, few) in few {
        let tasks: Vec<&str> = few.tasks.into_iter().map(|task| study.tasks.name(task)).collect();
        let message = format!(
            "one or two readings of {} stand for a quarter or more of a shift ({})",
            study.agents.name(agent),
            named("task", &tasks)
        );
        let help = "draw three or more tubes in every task that takes a quarter of the shift; the limits become narrower";
        notebook.note(&code::FEW_READINGS, || Saying::at(few.spans, message, help));
    }
}

/// How many random readings a shift has of each agent in each task.
fn counted(shift: &Shift, study: &Study) -> BTreeMap<(Ref<Agent>, Ref<Task>), usize> {
    let mut counts = BTreeMap::new();
    for reading in shift.readings.iter().map(|&number| &study.readings[number]) {
        if let (Purpose::Random, Some(task)) = (reading.purpose, reading.task) {
            *counts.entry((study.tubes[reading.tube].agent, task)).or_insert(0) += 1;
        }
    }
    counts
}

fn long_windows(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    for limit in study.limits.iter().filter(|limit| limit.kind == LimitKind::ShortTerm) {
        let mut shorter: BTreeMap<Ref<Task>, Concerned> = BTreeMap::new();
        let assessed =
            |shift: &&Shift| shift.clock && study.groups[shift.group].agents.contains(&limit.agent);
        for shift in shifts.iter().filter(assessed) {
            for block in shift.blocks.iter().filter(|block| block.minutes.0 < limit.averaging.0) {
                if study.tasks[block.task].unsampled != Unsampled::Zero {
                    shorter.entry(block.task).or_default().add(shift, block.span);
                }
            }
        }
        for (task, concerned) in shorter {
            let message = format!(
                "the {} min of the short-term limit of {} are longer than {} lasted in {}",
                limit.averaging.0,
                study.agents.name(limit.agent),
                study.tasks.name(task),
                named("shift", &concerned.shifts)
            );
            let help = "draw tubes before and after the task as well: the window takes in their minutes";
            notebook.note(&code::WINDOW_LONGER_THAN_TASK, || Saying::at(concerned.spans, message, help));
        }
    }
}

fn diary_gaps(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    for shift in shifts.iter().filter(|shift| shift.clock && !study.faulty.diary.excuses(shift.worker)) {
        for pair in shift.blocks.windows(2) {
            let (end, next) = (pair[0].end, pair[1].start);
            if end < next {
                notebook.note(&code::DIARY_GAP, || {
                    let message = format!(
                        "the diary of {} leaves out {} min, from {} to {}",
                        shift.name,
                        (next - end).num_seconds() as f64 / 60.0,
                        study.clock.time_shown(end),
                        study.clock.time_shown(next)
                    );
                    let help = "add a row for that time, as a break in a task whose `unsampled` is zero";
                    Saying::at(vec![pair[1].span, pair[0].span], message, help)
                });
            }
        }
    }
}
