//! Regression on order statistics: the values below their bounds are filled in from a line through the others.

use super::observation::{Observation, outside};
use crate::Result;
use crate::numeric::sum::mean_and_squares;
use crate::special::normal;

const LEAST_EXACT: usize = 3;

/// A line through the normal scores of the values found, and the sample filled up from it.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderRegression {
    /// The values found, rising, with plotting position and normal score.
    pub found: Vec<Plotted>,
    /// Intercept of the line: an estimate of the mean of the logarithms.
    pub intercept: f64,
    /// Slope of the line: an estimate of their standard deviation.
    pub slope: f64,
    /// Correlation of logarithms and scores.
    pub correlation: f64,
    /// All values, rising: those found, and for each bound a value on the line.
    pub filled: Vec<f64>,
}

/// A value at its plotting position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plotted {
    /// The value.
    pub value: f64,
    /// The estimated probability below it.
    pub position: f64,
    /// The standard normal quantile of that probability.
    pub score: f64,
}

/// The regression of the logarithms of the exact values on their normal scores, for one bound or several.
///
/// With bounds L_1 < ... < L_m, A_j values from L_j up to L_(j+1) and B_j values and bounds below L_j (a bound L_j included), the chance of
/// exceeding L_j is `E_j = E_(j+1) + A_j/(A_j + B_j) (1 - E_(j+1))`, E_(m+1) = 0, E_0 = 1. The i-th of the A_j values gets the
/// position `1 - E_j + i/(A_j + 1) (E_j - E_(j+1))`, the i-th of the C_j bounds L_j the position `i/(C_j + 1) (1 - E_j)`.
///
/// Accuracy: to every printed digit of the four samples of `fixtures/published/censored-order-regression.json`. A second opinion without limits.
/// Source: Hirsch and Stedinger, Water Resour. Res. 23 (1987) 715-727; Helsel and Cohn, Water Resour. Res. 24 (1988)
/// 1997-2004. Fails with `OutsideDomain` with fewer than three exact values, where these are all equal, or for intervals of another kind.
///
/// ```
/// use fullshift_stats::censored::{Observation, order_regression};
/// // Manganese, 25 values, six below 2 or 5 (EPA 530-R-09-007, example 15-2): correlation 0.9943942, mean of logs 2.277175.
/// let found = [12.1, 16.9, 21.6, 7.7, 53.6, 9.5, 45.9, 5.3, 12.6, 106.3, 34.5, 6.3, 11.9, 10.0, 77.2, 17.9, 22.7, 3.3, 8.4];
/// let mut all: Vec<_> = found.iter().map(|&x| Observation::exact(x).unwrap()).collect();
/// all.extend([5.0, 2.0, 5.0, 5.0, 2.0, 2.0].map(|bound| Observation::below(bound).unwrap()));
/// let line = order_regression(&all)?;
/// assert!((line.correlation - 0.9943942).abs() < 5e-8 && (line.mean_ln() - 2.277175).abs() < 5e-7);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn order_regression(observations: &[Observation]) -> Result<OrderRegression> {
    let (values, bounds) = split(observations)?;
    if values.len() < LEAST_EXACT {
        return Err(outside("number of exact values", values.len() as f64, "3 or more"));
    }
    let steps = exceedances(&values, &bounds);
    let found = plotted(&values, &steps)?;
    let (intercept, slope, correlation) = line(&found)?;
    let mut filled = values;
    for step in steps.iter().filter(|s| s.bounds > 0) {
        for i in 1..=step.bounds {
            let position = i as f64 / (step.bounds + 1) as f64 * (1.0 - step.exceedance);
            filled.push((intercept + slope * normal::quantile(position)?).exp());
        }
    }
    filled.sort_by(f64::total_cmp);
    Ok(OrderRegression { found, intercept, slope, correlation, filled })
}

