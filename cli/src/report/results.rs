//! A line a shift: TWA, highest window and, where a ceiling is set, the highest reading, each against its limits.

use super::beside;
use super::telling::{Pair, Telling, mark, of_shift};
use crate::figures;
use crate::page::figure::Form;
use crate::page::{Block, Captioned, Column, Section, Table, Text, Tone, number};
use fullshift_engine::model::assessment::{ShiftLimit, ShiftResult};
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Figure, LimitKind};

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "results", say.results);
    for (at, pair) in telling.pairs().iter().enumerate().filter(|(_, pair)| !pair.shifts.is_empty()) {
        told(telling, pair, at, &mut section);
    }
    for (at, (group, mixture)) in mixtures(telling).into_iter().enumerate() {
        mixture_told(telling, group, mixture, at, &mut section);
    }
    if telling.assessment.shifts.is_empty() {
        section.say(say.no_shifts);
    }
    vec![section]
}

fn told(telling: &Telling<'_>, pair: &Pair<'_>, at: usize, section: &mut Section) {
    let say = telling.say();
    let drawing = figures::shift_figures(&pair.shifts, telling.language);
    let sentence = if drawing.is_some() { say.results_words } else { say.results_words_plain };
    let (table_key, figure_key) = (format!("results-{at}"), format!("shift-twas-{at}"));
    let names = pair.names();
    section.say(telling.fill(
        sentence,
        &[
            ("table", Text::caption(&table_key)),
            ("figure", Text::caption(&figure_key)),
            names[0].clone(),
            names[1].clone(),
        ],
    ));
    let caption = telling.fill(say.results_caption, &names);
    section.blocks.push(Block::Table(table(telling, pair).captioned(table_key, caption)));
    let screened = pair.shifts.iter().flat_map(|shift| &shift.limits);
    let screened = screened.filter(|limit| limit.kind == LimitKind::ShortTerm);
    let open = screened.map(|limit| limit.verdict).any(|verdict| verdict == Verdict::Undecided);
    let windows = open.then_some(say.results_windows);
    let ceiling = shown(pair).contains(&LimitKind::Ceiling).then_some(say.results_marks_ceiling);
    let marks = [Some(say.results_marks), ceiling, windows, Some(say.results_covered)];
    section.say(Text::of(Tone::Quiet, marks.into_iter().flatten().collect::<Vec<&str>>().join(" ")));
    if let Some(drawing) = drawing {
        section.blocks.push(Block::Drawing(Captioned::new(figure_key, drawing.title.clone(), drawing)));
    }
    section.blocks.extend(inside_respirators(telling, pair).map(Block::Paragraph));
    section.blocks.extend(telling.reasons(missing(telling, pair)));
    section.blocks.extend(telling.reasons_under(say.above_words, unexpected(telling, pair, Verdict::Above)));
    section
        .blocks
        .extend(telling.reasons_under(say.open_within_words, unexpected(telling, pair, Verdict::Undecided)));
    beside::told(telling, pair, at, section);
}

/// Shifts with a verdict that their figure does not show, because all of it keeps the limit.
fn unexpected(telling: &Telling<'_>, pair: &Pair<'_>, verdict: Verdict) -> Vec<(String, String)> {
    let limits = pair.shifts.iter().flat_map(|shift| shift.limits.iter().map(move |limit| (shift, limit)));
    let within = |limit: &ShiftLimit| match (verdict, limit.kind) {
        (Verdict::Above, _) => limit.ratio.value().is_some_and(|ratio| ratio <= 1.0),
        // Why a short window stays open is the same for all of them, and told with the marks.
        (_, LimitKind::Twa) => limit.ratio.high().is_some_and(|high| high <= 1.0),
        _ => false,
    };
    limits
        .filter(|(_, limit)| limit.verdict == verdict && within(limit))
        .map(|(shift, limit)| {
            let day = telling.language.short_date(&shift.start);
            (format!("{} {} {day}", telling.kind(limit.kind), shift.worker), limit.because.clone())
        })
        .collect()
}

