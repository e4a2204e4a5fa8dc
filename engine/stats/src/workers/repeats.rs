//! The values of several workers, reduced to what the model needs.

use crate::numeric::sum::{mean_and_squares, sum};
use crate::{Error, Result, effort};
use std::collections::BTreeMap;

/// Largest magnitude a value may have: squared ratios of variances must stay finite.
const LARGEST: f64 = 1e30;

/// Smallest sum of squares within workers that counts as spread, for the same reason.
const SMALLEST_SUM: f64 = 1e-60;

/// Repeated values of two or more workers, checked and reduced to counts, means and sums of squares.
///
/// Everything in [`workers`](crate::workers) is computed from this: the size of each worker's sample, each worker's
/// mean and the pooled sum of squares within workers are sufficient for the one-way random-effects model.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeats {
    origin: f64,
    each: Vec<Worker>,
    classes: Vec<Class>,
    values: usize,
    within_sum: f64,
}

/// One worker: number of values and their mean, counted from the mean of all values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Worker {
    pub count: usize,
    pub mean: f64,
}

/// All workers with the same number of values: they carry the same weight, whatever the variances.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Class {
    repeats: f64,
    workers: f64,
    mean: f64,
    spread: f64,
}

/// Sums over workers under the weights `w_i = n_i / (within + n_i between)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Weighted {
    /// Weighted mean of the workers' means, counted from the origin.
    pub mean: f64,
    /// Sum of the weights.
    pub weight: f64,
    /// Sum of the squared weights.
    pub weight_squared: f64,
    /// Sum of `w_i d_i^2`, where `d_i` is the worker's mean less the weighted mean.
    pub spread: f64,
    /// Sum of `w_i^2 d_i^2`: minus the derivative of `spread` by `between`.
    pub spread_squared: f64,
}

/// Further sums under the same weights, for the derivative by the variance within.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PerValue {
    /// Sum of `w_i^2 / n_i`: minus the derivative of the sum of weights.
    pub weight_squared: f64,
    /// Sum of `w_i^2 d_i^2 / n_i`: minus the derivative of `spread`.
    pub spread_squared: f64,
    /// Sum of `1 / (within + n_i between)`.
    pub reciprocal: f64,
}

impl Repeats {
    /// The values of each worker, one slice per worker.
    ///
    /// Needs two workers, no worker without a value, more values than workers, finite values of magnitude up to
    /// 1e30, and some spread within workers; otherwise `OutsideDomain`.
    pub fn of<G: AsRef<[f64]>>(groups: &[G]) -> Result<Repeats> {
        let values: usize = groups.iter().map(|group| group.as_ref().len()).sum();
        check_shape(groups.len(), values)?;
        let mut reduced = Vec::with_capacity(groups.len());
        let mut within = Vec::with_capacity(groups.len());
        let reference = groups.iter().find_map(|group| group.as_ref().first().copied()).unwrap_or(0.0);
        for group in groups {
            let (worker, spread) = reduce(group.as_ref(), reference)?;
            reduced.push(worker);
            within.push(spread);
        }
        Self::assemble(reduced, values, sum(within), reference)
    }

    /// The same from one list of values and the worker of each, numbered from 0 without gaps.
    pub fn of_labelled(values: &[f64], workers: &[usize]) -> Result<Repeats> {
        if values.len() != workers.len() {
            return Err(outside("number of worker labels", workers.len() as f64, "the number of values"));
        }
        let size = workers.iter().max().map_or(0, |&last| last.saturating_add(1));
        if size > values.len() {
            return Err(outside("largest worker label", (size - 1) as f64, "below the number of values"));
        }
        let mut groups = vec![Vec::new(); size];
        for (&value, &worker) in values.iter().zip(workers) {
            groups[worker].push(value);
        }
        Self::of(&groups)
    }

    fn assemble(mut reduced: Vec<Worker>, values: usize, within_sum: f64, reference: f64) -> Result<Repeats> {
        if within_sum < SMALLEST_SUM {
            return Err(outside(
                "spread within workers",
                within_sum,
                "above 0: some worker's values must differ",
            ));
        }
        let grand = grand_mean(&reduced, values);
        for worker in &mut reduced {
            worker.mean -= grand;
        }
        let classes = classify(&reduced);
        Ok(Repeats { origin: reference + grand, each: reduced, classes, values, within_sum })
    }

    /// Number of workers, k.
    pub fn workers(&self) -> usize {
        self.each.len()
    }

    /// Number of values, N.
    pub fn values(&self) -> usize {
        self.values
    }

    /// Whether every worker has the same number of values.
    pub fn is_balanced(&self) -> bool {
        self.classes.len() == 1
    }

    /// Degrees of freedom between workers, k - 1.
    pub fn freedom_between(&self) -> f64 {
        (self.workers() - 1) as f64
    }

    /// Degrees of freedom within workers, N - k.
    pub fn freedom_within(&self) -> f64 {
        (self.values - self.workers()) as f64
    }

    /// Pooled sum of squares within workers.
    pub fn within_sum(&self) -> f64 {
        self.within_sum
    }

