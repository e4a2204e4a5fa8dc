//! What a pump can have drawn: one tube at a time, in its time, of its volume.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::{Column, Pump, Reading, Ref, Study};
use chrono::{NaiveDateTime, Timelike};
use std::collections::BTreeMap;

/// Volume of a stroke where pump or sheet say nothing.
const USUAL_ML: f64 = 100.0;

/// Checks the readings of each pump in the order of their times.
pub fn check(study: &Study, notebook: &mut Notebook) {
    let mut of_pump: BTreeMap<Ref<Pump>, Vec<(NaiveDateTime, usize)>> = BTreeMap::new();
    for (number, reading) in study.readings.iter().enumerate() {
        of_pump.entry(reading.pump).or_default().push((reading.start, number));
        volume(number, reading, study, notebook);
    }
    for times in of_pump.values_mut() {
        // A stable sort makes use of stretches that are in order, as those of a worker mostly are.
        times.sort();
        times.windows(2).for_each(|pair| one_at_a_time(pair[0].1, pair[1].1, study, notebook));
    }
}

fn volume(number: usize, reading: &Reading, study: &Study, notebook: &mut Notebook) {
    let (pump, tube) = (&study.pumps[reading.pump], &study.tubes[reading.tube]);
    let drawn = pump.stroke_volume_ml.unwrap_or(USUAL_ML);
    if drawn == tube.stroke_volume_ml {
        return;
    }
    notebook.of_reading(number, &code::STROKE_VOLUME_MISMATCH, || {
        let message = format!(
            "a stroke of pump {} draws {drawn} mL, the scale of {} is printed for {} mL; no correction is made",
            study.pumps.name(reading.pump),
            study.tubes.name(reading.tube),
            tube.stroke_volume_ml
        );
        let help = "use the pump that belongs to the tube, or correct `stroke_volume` under `pumps` or `tubes`";
        Saying::new(reading.at(Column::Pump), message, help).beside(tube.span)
    });
}

/// Two readings of one pump that follow each other.
fn one_at_a_time(first: usize, second: usize, study: &Study, notebook: &mut Notebook) {
    let (before, after) = (&study.readings[first], &study.readings[second]);
    let needed = study.tubes[before.tube].stroke_time.map_or(0.0, |time| time.0 * before.strokes);
    let apart = (after.start - before.start).num_seconds() as f64 / 60.0;
    let too_close = apart + unsure(before, after) <= needed;
    let elsewhere =
        before.worker != after.worker || place(before).zip(place(after)).is_some_and(|(a, b)| a != b);
    if elsewhere && (too_close || apart == 0.0) {
        notebook.of_reading(second, &code::PUMP_IN_TWO_PLACES, || {
            let message = format!(
                "pump {} was drawing `{}` at the same time, {}",
                study.pumps.name(after.pump),
                before.id,
                somebody(before, after, study)
            );
            let help = "correct the pump, the time or the person of one of the two";
            Saying::new(after.at(Column::Pump), message, help).beside(before.at(Column::Pump))
        });
    } else if too_close && needed > 0.0 {
        notebook.of_reading(first, &code::DRAWN_TOO_FAST, || {
            let message = format!(
                "{} of {} take {needed} min, but pump {} began its next tube {apart} min later",
                strokes(before.strokes),
                study.tubes.name(before.tube),
                study.pumps.name(before.pump)
            );
            let help =
                "correct the times, the pump or the strokes; if the tube was hurried, its stain is doubtful";
            Saying::new(before.at(Column::Start), message, help).beside(after.at(Column::Start))
        });
    }
}

/// By how many minutes two times can lie further apart than they seem: times written in whole minutes are cut.
fn unsure(a: &Reading, b: &Reading) -> f64 {
    let whole = [a, b].iter().all(|reading| reading.start.second() == 0);
    if whole { 1.0 } else { 1.0 / 60.0 }
}

fn place(reading: &Reading) -> Option<&String> {
    reading.circumstances().place.as_ref()
}

fn somebody(before: &Reading, after: &Reading, study: &Study) -> String {
    match (before.worker.filter(|_| before.worker != after.worker), place(before)) {
        (Some(worker), _) => format!("for {}", study.workers.name(worker)),
        (None, Some(place)) => format!("at {place}"),
        (None, None) => "for nobody".to_owned(),
    }
}

fn strokes(count: f64) -> String {
    format!("{count} stroke{}", if count == 1.0 { "" } else { "s" })
}