fn table(telling: &Telling<'_>, pair: &Pair<'_>) -> Table {
    let say = telling.say();
    let mut columns = vec![Column::words(say.col_worker), Column::words(say.col_shift_time)];
    for kind in shown(pair) {
        columns.push(Column::numbers(head(telling, pair, kind)));
        let limits = limits(kind, pair.shifts.first());
        columns.extend(limits.enumerate().map(|(place, limit)| {
            Column::numbers(match pair.shifts.iter().all(|shift| same(kind, place, shift, limit)) {
                true => say.col_of_limit.replace("{value}", &telling.limit(&limit.limit)),
                false => say.col_of_its_limit.to_owned(),
            })
        }));
    }
    columns.extend([Column::numbers(say.col_covered), Column::numbers(say.col_tubes)]);
    Table::of(columns, pair.shifts.iter().map(|shift| row(telling, pair, shift)).collect())
}

fn row(telling: &Telling<'_>, pair: &Pair<'_>, shift: &ShiftResult) -> Vec<Text> {
    let mut cells: Vec<Text> = vec![shift.worker.as_str().into(), shift_time(telling, shift).into()];
    for kind in shown(pair) {
        let (figure, end) = of_shift(shift, kind);
        let address = format!("{}/{}/{end}", shift.shift, shift.agent);
        cells.push(telling.figure(figure, Form::Amount, address));
        let own: Vec<Text> = limits(kind, Some(&shift)).map(|limit| share(telling, limit)).collect();
        let wanted = limits(kind, pair.shifts.first()).count();
        cells.extend(own.into_iter().chain(std::iter::repeat(Text::default())).take(wanted));
    }
    cells.extend([telling.percent(shift.covered).into(), tubes(telling, shift).into()]);
    cells
}

/// When a shift began and ended, and its length; a diary by minutes tells no end.
fn shift_time(telling: &Telling<'_>, shift: &ShiftResult) -> String {
    let begun = telling.language.moment(&shift.start);
    let length = telling.minutes(shift.minutes).replace(' ', "\u{a0}");
    match shift.end.as_deref().and_then(|end| end.split_once(' ')) {
        Some((_, ended)) => format!("{begun}–{ended}, {length}"),
        None => format!("{begun}, {length}"),
    }
}

/// The share of a limit, with the mark of its verdict where it is not plainly below.
fn share(telling: &Telling<'_>, limit: &ShiftLimit) -> Text {
    let ratio = match &limit.ratio {
        Figure::Given(estimate) => telling.language.notation.digits(&number::ratio(estimate.value)),
        other => crate::page::figure::bare_in(other, Form::Ratio, &telling.language.notation),
    };
    match limit.verdict {
        Verdict::Below | Verdict::NotGiven => ratio.into(),
        Verdict::Above => Text::from(ratio).and(Tone::Above, format!("\u{a0}{}", mark(limit.verdict))),
        Verdict::Undecided => Text::from(ratio).and(Tone::Open, format!("\u{a0}{}", mark(limit.verdict))),
    }
}

/// The tubes that count, of how many, and the minutes for which those were drawn where all of them tell it.
fn tubes(telling: &Telling<'_>, shift: &ShiftResult) -> String {
    let readings = telling.assessment.readings.iter();
    let drawn = readings.filter(|r| r.shift.as_ref() == Some(&shift.shift) && r.agent == shift.agent);
    let (used, unused): (Vec<_>, Vec<_>) = drawn.partition(|reading| reading.used);
    let tubes = match unused.len() {
        0 => used.len().to_string(),
        more => format!("{}/{}", used.len(), used.len() + more),
    };
    let minutes: Option<f64> = used.iter().map(|reading| reading.drawn_minutes).sum();
    match minutes.filter(|minutes| *minutes > 0.0) {
        Some(minutes) => format!("{tubes} ({})", telling.number(minutes)),
        None => tubes,
    }
}

/// The kinds worth a column: the TWA always, the others where a limit of their kind was set.
fn shown(pair: &Pair<'_>) -> Vec<LimitKind> {
    let kinds = [LimitKind::Twa, LimitKind::ShortTerm, LimitKind::Ceiling];
    let set = |kind: LimitKind| limits(kind, pair.shifts.first()).next().is_some();
    kinds.into_iter().filter(|&kind| kind == LimitKind::Twa || set(kind)).collect()
}

fn limits<'a>(kind: LimitKind, shift: Option<&&'a ShiftResult>) -> impl Iterator<Item = &'a ShiftLimit> {
    shift.into_iter().flat_map(|shift| &shift.limits).filter(move |limit| limit.kind == kind)
}

fn same(kind: LimitKind, place: usize, shift: &&ShiftResult, limit: &ShiftLimit) -> bool {
    limits(kind, Some(shift)).nth(place).is_none_or(|own| own.limit.value() == limit.limit.value())
}

