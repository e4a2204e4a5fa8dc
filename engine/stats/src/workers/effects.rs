//! Each worker's place in the group, and who stands apart.

use super::components::VarianceComponents;
use super::f_ratio;
use super::repeats::{Repeats, Worker};
use crate::Result;
use std::f64::consts::FRAC_PI_2;

/// One worker's place in the group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkerEffect {
    /// Number of the worker's values.
    pub values: usize,
    /// Mean of the worker's values.
    pub location: f64,
    /// Best linear unbiased prediction of the worker's own location: the mean drawn towards the group's.
    pub predicted: f64,
    /// Distance from the mean of all values, in standard errors under equal worker means.
    pub standardised: f64,
    /// Distance from the median of the workers' means, in standard errors.
    pub from_middle: f64,
    /// Chance of so large distances for any of the workers if all had the same mean: the larger of the two chances, each by
    /// Holm's adjustment.
    pub p_value: f64,
}

/// Each worker's place in the group, in the order of the workers.
///
/// Prediction: `location + g n_i/(1 + g n_i) (ybar_i - location)`, g the fitted ratio of the variances. First distance:
/// `(ybar_i - ybar)/sqrt(MSW (1/n_i - 1/N))`, which under equal worker means has Student's distribution of N - k degrees
/// of freedom; its two-sided chance is adjusted for the number of workers by Holm's step-down rule, so that no like worker is
/// named more often than agreed. One worker far off draws the mean of all away from the others, though, and they would be named
/// with it. Second distance therefore: `(ybar_i - median)/sqrt(MSW (1/n_i + pi/2 sum(1/n_j)/k^2))` from the median of the
/// workers' means, with the large-sample variance of a median, its covariance with the mean left out; adjusted alike. A worker
/// stands apart only by both.
///
/// Accuracy: predictions to all settled digits of lme4 for ten designs (table `workers-lme4`); how often like workers and
/// the others beside one far off are named is simulated.
///
/// Sources: C. R. Henderson, Biometrics 31 (1975) 423-447; S. Holm, Scand. J. Stat. 6 (1979) 65-70; the variance of a median in
/// Kendall and Stuart, The Advanced Theory of Statistics, vol. 1, ch. 10 (from memory). The second condition is our own.
pub fn worker_effects(repeats: &Repeats, fit: &VarianceComponents) -> Result<Vec<WorkerEffect>> {
    let middle = Middle::of(repeats);
    let mut effects =
        repeats.each_worker().iter().map(|w| effect(repeats, fit, &middle, w)).collect::<Vec<_>>();
    let freedom = repeats.freedom_within();
    let from_mean = adjusted(effects.iter().map(|effect| effect.standardised), freedom)?;
    let from_middle = adjusted(effects.iter().map(|effect| effect.from_middle), freedom)?;
    for (effect, (a, b)) in effects.iter_mut().zip(from_mean.into_iter().zip(from_middle)) {
        effect.p_value = a.max(b);
    }
    Ok(effects)
}

/// The median of the workers' means, counted as they are, and its variance where that of a value is 1.
struct Middle {
    median: f64,
    variance: f64,
}

impl Middle {
    fn of(repeats: &Repeats) -> Middle {
        let mut means: Vec<f64> = repeats.each_worker().iter().map(|worker| worker.mean).collect();
        means.sort_by(f64::total_cmp);
        let half = means.len() / 2;
        let median =
            if means.len().is_multiple_of(2) { means[half - 1].midpoint(means[half]) } else { means[half] };
        let errors: f64 = repeats.each_worker().iter().map(|worker| 1.0 / worker.count as f64).sum();
        Middle { median, variance: FRAC_PI_2 * errors / (means.len() as f64).powi(2) }
    }
}

fn effect(repeats: &Repeats, fit: &VarianceComponents, middle: &Middle, worker: &Worker) -> WorkerEffect {
    let count = worker.count as f64;
    let location = repeats.origin() + worker.mean;
    let drawn = fit.between * count / (fit.within + fit.between * count);
    let mean_square = repeats.within_sum() / repeats.freedom_within();
    let errors = |distance: f64, variance: f64| distance / (mean_square * variance).sqrt();
    WorkerEffect {
        values: worker.count,
        location,
        predicted: fit.location + drawn * (location - fit.location),
        standardised: errors(worker.mean, 1.0 / count - 1.0 / repeats.values() as f64),
        from_middle: errors(worker.mean - middle.median, 1.0 / count + middle.variance),
        p_value: 1.0,
    }
}

/// The two-sided chances of Student's distances, adjusted by Holm: the smallest times k, the next times k - 1, never falling,
/// never above 1.
fn adjusted(distances: impl Iterator<Item = f64>, freedom: f64) -> Result<Vec<f64>> {
    let mut chances = distances
        .map(|distance| f_ratio::upper(distance * distance, 1.0, freedom))
        .collect::<Result<Vec<_>>>()?;
    let mut order: Vec<usize> = (0..chances.len()).collect();
    order.sort_by(|&a, &b| chances[a].total_cmp(&chances[b]));
    let mut floor: f64 = 0.0;
    for (rank, &index) in order.iter().enumerate() {
        floor = floor.max((order.len() - rank) as f64 * chances[index]).min(1.0);
        chances[index] = floor;
    }
    Ok(chances)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy: 2 t.sf(z, 20) for 4, 1 and 3 is 0.000702, 0.329 and 0.00708; by hand the smallest counts three times, the next twice, the
    /// largest once, and none less than the one before it.
    #[test]
    fn chances_are_adjusted_step_by_step() {
        let found = adjusted([4.0, 1.0, -3.0].into_iter(), 20.0).unwrap();
        for (found, expected) in found.iter().zip(HOLM) {
            assert!((found - expected).abs() < 1e-12, "{found} {expected}");
        }
        let alike = adjusted([2.0, 2.1].into_iter(), 20.0).unwrap();
        assert_eq!(alike[0], alike[1]);
    }

    const HOLM: [f64; 3] = [0.00211056987938496, 0.329256577171709, 0.0141517975824222];
}
