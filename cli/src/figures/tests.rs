use super::shape::{Anchor, Point, Shape};
use super::*;
use crate::language;
use crate::summary::samples::assessment;
use fullshift_engine::model::ReportLanguage;
use fullshift_engine::model::assessment::ShiftResult;

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
