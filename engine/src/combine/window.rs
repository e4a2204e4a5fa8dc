//! The highest short-term window of a shift.

use super::{Depth, NOT_ASKED, sampling};
use crate::model::shift::{Reason, Segment, Shift, Window};
use crate::model::{Concentration, Interval, Minutes};
use chrono::Duration;

/// The window of the given length with the highest mean, its unmeasured minutes counted as zero. Concentration is taken
/// as constant over each segment, so the highest window has an edge at the edge of a segment. The error is the
/// reason why there is none.
pub fn highest(
    shift: &Shift,
    segments: &[Segment],
    length: Minutes,
    concentrations: &[Concentration],
    depth: Depth,
) -> Result<Window, Reason> {
    let highest = segments.iter().map(|s| &concentrations[s.reading]);
    let highest = highest.max_by(|a, b| a.interval.high().total_cmp(&b.interval.high()));
    let highest = highest.ok_or("no tube was drawn in this shift that counts for it")?;
    let edges = segments.iter().flat_map(|s| [s.from, s.to, s.drawn.0, s.drawn.1]);
    let last_start = ((shift.end - shift.start).num_milliseconds() as f64 / 60_000.0 - length.0).max(0.0);
    let mut best: Option<(f64, f64)> = None;
    for start in edges.flat_map(|e| [e, e - length.0]).map(|s| s.clamp(0.0, last_start)) {
        let rank = mean_over(segments, start, length.0, concentrations).middle().unwrap_or(f64::INFINITY);
        if best.is_none_or(|(r, s)| rank > r || (rank == r && start < s)) {
            best = Some((rank, start));
        }
    }
    let start = best.map_or(0.0, |(_, start)| start);
    let mean = mean_over(segments, start, length.0, concentrations);
    let readings: Vec<(usize, f64)> = inside(segments, start, length.0).collect();
    let drawn = |s: &Segment| overlap(s.drawn, start, length.0);
    Ok(Window {
        start: shift.start + Duration::milliseconds((start * 60_000.0).round() as i64),
        sampling: match depth {
            Depth::Figures => Err(NOT_ASKED.into()),
            _ => sampling::of_window(&readings, length, mean, concentrations),
        },
        mean,
        bound: highest.interval.high(),
        bound_upper: match depth {
            Depth::Figures => f64::INFINITY,
            _ => sampling::upper_of_reading(highest),
        },
        measured_minutes: readings.iter().map(|(_, minutes)| minutes).sum(),
        drawn_minutes: segments.iter().map(drawn).sum(),
        readings,
    })
}

fn overlap(span: (f64, f64), start: f64, length: f64) -> f64 {
    (span.1.min(start + length) - span.0.max(start)).max(0.0)
}

/// The readings in a window, each with the minutes for which it stands.
fn inside(segments: &[Segment], start: f64, length: f64) -> impl Iterator<Item = (usize, f64)> + '_ {
    let minutes = move |s: &Segment| (s.reading, overlap((s.from, s.to), start, length));
    segments.iter().map(minutes).filter(|(_, minutes)| *minutes > 0.0)
}

/// Mean over a window.
fn mean_over(segments: &[Segment], start: f64, length: f64, concentrations: &[Concentration]) -> Interval {
    let dose = inside(segments, start, length).map(|(i, minutes)| concentrations[i].interval.times(minutes));
    dose.fold(Interval::ZERO, Interval::plus).times(1.0 / length)
}
