//! Field quality: what the checks of the input found, and which readings take no part.

use super::field;
use super::telling::Telling;
use crate::page::{Block, Column, Link, Section, Table, Text, Tone, short, with_typed};
use fullshift_engine::diagnose::{Report, Severity};
use fullshift_engine::model::assessment::ReadingResult;

/// Places of one finding that are named before the others are counted.
const NAMED: usize = 3;

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let (say, findings) = (telling.say(), &telling.assessment.findings);
    let mut section = Section::placed(0, "quality", say.quality);
    match findings.len() {
        0 => section.say(say.quality_none),
        n => {
            let counted = telling.counted(n, say.finding_one, say.finding_more);
            section.say(telling.fill(say.quality_words, &[("findings", counted)]));
            section.blocks.push(Block::Table(table(telling)));
        }
    }
    if telling.copy.findings_left_out > 0 {
        let n = telling.copy.findings_left_out;
        let counted = telling.counted(n, say.finding_one, say.finding_more);
        section.say(telling.fill(say.others_left_out, &[("findings", counted)]));
    }
    field::told(telling, &mut section);
    left_out(telling, &mut section);
    vec![section]
}

fn table(telling: &Telling<'_>) -> Table {
    let say = telling.say();
    let heads = [say.col_severity, say.col_code, say.col_place, say.col_finding, say.col_remedy];
    let rows = telling.assessment.findings.iter().map(|finding| {
        vec![
            severity(telling, finding.severity),
            format!("{} {}", finding.code, telling.language.told(finding.name)).into(),
            places(telling, finding).into(),
            with_typed(&short(&said(finding))),
            with_typed(&short(&finding.help)),
        ]
    });
    Table::of(heads.map(Column::words).into(), rows.collect()).captioned("findings", say.findings_caption)
}

/// A finding, with the reason of the study where that decided about it.
fn said(finding: &Report) -> String {
    match &finding.decision {
        Some(decision) => format!("{} ({})", finding.message, decision.reason),
        None => finding.message.clone(),
    }
}

fn severity(telling: &Telling<'_>, severity: Severity) -> Text {
    let say = telling.say();
    match severity {
        Severity::Error => Text::of(Tone::Above, say.error),
        Severity::Warning => Text::of(Tone::Open, say.warning),
        Severity::Note => say.note.into(),
    }
}

fn places(telling: &Telling<'_>, finding: &Report) -> String {
    let mut named: Vec<String> = finding.places.iter().take(NAMED).map(ToString::to_string).collect();
    let more = finding.places.len().saturating_sub(NAMED);
    if more > 0 {
        named.push(telling.say().and_more.replace("{n}", &more.to_string()));
    }
    named.join(", ")
}

fn left_out(telling: &Telling<'_>, section: &mut Section) {
    let say = telling.say();
    let readings: Vec<&ReadingResult> = telling.assessment.readings.iter().filter(|r| !r.used).collect();
    if readings.is_empty() {
        return section.say(say.all_used);
    }
    section.say(telling.fill(
        say.left_out_words,
        &[
            ("readings", telling.counted(readings.len(), say.reading_one, say.reading_more)),
            ("table", Text::caption("left-out")),
        ],
    ));
    let heads = [
        say.col_reading,
        say.col_worker,
        say.col_task,
        say.col_start,
        say.col_concentration_plain,
        say.col_reason,
    ];
    let rows = readings.iter().map(|reading| {
        vec![
            Text::linked(reading.id.as_str(), Link::Working(reading.id.clone())),
            reading.worker.as_deref().unwrap_or_default().into(),
            reading.task.as_deref().unwrap_or_default().into(),
            telling.language.moment(&reading.start).into(),
            format!("{} {}", telling.concentration(reading), reading.unit).into(),
            reading.why_not.as_deref().unwrap_or_default().into(),
        ]
    });
    let table = Table::of(heads.map(Column::words).into(), rows.collect());
    section.blocks.push(Block::Table(table.captioned("left-out", say.left_out_caption)));
}
