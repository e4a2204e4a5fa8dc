//! A line a shift: TWA, worst short-term window and, where a ceiling is set, the highest reading, each against its limits.

use super::notes::Notes;
use super::{beside, words};
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Section, Table, Text, Tone, number};
use fullshift_engine::model::assessment::{ReadingResult, ShiftLimit, ShiftResult};
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Figure, LimitKind};

/// How a figure is got from a shift.
type Of = fn(&ShiftResult) -> &Figure;

/// The figures of a shift, each with the kind of limit that it is held against.
const FIGURES: [(LimitKind, Of); 3] = [
    (LimitKind::Twa, |s| &s.twa),
    (LimitKind::ShortTerm, |s| &s.short_term),
    (LimitKind::Ceiling, |s| &s.highest_reading),
];

pub(super) fn section(pair: (&str, &str), shifts: &[&ShiftResult], readings: &[ReadingResult]) -> Section {
    let (group, agent) = pair;
    let unit = shifts.iter().map(|s| s.twa.unit()).find(|unit| !unit.is_empty());
    let unit = unit.map(|unit| format!(", {unit}")).unwrap_or_default();
    let figures = shown(shifts).flat_map(|(_, of)| shifts.iter().map(move |shift| of(shift)));
    let heading = words::with_ranges(format!("Shifts of {group}, {agent}{unit}"), figures);
    let mut section = Section::headed(heading);
    section.blocks.push(Block::Table(table(shifts, readings)));
    section.blocks.extend(legend(shifts));
    section.blocks.extend(missing(shifts));
    section.blocks.extend(beside::unmeasured(shifts));
    section.blocks.extend(beside::compliance(shifts));
    section.blocks.extend(inside_respirators(shifts));
    section
}

fn table(shifts: &[&ShiftResult], readings: &[ReadingResult]) -> Table {
    let mut columns = vec![Column::words("shift")];
    for (kind, _) in shown(shifts) {
        columns.push(Column::words(head(kind, shifts)));
        columns.extend(limits(kind, shifts).enumerate().map(|(i, limit)| {
            Column::words(of_limit(&limit.limit, shifts.iter().any(|s| differs(kind, i, s, limit))))
        }));
    }
    columns.extend([Column::words("cover"), Column::numbers("tubes")]);
    Table::of(columns, shifts.iter().map(|shift| row(shift, shifts, readings)).collect())
}

fn row(shift: &ShiftResult, shifts: &[&ShiftResult], readings: &[ReadingResult]) -> Vec<Text> {
    let mut cells = vec![Text::from(shift.shift.as_str())];
    for (kind, of) in shown(shifts) {
        cells.push(figure::bare(of(shift), Form::Amount).into());
        let mut ratios: Vec<Text> = limits(kind, &[shift]).map(ratio).collect();
        ratios.resize(limits(kind, shifts).count(), Text::default());
        cells.extend(ratios);
    }
    cells.extend([cover(shift).into(), tubes(shift, readings).into()]);
    cells
}

/// The rules for minutes without a reading, each with its letter and what that stands for.
const UNSAMPLED: [(&str, char, &str); 3] = [
    ("borrow", 'b', "b borrowed from other shifts"),
    ("bounds", 'o', "o open up to the highest task"),
    ("zero", 'z', "z taken as zero"),
];

/// The share of the minutes that lies in tasks with a tube, and the share under each rule for the others.
fn cover(shift: &ShiftResult) -> String {
    let rule = |(word, letter, _): &(&str, char, &str)| {
        let share = shift.unsampled.get(word)?;
        Some(format!(" {letter}{}", number::percent(*share).trim_end_matches(" %")))
    };
    let rules: String = UNSAMPLED.iter().filter_map(rule).collect();
    format!("{}{rules}", number::percent(shift.covered))
}

/// The figures worth a column: the TWA always, the others where a limit of their kind was set.
fn shown<'a>(shifts: &'a [&ShiftResult]) -> impl Iterator<Item = (LimitKind, Of)> + 'a {
    FIGURES.into_iter().filter(|&(kind, _)| kind == LimitKind::Twa || limits(kind, shifts).next().is_some())
}

/// The limits of a kind, of the first shift; where they are lowered for long shifts, those of other shifts differ.
fn limits<'a>(kind: LimitKind, shifts: &[&'a ShiftResult]) -> impl Iterator<Item = &'a ShiftLimit> {
    shifts.first().into_iter().flat_map(|s| &s.limits).filter(move |limit| limit.kind == kind)
}

fn head(kind: LimitKind, shifts: &[&ShiftResult]) -> String {
    let window = shifts.iter().find_map(|s| s.short_term_window.as_ref());
    match kind {
        LimitKind::Twa => "TWA".to_owned(),
        LimitKind::ShortTerm => match window {
            Some(window) => format!("worst {}", words::minutes(window.minutes)),
            None => "worst window".to_owned(),
        },
        LimitKind::Ceiling | LimitKind::Mixture => "highest reading".to_owned(),
    }
}

/// A limit as the head of a column of shares of it; its unit stands above the table.
fn of_limit(limit: &Figure, lowered_for_some: bool) -> String {
    if lowered_for_some {
        return "of its limit".to_owned();
    }
    format!("of {}", limit.value().map_or_else(|| figure::limit(limit), number::entered))
}

