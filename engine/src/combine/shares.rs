//! Which part of a dose each task brings.

use crate::model::Interval;
use crate::model::shift::{Reason, Share, TaskExposure};

/// The dose of a task: its mean times its minutes.
pub fn dose(task: &TaskExposure) -> Interval {
    task.mean.times(task.minutes)
}

/// The share of each dose in their sum. Its lowest value has this dose low and all others high, its highest the other
/// way round.
pub fn shares(doses: &[Interval]) -> Vec<Result<Share, Reason>> {
    let total = doses.iter().copied().fold(Interval::ZERO, Interval::plus);
    doses.iter().map(|&part| share(part, total)).collect()
}

fn share(part: Interval, total: Interval) -> Result<Share, Reason> {
    let (Some(middle), Some(whole)) = (part.middle(), total.middle()) else {
        return Err("a stain went past the last mark, so the dose has no upper end".into());
    };
    if whole <= 0.0 {
        return Err("no dose was found".into());
    }
    let of = |own: f64, others: f64| if own + others > 0.0 { own / (own + others) } else { 0.0 };
    let others = (total.low() - part.low(), total.high() - part.high());
    let (low, high) = (of(part.low(), others.1), of(part.high(), others.0));
    let value = middle / whole;
    let limits = Err("the limits of the other tasks are not known".into());
    Ok(Share { value, low: low.min(value), high: high.max(value), limits })
}

/// Keeps the limits of the share of each task.
pub fn keep(tasks: &mut [TaskExposure], limits: Vec<Result<(f64, f64), Reason>>) {
    for (task, limits) in tasks.iter_mut().zip(limits) {
        if let Ok(share) = &mut task.share {
            share.limits = limits;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn interval(low: f64, high: f64) -> Interval {
        Interval::new(low, high).unwrap_or(Interval::ZERO)
    }

    fn ends(share: &Result<Share, Reason>) -> (f64, f64, f64) {
        share.as_ref().map(|s| (s.value, s.low, s.high)).unwrap()
    }

    #[test]
    fn a_quarter_and_three_quarters_make_a_whole() {
        let both = shares(&[interval(1.0, 1.0), interval(3.0, 3.0)]);
        assert_eq!([&both[0], &both[1]].map(ends), [(0.25, 0.25, 0.25), (0.75, 0.75, 0.75)]);
    }

    #[test]
    fn one_to_three_beside_one_is_half_to_three_quarters() {
        let both = shares(&[interval(1.0, 3.0), interval(1.0, 1.0)]);
        assert_eq!([&both[0], &both[1]].map(ends), [(2.0 / 3.0, 0.5, 0.75), (1.0 / 3.0, 0.25, 0.5)]);
    }

    #[test]
    fn nothing_and_no_upper_end_have_no_share() {
        assert!(shares(&[Interval::ZERO])[0].is_err());
        assert!(shares(&[interval(1.0, f64::INFINITY)])[0].is_err());
    }
}
