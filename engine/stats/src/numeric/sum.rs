//! Sums that keep their digits.
//!
//! Source: A. Neumaier, Z. Angew. Math. Mech. 54 (1974) 39-51 (the improved Kahan-Babuska sum).

/// A running sum with its rounding error carried along.
#[derive(Debug, Clone, Copy, Default)]
pub struct Sum {
    total: f64,
    lost: f64,
}

impl Sum {
    /// Adds one value.
    pub fn add(&mut self, value: f64) {
        let next = self.total + value;
        self.lost += if self.total.abs() >= value.abs() {
            (self.total - next) + value
        } else {
            (value - next) + self.total
        };
        self.total = next;
    }

    /// The sum so far.
    pub fn value(&self) -> f64 {
        self.total + self.lost
    }
}

/// The sum of the values, compensated.
pub fn sum(values: impl IntoIterator<Item = f64>) -> f64 {
    let mut sum = Sum::default();
    values.into_iter().for_each(|v| sum.add(v));
    sum.value()
}

/// The arithmetic mean and the sum of squared deviations from it, in two compensated passes.
///
/// The second pass takes out what the rounded mean left over, so that a large offset costs no digits. An empty slice gives
/// `(0, 0)`.
pub fn mean_and_squares(values: &[f64]) -> (f64, f64) {
    if values.is_empty() {
        return (0.0, 0.0);
    }
    let n = values.len() as f64;
    let first = sum(values.iter().copied()) / n;
    let left = sum(values.iter().map(|v| v - first));
    let squares = sum(values.iter().map(|v| (v - first) * (v - first)));
    (first + left / n, (squares - left * left / n).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_between_two_huge_opposites_survives() {
        assert_eq!(sum([1e100, 1.0, -1e100]), 1.0);
    }

    #[test]
    fn a_large_offset_costs_no_digits_of_the_squares() {
        let (mean, squares) = mean_and_squares(&[10_000_001.0, 10_000_003.0, 10_000_002.0]);
        assert_eq!((mean, squares), (10_000_002.0, 2.0));
    }
}
