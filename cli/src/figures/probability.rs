//! The lognormal probability plot of a group: its shift figures, the fitted line with its limits, the limit.

use super::axis::Axis;
use super::rows::{self, Sign, small, upright};
use super::shape::{Anchor, Drawing, Fill, Ink, Point, Shape, Symbol};
use crate::language::{Language, filled};
use crate::page::figure::{Form, bare_in, limit};
use crate::page::{Text, number};
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::{GroupResult, PlottedFigure, PlottedShare};

const WIDTH: f64 = 640.0;
const LEFT: f64 = 64.0;
const RIGHT: f64 = 560.0;
const TOP: f64 = 16.0;
const BOTTOM: f64 = 376.0;

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
    let end = rows::key(&signs.entries(group, language), LEFT, WIDTH, BOTTOM + 42.0, &mut shapes);
    Some(Drawing {
        title: named(language.say.fig_plot_title, group, language),
        description: description(group, language),
        width: WIDTH,
        height: end,
        shapes,
    })
}

fn kind(group: &GroupResult, language: &Language) -> &'static str {
    match group.kind {
        LimitKind::Twa => language.say.kind_twa,
        LimitKind::ShortTerm => language.say.kind_short_term,
        LimitKind::Ceiling => language.say.kind_ceiling,
        LimitKind::Mixture => language.say.kind_mixture,
    }
}

fn named(sentence: &str, group: &GroupResult, language: &Language) -> String {
    let gaps = [
        ("group", Text::from(group.group.as_str())),
        ("agent", group.agent.as_str().into()),
        ("kind", kind(group, language).into()),
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
        Plot { group, axis: Axis::logarithmic(values, BOTTOM, TOP), widest }
    }

    fn x(&self, score: f64) -> f64 {
        LEFT + (score + self.widest) / (2.0 * self.widest) * (RIGHT - LEFT)
    }

    fn at(&self, score: f64, value: f64) -> Point {
        (self.x(score), self.axis.at(value))
    }

    fn grid(&self, language: &Language) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for (score, words) in TICKS {
            let x = self.x(score);
            shapes.push(Shape::line((x, TOP), (x, BOTTOM), Ink::Grid, 0.6));
            shapes.push(small((x, BOTTOM + 14.0), format!("{words} %"), Anchor::Middle, Ink::Quiet));
        }
        for (y, words) in self.axis.ticks(22.0, &language.notation) {
            shapes.push(Shape::line((LEFT, y), (RIGHT, y), Ink::Grid, 0.6));
            shapes.push(small((LEFT - 6.0, y + 3.5), words, Anchor::End, Ink::Quiet));
        }
        let corners = vec![(LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM)];
        shapes.push(Shape::Line { points: corners, ink: Ink::Quiet, width: 1.0, dashed: false });
        let middle = (LEFT + RIGHT) / 2.0;
        shapes.push(small((middle, BOTTOM + 31.0), language.say.fig_plot_axis, Anchor::Middle, Ink::Data));
        let unit = match self.group.limit.unit() {
            "" => kind(self.group, language).to_owned(),
            unit => format!("{}, {unit}", kind(self.group, language)),
        };
        shapes.push(Shape::Words {
            at: (14.0, (TOP + BOTTOM) / 2.0),
            words: unit,
            size: 10.0,
            anchor: Anchor::Middle,
            ink: Ink::Data,
            bold: false,
            upward: true,
        });
        shapes
    }

    /// The limits of the fit as a band; where one is open it runs to the end of the axis.
    fn band(&self) -> Vec<Shape> {
        let line = &self.group.plot.line;
        if line.is_empty() {
            return Vec::new();
        }
        let upper = line.iter().map(|point| self.at(point.score, point.high.unwrap_or(f64::INFINITY)));
        let lower = line.iter().rev().map(|point| self.at(point.score, point.low.unwrap_or(0.0)));
        let points = upper.chain(lower).collect();
        vec![Shape::Surface { points, fill: Fill::Band, outline: Some(Ink::Fit) }]
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
        let words =
            language.say.fig_limit.replace("{value}", &language.notation.digits(&limit(&group.limit)));
        let label = small((RIGHT + 6.0, y + 3.5), words, Anchor::Start, Ink::Limit).bold();
        vec![Shape::dashes((LEFT, y), (RIGHT + 3.0, y), Ink::Limit, 2.2), label]
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
            true => small((RIGHT - 3.0, y + 26.0), words, Anchor::End, Ink::Data),
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
