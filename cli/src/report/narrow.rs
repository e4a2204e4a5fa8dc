//! A copy of an assessment that tells of one group only, so that it can leave the house.

use super::anonymous::mentions;
use fullshift_engine::diagnose::Report;
use fullshift_engine::model::Assessment;
use fullshift_engine::model::assessment::ReadingResult;
use fullshift_engine::model::field_quality::FieldQuality;

/// The assessment of one group, and how many findings about others were left out; `None` where there is no such group.
pub(crate) fn only_group(mut found: Assessment, group: &str) -> Option<(Assessment, usize)> {
    let (own, others): (Vec<_>, Vec<_>) = found.study.groups.into_iter().partition(|g| g.group == group);
    let workers = own.first()?.workers.clone();
    let agents = own[0].agents.clone();
    let strangers: Vec<String> = others.iter().flat_map(|g| g.workers.clone()).collect();
    let (readings, elsewhere): (Vec<_>, Vec<_>) = found
        .readings
        .into_iter()
        .partition(|reading| reading.worker.as_ref().is_some_and(|worker| workers.contains(worker)));
    let places: Vec<&str> = elsewhere.iter().map(|reading| reading.place.as_str()).collect();
    let before = found.findings.len();
    found.findings.retain(|finding| !about_others(finding, &places, &strangers, &workers));
    let left_out = before - found.findings.len();
    found.study.groups = own;
    found.study.agents.retain(|agent| agents.contains(&agent.agent));
    found.study.limits.retain(|limit| agents.contains(&limit.agent));
    found.study.tubes.retain(|tube| agents.contains(&tube.agent));
    for tube in &mut found.study.tubes {
        tube.readings = readings.iter().filter(|reading| reading.tube == tube.tube).count();
    }
    count_own(&mut found.field_quality, &readings);
    found.readings = readings;
    if let Some(without) = &mut found.field_quality.without_qualified {
        let left = found.readings.iter().filter(|reading| reading.used && reading.qualified_by.is_empty());
        without.readings_left = left.count();
        without.groups.retain(|change| change.group == group);
        let own = |shift: &str| found.shifts.iter().any(|known| known.shift == shift && known.group == group);
        without.shifts.retain(|change| own(&change.shift));
    }
    found.shifts.retain(|shift| shift.group == group);
    found.mixtures.retain(|mixture| mixture.group == group);
    found.groups.retain(|result| result.group == group);
    Some((found, left_out))
}

/// The counts of the field work for these readings alone. Spoiled tubes and leak checks belong to no group: their counts
/// stay those of the study.
fn count_own(quality: &mut FieldQuality, readings: &[ReadingResult]) {
    let count =
        |fits: &dyn Fn(&ReadingResult) -> bool| readings.iter().filter(|reading| fits(reading)).count();
    quality.readings = readings.len();
    quality.qualified = count(&|reading| !reading.qualified_by.is_empty());
    quality.rejected = count(&|reading| reading.rejected_by.is_some());
    for rule in &mut quality.rules {
        let named = |reading: &ReadingResult| {
            reading.qualified_by.contains(&rule.name) || reading.rejected_by == Some(rule.name)
        };
        rule.readings = count(&named);
    }
    for spent in &mut quality.to_dispose {
        spent.tubes = count(&|reading| reading.tube == spent.tube);
    }
    quality.to_dispose.retain(|spent| spent.tubes > 0);
}

/// Whether every place of a finding is another group's reading, or it names another group's worker and none of this.
fn about_others(finding: &Report, places: &[&str], strangers: &[String], own: &[String]) -> bool {
    let elsewhere = |file: &str, line: u32| places.contains(&format!("{file}:{line}").as_str());
    let all_elsewhere =
        !finding.places.is_empty() && finding.places.iter().all(|place| elsewhere(&place.file, place.line));
    let names = |names: &[String]| names.iter().any(|name| mentions(&finding.message, name));
    all_elsewhere || (names(strangers) && !names(own))
}
