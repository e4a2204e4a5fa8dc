//! The works behind the formulas and rules of an assessment.

use crate::trail::Addresses;
use fullshift_engine::model::Assessment;

/// The list of all sources, as the project keeps it.
const ALL: &str = include_str!("../../../fixtures/SOURCES.md");

/// The works that the assessment names: key and work.
pub(super) fn named_by(assessment: &Assessment) -> Vec<(&'static str, &'static str)> {
    let mut named: Vec<String> = all_of(assessment).into_iter().map(plain).collect();
    named.sort_unstable();
    named.dedup();
    all().filter(|(key, _)| named.iter().any(|named| named.contains(&plain(key)))).collect()
}

/// The sources of every step and rule, as the engine names them.
pub(super) fn all_of(assessment: &Assessment) -> Vec<&'static str> {
    let addresses = Addresses::of(assessment);
    let steps = addresses.iter().flat_map(|entry| entry.thing.trail()).map(|step| step.source);
    let rules = assessment.groups.iter().flat_map(|group| &group.verdicts).map(|rule| rule.source);
    let limits = assessment.shifts.iter().flat_map(|shift| &shift.limits);
    let tests = limits.filter_map(|limit| Some(limit.compliance.as_ref()?.source));
    steps.chain(rules).chain(tests).collect()
}

/// A key without the signs by which its forms differ, as `EN-689` and `EN 689`.
fn plain(key: &str) -> String {
    key.replace(['-', ','], " ").to_lowercase()
}

fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    ALL.lines().filter_map(|line| {
        let (key, work) = line.strip_prefix("| ")?.strip_suffix(" |")?.split_once(" | ")?;
        // How the project came by a figure is its own affair.
        let work = work.split(" (").next().unwrap_or(work);
        (key != "key" && !key.starts_with("---")).then_some((key, work))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_source_is_named_by_its_work() {
        let land = all().find(|(key, _)| *key == "Land-1971").unwrap();
        assert_eq!(land.1, "C. E. Land, Ann. Math. Statist. 42");
        assert_eq!(plain("EN-689"), plain("EN 689"));
    }
}