/// Whether a shift's own limit in this place is another one.
fn differs(kind: LimitKind, place: usize, shift: &ShiftResult, limit: &ShiftLimit) -> bool {
    limits(kind, &[shift]).nth(place).is_some_and(|own| own.limit.value() != limit.limit.value())
}

/// The share of the limit; what is not plainly below carries a word or a mark.
fn ratio(limit: &ShiftLimit) -> Text {
    let ratio = match &limit.ratio {
        Figure::Given(estimate) => number::ratio(estimate.value),
        other => figure::bare(other, Form::Ratio),
    };
    match limit.verdict {
        Verdict::Below | Verdict::NotGiven => ratio.into(),
        Verdict::Above => Text::from(ratio).and(Tone::Above, " !"),
        Verdict::Undecided => Text::from(ratio).and(Tone::Open, " ?"),
    }
}

fn tubes(shift: &ShiftResult, readings: &[ReadingResult]) -> String {
    let drawn = readings.iter().filter(|r| r.shift.as_ref() == Some(&shift.shift) && r.agent == shift.agent);
    let (used, unused): (Vec<_>, Vec<_>) = drawn.partition(|r| r.used);
    if unused.is_empty() {
        used.len().to_string()
    } else {
        format!("{}/{}", used.len(), used.len() + unused.len())
    }
}

/// Whether a mark stands beside a shift's share of a limit.
type Holds = fn(&ShiftResult, &ShiftLimit) -> bool;

/// What the marks beside the shares of a limit stand for, as far as they come up.
const MARKS: [(&str, Holds); 4] = [
    ("! above the limit", |_, limit| limit.verdict == Verdict::Above),
    ("? undecided: range over the limit", |shift, limit| {
        is_open(limit) && !few_tubes(shift, limit) && !unknown_spread(shift, limit)
    }),
    ("? undecided: the tubes do not show how the air varied", |shift, limit| {
        is_open(limit) && unknown_spread(shift, limit)
    }),
    ("? undecided: too few tubes in the window", |shift, limit| is_open(limit) && few_tubes(shift, limit)),
];

fn legend(shifts: &[&ShiftResult]) -> Option<Block> {
    let used = MARKS.iter().filter(|(_, holds)| shifts.iter().any(|s| s.limits.iter().any(|l| holds(s, l))));
    let mut words: Vec<&str> = used.map(|(words, _)| *words).collect();
    let has_window = |shift: &&ShiftResult| matches!(shift.short_term, Figure::Given(_));
    if shown(shifts).any(|(kind, _)| kind == LimitKind::ShortTerm) && shifts.iter().any(has_window) {
        words.push("the range of a window is the tubes' own error alone");
    }
    if shown(shifts).any(|(kind, _)| kind == LimitKind::Ceiling) {
        words.push("highest reading: between the readings nothing is known");
    }
    let rules = UNSAMPLED.iter().filter(|(word, ..)| shifts.iter().any(|s| s.unsampled.contains_key(word)));
    let rules: Vec<&str> = rules.map(|(.., words)| *words).collect();
    let cover = ["cover: % of the time in tasks with a tube"].into_iter().chain(rules);
    let cover = cover.collect::<Vec<&str>>().join(", ");
    words.push(&cover);
    (!words.is_empty()).then(|| Block::Paragraph(Text::of(Tone::Quiet, words.join("; "))))
}

fn is_open(limit: &ShiftLimit) -> bool {
    limit.verdict == Verdict::Undecided
}

/// Whether nothing is known of how the air varied over the shift, so that its TWA has no limits.
fn unknown_spread(shift: &ShiftResult, limit: &ShiftLimit) -> bool {
    let known = matches!(&shift.twa, Figure::Given(estimate) if estimate.confidence.is_some());
    limit.kind == LimitKind::Twa && !known
}

fn few_tubes(shift: &ShiftResult, limit: &ShiftLimit) -> bool {
    limit.kind == LimitKind::ShortTerm
        && shift.short_term_window.as_ref().is_some_and(|window| window.screening_only)
}

/// The second figure of those who wore a respirator, apart from what the verdicts use.
fn inside_respirators(shifts: &[&ShiftResult]) -> Option<Block> {
    let inside = |s: &&ShiftResult| {
        let figure = s.twa_inside_respirators.as_ref()?;
        Some(format!("{} {}", s.shift, figure::bare(figure, Form::Amount)))
    };
    let figures: Vec<String> = shifts.iter().filter_map(inside).collect();
    let words =
        format!("TWA inside the respirators worn (verdicts use the air outside): {}", figures.join("; "));
    (!figures.is_empty()).then(|| Block::Paragraph(Text::from(words)))
}

fn missing(shifts: &[&ShiftResult]) -> Option<Block> {
    let mut notes = Notes::default();
    for (kind, of) in shown(shifts) {
        for shift in shifts {
            notes.add(format!("{} of {}", head(kind, shifts), shift.shift), of(shift).reason());
        }
    }
    for (shift, limit) in shifts.iter().flat_map(|s| s.limits.iter().map(move |l| (s, l))) {
        let within = limit.ratio.value().is_some_and(|ratio| ratio <= 1.0);
        if limit.verdict == Verdict::Above && within {
            notes.add(format!("{} {}", shift.shift, words::limit_kind(limit.kind)), Some(&limit.because));
        }
    }
    notes.block()
}
