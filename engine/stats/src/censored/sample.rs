//! A sample of observations made ready for the likelihood: centred logarithms, equal observations counted once.

use super::observation::{Observation, outside};
use crate::Result;
use crate::numeric::sum::mean_and_squares;

/// Some observations on the logarithmic scale.
///
/// Logarithms are taken of the ratio to a reference value near the middle of the data, so that data far from one lose no
/// digits and a change of unit by a power of two changes nothing. The order of the observations has no effect on any
/// digit. Observations between zero and infinity say nothing and are left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    pub(crate) size: usize,
    pub(crate) reference: f64,
    pub(crate) exact: Exact,
    pub(crate) groups: Vec<Group>,
    pub(crate) lowest: f64,
    pub(crate) highest: f64,
    sorted: Vec<Observation>,
}

/// The exact values, through their sufficient statistics (centred logarithms).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Exact {
    pub(crate) count: f64,
    pub(crate) mean: f64,
    pub(crate) squares: f64,
}

/// Equal intervals (centred logarithms) and how many there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Group {
    pub(crate) low: f64,
    pub(crate) high: f64,
    pub(crate) count: f64,
}

impl Sample {
    /// Groups and centres the observations.
    ///
    /// Fails with `OutsideDomain` if no observation says anything.
    pub fn new(observations: &[Observation]) -> Result<Self> {
        let mut sorted: Vec<Observation> =
            observations.iter().copied().filter(|o| !o.is_empty_handed()).collect();
        if sorted.is_empty() {
            return Err(outside("number of observations that say anything", 0.0, "1 or more"));
        }
        sorted.sort_by(|a, b| a.low().total_cmp(&b.low()).then(a.high().total_cmp(&b.high())));
        let reference = reference(&sorted);
        let logs: Vec<f64> =
            sorted.iter().filter(|o| o.is_exact()).map(|o| centred(o.low(), reference)).collect();
        let (mean, squares) = mean_and_squares(&logs);
        let exact = Exact { count: logs.len() as f64, mean, squares };
        let groups = groups(&sorted, reference);
        let finite = |bounds: [f64; 2]| bounds.into_iter().filter(|b| b.is_finite());
        let of_groups = groups.iter().flat_map(|g| finite([g.low, g.high]));
        let (lowest, highest) = of_groups
            .chain(logs.iter().copied())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), b| (l.min(b), h.max(b)));
        Ok(Sample { size: sorted.len(), reference, exact, groups, lowest, highest, sorted })
    }

    /// A sample of exact values.
    pub fn of_values(values: &[f64]) -> Result<Self> {
        let observations: Result<Vec<Observation>> = values.iter().map(|&v| Observation::exact(v)).collect();
        Self::new(&observations?)
    }

    /// How many observations say anything.
    pub fn size(&self) -> usize {
        self.size
    }

    /// The observations that say anything, in rising order.
    pub fn observations(&self) -> &[Observation] {
        &self.sorted
    }

    /// How many observations are known from both sides.
    pub fn bounded(&self) -> f64 {
        let groups = self.groups.iter().filter(|g| g.low.is_finite() && g.high.is_finite());
        self.exact.count + groups.map(|g| g.count).sum::<f64>()
    }

    /// How many observations are exact.
    pub(crate) fn exact_count(&self) -> f64 {
        self.exact.count
    }

    /// Mean and standard deviation of mu given sigma, from the exact values under a flat prior.
    pub(crate) fn location_given(&self, sigma: f64) -> (f64, f64) {
        (self.exact.mean, sigma / self.exact.count.sqrt())
    }

    /// The standard deviation of the logarithms, with n - 1, if all values are exact.
    pub(crate) fn standard_deviation(&self) -> Option<f64> {
        self.is_complete().then(|| (self.exact.squares / (self.exact.count - 1.0)).sqrt())
    }

    /// The lowest value that lies in every interval, if there is one.
    pub(crate) fn common_point(&self) -> Option<f64> {
        let low = self.sorted.iter().map(Observation::low).fold(0.0, f64::max);
        let high = self.sorted.iter().map(Observation::high).fold(f64::INFINITY, f64::min);
        (low <= high).then_some(low)
    }

    /// Whether every observation is exact.
    pub fn is_complete(&self) -> bool {
        self.groups.is_empty()
    }

    /// A value on the measurement scale as a centred logarithm.
    pub(crate) fn log_of(&self, value: f64) -> f64 {
        centred(value, self.reference)
    }

    /// A centred logarithm as a value on the measurement scale.
    pub(crate) fn value_of(&self, log: f64) -> f64 {
        let factor = log.exp();
        if factor.is_finite() && factor > f64::MIN_POSITIVE {
            self.reference * factor
        } else {
            (self.reference.ln() + log).exp()
        }
    }

    /// A centred logarithm as a plain natural logarithm.
    pub(crate) fn absolute(&self, log: f64) -> f64 {
        log + self.reference.ln()
    }

    /// Mean and standard deviation of the logarithms with every interval shrunk to a point: where a search may begin.
    pub(crate) fn rough(&self) -> (f64, f64) {
        let (mut n, mut total) = (self.exact.count, self.exact.count * self.exact.mean);
        for g in &self.groups {
            n += g.count;
            total += g.count * g.middle();
        }
        let mean = total / n;
        let mut squares = self.exact.squares + self.exact.count * (self.exact.mean - mean).powi(2);
        for g in &self.groups {
            squares += g.count * (g.middle() - mean).powi(2);
        }
        let spread = (squares / n).sqrt();
        let least = 0.05 * (self.highest - self.lowest);
        (mean, if spread > 0.0 { spread.max(least) } else { 1.0 })
    }
}

