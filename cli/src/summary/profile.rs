//! A group's profile: a row a figure, a column a limit.

use super::notes::Notes;
use super::words;
use crate::page::{Block, Column, Section, Table, Text, figure};
use fullshift_engine::model::Figure;
use fullshift_engine::model::assessment::{GroupResult, ShiftResult};

pub(super) fn section(pair: (&str, &str), groups: &[&GroupResult], shifts: &[&ShiftResult]) -> Section {
    let figures = groups.iter().flat_map(|group| group.profile.iter().map(|(_, figure)| figure));
    let mut section = Section::headed(words::with_ranges(heading(pair, groups, shifts), figures));
    if !groups.is_empty() {
        section.blocks.push(Block::Table(table(groups)));
        section.blocks.extend(missing(groups));
    }
    section
}

fn heading((group, agent): (&str, &str), groups: &[&GroupResult], shifts: &[&ShiftResult]) -> String {
    let workers = groups.iter().map(|g| g.workers.workers).max().unwrap_or(0);
    let of = if workers > 0 { format!(" of {}", words::counted(workers, "worker")) } else { String::new() };
    format!("Profile of {group}, {agent}: {}{of}", words::counted(shifts.len(), "shift"))
}

fn table(groups: &[&GroupResult]) -> Table {
    let mut columns = vec![Column::words("")];
    columns.extend(groups.iter().map(|g| Column::words(column(g))));
    let mut rows = vec![row("shifts in the profile", groups, n)];
    rows.extend(names(groups).into_iter().map(|name| {
        let (label, form) = words::profile_figure(name);
        row(&label, groups, |g| find(g, name).map_or_else(String::new, |f| figure::bare(f, form)))
    }));
    Table { columns, rows }
}

fn row(label: &str, groups: &[&GroupResult], cell: impl Fn(&GroupResult) -> String) -> Vec<Text> {
    std::iter::once(Text::from(label)).chain(groups.iter().map(|g| Text::from(cell(g)))).collect()
}

fn column(group: &GroupResult) -> String {
    format!("{}, limit {}", words::limit_kind(group.kind), figure::limit(&group.limit))
}

fn n(group: &GroupResult) -> String {
    match group.censored {
        0 => group.n.to_string(),
        censored => format!("{} ({censored} known as ranges)", group.n),
    }
}

/// The names of all figures, in the order in which they are printed.
fn names(groups: &[&GroupResult]) -> Vec<&'static str> {
    let mut names: Vec<&'static str> = Vec::new();
    for (name, _) in groups.iter().flat_map(|g| &g.profile) {
        if !names.contains(name) {
            names.push(name);
        }
    }
    names
}

fn find<'a>(group: &'a GroupResult, name: &str) -> Option<&'a Figure> {
    group.profile.iter().find(|(known, _)| *known == name).map(|(_, figure)| figure)
}

fn missing(groups: &[&GroupResult]) -> Option<Block> {
    let mut notes = Notes::default();
    for group in groups {
        for (name, figure) in &group.profile {
            notes.add(
                format!("{} {}", words::limit_kind(group.kind), words::profile_figure(name).0),
                figure.reason(),
            );
        }
    }
    notes.block()
}
