//! The TWA of each shift with its interval against the limit, a row a shift.

use super::axis::Axis;
use super::letters::width;
use super::rows::{self, LEFT, RIGHT, Sign, WIDTH, small};
use super::shape::{Anchor, Drawing, Ink, Shape, Symbol};
use crate::language::{Language, filled};
use crate::page::figure::{Form, with_unit_in};
use crate::page::number;
use fullshift_engine::model::Figure;
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::{ShiftLimit, ShiftResult};
use fullshift_engine::model::profile::Verdict;

const TOP: f64 = 30.0;

/// The drawing; `None` where no shift has a TWA.
pub(crate) fn shift_figures(shifts: &[&ShiftResult], language: &Language) -> Option<Drawing> {
    let known = |figure: &Figure| figure.value().or(figure.low()).is_some();
    if !shifts.iter().any(|shift| known(&shift.twa)) {
        return None;
    }
    let axis = Axis::holding(values(shifts), LEFT, RIGHT);
    let height = rows::height(shifts.len());
    let bottom = TOP + height * shifts.len() as f64;
    let mut shapes = Vec::new();
    grid(&axis, bottom, shifts, language, &mut shapes);
    rows::names(shifts, TOP, language, &mut shapes);
    limits(&axis, bottom, shifts, language, &mut shapes);
    let mut signs = Signs::default();
    for (row, shift) in shifts.iter().enumerate() {
        let y = TOP + height * (row as f64 + 0.5);
        interval(&axis, y, &shift.twa, &mut shapes, &mut signs);
        mark(&axis, y, shift, language, &mut shapes, &mut signs);
    }
    let end = rows::key(&signs.entries(language), LEFT, WIDTH, bottom + 42.0, &mut shapes);
    Some(Drawing {
        title: named(language.say.fig_twas_title, shifts),
        description: description(shifts, language),
        width: WIDTH,
        height: end,
        shapes,
    })
}

fn values<'a>(shifts: &'a [&ShiftResult]) -> impl Iterator<Item = f64> + 'a {
    shifts.iter().flat_map(|shift| {
        let twa = [shift.twa.value(), shift.twa.low(), useful_high(&shift.twa)];
        let limits = twa_limits(shift).filter_map(|limit| limit.limit.value());
        twa.into_iter().flatten().chain(limits).collect::<Vec<f64>>()
    })
}

/// An upper end that would squeeze everything else is cut by the axis.
fn useful_high(figure: &Figure) -> Option<f64> {
    let most = figure.value().map_or(f64::INFINITY, |value| 12.0 * value);
    figure.high().map(|high| high.min(most))
}

fn twa_limits<'a>(shift: &&'a ShiftResult) -> impl Iterator<Item = &'a ShiftLimit> {
    shift.limits.iter().filter(|limit| limit.kind == LimitKind::Twa)
}

/// A sentence with the group and the agent of these shifts.
pub(super) fn named(sentence: &str, shifts: &[&ShiftResult]) -> String {
    let first = shifts.first();
    let [group, agent] =
        [first.map_or("", |shift| shift.group.as_str()), first.map_or("", |shift| shift.agent.as_str())];
    filled(sentence, &[("group", group.into()), ("agent", agent.into())]).words()
}

fn grid(axis: &Axis, bottom: f64, shifts: &[&ShiftResult], language: &Language, shapes: &mut Vec<Shape>) {
    for (x, words) in axis.ticks(38.0, &language.notation) {
        shapes.push(Shape::line((x, TOP), (x, bottom), Ink::Grid, 0.6));
        shapes.push(small((x, bottom + 14.0), words, Anchor::Middle, Ink::Quiet));
    }
    shapes.push(Shape::line((LEFT, bottom), (RIGHT, bottom), Ink::Quiet, 1.0));
    let unit = shifts.iter().map(|shift| shift.twa.unit()).find(|unit| !unit.is_empty()).unwrap_or_default();
    let words = language.say.col_twa.replace("{unit}", unit);
    shapes.push(small(((LEFT + RIGHT) / 2.0, bottom + 30.0), words, Anchor::Middle, Ink::Data));
}

/// The limits: a line down all rows where they are the same for all, else a stroke in each row.
fn limits(axis: &Axis, bottom: f64, shifts: &[&ShiftResult], language: &Language, shapes: &mut Vec<Shape>) {
    let height = rows::height(shifts.len());
    let count = shifts.iter().map(|shift| twa_limits(shift).count()).max().unwrap_or(0);
    let mut labels: Vec<(f64, String)> = Vec::new();
    for place in 0..count {
        let of = |shift: &&ShiftResult| twa_limits(shift).nth(place).and_then(|limit| limit.limit.value());
        let Some(first) = shifts.first().and_then(of) else { continue };
        if shifts.iter().all(|shift| of(shift) == Some(first)) {
            let x = axis.at(first);
            shapes.push(Shape::dashes((x, TOP - 6.0), (x, bottom), Ink::Limit, 2.2));
            let value = language.notation.digits(&number::entered(first));
            labels.push((x, language.say.fig_limit.replace("{value}", &value)));
            continue;
        }
        for (row, limit) in shifts.iter().enumerate().filter_map(|(row, shift)| Some((row, of(shift)?))) {
            let (x, y) = (axis.at(limit), TOP + height * row as f64);
            shapes.push(Shape::line((x, y + 1.0), (x, y + height - 1.0), Ink::Limit, 2.6));
        }
        labels.push((axis.at(first), language.say.fig_own_limit.to_owned()));
    }
    let half = labels.iter().map(|(_, words)| width(words, 10.0)).fold(0.0, f64::max) / 2.0;
    let wanted: Vec<f64> = labels.iter().map(|(x, _)| *x).collect();
    let places = super::spread::spread(&wanted, 2.0 * half + 8.0, LEFT + half, WIDTH - half - 2.0);
    for ((_, words), x) in labels.into_iter().zip(places) {
        shapes.push(small((x, TOP - 11.0), words, Anchor::Middle, Ink::Limit).bold());
    }
}

