use super::shape::{Anchor, Point, Shape};
use super::*;
use crate::language;
use crate::summary::samples::assessment;
use fullshift_engine::model::ReportLanguage;
use fullshift_engine::model::assessment::{
    GroupResult, PlottedFigure, PlottedShare, RuleResult, SettlingChance, SettlingCurve, ShiftResult,
};
use fullshift_engine::model::profile::Verdict;

fn english() -> &'static crate::language::Language {
    language::of(ReportLanguage::English)
}

/// Left, top, right and bottom of words, as the layout measures them.
fn boxes(drawing: &Drawing) -> Vec<(String, [f64; 4])> {
    let of = |shape: &Shape| match shape {
        Shape::Words { at: (x, y), words, size, anchor, upward: false, .. } => {
            let wide = super::letters::width(words, *size) * 0.9;
            let left = match anchor {
                Anchor::Start => *x,
                Anchor::Middle => x - wide / 2.0,
                Anchor::End => x - wide,
            };
            Some((words.clone(), [left, y - 0.75 * size, left + wide, y + 0.2 * size]))
        }
        _ => None,
    };
    drawing.shapes.iter().filter_map(of).collect()
}

fn no_words_overlap(drawing: &Drawing) {
    let boxes = boxes(drawing);
    for (at, (one, a)) in boxes.iter().enumerate() {
        assert!(
            a[0] >= -1.0 && a[2] <= drawing.width + 1.0 && a[3] <= drawing.height + 1.0,
            "{one} leaves the drawing"
        );
        for (other, b) in &boxes[at + 1..] {
            let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
            assert!(apart, "`{one}` {a:?} lies over `{other}` {b:?}");
        }
    }
}

/// Shifts with a diary and a name of its own length.
fn shifts(count: usize, name: &str) -> Vec<ShiftResult> {
    let mut shifts = assessment(count).shifts;
    for (number, shift) in shifts.iter_mut().enumerate() {
        shift.worker = format!("{name}{}", number / 3);
        shift.diary = vec![fullshift_engine::model::assessment::DiaryStretch {
            task: "turning".into(),
            from: 0.0,
            to: 480.0,
        }];
    }
    shifts
}

#[test]
fn no_words_overlap_with_one_three_or_sixty_shifts_and_long_names() {
    for (count, name) in
        [(1, "W"), (3, "W"), (60, "W"), (60, "Maximiliane of the very long double-barrelled name ")]
    {
        let shifts = shifts(count, name);
        let shown: Vec<&ShiftResult> = shifts.iter().collect();
        let readings = assessment(count).readings;
        no_words_overlap(&shift_figures(&shown, english()).unwrap());
        no_words_overlap(&dose(&shown, english()).unwrap());
        let timelines = timelines(&shown, &readings, english());
        assert_eq!(timelines.len(), count.div_ceil(5));
        timelines.iter().for_each(no_words_overlap);
    }
}

/// A group with a plot of that limit, and an open verdict under two rules.
fn group(limit: f64) -> GroupResult {
    let mut group = assessment(3).groups.remove(0);
    group.limit = crate::summary::samples::ppm(limit);
    let score = |n: usize| n as f64 / 3.0 - 1.0;
    group.plot.figures = (0..6)
        .map(|n| {
            let low = 2.0 * (n + 1) as f64;
            PlottedFigure { shift: format!("W{n}"), low, high: Some(low), score: score(n) }
        })
        .collect();
    group.plot.line = [(0.05, -1.645), (0.5, 0.0), (0.95, 1.645)]
        .map(|(share, score): (f64, f64)| {
            let value = 8.0 * (0.7 * score).exp();
            PlottedShare { share, score, value, low: Some(0.7 * value), high: Some(1.5 * value) }
        })
        .into();
    let chances = |step: f64| {
        let chance = |n: usize| SettlingChance { more_shifts: 1 + 4 * n, chance: (step * n as f64).min(1.0) };
        Some(SettlingCurve { towards: Verdict::Above, chances: (0..8).map(chance).collect() })
    };
    let rule = group.verdicts[0].clone();
    let ruled =
        |rule: &RuleResult, name, step| RuleResult { rule: name, settling: chances(step), ..rule.clone() };
    group.verdicts = vec![
        ruled(&rule, "tolerance-strict", 0.1),
        ruled(&rule, "exceedance", 0.1),
        ruled(&rule, "tolerance", 0.11),
    ];
    group
}

#[test]
fn no_words_of_a_groups_drawings_overlap_or_leave_them_in_any_language() {
    for language in [ReportLanguage::English, ReportLanguage::German].map(language::of) {
        for limit in [0.000_5, 1.0, 20.0, 25.4, 12_345.0] {
            no_words_overlap(&probability(&group(limit), language).unwrap());
        }
        no_words_overlap(&settling(&group(20.0), language).unwrap());
    }
}

#[test]
fn a_shift_that_is_twice_as_high_stands_further_right() {
    let mut shifts = shifts(2, "W");
    shifts[1].twa = crate::summary::samples::ppm(22.0);
    let shown: Vec<&ShiftResult> = shifts.iter().collect();
    let drawing = shift_figures(&shown, english()).unwrap();
    // The marks of the two rows come before those of the key.
    let marks: Vec<Point> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Mark { at, .. } => Some(*at),
            _ => None,
        })
        .collect();
    assert!(marks[1].0 > marks[0].0 && marks[1].1 > marks[0].1, "{marks:?}");
}
