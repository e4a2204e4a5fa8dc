//! The field work in numbers.

use super::Found;
use crate::diagnose::{Action, Code, Usually, catalogue};
use crate::model::assessment::ReadingResult;
use crate::model::field_quality::{
    Disposal, FieldQuality, RuleCount, SpoiledResult, TubeCount, WithoutQualified,
};
use crate::model::{Ref, Tube};
use std::collections::BTreeMap;

const CAUTION: &str = "Spent and broken tubes may be hazardous waste, and broken glass cuts: follow the tube sheet and the \
    local rules.";

/// The summary of a study's field work.
pub fn of(found: &Found, readings: &[ReadingResult], without: Option<WithoutQualified>) -> FieldQuality {
    let remarks = &found.field_work.remarks;
    FieldQuality {
        tubes: tubes(found),
        spoiled: spoiled(found),
        leak_checks_needed: found.field_work.leak_checks.needed,
        leak_checks_done: found.field_work.leak_checks.done,
        readings: readings.len(),
        qualified: remarks.qualified(),
        rejected: remarks.rejected(),
        rules: catalogue().filter_map(|code| rule(found, code)).collect(),
        without_qualified: without,
        to_dispose: to_dispose(found),
        disposal_caution: CAUTION,
    }
}

fn tubes(found: &Found) -> Vec<TubeCount> {
    let study = found.study;
    let mut counts: BTreeMap<(Ref<Tube>, &Option<String>), TubeCount> = BTreeMap::new();
    let fresh = |tube: Ref<Tube>, lot: &Option<String>| TubeCount {
        tube: study.tubes.name(tube).to_owned(),
        lot: lot.clone(),
        drawn: 0,
        spoiled: 0,
        qualified: 0,
        rejected: 0,
    };
    for (number, reading) in study.readings.iter().enumerate() {
        let count = counts
            .entry((reading.tube, &reading.circumstances().lot))
            .or_insert_with(|| fresh(reading.tube, &reading.circumstances().lot));
        count.drawn += 1;
        count.qualified += usize::from(found.field_work.remarks.is_qualified(number));
        count.rejected += usize::from(found.field_work.remarks.rejection(number).is_some());
    }
    for spoiled in &study.spoiled {
        let count =
            counts.entry((spoiled.tube, &spoiled.lot)).or_insert_with(|| fresh(spoiled.tube, &spoiled.lot));
        count.drawn += 1;
        count.spoiled += 1;
    }
    counts.into_values().collect()
}

fn spoiled(found: &Found) -> Vec<SpoiledResult> {
    let result = |spoiled: &crate::model::SpoiledTube| SpoiledResult {
        id: spoiled.id.clone(),
        tube: found.study.tubes.name(spoiled.tube).to_owned(),
        lot: spoiled.lot.clone(),
        note: spoiled.note.clone(),
    };
    found.study.spoiled.iter().map(result).collect()
}

/// A rule that concerns readings, or about which the study decided something.
fn rule(found: &Found, code: &'static Code) -> Option<RuleCount> {
    let remarks = &found.field_work.remarks;
    let concerns = |&number: &usize| remarks.of(number).iter().any(|remark| remark.code.id == code.id);
    let readings = (0..found.study.readings.len()).filter(concerns).count();
    let decision = found.study.decision(code);
    let concerned = readings > 0 && code.usually != Usually::Undecidable;
    (concerned || decision.is_some()).then(|| RuleCount {
        code: code.id,
        name: code.name,
        action: decision.map_or(Action::Qualify, |decision| decision.action),
        reason: decision.map(|decision| decision.reason.clone()).filter(|reason| !reason.is_empty()),
        readings,
    })
}

fn to_dispose(found: &Found) -> Vec<Disposal> {
    let study = found.study;
    let of_type = |(tube, name, sheet): (Ref<Tube>, &str, &Tube)| {
        let read = study.readings.iter().filter(|reading| reading.tube == tube).count();
        let tubes = read + study.spoiled.iter().filter(|spoiled| spoiled.tube == tube).count();
        (tubes > 0).then(|| Disposal { tube: name.to_owned(), tubes, contains: sheet.contains.clone() })
    };
    study.tubes.iter().filter_map(of_type).collect()
}
