//! The page that `assess` prints: verdicts first, then each group's profile and shifts, then field quality, findings and caution.

mod beside;
mod field_quality;
mod findings;
mod mixtures;
mod notes;
mod profile;
mod shifts;
mod verdicts;
pub(crate) mod words;

use crate::page::{Block, Page, Section, Text, Tone};
use fullshift_engine::model::Assessment;
use fullshift_engine::model::assessment::{GroupResult, MixtureResult, ShiftResult};

pub(crate) const CAUTION: &str = "Detector tubes are short-term screening instruments. This supports, and does not replace, a competent \
    person's judgement under the law in force; the limits are those that you entered.";

/// The assessment on one page.
pub(crate) fn page(assessment: &Assessment) -> Page {
    let mut sections = vec![verdicts::section(assessment)];
    for pair in pairs(assessment) {
        let groups: Vec<&GroupResult> =
            assessment.groups.iter().filter(|g| (g.group.as_str(), g.agent.as_str()) == pair).collect();
        let shifts: Vec<&ShiftResult> =
            assessment.shifts.iter().filter(|s| (s.group.as_str(), s.agent.as_str()) == pair).collect();
        let indices: Vec<&MixtureResult> =
            assessment.mixtures.iter().filter(|m| (m.group.as_str(), m.mixture.as_str()) == pair).collect();
        sections.push(profile::section(pair, &groups, shifts.len() + indices.len()));
        if !shifts.is_empty() {
            sections.push(shifts::section(pair, &shifts, &assessment.readings));
        }
        if !indices.is_empty() {
            sections.push(mixtures::section(pair.0, pair.1, &indices));
        }
    }
    sections.push(field_quality::section(assessment));
    sections.push(findings::section(&assessment.findings));
    let mut caution = Section::default();
    caution.blocks.push(Block::Paragraph(Text::of(Tone::Quiet, CAUTION)));
    sections.push(caution);
    sections.extend(verdicts::in_short(assessment));
    Page { sections }
}

/// Every group with every agent it is assessed for, in the order of the assessment.
pub(crate) fn pairs(assessment: &Assessment) -> Vec<(&str, &str)> {
    let groups = assessment.groups.iter().map(|g| (g.group.as_str(), g.agent.as_str()));
    let shifts = assessment.shifts.iter().map(|s| (s.group.as_str(), s.agent.as_str()));
    let mut pairs: Vec<(&str, &str)> = Vec::new();
    for pair in groups.chain(shifts) {
        if !pairs.contains(&pair) {
            pairs.push(pair);
        }
    }
    pairs
}

#[cfg(test)]
pub(crate) mod samples;
#[cfg(test)]
mod tests;
