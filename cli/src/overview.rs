//! The page that `assess` prints of an archive: how the groups stand, those first that are highest against their limit.

use crate::finding::severity;
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Line, Page, Section, Side, Table, Text, Tone, short};
use crate::summary::words;
use fullshift_engine::diagnose::Severity;
use fullshift_engine::model::overview::{FoundOften, GroupOutline};
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Figure, LimitKind, Overview};

/// Groups on the page; all of them are in the files.
const SHOWN: usize = 25;

/// The overview on one page.
pub(crate) fn page(overview: &Overview) -> Page {
    let mut sections = vec![head(overview)];
    for (agent, kind) in subjects(overview) {
        let of = |line: &&GroupOutline| (line.agent.as_str(), line.kind) == (agent, kind);
        sections.push(groups(agent, kind, overview.groups.iter().filter(of).collect()));
    }
    sections.push(findings(&overview.findings));
    let mut caution = Section::default();
    caution.blocks.push(Block::Paragraph(Text::of(Tone::Quiet, crate::summary::CAUTION)));
    sections.push(caution);
    Page { sections }
}

fn head(overview: &Overview) -> Section {
    let mut section = Section::headed(match overview.site.as_str() {
        "" => short(&overview.title),
        site => format!("{} ({})", short(&overview.title), short(site)),
    });
    let count = |n: usize, word: &str| words::counted(n, word);
    section.say(format!(
        "An archive: {} in {} of {}; {} qualified, {} rejected.",
        count(overview.readings, "reading"),
        count(overview.shifts, "shift"),
        count(overview.workers, "worker"),
        overview.qualified,
        overview.rejected
    ));
    section.say(Text::of(
        Tone::Quiet,
        "A group in full: fullshift assess STUDY --group GROUP. All groups and shifts as tables: --out DIR.",
    ));
    section
}

/// What is held against a limit, in the order of the lines.
fn subjects(overview: &Overview) -> Vec<(&str, LimitKind)> {
    let mut subjects: Vec<(&str, LimitKind)> = Vec::new();
    for line in &overview.groups {
        if !subjects.contains(&(line.agent.as_str(), line.kind)) {
            subjects.push((&line.agent, line.kind));
        }
    }
    subjects
}

fn groups(agent: &str, kind: LimitKind, mut lines: Vec<&GroupOutline>) -> Section {
    let limit = lines.first().map(|line| figure::limit(&line.limit)).unwrap_or_default();
    let mut section = Section::headed(format!("{agent}, {} limit of {limit}", words::limit_kind(kind)));
    let rules: Vec<&'static str> =
        lines.first().map(|line| line.verdicts.iter().map(|v| v.rule).collect()).unwrap_or_default();
    let counts = rules.iter().enumerate().map(|(at, rule)| Line::at(0, counted(rule, at, &lines)));
    section.blocks.push(Block::Outline(counts.collect()));
    lines.sort_by(|a, b| height(b).total_cmp(&height(a)));
    let unit = match lines.first().map_or("", |line| line.limit.unit()) {
        "" => String::new(),
        unit => format!(", in {unit}"),
    };
    let said = match lines.len() > SHOWN {
        true => format!("The {SHOWN} highest of {} groups by the 95th percentile{unit}", lines.len()),
        false => format!("By the 95th percentile{unit}"),
    };
    let figures = lines.iter().filter_map(|line| named(line, "p95"));
    let ranges = figure::ranges_are(figures).map(|words| format!("  {words}")).unwrap_or_default();
    section.say(Text::from(said).and(Tone::Quiet, ranges));
    section.blocks.push(Block::Table(table(&lines[..lines.len().min(SHOWN)], &rules)));
    section
}

/// How many groups a rule puts where.
fn counted(rule: &str, at: usize, lines: &[&GroupOutline]) -> Text {
    let of = |verdict| lines.iter().filter(|line| line.verdicts[at].verdict == verdict).count();
    let (below, above) = (of(Verdict::Below), of(Verdict::Above));
    let (open, none) = (of(Verdict::Undecided), of(Verdict::NotGiven));
    let mut text = Text::from(format!("{rule}: "))
        .and(Tone::Above, format!("{above} above"))
        .then(", ")
        .and(Tone::Open, format!("{open} undecided"))
        .then(", ")
        .and(Tone::Below, format!("{below} below"));
    if none > 0 {
        text = text.then(format!(", {none} without a verdict"));
    }
    text
}

/// Where a group stands among the others: its 95th percentile, or what is known of it.
fn height(line: &GroupOutline) -> f64 {
    let p95 = named(line, "p95").and_then(|p95| p95.value().or(p95.low()));
    p95.unwrap_or(f64::NEG_INFINITY)
}

fn named<'a>(line: &'a GroupOutline, name: &str) -> Option<&'a Figure> {
    line.profile.iter().find(|(known, _)| *known == name).map(|(_, figure)| figure)
}

fn table(lines: &[&GroupOutline], rules: &[&str]) -> Table {
    let left = |head: &str| Column { head: head.to_owned(), side: Side::Left };
    let right = |head: &str| Column { head: head.to_owned(), side: Side::Right };
    let mut columns = vec![left("group"), right("shifts"), right("GM"), right("95th percentile")];
    columns.extend(rules.iter().map(|rule| left(rule)));
    let cell = |line: &GroupOutline, name: &str, form| {
        Text::from(named(line, name).map_or(String::new(), |figure| figure::bare(figure, form)))
    };
    let row = |line: &&GroupOutline| {
        let mut row = vec![
            Text::from(line.group.as_str()),
            Text::from(line.n.to_string()),
            cell(line, "gm", Form::Amount),
            cell(line, "p95", Form::Amount),
        ];
        row.extend(line.verdicts.iter().map(|rule| {
            let (word, tone) = words::verdict(rule.verdict);
            Text::of(tone, word.trim_end_matches(" against"))
        }));
        row
    };
    Table { caption: None, columns, rows: lines.iter().map(row).collect() }
}

fn findings(list: &[FoundOften]) -> Section {
    if list.is_empty() {
        return Section::headed("Findings: none");
    }
    let mut section =
        Section::headed("Findings, the first place of each kind  (in full: fullshift check --group GROUP)");
    let weighs = |often: &&FoundOften| often.first.severity != Severity::Note;
    section.blocks.push(Block::Outline(list.iter().filter(weighs).map(finding).collect()));
    section
}

fn finding(often: &FoundOften) -> Line {
    let (word, tone) = severity(often.first.severity);
    let at = often.first.places.first().map(ToString::to_string).unwrap_or_default();
    let groups = match often.groups {
        0 => String::new(),
        n => format!(" in {}", words::counted(n, "group")),
    };
    let places = words::counted(often.places, "place");
    let said = short(&often.first.message);
    Line::at(
        0,
        Text::of(tone, word).then(format!(" {} {places}{groups}, first {at}: {said}", often.first.code)),
    )
}
