//! The lognormal probability plot of a group: its shift figures, the fitted line with its limits, the limit.

use super::axis::Axis;
use super::frame::Frame;
use super::letters::cut;
use super::rows::{self, SMALL, Sign, small, upright};
use super::shape::{Anchor, Drawing, Fill, Ink, Point, Shape, Symbol};
use crate::language::{Language, filled};
use crate::page::figure::{Form, bare_in, limit};
use crate::page::{Text, number};
use fullshift_engine::model::assessment::{GroupResult, PlottedFigure, PlottedShare};

const WIDTH: f64 = 640.0;
const FRAME: Frame = Frame { left: 64.0, right: 560.0, top: 16.0, bottom: 376.0 };

/// The normal scores of the shares that have a tick. Source: standard normal quantiles, any table.
const TICKS: [(f64, &str); 11] = [
    (-2.326_348, "1"),
    (-1.644_854, "5"),
    (-1.281_552, "10"),
    (-0.841_621, "20"),
    (-0.524_401, "30"),
    (0.0, "50"),
    (0.524_401, "70"),
    (0.841_621, "80"),
    (1.281_552, "90"),
    (1.644_854, "95"),
    (2.326_348, "99"),
];

/// The drawing; `None` where fewer than two shifts have a figure.
pub(crate) fn probability(group: &GroupResult, language: &Language) -> Option<Drawing> {
    if group.plot.figures.len() < 2 {
        return None;
    }
    let plot = Plot::of(group);
    let mut shapes = plot.band();
    shapes.extend(plot.grid(language));
    shapes.extend(plot.limit(group, language));
    shapes.extend(plot.line());
    let mut signs = Signs::default();
    for figure in &group.plot.figures {
        shapes.extend(plot.figure(figure, &mut signs));
    }
    shapes.extend(plot.percentile(language));
    let end = rows::key(&signs.entries(group, language), FRAME.left, WIDTH, FRAME.bottom + 42.0, &mut shapes);
    Some(Drawing {
        title: named(language.say.fig_plot_title, group, language),
        description: description(group, language),
        width: WIDTH,
        height: end,
        shapes,
    })
}

fn named(sentence: &str, group: &GroupResult, language: &Language) -> String {
    let gaps = [
        ("group", Text::from(group.group.as_str())),
        ("agent", group.agent.as_str().into()),
        ("kind", language.kind(group.kind).into()),
    ];
    filled(sentence, &gaps).words()
}

/// The axes with what they are to hold.
struct Plot<'a> {
    group: &'a GroupResult,
    axis: Axis,
    /// The highest score, on either side.
    widest: f64,
}

impl<'a> Plot<'a> {
    fn of(group: &'a GroupResult) -> Self {
        let figures = &group.plot.figures;
        let widest = figures.iter().map(|figure| figure.score.abs()).fold(2.4, f64::max) + 0.1;
        let ends = figures.iter().flat_map(|figure| [Some(figure.low), figure.high]).flatten();
        let line = group.plot.line.iter().filter(|point| (0.05..=0.95).contains(&point.share));
        let values = ends.chain(line.map(|point| point.value)).chain(group.limit.value());
        Plot { group, axis: Axis::logarithmic(values, FRAME.bottom, FRAME.top), widest }
    }

    fn x(&self, score: f64) -> f64 {
        FRAME.left + (score + self.widest) / (2.0 * self.widest) * (FRAME.right - FRAME.left)
    }

    fn at(&self, score: f64, value: f64) -> Point {
        (self.x(score), self.axis.at(value))
    }

    fn grid(&self, language: &Language) -> Vec<Shape> {
        let shares = TICKS.iter().flat_map(|(score, words)| {
            let x = self.x(*score);
            [FRAME.down(x), FRAME.below(x, format!("{words} %"))]
        });
        let ticks = self.axis.ticks(22.0, &language.notation).into_iter();
        let values = ticks.flat_map(|(y, words)| FRAME.across(y, words));
        let kind = language.kind(self.group.kind);
        let upright = match self.group.limit.unit() {
            "" => kind.to_owned(),
            unit => format!("{kind}, {unit}"),
        };
        shares.chain(values).chain(FRAME.axes(language.say.fig_plot_axis, upright)).collect()
    }

    /// The limits of the fit as a band; where one is open it runs to the end of the axis.
    fn band(&self) -> Vec<Shape> {
        let line = &self.group.plot.line;
        if line.is_empty() {
            return Vec::new();
        }
        let upper = line.iter().map(|point| (point.score, point.high.unwrap_or(f64::INFINITY)));
        let lower = line.iter().map(|point| (point.score, point.low.unwrap_or(0.0)));
        let mut points = self.along(upper);
        points.extend(self.along(lower).into_iter().rev());
        vec![Shape::Surface { points, fill: Fill::Band, outline: Some(Ink::Fit) }]
    }

