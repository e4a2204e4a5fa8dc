//! The share of a part in the sum of itself and a rest, each estimated on its own.

use crate::{Error, Result};

/// The limits of the share `a / (a + b)`, where `a` and `b` are told by estimate, lower and upper limit.
///
/// From the limits of `ln a` and `ln b`, those of their difference by recovering the variances: with `d = ln a - ln b`,
/// `d - sqrt((ln a - ln a_l)^2 + (ln b_u - ln b)^2)` and `d + sqrt((ln a_u - ln a)^2 + (ln b - ln b_l)^2)`; the share is
/// `1 / (1 + exp(-d))`. The confidence is that of the limits given; `a` and `b` are taken to be independent, and a spread that both
/// share makes the limits too wide. All of them positive and finite, each estimate from its lower to its upper limit.
/// Coverage: `tests/shares_coverage.rs`. Source: Zou-Donner-2008; Zou-Huo-Taleban-2009 for lognormal means (recalled). Fails with
/// `OutsideDomain`.
///
/// ```
/// use fullshift_stats::shares::between;
/// // Without error on either side the share is known: 3 of 4.
/// let (low, high) = between([3.0, 3.0, 3.0], [1.0, 1.0, 1.0])?;
/// assert!((low - 0.75).abs() < 1e-15 && (high - 0.75).abs() < 1e-15);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn between(part: [f64; 3], rest: [f64; 3]) -> Result<(f64, f64)> {
    let (a, b) = (logarithms(part)?, logarithms(rest)?);
    let difference = a[0] - b[0];
    let below = (a[0] - a[1]).hypot(b[2] - b[0]);
    let above = (a[2] - a[0]).hypot(b[0] - b[1]);
    let share = |ln_odds: f64| 1.0 / (1.0 + (-ln_odds).exp());
    Ok((share(difference - below), share(difference + above)))
}

fn logarithms(ends: [f64; 3]) -> Result<[f64; 3]> {
    let [estimate, lower, upper] = ends;
    for end in ends {
        if !(end > 0.0 && end < f64::INFINITY) {
            return Err(Error::OutsideDomain {
                what: "end of a part of a sum",
                value: end,
                allowed: "positive and finite",
            });
        }
    }
    if lower > estimate || upper < estimate {
        let what = "estimate of a part of a sum";
        return Err(Error::OutsideDomain {
            what,
            value: estimate,
            allowed: "from its lower to its upper limit",
        });
    }
    Ok(ends.map(f64::ln))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Distances of 3 and 4, and of 5 and 12, on the logarithmic scale: hypotenuses of 5 and 13.
    #[test]
    fn the_distances_of_the_logarithms_add_as_the_sides_of_a_right_angle() {
        let part = [0.0_f64, -3.0, 5.0].map(f64::exp);
        let rest = [0.0_f64, -12.0, 4.0].map(f64::exp);
        let (low, high) = between(part, rest).unwrap();
        assert!((low * (1.0 + 5.0_f64.exp()) - 1.0).abs() < 1e-14, "{low}");
        assert!((high * (1.0 + (-13.0_f64).exp()) - 1.0).abs() < 1e-14, "{high}");
    }

    #[test]
    fn part_and_rest_change_places_about_the_whole() {
        let (part, rest) = ([2.0, 1.2, 3.1], [7.0, 2.5, 8.0]);
        let ((low, high), (low_rest, high_rest)) =
            (between(part, rest).unwrap(), between(rest, part).unwrap());
        assert!((low + high_rest - 1.0).abs() < 1e-15 && (high + low_rest - 1.0).abs() < 1e-15);
    }

    #[test]
    fn ends_out_of_order_or_range_are_refused() {
        let fine = [2.0, 1.0, 3.0];
        for bad in
            [[0.0, 0.0, 1.0], [1.0, -1.0, 2.0], [1.0, 0.5, f64::INFINITY], [1.0, 1.1, 2.0], [1.0, 0.5, 0.9]]
        {
            assert!(between(bad, fine).is_err() && between(fine, bad).is_err(), "{bad:?}");
        }
        assert!(between([1.0, 1.0, 2.0], [1.0, 0.5, 1.0]).is_ok());
    }
}