/// Which signs a drawing uses.
#[derive(Default)]
struct Signs {
    verdicts: Vec<Verdict>,
    limits: bool,
    open: bool,
    arrow: bool,
}

impl Signs {
    fn entries(&self, language: &Language) -> Vec<(Sign, String)> {
        let say = &language.say;
        let words = [
            (Verdict::Below, say.below),
            (Verdict::Undecided, say.undecided),
            (Verdict::Above, say.above),
            (Verdict::NotGiven, say.not_given),
        ];
        let mut entries: Vec<(Sign, String)> = words
            .into_iter()
            .filter(|(verdict, _)| self.verdicts.contains(verdict))
            .map(|(verdict, words)| (Sign::Symbol(symbol(verdict)), words.to_owned()))
            .collect();
        let lines = [
            (self.limits, Sign::Line(Ink::Data, false), say.fig_ends_limits),
            (self.open, Sign::Line(Ink::Data, true), say.fig_ends_open),
            (self.arrow, Sign::Arrow, say.fig_open_end),
        ];
        let used = lines.into_iter().filter(|(used, ..)| *used);
        entries.extend(used.map(|(_, sign, words)| (sign, words.to_owned())));
        entries
    }
}

/// The mark of a verdict, the same as in the tables.
fn symbol(verdict: Verdict) -> Symbol {
    match verdict {
        Verdict::Below => Symbol::Disc,
        Verdict::Above => Symbol::Triangle,
        Verdict::Undecided => Symbol::Ring,
        Verdict::NotGiven => Symbol::Diamond,
    }
}

fn interval(axis: &Axis, y: f64, figure: &Figure, shapes: &mut Vec<Shape>, signs: &mut Signs) {
    let (Some(low), Some(value)) = (figure.low().or(figure.value()), figure.value().or(figure.low())) else {
        return;
    };
    let chance = matches!(figure, Figure::Given(estimate) if estimate.confidence.is_some());
    let no_end = figure.high().is_none() && (chance || figure.value().is_none());
    let high = if no_end { f64::INFINITY } else { figure.high().unwrap_or(value) };
    if low == high {
        return;
    }
    let (from, to) = (axis.at(low), axis.at(high));
    let line = if chance { Shape::line } else { Shape::dashes };
    shapes.push(line((from, y), (to, y), Ink::Data, 1.8));
    *(if chance { &mut signs.limits } else { &mut signs.open }) = true;
    if axis.is_above(high) {
        signs.arrow |= no_end;
        shapes.push(Shape::arrow((to, y), (1.0, 0.0)));
    }
    if axis.is_below(low) {
        shapes.push(Shape::arrow((from, y), (-1.0, 0.0)));
    }
}

fn mark(
    axis: &Axis,
    y: f64,
    shift: &ShiftResult,
    language: &Language,
    shapes: &mut Vec<Shape>,
    signs: &mut Signs,
) {
    let notation = &language.notation;
    if let Some(value) = shift.twa.value() {
        let verdict = twa_limits(&shift).next().map_or(Verdict::NotGiven, |limit| limit.verdict);
        shapes.push(Shape::Mark { at: (axis.at(value), y), symbol: symbol(verdict) });
        if !signs.verdicts.contains(&verdict) {
            signs.verdicts.push(verdict);
        }
    }
    let words = match shift.twa.value() {
        Some(value) => notation.digits(&number::number(value)),
        None => shift
            .twa
            .low()
            .map_or("–".to_owned(), |low| format!("≥ {}", notation.digits(&number::number(low)))),
    };
    shapes.push(small((WIDTH - 4.0, y + 3.5), words, Anchor::End, Ink::Data));
}

fn description(shifts: &[&ShiftResult], language: &Language) -> String {
    let say = &language.say;
    let counted = |verdict| {
        let own =
            shifts.iter().filter(|shift| twa_limits(shift).next().is_some_and(|l| l.verdict == verdict));
        own.count().to_string()
    };
    let level = |shift: &ShiftResult| shift.twa.value().or(shift.twa.low()).unwrap_or(0.0);
    let highest = shifts.iter().max_by(|a, b| level(a).total_cmp(&level(b)));
    let highest = highest.map_or_else(String::new, |shift| {
        let twa = with_unit_in(&shift.twa, Form::Amount, &language.notation);
        format!("{} {}, {twa}", shift.worker, language.short_date(&shift.start))
    });
    let unit = shifts.iter().map(|shift| shift.twa.unit()).find(|unit| !unit.is_empty()).unwrap_or_default();
    say.fig_twas_text
        .replace("{shifts}", &language.counted(shifts.len(), (say.shift_one, say.shift_more)))
        .replace("{unit}", unit)
        .replace("{below}", &counted(Verdict::Below))
        .replace("{above}", &counted(Verdict::Above))
        .replace("{undecided}", &counted(Verdict::Undecided))
        .replace("{highest}", &highest)
}
