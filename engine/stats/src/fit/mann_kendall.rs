//! The test of Mann and Kendall for a trend in time.

use crate::special::normal;
use crate::{Error, Result};

/// Up to this many values, none at equal times, the p-value is exact.
const EXACT_TO: usize = 60;
const MOST: usize = 20_000;

/// What the test found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trend {
    /// Pairs that rise with time less pairs that fall.
    pub s: f64,
    /// The variance of `s` without a trend, ties allowed for.
    pub variance: f64,
    /// The chance of an `s` this far from zero or farther, either way, without a trend.
    pub p: f64,
    /// Whether `p` counts all orders of the values, or comes from the normal distribution with continuity correction.
    pub is_exact: bool,
}

/// Mann and Kendall's test of 3 to 20,000 values, each with its time, not all values nor all times equal.
///
/// `S = sum over pairs of sign(t_j - t_i) sign(x_j - x_i)`. To 60 values at different times `p` is exact, ties among the values included: the
/// number of orders with each `S` is a Gaussian multinomial coefficient. Beyond, or with equal times, `S` less 1 over its standard deviation
/// is taken as normal. Exact counts agree with Kendall's table (table `mann-kendall`). Sources: Mann-1945, Kendall-1975. Fails with
/// `OutsideDomain`.
///
/// ```
/// // Kendall-1975: of the 24 orders of four values one rises throughout (S = 6) and one falls: p = 2/24
/// let trend = fullshift_stats::fit::mann_kendall(&[1.0, 2.0, 3.0, 4.0], &[0.2, 0.5, 0.9, 1.1])?;
/// assert!(trend.s == 6.0 && (trend.p - 1.0 / 12.0).abs() < 1e-15);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn mann_kendall(times: &[f64], values: &[f64]) -> Result<Trend> {
    check(times, values)?;
    let s = statistic(times, values);
    let (time_ties, value_ties) = (ties(times), ties(values));
    let n = values.len();
    if time_ties.len() == 1 || value_ties.len() == 1 {
        let (what, value) = if value_ties.len() == 1 {
            ("value, which all values equal", values[0])
        } else {
            ("time, which all times equal", times[0])
        };
        return Err(Error::OutsideDomain { what, value, allowed: "different ones" });
    }
    let variance = variance(n, &time_ties, &value_ties);
    let is_exact = n <= EXACT_TO && time_ties.len() == n;
    let p = if is_exact {
        exact_p(s, n, &value_ties)
    } else {
        let score = (s.abs() - 1.0).max(0.0) / variance.sqrt();
        (2.0 * normal::upper(score)).min(1.0)
    };
    Ok(Trend { s, variance, p, is_exact })
}

fn check(times: &[f64], values: &[f64]) -> Result<()> {
    let n = values.len();
    if times.len() != n {
        let allowed = "as many as there are values";
        return Err(Error::OutsideDomain { what: "number of times", value: times.len() as f64, allowed });
    }
    if !(3..=MOST).contains(&n) {
        return Err(Error::OutsideDomain {
            what: "number of values",
            value: n as f64,
            allowed: "from 3 to 20,000",
        });
    }
    match times.iter().chain(values).find(|v| !v.is_finite()) {
        Some(&value) => Err(Error::OutsideDomain { what: "time or value", value, allowed: "finite" }),
        None => Ok(()),
    }
}

fn statistic(times: &[f64], values: &[f64]) -> f64 {
    let mut s = 0_i64;
    for i in 1..values.len() {
        for j in 0..i {
            s += sign(times[i], times[j]) * sign(values[i], values[j]);
        }
    }
    s as f64
}

fn sign(a: f64, b: f64) -> i64 {
    i64::from(a > b) - i64::from(a < b)
}

/// How often each different number occurs.
fn ties(numbers: &[f64]) -> Vec<usize> {
    let mut sorted = numbers.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.chunk_by(|a, b| a == b).map(<[f64]>::len).collect()
}

/// The variance of `S` with ties in either (Kendall-1975, chapter 4).
fn variance(n: usize, time_ties: &[usize], value_ties: &[usize]) -> f64 {
    let n = n as f64;
    let over = |ties: &[usize], f: fn(f64) -> f64| -> f64 { ties.iter().map(|&t| f(t as f64)).sum() };
    let cubic = |t: f64| t * (t - 1.0) * (2.0 * t + 5.0);
    let triple = |t: f64| t * (t - 1.0) * (t - 2.0);
    let double = |t: f64| t * (t - 1.0);
    (cubic(n) - over(time_ties, cubic) - over(value_ties, cubic)) / 18.0
        + over(time_ties, triple) * over(value_ties, triple) / (9.0 * triple(n))
        + over(time_ties, double) * over(value_ties, double) / (2.0 * double(n))
}

