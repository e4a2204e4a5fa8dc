//! The verdict of each group against each limit, a sentence each, and below it what each rule says.

use super::words;
use crate::page::{Block, Line, Section, Text, Tone, figure, short};
use fullshift_engine::model::Assessment;
use fullshift_engine::model::assessment::{GroupResult, RuleResult};
use fullshift_engine::model::profile::Verdict;

pub(super) fn section(assessment: &Assessment) -> Section {
    let study = &assessment.study;
    let mut section = Section::headed(match study.site.as_str() {
        "" => short(&study.title),
        site => format!("{} ({})", short(&study.title), short(site)),
    });
    let mut lines: Vec<Line> = assessment.groups.iter().flat_map(group).collect();
    if lines.is_empty() {
        lines.push(Line::at(0, "No verdict: no group is assessed against a limit."));
    }
    section.blocks.push(Block::Outline(lines));
    section
}

/// From so many verdicts on a page is longer than a screen.
const LONG: usize = 3;

/// The verdicts once more without their reasons, for the end of a page that is longer than a screen.
pub(super) fn in_short(assessment: &Assessment) -> Option<Section> {
    if assessment.groups.len() < LONG {
        return None;
    }
    let said = |group: &GroupResult| match group.verdicts.as_slice() {
        [] => Text::from(format!("no rule was asked for against {}", limit(group))),
        [only] => says(only, group).then(format!(" ({} rule)", only.rule)),
        several => agreed(several, group),
    };
    let line = |group: &GroupResult| Line::at(0, subject(group).append(said(group)));
    let mut section = Section::headed("In short");
    section.blocks.push(Block::Outline(assessment.groups.iter().map(line).collect()));
    Some(section)
}

/// One rule is told in the sentence itself; several get a line each, none hidden behind another.
fn group(group: &GroupResult) -> Vec<Line> {
    match group.verdicts.as_slice() {
        [] => {
            vec![Line::at(0, subject(group).then(format!("no rule was asked for against {}.", limit(group))))]
        }
        [only] => vec![Line::at(
            0,
            subject(group)
                .append(says(only, group))
                .then(format!(" ({} rule)", only.rule))
                .append(why(only))
                .append(differing(group)),
        )],
        several => {
            let head = subject(group).append(agreed(several, group)).append(differing(group));
            let mut lines = vec![Line::at(0, head)];
            lines.extend(several.iter().map(|rule| Line::at(1, by_rule(rule))));
            lines
        }
    }
}

fn subject(group: &GroupResult) -> Text {
    Text::of(Tone::Strong, format!("{}, {}: ", group.group, group.agent))
}

/// What the verdict must carry where the workers are not one group.
fn differing(group: &GroupResult) -> Text {
    let words = group.not_one_group.as_ref().map(|words| format!("; {words}")).unwrap_or_default();
    Text::of(Tone::Open, words)
}

fn says(rule: &RuleResult, group: &GroupResult) -> Text {
    let (word, tone) = words::verdict(rule.verdict);
    Text::of(tone, word).then(format!(" {}", limit(group)))
}

/// What the rules that can be applied say together, or that they differ.
fn agreed(rules: &[RuleResult], group: &GroupResult) -> Text {
    let given: Vec<&RuleResult> = rules.iter().filter(|rule| rule.verdict != Verdict::NotGiven).collect();
    match given.as_slice() {
        [] => Text::from(format!("no rule gives a verdict against {}", limit(group))),
        [first, others @ ..] if others.iter().all(|rule| rule.verdict == first.verdict) => {
            let names: Vec<&str> = given.iter().map(|rule| rule.rule).collect();
            says(first, group).then(format!(" by {}", words::list(&names)))
        }
        _ => Text::from("the rules differ about ").then(limit(group)),
    }
}

fn limit(group: &GroupResult) -> String {
    format!("the {} limit of {}", words::limit_kind(group.kind), figure::limit(&group.limit))
}

fn by_rule(rule: &RuleResult) -> Text {
    let (word, tone) = words::verdict(rule.verdict);
    let word = word.trim_end_matches(" against");
    Text::from(format!("{}: ", rule.rule)).and(tone, word).append(why(rule))
}

fn why(rule: &RuleResult) -> Text {
    let reason = rule.because.as_str();
    let settle = rule.to_settle.as_deref().unwrap_or_default();
    let parts: Vec<&str> = [reason, settle].into_iter().filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { Text::default() } else { Text::from(format!(": {}", parts.join("; "))) }
}