    /// Mean of all values; the weighted means are counted from it.
    pub(crate) fn origin(&self) -> f64 {
        self.origin
    }

    pub(crate) fn each_worker(&self) -> &[Worker] {
        &self.each
    }

    /// Largest and smallest number of values of one worker.
    pub(crate) fn extreme_repeats(&self) -> (f64, f64) {
        let last = self.classes.last().map_or(1.0, |class| class.repeats);
        (self.classes[0].repeats, last)
    }

    /// Harmonic mean of the numbers of values.
    pub(crate) fn harmonic_repeats(&self) -> f64 {
        self.workers() as f64 / self.classes.iter().map(|class| class.workers / class.repeats).sum::<f64>()
    }

    /// Sum of squared distances of the workers' means from their plain mean.
    pub(crate) fn spread_of_means(&self) -> f64 {
        mean_and_squares(&self.each.iter().map(|worker| worker.mean).collect::<Vec<f64>>()).1
    }

    /// Sum of squared numbers of values.
    pub(crate) fn repeats_squared(&self) -> f64 {
        self.classes.iter().map(|class| class.workers * class.repeats * class.repeats).sum()
    }

    /// The weighted sums at the given variances; `within` must be positive and `between` not negative.
    pub(crate) fn weighted(&self, within: f64, between: f64) -> Weighted {
        effort::one();
        let (mut weight, mut weight_squared, mut moment) = (0.0, 0.0, 0.0);
        for class in &self.classes {
            let w = class.weight(within, between);
            weight += class.workers * w;
            weight_squared += class.workers * w * w;
            moment += class.workers * w * class.mean;
        }
        let mean = moment / weight;
        let (mut spread, mut spread_squared) = (0.0, 0.0);
        for class in &self.classes {
            let w = class.weight(within, between);
            spread += w * class.squares_about(mean);
            spread_squared += w * w * class.squares_about(mean);
        }
        Weighted { mean, weight, weight_squared, spread, spread_squared }
    }

    /// The further sums about the weighted mean `mean`.
    pub(crate) fn per_value(&self, within: f64, between: f64, mean: f64) -> PerValue {
        let mut sums = PerValue { weight_squared: 0.0, spread_squared: 0.0, reciprocal: 0.0 };
        for class in &self.classes {
            let (w, variance) = (class.weight(within, between), class.variance(within, between));
            sums.weight_squared += class.workers * w / variance;
            sums.spread_squared += w / variance * class.squares_about(mean);
            sums.reciprocal += class.workers / variance;
        }
        sums
    }

    /// Sum of `ln(within + n_i between)` over the workers.
    pub(crate) fn ln_variances(&self, within: f64, between: f64) -> f64 {
        self.classes.iter().map(|class| class.workers * class.variance(within, between).ln()).sum()
    }
}

impl Class {
    fn variance(&self, within: f64, between: f64) -> f64 {
        within + self.repeats * between
    }

    fn weight(&self, within: f64, between: f64) -> f64 {
        self.repeats / self.variance(within, between)
    }

    fn squares_about(&self, mean: f64) -> f64 {
        let off = self.mean - mean;
        self.spread + self.workers * off * off
    }
}

pub(crate) fn outside(what: &'static str, value: f64, allowed: &'static str) -> Error {
    Error::OutsideDomain { what, value, allowed }
}

fn check_shape(workers: usize, values: usize) -> Result<()> {
    if workers < 2 {
        return Err(outside("number of workers", workers as f64, "2 or more"));
    }
    if values <= workers {
        return Err(outside("number of values", values as f64, "more than the number of workers"));
    }
    Ok(())
}

/// One worker's count, mean above `reference` and sum of squares; subtracting a value of the same magnitude is exact.
fn reduce(values: &[f64], reference: f64) -> Result<(Worker, f64)> {
    if values.is_empty() {
        return Err(outside("number of values of one worker", 0.0, "1 or more"));
    }
    if let Some(&bad) = values.iter().find(|value| !value.is_finite() || value.abs() > LARGEST) {
        return Err(outside("value", bad, "finite and of magnitude up to 1e30"));
    }
    let above: Vec<f64> = values.iter().map(|value| value - reference).collect();
    let (mean, squares) = mean_and_squares(&above);
    let constant = above.iter().all(|value| *value == above[0]);
    let squares = if constant { 0.0 } else { squares };
    Ok((Worker { count: values.len(), mean }, squares))
}

fn grand_mean(workers: &[Worker], values: usize) -> f64 {
    sum(workers.iter().map(|worker| worker.count as f64 * worker.mean)) / values as f64
}

fn classify(workers: &[Worker]) -> Vec<Class> {
    let mut by_count: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for worker in workers {
        by_count.entry(worker.count).or_default().push(worker.mean);
    }
    by_count.into_iter().map(|(count, means)| class_of(count, &means)).collect()
}

fn class_of(count: usize, means: &[f64]) -> Class {
    let (mean, spread) = mean_and_squares(means);
    Class { repeats: count as f64, workers: means.len() as f64, mean, spread }
}