/// The share of all orders of values with these ties whose `S` lies as far from zero as this, or farther.
fn exact_p(s: f64, n: usize, value_ties: &[usize]) -> f64 {
    let shares = inversion_shares(n, value_ties);
    // Without ties among times, S = pairs that differ - 2 x inversions.
    let pairs = shares.len() as f64 - 1.0;
    let far = |inversions: usize| (pairs - 2.0 * inversions as f64).abs() >= s.abs() - 0.5;
    shares.iter().enumerate().filter(|(k, _)| far(*k)).map(|(_, share)| share).sum::<f64>().min(1.0)
}

/// The share of orders with each number of inversions: groups of equal values are added one after another, and adding `t` to `m` values
/// multiplies by the Gaussian binomial coefficient of `m + t` over `t`.
fn inversion_shares(n: usize, value_ties: &[usize]) -> Vec<f64> {
    let mut shares = vec![1.0];
    let mut before = 0;
    for &t in value_ties {
        for k in 1..=t {
            // times (1 - q^(before + k)) / (1 - q^k), and the same at q = 1 to keep the total at one
            shares = by_ratio(&shares, before + k, k);
        }
        before += t;
    }
    debug_assert_eq!(before, n);
    shares
}

/// The polynomial times `(1 - q^up) / (1 - q^down)`, over `up / down`. The product is a polynomial again.
fn by_ratio(polynomial: &[f64], up: usize, down: usize) -> Vec<f64> {
    let degree = polynomial.len() - 1 + up;
    let mut result = vec![0.0; degree + 1];
    for (k, c) in polynomial.iter().enumerate() {
        result[k] += c;
        result[k + up] -= c;
    }
    for k in down..=degree {
        result[k] += result[k - down];
    }
    result.truncate(degree - down + 1);
    let scale = down as f64 / up as f64;
    result.iter_mut().for_each(|c| *c = (*c * scale).max(0.0));
    result
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_inversions_add_to_one_and_mirror() {
        for ties in [vec![1; 12], vec![2, 1, 3, 4], vec![1; 60], vec![5, 5]] {
            let shares = inversion_shares(ties.iter().sum(), &ties);
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-10, "{ties:?}");
            let mirrored: Vec<f64> = shares.iter().rev().copied().collect();
            assert!(shares.iter().zip(&mirrored).all(|(a, b)| (a - b).abs() < 1e-12), "{ties:?}");
        }
    }

    #[test]
    fn six_orders_of_two_pairs_have_known_inversions() {
        // aabb 0, abab 1, abba 2, baab 2, baba 3, bbaa 4
        let sixth = 1.0 / 6.0;
        let expected = [sixth, sixth, 2.0 * sixth, sixth, sixth];
        let got = inversion_shares(4, &[2, 2]);
        assert!(got.len() == 5 && got.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-15));
    }

    /// Every order of six values is equally likely without a trend: the variance of S over all 720 of them.
    #[test]
    fn with_ties_in_both_the_variance_is_that_over_all_orders() {
        let times = [1.0, 1.0, 2.0, 3.0, 3.0, 3.0];
        for values in [[1.0, 2.0, 2.0, 3.0, 4.0, 4.0], [7.0, 7.0, 7.0, 8.0, 9.0, 9.5]] {
            let mut all = Vec::new();
            permute(&mut values.clone(), 0, &mut |order| all.push(statistic(&times, order)));
            let over_all = all.iter().map(|s| s * s).sum::<f64>() / all.len() as f64;
            let found = variance(6, &ties(&times), &ties(&values));
            assert!(all.len() == 720 && (found / over_all - 1.0).abs() < 1e-12, "{found} {over_all}");
        }
    }

    /// Beyond sixty values, and with ties in time, the normal distribution takes over; values by the formulas and SciPy 1.17.1.
    #[test]
    fn many_values_and_equal_times_have_the_chance_of_the_normal_distribution() {
        let times: Vec<f64> = (1..=70).map(f64::from).collect();
        let values: Vec<f64> = (1..=70).map(|i| f64::from(i * 37 % 101) + 0.7 * f64::from(i)).collect();
        let trend = mann_kendall(&times, &values).unwrap();
        assert!(!trend.is_exact && trend.s == 691.0);
        assert!((trend.p / 0.000_468_648_292_219_046_9 - 1.0).abs() < 1e-11, "{trend:?}");
        let times = [1.0, 1.0, 2.0, 3.0, 3.0, 4.0, 5.0, 5.0, 6.0, 6.0];
        let values = [2.0, 1.0, 3.0, 2.5, 4.0, 3.5, 3.0, 5.0, 4.5, 6.0];
        let trend = mann_kendall(&times, &values).unwrap();
        assert!(!trend.is_exact && trend.s == 30.0);
        assert!((trend.p / 0.008_136_660_472_299_138 - 1.0).abs() < 1e-11, "{trend:?}");
    }

    fn permute(values: &mut [f64], from: usize, see: &mut impl FnMut(&[f64])) {
        if from == values.len() {
            return see(values);
        }
        for i in from..values.len() {
            values.swap(from, i);
            permute(values, from + 1, see);
            values.swap(from, i);
        }
    }
}
