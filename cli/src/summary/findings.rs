//! The findings beside an assessment: how many, and a line for each kind that weighs; notes are for `check`.

use crate::finding::{count, severity};
use crate::page::{Block, Line, Section, Text, Tone, short};
use fullshift_engine::diagnose::{Report, Severity};

pub(super) fn section(findings: &[Report]) -> Section {
    if findings.is_empty() {
        return Section::headed("Findings: none");
    }
    let mut section = Section::headed(
        Text::of(Tone::Strong, format!("Findings: {}", count(findings))).then("  (in full: fullshift check)"),
    );
    let kinds = kinds(findings);
    let weighs = |kind: &&Vec<&Report>| kind.iter().any(|finding| finding.severity != Severity::Note);
    section.blocks.push(Block::Outline(kinds.iter().filter(weighs).map(|kind| line(kind)).collect()));
    section
}

/// The findings of each code, in the order in which the codes first came up.
fn kinds(findings: &[Report]) -> Vec<Vec<&Report>> {
    let mut kinds: Vec<Vec<&Report>> = Vec::new();
    for finding in findings {
        match kinds.iter_mut().find(|kind| kind[0].code == finding.code) {
            Some(kind) => kind.push(finding),
            None => kinds.push(vec![finding]),
        }
    }
    kinds
}

fn line(kind: &[&Report]) -> Line {
    let first = kind[0];
    let (word, tone) = severity(first.severity);
    let at = first.places.first().map(ToString::to_string).unwrap_or_default();
    let more = if kind.len() > 1 { format!(" and {} more", kind.len() - 1) } else { String::new() };
    Line::at(0, Text::of(tone, word).then(format!(" {} {at}{more}: {}", first.code, short(&first.message))))
}
