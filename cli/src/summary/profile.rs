//! A group's profile: a row a figure, a column a limit.

use super::notes::Notes;
use super::{beside, words};
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Section, Table, Text, number};
use fullshift_engine::model::Figure;
use fullshift_engine::model::assessment::GroupResult;

pub(super) fn section(pair: (&str, &str), groups: &[&GroupResult], shifts: usize) -> Section {
    let printed = || words::PROFILE.iter().flat_map(|(_, figures)| figures.iter().map(|(name, _)| *name));
    let figures = groups.iter().flat_map(|group| printed().filter_map(|name| find(group, name)));
    let mut section = Section::headed(words::with_ranges(heading(pair, groups, shifts), figures));
    if !groups.is_empty() {
        section.blocks.push(Block::Table(table(groups)));
        section.blocks.extend(missing(groups));
        section.blocks.extend(beside::drivers(groups));
    }
    section
}

fn heading((group, agent): (&str, &str), groups: &[&GroupResult], shifts: usize) -> String {
    let workers = groups.iter().map(|g| g.workers.workers).max().unwrap_or(0);
    let of = if workers > 0 { format!(" of {}", words::counted(workers, "worker")) } else { String::new() };
    format!("Profile of {group}, {agent}: {}{of}", words::counted(shifts, "shift"))
}

fn table(groups: &[&GroupResult]) -> Table {
    let mut columns = vec![Column::words("")];
    columns.extend(groups.iter().map(|g| Column::words(column(g))));
    let mut rows = vec![row("shifts in the profile", groups, n)];
    let given = |name: &str| groups.iter().any(|g| find(g, name).is_some_and(|f| f.reason().is_none()));
    let shown = words::PROFILE.iter().filter(|(_, figures)| figures.iter().any(|(name, _)| given(name)));
    rows.extend(shown.map(|(label, figures)| row(label, groups, |group| cell(group, figures))));
    Table::of(columns, rows)
}

/// The figures of a row side by side, a further limit behind its figure.
fn cell(group: &GroupResult, figures: &[(&str, Form)]) -> String {
    let shown = |&(name, form): &(&str, Form)| {
        let figure = find(group, name)?;
        let further = match figure {
            Figure::Given(estimate) => {
                estimate.further.get("upper_70").map(|&limit| form.upper_limit(estimate.value, limit))
            }
            _ => None,
        };
        let further = further.map(|limit| format!("; {limit}")).unwrap_or_default();
        Some(format!("{}{further}", figure::bare(figure, form)))
    };
    let given = |&(name, _): &(&str, Form)| find(group, name).is_some_and(|f| f.reason().is_none());
    // Where none is given, that is said once.
    let figures = if figures.iter().any(given) { figures } else { &figures[..1] };
    figures.iter().filter_map(shown).collect::<Vec<String>>().join(", ")
}

fn row(label: &str, groups: &[&GroupResult], cell: impl Fn(&GroupResult) -> String) -> Vec<Text> {
    std::iter::once(Text::from(label)).chain(groups.iter().map(|g| Text::from(cell(g)))).collect()
}

fn column(group: &GroupResult) -> String {
    format!("{}, limit {}", words::limit_kind(group.kind), figure::limit(&group.limit))
}

fn n(group: &GroupResult) -> String {
    let aside = |count: usize, words: &str| (count > 0).then(|| format!("{count} {words}"));
    let asides = [aside(group.censored, "known as ranges"), aside(group.left_out.len(), "left out")];
    match asides.into_iter().flatten().collect::<Vec<_>>().join(", ").as_str() {
        "" => group.n.to_string(),
        asides => format!("{} ({asides})", group.n),
    }
}

/// The figure at the end of an address, as `gm` or `workers/gsd_between`.
fn find<'a>(group: &'a GroupResult, name: &str) -> Option<&'a Figure> {
    group.figures().find(|(known, _)| known == name).map(|(_, figure)| figure)
}

/// Why figures of the profile itself are not given, each reason once.
fn missing(groups: &[&GroupResult]) -> Option<Block> {
    let mut notes = Notes::default();
    for group in groups {
        for left_out in &group.left_out {
            let what =
                format!("{} left out of the {} profile", left_out.shift, words::limit_kind(group.kind));
            notes.add(what, Some(&left_out.reason));
        }
        for raised in &group.raised {
            let times = number::number(raised.factor);
            let kind = words::limit_kind(group.kind);
            let what = format!("{} counts {times} times in the {kind} profile", raised.shift);
            notes.add(what, Some("its limit is lowered for long work"));
        }
        for (name, figure) in &group.profile {
            let of_row = |(_, figures): &&(&str, &[(&str, Form)])| figures[0].0 == *name;
            let label = words::PROFILE.iter().find(of_row).map_or(*name, |(label, _)| label);
            notes.add(format!("{} {label}", words::limit_kind(group.kind)), figure.reason());
        }
    }
    notes.block()
}
