//! Shifts worked out a second time, from what was invented: the corrections, the tasks, the TWA, the highest fifteen minutes.

use super::files::moment;
use super::invented::{Invented, MARKS, Shift, Stain, Tube};
use serde_json::Value;

/// A range from low to high.
type Ends = (f64, f64);

fn plus(a: Ends, b: Ends) -> Ends {
    (a.0 + b.0, a.1 + b.1)
}

fn times(a: Ends, factor: f64) -> Ends {
    (a.0 * factor, a.1 * factor)
}

fn middle(a: Ends) -> f64 {
    0.5 * (a.0 + a.1)
}

/// A tube drawn: the minute it began, how many it took, its task, its concentration.
struct Drawn {
    at: f64,
    minutes: f64,
    task: &'static str,
    found: Ends,
}

/// Two strokes halve the reading, thin air raises it.
fn concentration(tube: &Tube, pressure_kpa: f64) -> Ends {
    let stain = match tube.stain {
        Stain::At(value) => (value, value),
        Stain::Between(mark) => (MARKS[mark], MARKS[mark + 1]),
        Stain::Below => (0.0, MARKS[0]),
        Stain::Above => (MARKS[MARKS.len() - 1], f64::INFINITY),
        Stain::Slanted(short, long) => (0.5 * (short + long), 0.5 * (short + long)),
    };
    times(stain, 101.325 / pressure_kpa / f64::from(tube.strokes))
}

fn drawn(shift: &Shift, pressure_kpa: f64) -> Vec<Drawn> {
    let of_tube = |(at, tube): (u32, &Tube)| Drawn {
        at: f64::from(at),
        minutes: f64::from(tube.strokes),
        task: shift.task(at),
        found: concentration(tube, pressure_kpa),
    };
    let mut all: Vec<Drawn> = shift.drawn().into_iter().map(of_tube).collect();
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    all
}

/// The mean of tubes, each weighed by its time.
fn mean<'a>(tubes: impl Iterator<Item = &'a Drawn>) -> Option<Ends> {
    let (sum, minutes) = tubes.fold(((0.0, 0.0), 0.0), |(sum, minutes), tube| {
        (plus(sum, times(tube.found, tube.minutes)), minutes + tube.minutes)
    });
    (minutes > 0.0).then(|| times(sum, 1.0 / minutes))
}

