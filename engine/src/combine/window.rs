//! The highest short-term window of a shift.

use super::{Depth, NOT_ASKED, sampling};
use crate::model::shift::{Reason, Segment, Shift, TUBES_FOR_A_WINDOW, Window};
use crate::model::{Concentration, Interval, Minutes};
use chrono::Duration;

/// The window of the given length with the highest mean, its unmeasured minutes counted as zero. Concentration is taken
/// as constant over each segment, so the highest window has an edge at the edge of a segment. Where it holds too few tubes to
/// be more than screening, the highest of those that hold enough goes with it. The error is the reason why there is none.
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
    let (mut best, mut best_measured): (Option<Place>, Option<Place>) = (None, None);
    for start in starts(shift, segments, length.0) {
        let place = Place::of(segments, start, length.0, concentrations);
        place.take_if_higher(&mut best);
        if place.tubes >= TUBES_FOR_A_WINDOW {
            place.take_if_higher(&mut best_measured);
        }
    }
    let window = |place: Place| {
        let start = place.start;
        let mean = mean_over(segments, start, length.0, concentrations);
        let readings: Vec<(usize, f64)> = inside(segments, start, length.0).collect();
        let drawn = |s: &Segment| overlap(s.drawn, start, length.0);
        Window {
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
            measured: None,
        }
    };
    let mut found = window(best.ok_or("no tube was drawn in this shift that counts for it")?);
    if found.readings.len() < TUBES_FOR_A_WINDOW {
        found.measured = best_measured.map(|place| Box::new(window(place)));
    }
    Ok(found)
}

/// Where a window may begin: with an edge at the edge of a segment, within the shift. A diary by minutes does not tell when the shift
/// began and ended; there the window lies within the time from the first tube to the last.
fn starts(shift: &Shift, segments: &[Segment], length: f64) -> impl Iterator<Item = f64> {
    let (first, last) = match shift.clock {
        true => (0.0, (shift.end - shift.start).num_milliseconds() as f64 / 60_000.0),
        false => {
            let ends = (f64::INFINITY, f64::NEG_INFINITY);
            segments.iter().fold(ends, |(from, to), s| (from.min(s.from), to.max(s.to)))
        }
    };
    let last = (last - length).max(first);
    let edges = segments.iter().flat_map(|s| [s.from, s.to, s.drawn.0, s.drawn.1]);
    edges.flat_map(move |edge| [edge, edge - length]).map(move |start| start.clamp(first, last))
}

/// Where a window begins, in minutes from the start of the shift, how high it is and how many tubes stand in it.
#[derive(Clone, Copy)]
struct Place {
    start: f64,
    /// Whether a stain in it went past the last mark; if so, its lower end, otherwise the middle of its mean.
    rank: (bool, f64),
    tubes: usize,
}

impl Place {
    fn of(segments: &[Segment], start: f64, length: f64, concentrations: &[Concentration]) -> Place {
        let mean = mean_over(segments, start, length, concentrations);
        let rank = mean.middle().map_or((true, mean.low()), |middle| (false, middle));
        Place { start, rank, tubes: inside(segments, start, length).count() }
    }

    /// Of two equally high the one with more tubes, of two such the earlier one.
    fn take_if_higher(self, best: &mut Option<Place>) {
        let order = |a: &Place, b: &Place| {
            let by_rank = a.rank.0.cmp(&b.rank.0).then(a.rank.1.total_cmp(&b.rank.1));
            by_rank.then(a.tubes.cmp(&b.tubes)).then(b.start.total_cmp(&a.start))
        };
        if best.as_ref().is_none_or(|best| order(&self, best).is_gt()) {
            *best = Some(self);
        }
    }
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
