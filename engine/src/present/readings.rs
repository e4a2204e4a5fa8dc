//! The readings.

use super::Found;
use crate::correct;
use crate::model::assessment::ReadingResult;
use crate::model::reading::written;
use crate::model::shift::Shift;

/// Every reading, in the order of its table.
pub fn results(found: &Found) -> Vec<ReadingResult> {
    let study = found.study;
    let mut shift_of = vec![None; study.readings.len()];
    for shift in found.shifts {
        for &number in &shift.readings {
            shift_of[number] = Some(shift);
        }
    }
    let result = |c: &crate::model::Concentration| {
        let reading = &study.readings[c.reading];
        let in_group = study.group_of(reading).is_some_and(|g| study.groups[g].agents.contains(&c.agent));
        let shift = shift_of[c.reading];
        let since = |shift: &Shift| (reading.start - shift.start).num_seconds() as f64 / 60.0;
        let why_not = match (&c.why_not, in_group, shift) {
            (Some(why), ..) => Some(why.clone()),
            (None, false, _) => Some("its group is not assessed for this agent".to_owned()),
            (None, true, None) => Some("it lies in no shift".to_owned()),
            (None, true, Some(_)) => None,
        };
        ReadingResult {
            id: reading.id.to_string(),
            worker: reading.worker.map(|worker| study.workers.name(worker).to_owned()),
            shift: shift.map(|shift| shift.name.clone()),
            task: reading.task.map(|task| study.tasks.name(task).to_owned()),
            agent: study.agents.name(c.agent).to_owned(),
            place: found.places[c.reading].clone(),
            tube: study.tubes.name(reading.tube).to_owned(),
            lot: reading.told.as_ref().and_then(|told| told.lot.clone()),
            pump: study.pumps.name(reading.pump).to_owned(),
            start: study.clock.shown(reading.start),
            minutes_into_shift: shift.filter(|shift| shift.clock).map(since),
            drawn_minutes: c.drawn_minutes,
            stain: written(reading.stain),
            purpose: reading.purpose.word(),
            unit: study.unit(c.agent).symbol(),
            low: c.interval.low(),
            high: Some(c.interval.high()).filter(|h| h.is_finite()),
            used: why_not.is_none(),
            why_not,
            rejected_by: found.field_work.remarks.rejection(c.reading).map(|remark| remark.code.name),
            qualified_by: qualified_by(found, c.reading),
            trail: correct::working(study, reading),
        }
    };
    found.figures.concentrations.iter().map(result).collect()
}

fn qualified_by(found: &Found, number: usize) -> Vec<&'static str> {
    let remarks = &found.field_work.remarks;
    match remarks.is_qualified(number) {
        true => remarks.of(number).iter().map(|remark| remark.code.name).collect(),
        false => Vec::new(),
    }
}