/// The stretches of one task each: begin, end, task; what touches is one.
fn stretches(shift: &Shift) -> Vec<(f64, f64, &'static str)> {
    let mut all: Vec<(f64, f64, &'static str)> = Vec::new();
    for (from, minutes, task) in shift.stretches(0) {
        let to = f64::from(from + minutes);
        match all.last_mut() {
            Some(last) if last.2 == task => last.1 = to,
            _ => all.push((f64::from(from), to, task)),
        }
    }
    all
}

/// For which minutes each tube stands: to half way between its middle and its neighbours' in the same stretch.
fn standing(shift: &Shift, tubes: &[Drawn]) -> Vec<(f64, f64, Ends)> {
    let mut all = Vec::new();
    for (from, to, task) in stretches(shift) {
        let inside: Vec<&Drawn> =
            tubes.iter().filter(|t| t.task == task && from <= t.at && t.at < to).collect();
        let middle = |tube: &Drawn| tube.at + 0.5 * tube.minutes;
        for (k, tube) in inside.iter().enumerate() {
            let half_way = |other: &Drawn| 0.5 * (middle(tube) + middle(other));
            let begin = if k == 0 { from } else { half_way(inside[k - 1]) };
            let end = inside.get(k + 1).map_or(to, |next| half_way(next));
            all.push((begin, end, tube.found));
        }
    }
    all
}

/// The highest mean of fifteen minutes, by trying every quarter of a minute at which they may begin.
fn highest_window(shift: &Shift, tubes: &[Drawn], minutes: f64) -> f64 {
    let standing = standing(shift, tubes);
    let over = |begin: f64| {
        let part = |&(from, to, found): &(f64, f64, Ends)| {
            let minutes = to.min(begin + 15.0) - from.max(begin);
            if minutes > 0.0 { times(found, minutes / 15.0) } else { (0.0, 0.0) }
        };
        middle(standing.iter().map(part).fold((0.0, 0.0), plus))
    };
    let last = (minutes - 15.0).max(0.0);
    (0..=(4.0 * last) as u32).map(|quarter| over(0.25 * f64::from(quarter))).fold(0.0, f64::max)
}

/// Whether a figure is the middle of a range and, where it shows what its readings leave open, that range.
#[track_caller]
fn is(what: &str, figure: &Value, expected: Ends) {
    let ends = |low: &str, high: &str| Some((figure[low].as_f64()?, figure[high].as_f64()?));
    let chance = figure["confidence"].is_number() || figure["measurement_low"].is_number();
    let shown = ends("range_low", "range_high").or_else(|| ends("low", "high").filter(|_| !chance));
    agree(what, shown.unwrap_or(expected), expected);
    if let Some(value) = figure["value"].as_f64() {
        agree(what, (value, value), (middle(expected), middle(expected)));
    }
}

#[track_caller]
fn agree(what: &str, found: Ends, expected: Ends) {
    for (found, expected) in [(found.0, expected.0), (found.1, expected.1)] {
        assert!(
            (found - expected).abs() <= 1e-9 * (1.0 + expected.abs()),
            "{what}: {found} instead of {expected}"
        );
    }
}

/// Holds every shift of an assessment against the second way; says of how many.
pub fn agrees(study: &Invented, assessment: &Value) -> usize {
    let mut seen = 0;
    for (worker, begin, shift) in study.shifts() {
        let own = |s: &&Value| s["worker"] == format!("W{worker}") && s["start"] == moment(begin);
        let Some(found) = assessment["shifts"].as_array().unwrap().iter().find(own) else { continue };
        let group = study.workers[worker].group;
        let others = study
            .shifts()
            .filter(|&(other, at, _)| study.workers[other].group == group && (other, at) != (worker, begin));
        let lent: Vec<Drawn> = others.flat_map(|(.., s)| drawn(s, study.pressure_kpa)).collect();
        shift_agrees(study, shift, &lent, found);
        seen += 1;
    }
    seen
}

fn shift_agrees(study: &Invented, shift: &Shift, lent: &[Drawn], found: &Value) {
    let tubes = drawn(shift, study.pressure_kpa);
    let minutes: f64 = shift.stretches.iter().map(|(_, minutes)| f64::from(*minutes)).sum();
    assert_eq!(found["minutes"].as_f64(), Some(minutes));
    let tasks: Vec<(&str, f64, Option<Ends>)> = ["turning", "screening", "office"]
        .into_iter()
        .filter_map(|task| {
            let own =
                shift.stretches(0).filter(|(.., t)| *t == task).map(|(_, minutes, _)| f64::from(minutes));
            let minutes = own.reduce(|a, b| a + b)?;
            Some((task, minutes, mean(tubes.iter().filter(|t| t.task == task))))
        })
        .collect();
    let measured = tasks.iter().filter_map(|(.., mean)| *mean);
    let highest = measured.map(|mean| mean.1).fold(0.0, f64::max);
    let of_task = |&(task, _, own): &(&str, f64, Option<Ends>)| match (own, task) {
        (Some(mean), _) => mean,
        (None, "office") => (0.0, 0.0),
        (None, "screening") => mean(lent.iter().filter(|t| t.task == "screening")).unwrap_or((0.0, highest)),
        (None, _) => (0.0, highest),
    };
    let doses: Vec<Ends> = tasks.iter().map(|task| times(of_task(task), task.1)).collect();
    let dose = doses.iter().copied().fold((0.0, 0.0), plus);
    let known = dose.1.is_finite();
    let of_measured = tasks.iter().filter(|task| task.2.is_some()).map(|task| task.1).sum::<f64>();
    agree("covered", (found["covered"].as_f64().unwrap(), 0.0), (of_measured / minutes, 0.0));
    if known {
        let expected = times(dose, 1.0 / (60.0 * study.reference_hours));
        is("twa", &found["twa"], expected);
        let against =
            found["limits"].as_array().unwrap().iter().find(|limit| limit["kind"] == "twa").unwrap();
        is("ratio", &against["ratio"], times(expected, 1.0 / (20.0 * study.limits)));
    }
    for ((task, own), found) in tasks.iter().zip(&doses).zip(found["tasks"].as_array().unwrap()) {
        assert_eq!((found["task"].as_str(), found["minutes"].as_f64()), (Some(task.0), Some(task.1)));
        if known {
            is(task.0, &found["mean"], of_task(task));
        }
        if let Some(share) = found["share_of_dose"]["value"].as_f64() {
            agree("share", (share, 0.0), (middle(*own) / middle(dose), 0.0));
        }
    }
    let window = highest_window(shift, &tubes, minutes);
    if let Some(found) = found["short_term"]["value"].as_f64().filter(|_| window.is_finite()) {
        agree("highest fifteen minutes", (found, 0.0), (window, 0.0));
    }
    let held = tubes.iter().map(|tube| tube.found.1).fold(0.0, f64::max);
    if let Some(found) = found["short_term"]["highest_held"].as_f64() {
        agree("highest reading held", (found, 0.0), (held, 0.0));
    }
}
