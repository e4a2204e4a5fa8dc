//! How the chance to settle an open verdict grows with further shifts: a line a rule.

use super::frame::Frame;
use super::letters::cut;
use super::rows::{SMALL, small};
use super::shape::{Anchor, Drawing, Ink, Point, Shape, Symbol};
use super::spread::spread;
use crate::language::{Language, filled};
use crate::page::number;
use fullshift_engine::model::assessment::{GroupResult, SettlingChance, SettlingCurve};
use fullshift_engine::model::profile::Verdict;

const WIDTH: f64 = 640.0;
const FRAME: Frame = Frame { left: 58.0, right: 450.0, top: 14.0, bottom: 254.0 };

/// From one line of a label to the next.
const LINE: f64 = 12.0;

/// The marks of the lines, in the order of the rules.
const SYMBOLS: [Symbol; 4] = [Symbol::Disc, Symbol::Ring, Symbol::Triangle, Symbol::Diamond];

/// The drawing; `None` where no open verdict has such a chance.
pub(crate) fn settling(group: &GroupResult, language: &Language) -> Option<Drawing> {
    let curves = curves(group);
    if curves.is_empty() {
        return None;
    }
    let most = curves.iter().flat_map(|(_, curve)| &curve.chances).map(|c| c.more_shifts).max().unwrap_or(1);
    let x = |more: usize| {
        FRAME.left + (more as f64).ln() / (most.max(2) as f64).ln() * (FRAME.right - FRAME.left)
    };
    let y = |chance: f64| FRAME.bottom - chance.clamp(0.0, 1.0) * (FRAME.bottom - FRAME.top);
    let mut shapes = grid(&curves, &x, &y, language);
    let ends: Vec<f64> = curves
        .iter()
        .map(|(_, curve)| curve.chances.last().map_or(FRAME.bottom, |last| y(last.chance)))
        .collect();
    let apart = LINE * (1.0 + curves.iter().map(|(rules, _)| rules.len()).max().unwrap_or(1) as f64);
    let places = spread(&ends, apart, FRAME.top + 4.0, FRAME.bottom - apart + LINE);
    for (number, ((rule, curve), place)) in curves.iter().zip(places).enumerate() {
        let points: Vec<Point> = curve.chances.iter().map(|c| (x(c.more_shifts), y(c.chance))).collect();
        let marks = points.clone();
        shapes.push(Shape::Line { points, ink: Ink::Fit, width: 1.8, dashed: number % 2 == 1 });
        shapes
            .extend(marks.into_iter().map(|at| Shape::Mark { at, symbol: SYMBOLS[number % SYMBOLS.len()] }));
        shapes.push(Shape::line(
            (FRAME.right + 5.0, ends[number]),
            (FRAME.right + 12.0, place),
            Ink::Quiet,
            0.7,
        ));
        // A rule a line, below them what they would say.
        let told = format!("→ {}", verdict(curve.towards, language));
        let lines = rule.iter().map(|rule| language.told(rule)).chain([told]).enumerate();
        shapes.extend(lines.map(|(line, words)| {
            let words = cut(&words, SMALL, WIDTH - FRAME.right - 18.0);
            let at = (FRAME.right + 15.0, place + 3.5 + LINE * line as f64);
            small(at, words, Anchor::Start, Ink::Data)
        }));
    }
    Some(Drawing {
        title: title(group, language),
        description: description(&curves, language),
        width: WIDTH,
        height: FRAME.bottom + 40.0,
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
    let shares = (0..=5).map(|part| f64::from(part) / 5.0);
    let mut shapes: Vec<Shape> =
        shares.flat_map(|chance| FRAME.across(y(chance), number::percent(chance))).collect();
    let mut numbers: Vec<usize> =
        curves.iter().flat_map(|(_, c)| &c.chances).map(|c| c.more_shifts).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let mut last = f64::NEG_INFINITY;
    for more in numbers {
        shapes.push(FRAME.stroke(x(more)));
        if x(more) - last >= 24.0 {
            last = x(more);
            shapes.push(FRAME.below(last, more.to_string()));
        }
    }
    shapes.extend(FRAME.axes(language.say.fig_settle_across, language.say.fig_settle_up.to_owned()));
    shapes
}

fn verdict(verdict: Verdict, language: &Language) -> &'static str {
    if verdict == Verdict::Below { language.say.below } else { language.say.above }
}

fn title(group: &GroupResult, language: &Language) -> String {
    let say = &language.say;
    let gaps = [
        ("group", group.group.as_str().into()),
        ("agent", group.agent.as_str().into()),
        ("kind", language.kind(group.kind).into()),
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
            let rules: Vec<String> = rule.iter().map(|rule| language.rule(rule)).collect();
            say.fig_settle_rule
                .replace("{rule}", &language.list(&rules))
                .replace("{verdict}", verdict(curve.towards, language))
                .replace("{chances}", &chances.join(", "))
        })
        .collect();
    say.fig_settle_text.replace("{rules}", &rules.join(" "))
}