impl Group {
    /// The point that stands for the interval in a rough start: its middle, or its finite end.
    fn middle(&self) -> f64 {
        match (self.low.is_finite(), self.high.is_finite()) {
            (true, true) => 0.5 * (self.low + self.high),
            (true, false) => self.low,
            _ => self.high,
        }
    }
}

/// A finite positive bound near the middle of the sorted observations.
fn reference(sorted: &[Observation]) -> f64 {
    let middle = sorted[sorted.len() / 2];
    if middle.low() > 0.0 { middle.low() } else { middle.high() }
}

fn centred(value: f64, reference: f64) -> f64 {
    let ratio = value / reference;
    if ratio.is_normal() { ratio.ln() } else { value.ln() - reference.ln() }
}

fn groups(sorted: &[Observation], reference: f64) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let mut last: Option<Observation> = None;
    for o in sorted.iter().filter(|o| !o.is_exact()) {
        match groups.last_mut() {
            Some(group) if last == Some(*o) => group.count += 1.0,
            _ => {
                let (low, high) = (centred(o.low(), reference), centred(o.high(), reference));
                groups.push(Group { low, high, count: 1.0 });
            }
        }
        last = Some(*o);
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_observations_are_counted_once() {
        let all: Vec<Observation> = (0..7).map(|_| Observation::below(2.0).unwrap()).collect();
        let sample = Sample::new(&all).unwrap();
        assert_eq!((sample.groups.len(), sample.groups[0].count, sample.size()), (1, 7.0, 7));
    }

    #[test]
    fn values_at_the_ends_of_the_number_range_have_finite_logarithms() {
        let sample = Sample::of_values(&[1e-300, 1e300, 5e-324]).unwrap();
        assert!(sample.exact.mean.is_finite() && sample.exact.squares.is_finite());
        assert!((sample.value_of(sample.log_of(1e300)) / 1e300 - 1.0).abs() < 1e-12);
    }

    #[test]
    fn an_observation_between_zero_and_infinity_is_left_out() {
        let nothing = Observation::above(0.0).unwrap();
        assert!(Sample::new(&[nothing]).is_err());
        assert_eq!(Sample::new(&[nothing, Observation::exact(2.0).unwrap()]).unwrap().size(), 1);
    }
}