fn head(telling: &Telling<'_>, pair: &Pair<'_>, kind: LimitKind) -> String {
    let say = telling.say();
    let window = pair.shifts.iter().find_map(|shift| shift.short_term_window.as_ref());
    let head = match kind {
        LimitKind::Twa => say.col_twa.to_owned(),
        LimitKind::ShortTerm => {
            let minutes =
                window.map_or_else(|| say.kind_short_term.to_owned(), |w| telling.minutes(w.minutes));
            say.col_short_term.replace("{window}", &minutes)
        }
        LimitKind::Ceiling | LimitKind::Mixture => say.col_highest.to_owned(),
    };
    head.replace("{unit}", telling.unit(pair.agent))
}

/// The second figure of those who wore a respirator.
fn inside_respirators(telling: &Telling<'_>, pair: &Pair<'_>) -> Option<Text> {
    let figures: Vec<String> = pair
        .shifts
        .iter()
        .filter_map(|shift| {
            let figure = shift.twa_inside_respirators.as_ref()?;
            let notation = &telling.language.notation;
            let value = crate::page::figure::with_unit_in(figure, Form::Amount, notation);
            Some(format!("{value} ({}, {})", shift.worker, telling.language.short_date(&shift.start)))
        })
        .collect();
    let list = telling.language.list(&figures);
    (!figures.is_empty()).then(|| telling.fill(telling.say().inside_words, &[("figures", list.into())]))
}

/// Figures of shifts that are missing or have no full interval, each with its reason.
fn missing(telling: &Telling<'_>, pair: &Pair<'_>) -> Vec<(String, String)> {
    let mut reasons = Vec::new();
    for kind in shown(pair) {
        for shift in &pair.shifts {
            let reason = match of_shift(shift, kind).0 {
                Figure::Given(estimate) => estimate.no_interval.as_deref(),
                other => other.reason(),
            };
            let day = telling.language.short_date(&shift.start);
            let what = format!("{} {} {day}", telling.kind(kind), shift.worker);
            reasons.extend(reason.map(|reason| (what, reason.to_owned())));
        }
    }
    reasons
}

/// Every group with every mixture.
fn mixtures<'a>(telling: &Telling<'a>) -> Vec<(&'a str, &'a str)> {
    let mut pairs: Vec<(&str, &str)> = Vec::new();
    for shift in &telling.assessment.mixtures {
        let pair = (shift.group.as_str(), shift.mixture.as_str());
        if !pairs.contains(&pair) {
            pairs.push(pair);
        }
    }
    pairs
}

fn mixture_told(telling: &Telling<'_>, group: &str, mixture: &str, at: usize, section: &mut Section) {
    let say = telling.say();
    let key = format!("mixture-{at}");
    let names = [("group", Text::from(group)), ("mixture", Text::from(mixture))];
    let [first, second] = names.clone();
    section.say(telling.fill(say.mixture_words, &[("table", Text::caption(&key)), first, second]));
    let own = || telling.assessment.mixtures.iter().filter(|m| (&*m.group, &*m.mixture) == (group, mixture));
    let mut columns = vec![
        Column::words(say.col_worker),
        Column::words(say.col_start),
        Column::numbers(say.col_index),
        Column::words(say.col_verdict),
    ];
    let parts = own().next().map_or(&[][..], |first| &first.parts);
    columns.extend(parts.iter().map(|part| Column::numbers(say.col_part.replace("{agent}", &part.agent))));
    let rows = own().map(|shift| {
        let notation = &telling.language.notation;
        let address = format!("{}/{}/index", shift.shift, shift.mixture);
        let mut cells: Vec<Text> = vec![
            shift.worker.as_str().into(),
            telling.language.moment(&shift.start).into(),
            telling.figure(&shift.index, Form::Ratio, address),
            telling.marked(shift.verdict),
        ];
        let part = |figure: &Figure| Text::from(crate::page::figure::bare_in(figure, Form::Ratio, notation));
        cells.extend(shift.parts.iter().map(|own| part(&own.ratio)));
        cells
    });
    let table = Table::of(columns, rows.collect());
    section.blocks.push(Block::Table(table.captioned(key, telling.fill(say.mixture_caption, &names))));
    let reasons = own().filter_map(|shift| {
        let day = telling.language.short_date(&shift.start);
        Some((format!("{} {day}", shift.worker), shift.index.reason()?.to_owned()))
    });
    section.blocks.extend(telling.reasons(reasons.collect()));
}
