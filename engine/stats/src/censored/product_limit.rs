//! The product-limit (Kaplan-Meier) distribution of left-censored values.

use super::observation::{Observation, outside};
use crate::Result;

/// A distribution without a model: the mass at each value found, and what is left below them.
#[derive(Debug, Clone, PartialEq)]
pub struct ProductLimit {
    /// The values found, rising, each with its mass and the probability below it.
    pub steps: Vec<Step>,
    /// The probability below all values found.
    pub leftover: f64,
    /// Where that probability is put: the lowest bound, or the lowest value where nothing is left over.
    pub leftover_at: f64,
}

/// One value of the distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The value.
    pub value: f64,
    /// The probability of it.
    pub mass: f64,
    /// The probability of anything below it.
    pub below: f64,
}

/// The product-limit distribution of values of which some are known only to lie below a bound.
///
/// From the highest value down, the probability below a value v is that below the next one times `1 - d/r`, with d the number of
/// values equal to v and r the number of values and bounds not above v; a bound equal to a value counts as below it. What is left below
/// the lowest value is put at the lowest bound (Efron's rule), which makes the mean too high.
///
/// Accuracy: exact but for rounding, to 1e-12 against `fixtures/published/censored-product-limit.json` (exact fractions).
/// Source: Kaplan and Meier, J. Am. Statist. Assoc. 53 (1958) 457-481; USEPA 530-R-09-007 (2009), section 15.2.
/// Fails with `OutsideDomain` without a single exact value, or for intervals of another kind (see
/// [`turnbull`](super::turnbull)).
///
/// ```
/// use fullshift_stats::censored::{Observation, product_limit};
/// // Three limits, 24 values (Helsel 2005, chapter 6): the mean is 0.949.
/// let found = [1.7, 3.2, 2.8, 0.7, 0.9, 0.5, 0.5, 0.5, 0.7, 0.6, 1.5];
/// let mut all: Vec<_> = found.iter().map(|&x| Observation::exact(x).unwrap()).collect();
/// for (bound, count) in [(0.9, 1), (1.0, 4), (2.0, 8)] {
///     all.extend((0..count).map(|_| Observation::below(bound).unwrap()));
/// }
/// assert!((product_limit(&all)?.mean() - 0.949).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn product_limit(observations: &[Observation]) -> Result<ProductLimit> {
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
    let Some(&lowest) = values.first() else {
        return Err(outside("number of exact values", 0.0, "1 or more"));
    };
    let mut steps = steps(&values, &bounds);
    steps.reverse();
    let leftover = steps[0].below;
    let leftover_at = if leftover > 0.0 { bounds[0] } else { lowest };
    Ok(ProductLimit { steps, leftover, leftover_at })
}

/// The steps from the highest down.
fn steps(values: &[f64], bounds: &[f64]) -> Vec<Step> {
    let mut steps = Vec::new();
    let (mut at_most, mut bounds_left, mut reached) = (values.len(), bounds.len(), 1.0);
    while at_most > 0 {
        let value = values[at_most - 1];
        let below = values[..at_most].partition_point(|v| *v < value);
        while bounds_left > 0 && bounds[bounds_left - 1] > value {
            bounds_left -= 1;
        }
        let equal = at_most - below;
        let next = reached * ((below + bounds_left) as f64 / (at_most + bounds_left) as f64);
        steps.push(Step {
            value,
            mass: reached * (equal as f64 / (at_most + bounds_left) as f64),
            below: next,
        });
        (reached, at_most) = (next, below);
    }
    steps
}

impl ProductLimit {
    /// The mean, too high where probability is left over.
    pub fn mean(&self) -> f64 {
        self.leftover * self.leftover_at + self.steps.iter().map(|s| s.mass * s.value).sum::<f64>()
    }

    /// The standard deviation of the distribution (no factor n/(n - 1)).
    pub fn sd(&self) -> f64 {
        let mean = self.mean();
        let square = |x: f64| (x - mean) * (x - mean);
        let left = self.leftover * square(self.leftover_at);
        (left + self.steps.iter().map(|s| s.mass * square(s.value)).sum::<f64>()).sqrt()
    }

    /// The lowest value with at least probability `p` at or below it; none where that is among what is left over.
    pub fn percentile(&self, p: f64) -> Option<f64> {
        let reaches = |s: &&Step| s.below + s.mass >= p * (1.0 - 1e-12);
        if p.is_nan() || p <= self.leftover || p > 1.0 {
            None
        } else {
            self.steps.iter().find(reaches).map(|s| s.value)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(values: &[f64], bounds: &[f64]) -> ProductLimit {
        let exact = values.iter().map(|&x| Observation::exact(x).unwrap());
        let below = bounds.iter().map(|&x| Observation::below(x).unwrap());
        product_limit(&exact.chain(below).collect::<Vec<_>>()).unwrap()
    }

    /// 4 is one of three at most 4: a third; what is left, two thirds, falls to 2, as the bound of 3 says nothing below it.
    #[test]
    fn a_percentile_is_the_lowest_value_that_reaches_it() {
        let found = of(&[2.0, 4.0], &[3.0]);
        let at = |p: f64| found.percentile(p);
        assert_eq!([0.01, 0.66, 2.0 / 3.0, 0.67, 1.0].map(at), [2.0, 2.0, 2.0, 4.0, 4.0].map(Some));
        assert_eq!([f64::NAN, 0.0, 1.01].map(at), [None; 3]);
    }

    /// A bound equal to the only value counts as below it: half is left over, and put at the bound.
    #[test]
    fn a_percentile_among_what_is_left_over_is_not_given() {
        let found = of(&[4.0], &[4.0]);
        assert_eq!((found.leftover, found.leftover_at), (0.5, 4.0));
        assert_eq!([0.3, 0.5, 0.51].map(|p| found.percentile(p)), [None, None, Some(4.0)]);
    }
}