    /// A line through values, which runs along an end of the axis from where it leaves it.
    fn along(&self, values: impl Iterator<Item = (f64, f64)>) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        let mut last: Option<(f64, f64)> = None;
        for (score, value) in values {
            if let Some((from, before)) = last {
                // Between two scores the logarithm of the value is taken to be straight.
                let crossing = |end: f64| (end / before).ln() / (value / before).ln();
                let ends =
                    self.axis.ends().map(crossing).into_iter().filter(|part| *part > 0.0 && *part < 1.0);
                points.extend(ends.map(|part| {
                    let (score, value) = (from + part * (score - from), before * (value / before).powf(part));
                    self.at(score, value)
                }));
            }
            points.push(self.at(score, value));
            last = Some((score, value)).filter(|(_, value)| *value > 0.0 && value.is_finite());
        }
        points
    }

    fn line(&self) -> Vec<Shape> {
        // A point outside the axis would bend the line at its end.
        let inside =
            |point: &&PlottedShare| !self.axis.is_below(point.value) && !self.axis.is_above(point.value);
        let points: Vec<Point> = self
            .group
            .plot
            .line
            .iter()
            .filter(inside)
            .map(|point| self.at(point.score, point.value))
            .collect();
        vec![Shape::Line { points, ink: Ink::Fit, width: 1.8, dashed: false }]
    }

    fn limit(&self, group: &GroupResult, language: &Language) -> Vec<Shape> {
        let Some(value) = group.limit.value() else { return Vec::new() };
        let y = self.axis.at(value);
        let mut shapes = vec![Shape::dashes((FRAME.left, y), (FRAME.right + 3.0, y), Ink::Limit, 2.2)];
        // Name and value below each other: both together are too long for the margin in some languages.
        let value = language.notation.digits(&limit(&group.limit));
        let lines = [language.say.fig_limit.replace("{value}", "").trim().to_owned(), value];
        shapes.extend([-2.5, 9.5].into_iter().zip(lines).map(|(down, words)| {
            let words = cut(&words, SMALL, WIDTH - FRAME.right - 6.0);
            small((FRAME.right + 6.0, y + down), words, Anchor::Start, Ink::Limit).bold()
        }));
        shapes
    }

    fn figure(&self, figure: &PlottedFigure, signs: &mut Signs) -> Vec<Shape> {
        let x = self.x(figure.score);
        if figure.high == Some(figure.low) {
            signs.points = true;
            return vec![Shape::Mark { at: (x, self.axis.at(figure.low)), symbol: Symbol::Disc }];
        }
        signs.ranges = true;
        let (bottom, top) = (self.axis.at(figure.low), self.axis.at(figure.high.unwrap_or(f64::INFINITY)));
        let mut shapes = upright(x, top, bottom);
        if figure.high.is_none() {
            shapes.push(Shape::arrow((x, top), (0.0, -1.0)));
        }
        if self.axis.is_below(figure.low) {
            shapes.push(Shape::arrow((x, bottom), (0.0, 1.0)));
        }
        shapes
    }

    /// The 95th percentile at its place on the line, with its words above it.
    fn percentile(&self, language: &Language) -> Vec<Shape> {
        let point = self.group.plot.line.iter().find(|point| point.share == 0.95);
        let Some(point) = point.filter(|point| !self.axis.is_above(point.value)) else { return Vec::new() };
        let (x, y) = self.at(point.score, point.value);
        let value = language.notation.digits(&number::number(point.value));
        let words = format!("{} {value}", language.say.fig_p95);
        let on_the_limit =
            self.group.limit.value().is_some_and(|limit| (self.axis.at(limit) - y).abs() < 16.0);
        let label = match on_the_limit {
            true => small((FRAME.right - 3.0, y + 26.0), words, Anchor::End, Ink::Data),
            false => small((x - 9.0, y - 7.0), words, Anchor::End, Ink::Data),
        };
        vec![Shape::Mark { at: (x, y), symbol: Symbol::Diamond }, label]
    }
}

/// Which signs the drawing uses.
#[derive(Default)]
struct Signs {
    points: bool,
    ranges: bool,
}

impl Signs {
    fn entries(&self, group: &GroupResult, language: &Language) -> Vec<(Sign, String)> {
        let say = &language.say;
        let fitted = !group.plot.line.is_empty();
        let all = [
            (self.points, Sign::Symbol(Symbol::Disc), say.fig_point),
            (self.ranges, Sign::Upright, say.fig_range),
            (fitted, Sign::Line(Ink::Fit, false), say.fig_fit),
            (fitted, Sign::Surface(Fill::Band), say.fig_band),
        ];
        all.into_iter().filter(|(used, ..)| *used).map(|(_, sign, words)| (sign, words.to_owned())).collect()
    }
}

fn description(group: &GroupResult, language: &Language) -> String {
    let say = &language.say;
    let figure = |name: &str| {
        let found = group.profile.iter().find(|(known, _)| *known == name);
        found.map_or_else(String::new, |(_, figure)| bare_in(figure, Form::Amount, &language.notation))
    };
    let fit = match group.plot.line.is_empty() {
        true => say.fig_plot_no_fit.to_owned(),
        false => say.fig_plot_fit.replace("{gm}", &figure("gm")).replace("{gsd}", &figure("gsd")),
    };
    say.fig_plot_text
        .replace("{shifts}", &language.counted(group.n, (say.shift_one, say.shift_more)))
        .replace("{fit}", &fit)
        .replace("{limit}", &language.notation.digits(&limit(&group.limit)))
}
