//! How the chance to settle an open verdict grows with further shifts: a line a rule.

use super::letters::cut;
use super::rows::small;
use super::shape::{Anchor, Drawing, Ink, Point, Shape, Symbol};
use super::spread::spread;
use crate::language::{Language, filled};
use crate::page::number;
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::{GroupResult, SettlingChance, SettlingCurve};
use fullshift_engine::model::profile::Verdict;

const WIDTH: f64 = 640.0;
const LEFT: f64 = 58.0;
const RIGHT: f64 = 450.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = 254.0;

/// The marks of the lines, in the order of the rules.
const SYMBOLS: [Symbol; 4] = [Symbol::Disc, Symbol::Ring, Symbol::Triangle, Symbol::Diamond];

/// The drawing; `None` where no open verdict has such a chance.
pub(crate) fn settling(group: &GroupResult, language: &Language) -> Option<Drawing> {
    let curves = curves(group);
    if curves.is_empty() {
        return None;
    }
    let most = curves.iter().flat_map(|(_, curve)| &curve.chances).map(|c| c.more_shifts).max().unwrap_or(1);
    let x = |more: usize| LEFT + (more as f64).ln() / (most.max(2) as f64).ln() * (RIGHT - LEFT);
    let y = |chance: f64| BOTTOM - chance.clamp(0.0, 1.0) * (BOTTOM - TOP);
    let mut shapes = grid(&curves, &x, &y, language);
    let ends: Vec<f64> =
        curves.iter().map(|(_, curve)| curve.chances.last().map_or(BOTTOM, |last| y(last.chance))).collect();
    let places = spread(&ends, 13.0, TOP + 4.0, BOTTOM - 2.0);
    for (number, ((rule, curve), place)) in curves.iter().zip(places).enumerate() {
        let points: Vec<Point> = curve.chances.iter().map(|c| (x(c.more_shifts), y(c.chance))).collect();
        let marks = points.clone();
        shapes.push(Shape::Line { points, ink: Ink::Fit, width: 1.8, dashed: number % 2 == 1 });
        shapes
            .extend(marks.into_iter().map(|at| Shape::Mark { at, symbol: SYMBOLS[number % SYMBOLS.len()] }));
        shapes.push(Shape::line((RIGHT + 5.0, ends[number]), (RIGHT + 12.0, place), Ink::Quiet, 0.7));
        let words = format!("{}: {}", rule.join(", "), verdict(curve.towards, language));
        let words = cut(&words, 10.0, WIDTH - RIGHT - 18.0);
        shapes.push(small((RIGHT + 15.0, place + 3.5), words, Anchor::Start, Ink::Data));
    }
    Some(Drawing {
        title: title(group, language),
        description: description(&curves, language),
        width: WIDTH,
        height: BOTTOM + 40.0,
        shapes,
    })
}

/// The curves with the rules for which each holds: rules that ask the same have the same.
fn curves(group: &GroupResult) -> Vec<(Vec<&'static str>, &SettlingCurve)> {
    let mut curves: Vec<(Vec<&'static str>, &SettlingCurve)> = Vec::new();
    for (rule, curve) in group.verdicts.iter().filter_map(|rule| Some((rule.rule, rule.settling.as_ref()?))) {
        match curves.iter_mut().find(|(_, known)| same(known, curve)) {
            Some((rules, _)) => rules.push(rule),
            None => curves.push((vec![rule], curve)),
        }
    }
    curves
}

/// Whether two curves cannot be told apart in the drawing.
fn same(one: &SettlingCurve, other: &SettlingCurve) -> bool {
    let near = |(a, b): (&SettlingChance, &SettlingChance)| {
        a.more_shifts == b.more_shifts && (a.chance - b.chance).abs() < 0.005
    };
    one.towards == other.towards
        && one.chances.len() == other.chances.len()
        && one.chances.iter().zip(&other.chances).all(near)
}

fn grid(
    curves: &[(Vec<&'static str>, &SettlingCurve)],
    x: &dyn Fn(usize) -> f64,
    y: &dyn Fn(f64) -> f64,
    language: &Language,
) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for part in 0..=5 {
        let chance = f64::from(part) / 5.0;
        shapes.push(Shape::line((LEFT, y(chance)), (RIGHT, y(chance)), Ink::Grid, 0.6));
        shapes.push(small((LEFT - 6.0, y(chance) + 3.5), number::percent(chance), Anchor::End, Ink::Quiet));
    }
    let mut numbers: Vec<usize> =
        curves.iter().flat_map(|(_, c)| &c.chances).map(|c| c.more_shifts).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let mut last = f64::NEG_INFINITY;
    for more in numbers {
        shapes.push(Shape::line((x(more), BOTTOM), (x(more), BOTTOM + 4.0), Ink::Quiet, 1.0));
        if x(more) - last >= 24.0 {
            last = x(more);
            shapes.push(small((last, BOTTOM + 15.0), more.to_string(), Anchor::Middle, Ink::Quiet));
        }
    }
    let corners = vec![(LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM)];
    shapes.push(Shape::Line { points: corners, ink: Ink::Quiet, width: 1.0, dashed: false });
    let middle = ((LEFT + RIGHT) / 2.0, BOTTOM + 32.0);
    shapes.push(small(middle, language.say.fig_settle_across, Anchor::Middle, Ink::Data));
    shapes.push(Shape::Words {
        at: (14.0, (TOP + BOTTOM) / 2.0),
        words: language.say.fig_settle_up.to_owned(),
        size: 10.0,
        anchor: Anchor::Middle,
        ink: Ink::Data,
        bold: false,
        upward: true,
    });
    shapes
}

fn verdict(verdict: Verdict, language: &Language) -> &'static str {
    if verdict == Verdict::Below { language.say.below } else { language.say.above }
}

fn title(group: &GroupResult, language: &Language) -> String {
    let say = &language.say;
    let kind = match group.kind {
        LimitKind::Twa => say.kind_twa,
        LimitKind::ShortTerm => say.kind_short_term,
        LimitKind::Ceiling => say.kind_ceiling,
        LimitKind::Mixture => say.kind_mixture,
    };
    let gaps = [
        ("group", group.group.as_str().into()),
        ("agent", group.agent.as_str().into()),
        ("kind", kind.into()),
    ];
    filled(say.fig_settle_title, &gaps).words()
}

fn description(curves: &[(Vec<&'static str>, &SettlingCurve)], language: &Language) -> String {
    let say = &language.say;
    let rules: Vec<String> = curves
        .iter()
        .map(|(rule, curve)| {
            let chances: Vec<String> = curve
                .chances
                .iter()
                .step_by(3)
                .map(|c| {
                    let chance = number::percent(c.chance);
                    say.fig_settle_at.replace("{chance}", &chance).replace("{n}", &c.more_shifts.to_string())
                })
                .collect();
            say.fig_settle_rule
                .replace(
                    "{rule}",
                    &language.list(&rule.iter().map(|rule| language.rule(rule)).collect::<Vec<_>>()),
                )
                .replace("{verdict}", verdict(curve.towards, language))
                .replace("{chances}", &chances.join(", "))
        })
        .collect();
    say.fig_settle_text.replace("{rules}", &rules.join(" "))
}