fn split(observations: &[Observation]) -> Result<(Vec<f64>, Vec<f64>)> {
    let (mut values, mut bounds) = (Vec::new(), Vec::new());
    for o in observations {
        match (o.is_exact(), o.low() == 0.0 && o.high() < f64::INFINITY) {
            (true, _) => values.push(o.low()),
            (_, true) => bounds.push(o.high()),
            _ => return Err(outside("lower bound of an interval", o.low(), "0 or equal to the upper bound")),
        }
    }
    values.sort_by(f64::total_cmp);
    bounds.sort_by(f64::total_cmp);
    Ok((values, bounds))
}

/// A bound (zero for the values below all bounds), how many bounds equal it, the chance of exceeding it, the range of values from it
/// up to the next.
struct BoundStep {
    bounds: usize,
    exceedance: f64,
    first: usize,
    end: usize,
}

/// From the lowest bound up; the first step is that of zero, which is always exceeded.
fn exceedances(values: &[f64], bounds: &[f64]) -> Vec<BoundStep> {
    let mut distinct = bounds.to_vec();
    distinct.dedup();
    let first_at = |bound: f64| values.partition_point(|v| *v < bound);
    let (mut end, mut above) = (values.len(), 0.0);
    let mut steps = Vec::new();
    for &bound in distinct.iter().rev() {
        let first = first_at(bound);
        let below = first + bounds.partition_point(|b| *b <= bound);
        let from_here = (end - first) as f64;
        let exceedance = above + from_here / (from_here + below as f64) * (1.0 - above);
        let equal = bounds.iter().filter(|b| **b == bound).count();
        steps.push(BoundStep { bounds: equal, exceedance, first, end });
        (end, above) = (first, exceedance);
    }
    steps.push(BoundStep { bounds: 0, exceedance: 1.0, first: 0, end });
    steps.reverse();
    steps
}

fn plotted(values: &[f64], steps: &[BoundStep]) -> Result<Vec<Plotted>> {
    let mut found = Vec::with_capacity(values.len());
    for (j, step) in steps.iter().enumerate() {
        let next = steps.get(j + 1).map_or(0.0, |s| s.exceedance);
        let count = step.end - step.first;
        for (i, &value) in values[step.first..step.end].iter().enumerate() {
            let position =
                1.0 - step.exceedance + (i + 1) as f64 / (count + 1) as f64 * (step.exceedance - next);
            found.push(Plotted { value, position, score: normal::quantile(position)? });
        }
    }
    Ok(found)
}

/// Intercept, slope and correlation of the least-squares line of logarithms on scores.
fn line(found: &[Plotted]) -> Result<(f64, f64, f64)> {
    let logs: Vec<f64> = found.iter().map(|p| p.value.ln()).collect();
    let scores: Vec<f64> = found.iter().map(|p| p.score).collect();
    let (mean_log, squares_log) = mean_and_squares(&logs);
    let (mean_score, squares_score) = mean_and_squares(&scores);
    let products: f64 = logs.iter().zip(&scores).map(|(y, z)| (y - mean_log) * (z - mean_score)).sum();
    if squares_log <= 0.0 {
        return Err(outside("spread of the exact values", 0.0, "above 0: they are all equal"));
    }
    let slope = products / squares_score;
    Ok((mean_log - slope * mean_score, slope, products / (squares_log * squares_score).sqrt()))
}

impl OrderRegression {
    /// Mean of the filled sample.
    pub fn mean(&self) -> f64 {
        mean_and_squares(&self.filled).0
    }

    /// Standard deviation of the filled sample, with n - 1.
    pub fn sd(&self) -> f64 {
        sd(&self.filled)
    }

    /// Mean of the logarithms of the filled sample.
    pub fn mean_ln(&self) -> f64 {
        mean_and_squares(&self.logs()).0
    }

    /// Standard deviation of the logarithms of the filled sample, with n - 1.
    pub fn sd_ln(&self) -> f64 {
        sd(&self.logs())
    }

    fn logs(&self) -> Vec<f64> {
        self.filled.iter().map(|x| x.ln()).collect()
    }
}

fn sd(values: &[f64]) -> f64 {
    (mean_and_squares(values).1 / (values.len() as f64 - 1.0)).sqrt()
}
