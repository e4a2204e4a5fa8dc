//! The field work in a few lines: tubes, leak checks, qualified readings and what they would change, disposal.

use super::words;
use crate::page::{Block, Line, Section, Text, Tone, figure, short};
use crate::report::by_limit;
use fullshift_engine::diagnose::Action;
use fullshift_engine::model::Assessment;
use fullshift_engine::model::field_quality::{FieldQuality, GroupChange, RuleCount, WithoutQualified};

pub(super) fn section(assessment: &Assessment) -> Section {
    let quality = &assessment.field_quality;
    let mut section =
        Section::headed(Text::of(Tone::Strong, "Field quality: ").and(Tone::Plain, drawn(quality)));
    let mut lines = vec![Line::at(0, readings(quality))];
    lines.extend(quality.without_qualified.iter().flat_map(without));
    lines.extend(decided(quality));
    lines.extend(disposal(quality));
    section.blocks.push(Block::Outline(lines));
    section
}

fn drawn(quality: &FieldQuality) -> String {
    let (drawn, spoiled): (usize, usize) =
        quality.tubes.iter().fold((0, 0), |sum, count| (sum.0 + count.drawn, sum.1 + count.spoiled));
    let spoiled = if spoiled == 0 { "none".to_owned() } else { spoiled.to_string() };
    format!(
        "{} drawn, {spoiled} spoiled; leak checks: {} of {} needed",
        words::counted(drawn, "tube"),
        quality.leak_checks_done,
        quality.leak_checks_needed
    )
}

/// How many readings are qualified and rejected, and by which rules.
fn readings(quality: &FieldQuality) -> String {
    let of = |action: Action| -> String {
        let own = |rule: &&RuleCount| rule.action == action && rule.readings > 0;
        let names: Vec<String> =
            quality.rules.iter().filter(own).map(|rule| format!("{} {}", rule.readings, rule.name)).collect();
        if names.is_empty() { String::new() } else { format!(" ({})", names.join(", ")) }
    };
    let rejected = match quality.rejected {
        0 => String::new(),
        n => format!("; {n} rejected{}", of(Action::Reject)),
    };
    let all = words::counted(quality.readings, "reading");
    match quality.qualified {
        0 => format!("None of {all} qualified{rejected}"),
        n => format!("{n} of {all} qualified{}{rejected}", of(Action::Qualify)),
    }
}

/// What the verdicts would be without the qualified readings.
fn without(without: &WithoutQualified) -> Vec<Line> {
    if without.readings_left == 0 {
        return vec![Line::at(0, "Without the qualified readings nothing would be left to judge by")];
    }
    if without.groups.is_empty() && without.shifts.is_empty() {
        return vec![Line::at(0, "Without the qualified readings every verdict is the same")];
    }
    let mut lines: Vec<Line> = without.groups.iter().map(|change| Line::at(0, group(change))).collect();
    if !without.shifts.is_empty() {
        let differing = by_limit(&without.shifts).into_iter().map(|(agent, (kind, limit), shifts)| {
            let names: Vec<&str> = shifts.iter().map(|change| change.shift.as_str()).collect();
            format!(
                "{agent}, {} {}: {}",
                words::limit_kind(kind),
                figure::limit(limit),
                short(&names.join(", "))
            )
        });
        let words = format!(
            "Without the qualified readings {} of single shifts would differ ({})",
            words::counted(without.shifts.len(), "verdict"),
            differing.collect::<Vec<String>>().join("; ")
        );
        lines.push(Line::at(0, words));
    }
    lines
}

fn group(change: &GroupChange) -> Text {
    let (now, _) = words::verdict(change.verdict);
    let (then, tone) = words::verdict(change.without);
    let bare = |word: &'static str| word.trim_end_matches(" against");
    Text::from("Without the qualified readings ")
        .then(format!(
            "{}, {}, {} {} by {}: ",
            change.group,
            change.agent,
            words::limit_kind(change.kind),
            figure::limit(&change.limit),
            change.rule
        ))
        .and(tone, bare(then))
        .then(format!(" instead of {}", bare(now)))
}

/// What the study decided, each with its reason.
fn decided(quality: &FieldQuality) -> impl Iterator<Item = Line> {
    quality.rules.iter().filter_map(|rule| {
        let reason = rule.reason.as_ref()?;
        let words = match rule.action {
            Action::Reject => "rejected",
            Action::Qualify => "qualified",
            Action::Ignore => "ignored",
        };
        Some(Line::at(0, format!("{} {words} by the study: {}", rule.name, short(reason))))
    })
}

/// The tubes for whoever takes them away, once there are any.
fn disposal(quality: &FieldQuality) -> Option<Line> {
    let types: Vec<String> = quality
        .to_dispose
        .iter()
        .map(|spent| match &spent.contains {
            Some(contains) => format!("{} {} ({contains})", spent.tubes, spent.tube),
            None => format!("{} {} (the study does not say what they contain)", spent.tubes, spent.tube),
        })
        .collect();
    let told = || format!("Spent tubes: {}; follow the tube sheet and local rules", short(&types.join(", ")));
    (!types.is_empty()).then(|| Line::at(0, told()))
}
