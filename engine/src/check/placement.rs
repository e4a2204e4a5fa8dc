//! Every reading in its shift and task.

use super::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::shift::{Block, Shift};
use crate::model::study::Worker;
use crate::model::{Column, Purpose, Reading, Ref, Study};
use chrono::Duration;

/// Puts every reading into its shift; those that fit none become findings, unless they were not taken on a person.
pub fn place(study: &Study, shifts: &mut [Shift], notebook: &mut Notebook) {
    let by_worker = |worker: Ref<Worker>| (study.workers[worker].group, worker);
    let mut before = 0;
    for (number, reading) in study.readings.iter().enumerate() {
        // What nobody wore lies in no shift.
        let Some(worker) = reading.worker else { continue };
        // The shifts come by group, worker and start; readings that follow each other mostly lie in one shift.
        let own = by_worker(worker);
        let begun = |s: &Shift| (s.group, s.worker, s.start) <= (own.0, own.1, reading.start);
        let here = before > 0 && begun(&shifts[before - 1]) && !shifts.get(before).is_some_and(begun);
        if !here {
            before = shifts.partition_point(begun);
        }
        let last = before.checked_sub(1).filter(|&i| shifts[i].worker == worker);
        match last.filter(|&i| reaches(&shifts[i], reading)) {
            Some(i) if fits(study, &shifts[i], number, notebook) => shifts[i].readings.push(number),
            Some(_) => {}
            None => report_outside(study, worker, number, notebook),
        }
    }
    for shift in shifts {
        shift.readings.sort_by_key(|&i| (study.readings[i].start, i));
    }
}

/// Whether a reading falls into the time of a shift that began before it.
fn reaches(shift: &Shift, reading: &Reading) -> bool {
    match shift.clock {
        true => reading.start <= shift.end,
        false => reading.start < shift.start + Duration::hours(24),
    }
}

fn personal(reading: &Reading) -> bool {
    !matches!(reading.purpose, Purpose::Area | Purpose::Blank)
}

/// Whether the diary has the reading's task at its minute; a finding where it has another.
fn fits(study: &Study, shift: &Shift, number: usize, notebook: &mut Notebook) -> bool {
    let reading = &study.readings[number];
    let excused = study.faulty.diary.excuses(shift.worker);
    let Some(task) = reading.task.filter(|_| personal(reading)) else { return true };
    if !shift.clock {
        let known = shift.blocks.iter().any(|b| b.task == task);
        if !known && !excused {
            report_task(number, reading, &shift.blocks[0], notebook, || {
                format!(
                    "reading `{}` is told to be {}, which the diary of {} does not have",
                    reading.id,
                    study.tasks.name(task),
                    shift.name
                )
            });
        }
        return known;
    }
    // A reading on the very minute at which the task changes may belong to either.
    let mut at = shift.blocks.iter().filter(|b| b.start <= reading.start && reading.start <= b.end);
    if at.clone().any(|b| b.task == task) {
        return true;
    }
    match at.next_back() {
        Some(_) if excused => {}
        Some(block) => report_task(number, reading, block, notebook, || {
            format!(
                "reading `{}` is told to be {}, but at {} the diary has {} at {}",
                reading.id,
                study.tasks.name(task),
                study.clock.time_shown(reading.start),
                study.workers.name(shift.worker),
                study.tasks.name(block.task)
            )
        }),
        None => report_outside(study, shift.worker, number, notebook),
    }
    false
}

fn report_task(
    number: usize,
    reading: &Reading,
    block: &Block,
    notebook: &mut Notebook,
    message: impl FnOnce() -> String,
) {
    let help = "correct the task or the time of the reading, or the diary";
    notebook.alone(number, &code::READING_IN_OTHER_TASK, || {
        Saying::new(reading.at(Column::Task), message(), help).beside(block.span)
    });
}

fn report_outside(study: &Study, worker: Ref<Worker>, number: usize, notebook: &mut Notebook) {
    let reading = &study.readings[number];
    if personal(reading) && !study.faulty.diary.excuses(worker) {
        notebook.alone(number, &code::READING_OUTSIDE_DIARY, || {
            let worker = study.workers.name(worker);
            let message = format!(
                "reading `{}` of {} lies in no shift of {worker}",
                reading.id,
                study.clock.shown(reading.start)
            );
            let help = format!("correct its start or its worker, or add {worker}'s time to the diary");
            Saying::new(reading.at(Column::Start), message, help)
        });
    }
}

/// Tells of shifts by minutes whose tubes lie further apart than all that the diary tells of them: hours were taken for minutes.
pub fn report_apart(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    for shift in shifts.iter().filter(|shift| !shift.clock && !study.faulty.diary.excuses(shift.worker)) {
        let own = || shift.readings.iter().map(|&i| &study.readings[i]).filter(|reading| personal(reading));
        let (Some(first), Some(last)) = (own().next(), own().next_back()) else { continue };
        let apart = (last.start - first.start).num_seconds() as f64 / 60.0;
        let told: f64 = shift.blocks.iter().map(|block| block.minutes.0).sum();
        if apart > told {
            notebook.note(&code::MINUTES_TOO_FEW, || {
                let message = format!(
                    "the tubes of shift {} lie {apart:.0} min apart, but its diary tells of {told} min altogether",
                    shift.name
                );
                let help = "hours written as minutes? then head the column `minutes [h]`; a long break can be the reason too: give it a row";
                Saying::new(shift.blocks[0].span, message, help)
                    .beside(first.at(Column::Start))
                    .beside(last.at(Column::Start))
            });
        }
    }
}

/// Notes the shifts in which no tube was drawn.
pub fn report_empty(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    if study.readings.is_empty() {
        return; // The visit lies ahead; the readings table has been told of.
    }
    for shift in shifts.iter().filter(|s| s.readings.is_empty()) {
        notebook.note(&code::SHIFT_WITHOUT_READINGS, || {
            let message = format!("no tube was drawn in shift {}", shift.name);
            let help = format!(
                "it has no figure; nothing need be done if {} was not to be sampled",
                study.workers.name(shift.worker)
            );
            Saying::new(shift.blocks[0].span, message, help)
        });
    }
}
