//! The highest short-term window of a shift.

use super::sampling;
use crate::model::shift::{Segment, Shift, Window};
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
) -> Result<Window, String> {
    let highest = segments.iter().map(|s| &concentrations[s.reading]);
    let highest = highest.max_by(|a, b| a.interval.high().total_cmp(&b.interval.high()));
    let highest = highest.ok_or("no tube was drawn in this shift that counts for it")?;
    let edges = segments.iter().flat_map(|s| [s.from, s.to, s.drawn.0, s.drawn.1]);
    let last_start = ((shift.end - shift.start).num_milliseconds() as f64 / 60_000.0 - length.0).max(0.0);
    let mut best: Option<(f64, f64)> = None;
    for start in edges.flat_map(|e| [e, e - length.0]).map(|s| s.clamp(0.0, last_start)) {
        let (mean, _) = mean(segments, start, length.0, concentrations);
        let rank = mean.middle().unwrap_or(f64::INFINITY);
        if best.is_none_or(|(r, s)| rank > r || (rank == r && start < s)) {
            best = Some((rank, start));
        }
    }
    let start = best.map_or(0.0, |(_, start)| start);
    let (mean, readings) = mean(segments, start, length.0, concentrations);
    let drawn = |s: &Segment| overlap(s.drawn, start, length.0);
    Ok(Window {
        start: shift.start + Duration::milliseconds((start * 60_000.0).round() as i64),
        sampling: sampling::of_window(&readings, length, mean, concentrations),
        mean,
        bound: highest.interval.high(),
        bound_upper: sampling::upper_of_reading(highest),
        measured_minutes: readings.iter().map(|(_, minutes)| minutes).sum(),
        drawn_minutes: segments.iter().map(drawn).sum(),
        readings,
    })
}

fn overlap(span: (f64, f64), start: f64, length: f64) -> f64 {
    (span.1.min(start + length) - span.0.max(start)).max(0.0)
}

/// Mean over a window, and the readings in it with the minutes for which each stands.
fn mean(
    segments: &[Segment],
    start: f64,
    length: f64,
    concentrations: &[Concentration],
) -> (Interval, Vec<(usize, f64)>) {
    let inside: Vec<(usize, f64)> = segments
        .iter()
        .map(|s| (s.reading, overlap((s.from, s.to), start, length)))
        .filter(|(_, minutes)| *minutes > 0.0)
        .collect();
    let dose =
        inside.iter().map(|&(i, m)| concentrations[i].interval.times(m)).fold(Interval::ZERO, Interval::plus);
    (dose.times(1.0 / length), inside)
}
