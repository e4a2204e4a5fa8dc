//! Each worker's place in the group, and who stands apart.

use super::components::VarianceComponents;
use super::f_ratio;
use super::repeats::{Repeats, Worker};
use crate::Result;

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
    /// Chance of so large a distance for any of the workers if all had the same mean (Holm's adjustment).
    pub p_value: f64,
}

/// Each worker's place in the group, in the order of the workers.
///
/// Prediction: `location + g n_i/(1 + g n_i) (ybar_i - location)`, g the fitted ratio of the variances. Distance:
/// `(ybar_i - ybar)/sqrt(MSW (1/n_i - 1/N))`, which under equal worker means has Student's distribution of N - k degrees
/// of freedom; its two-sided chance is adjusted for the number of workers by Holm's step-down rule.
///
/// Accuracy: predictions to all settled digits of lme4 for ten designs (table `workers-lme4`).
///
/// Sources: C. R. Henderson, Biometrics 31 (1975) 423-447; S. Holm, Scand. J. Stat. 6 (1979) 65-70.
pub fn worker_effects(repeats: &Repeats, fit: &VarianceComponents) -> Result<Vec<WorkerEffect>> {
    let mut effects =
        repeats.each_worker().iter().map(|w| effect(repeats, fit, w)).collect::<Result<Vec<_>>>()?;
    adjust(&mut effects);
    Ok(effects)
}

fn effect(repeats: &Repeats, fit: &VarianceComponents, worker: &Worker) -> Result<WorkerEffect> {
    let count = worker.count as f64;
    let location = repeats.origin() + worker.mean;
    let drawn = fit.between * count / (fit.within + fit.between * count);
    let mean_square = repeats.within_sum() / repeats.freedom_within();
    let standardised = worker.mean / (mean_square * (1.0 / count - 1.0 / repeats.values() as f64)).sqrt();
    Ok(WorkerEffect {
        values: worker.count,
        location,
        predicted: fit.location + drawn * (location - fit.location),
        standardised,
        p_value: f_ratio::upper(standardised * standardised, 1.0, repeats.freedom_within())?,
    })
}

/// Holm: the smallest chance times k, the next times k - 1, never falling, never above 1.
fn adjust(effects: &mut [WorkerEffect]) {
    let mut order: Vec<usize> = (0..effects.len()).collect();
    order.sort_by(|&a, &b| effects[a].p_value.total_cmp(&effects[b].p_value));
    let mut floor: f64 = 0.0;
    for (rank, index) in order.into_iter().enumerate() {
        let left = (effects.len() - rank) as f64;
        floor = floor.max(left * effects[index].p_value).min(1.0);
        effects[index].p_value = floor;
    }
}
