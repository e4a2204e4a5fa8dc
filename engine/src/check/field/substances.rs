//! Substances told to be present under another name than the one on the sheet of the tube drawn.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::{code, near};
use crate::model::{Column, Ref, Study, Tube};
use std::collections::HashMap;

/// Letters of a name from which on one letter more, less or other may be a slip: CO is no slip of NO.
const LONG_ENOUGH: usize = 4;

/// Finds substances of which nothing is made because the sheet writes them otherwise.
pub fn check(study: &Study, notebook: &mut Notebook) {
    let mut known: HashMap<(Ref<Tube>, &str), Option<&str>> = HashMap::new();
    for (number, reading) in study.readings.iter().enumerate() {
        if study.tubes[reading.tube].interferes.is_empty() {
            continue;
        }
        let group = study.group_of(reading).map(|group| &study.groups[group]);
        let own = reading.circumstances().present.iter().map(|(name, _)| (name, reading.at(Column::Present)));
        for (name, span) in own.chain(
            group.into_iter().flat_map(|group| group.present.iter().map(|(name, _)| (name, group.span))),
        ) {
            let key = (reading.tube, name.as_str());
            let listed = *known.entry(key).or_insert_with(|| meant(name, reading.tube, study));
            let Some(listed) = listed else { continue };
            notebook.of_reading(number, &code::INTERFERENT_MISSPELT, || {
                let message = format!(
                    "`{name}` is told to be present, but the sheet of {} names `{listed}`; nothing is made of it",
                    study.tubes.name(reading.tube)
                );
                let help = format!(
                    "write `{listed}` if that is meant; if not, have this finding ignored with that reason"
                );
                Saying::new(span, message, help)
            });
        }
    }
}

/// The substance on the sheet of a tube that a name known to no sheet may be meant for.
fn meant<'a>(name: &str, tube: Ref<Tube>, study: &'a Study) -> Option<&'a str> {
    let all = || study.tubes.iter().flat_map(|(.., tube)| &tube.interferes);
    let formula =
        |name: &str| name.chars().count() < LONG_ENOUGH || name.contains(|c: char| c.is_ascii_digit());
    if formula(name) || study.agents.find(name).is_some() || all().any(|listed| listed.is(name)) {
        return None;
    }
    let listed = study.tubes[tube].interferes.iter().map(|listed| listed.agent.as_str());
    near(name, listed.filter(|listed| !formula(listed)), |_, _| 1)
}
