//! The logarithm of a product of interval probabilities, as fast as it can be had.

use super::interval::truncated;
use crate::special::normal;

/// Below this share of the tail beside it an interval is too narrow for a difference of tails.
const NARROW: f64 = 1e-3;
/// Tails beyond this many standard deviations are too small to be subtracted.
const REMOTE: f64 = 35.0;

/// A running product of probabilities of intervals under the standard normal distribution.
///
/// One complementary error function for each new end of an interval, none for an end shared with the interval before, and a
/// logarithm only when the product would leave the range of double precision.
#[derive(Debug)]
pub(crate) struct LogProduct {
    log: f64,
    product: f64,
    end: f64,
    tail: f64,
}

impl LogProduct {
    pub(crate) fn new() -> Self {
        LogProduct { log: 0.0, product: 1.0, end: f64::NAN, tail: 0.0 }
    }

    /// Multiplies by P(low < Z < high) to the power `count`; `width` is the best value of `high - low`.
    pub(crate) fn multiply(&mut self, low: f64, high: f64, width: f64, count: f64) {
        let below = if low == self.end { self.tail } else { tail(low) };
        let above = tail(high);
        (self.end, self.tail) = (high, above);
        let (probability, whole) = match (low >= 0.0, high <= 0.0) {
            (true, _) => (below - above, below),
            (_, true) => (above - below, above),
            _ => (1.0 - below - above, 1.0),
        };
        let trusted = probability > NARROW * whole && low < REMOTE && high > -REMOTE;
        if !trusted {
            self.log += count * truncated(low, high, width).log_probability;
        } else if count == 1.0 && probability > 1e-100 {
            self.product *= probability;
            if self.product < 1e-200 {
                self.log += self.product.ln();
                self.product = 1.0;
            }
        } else {
            self.log += count * probability.ln();
        }
    }

    /// The logarithm of the product.
    pub(crate) fn ln(&self) -> f64 {
        self.log + self.product.ln()
    }
}

/// The probability beyond `z` on its own side of zero.
fn tail(z: f64) -> f64 {
    normal::upper(z.abs())
}

/// ln P(low < Z < high) alone.
pub(crate) fn log_probability(low: f64, high: f64, width: f64) -> f64 {
    let mut product = LogProduct::new();
    product.multiply(low, high, width, 1.0);
    product.ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    const INF: f64 = f64::INFINITY;

    #[test]
    fn the_product_is_the_sum_of_the_single_logarithms() {
        let all = [
            (-1.0, 2.0, 3.0),
            (2.0, 4.0, 1.0),
            (4.0, 4.001, 2.0),
            (-INF, -3.0, 1.0),
            (-60.0, -50.0, 1.0),
            (36.0, INF, 5.0),
            (-INF, 9.0, 1e4),
        ];
        let mut product = LogProduct::new();
        let mut sum = 0.0;
        for (low, high, count) in all {
            product.multiply(low, high, high - low, count);
            sum += count * truncated(low, high, high - low).log_probability;
        }
        assert!((product.ln() - sum).abs() < 1e-12 * sum.abs(), "{} {sum}", product.ln());
    }

    #[test]
    fn many_small_probabilities_do_not_underflow() {
        let mut product = LogProduct::new();
        (0..1000).for_each(|_| product.multiply(5.0, INF, INF, 1.0));
        assert!((product.ln() / 1000.0 - truncated(5.0, INF, INF).log_probability).abs() < 1e-12);
    }
}
