//! The incomplete gamma function, both sides, with full relative accuracy at large parameters.
//!
//! The common factor `x^a exp(-x) / Gamma(a+1)` is written with the Stirling remainder, so that nothing cancels at large
//! `a`; the rest is the power series below the mean and Legendre's continued fraction above. Sources: Abramowitz and Stegun
//! 6.5.29, 6.5.31, 6.1.41; NIST Digital Library of Mathematical Functions 8.7.1, 8.9.2.

use crate::{Error, Result, effort};

const MAX_TERMS: usize = 100_000;

/// The remainder of Stirling's formula: `ln Gamma(x) - ((x - 1/2) ln x - x + ln sqrt(2 pi))`, for `x` above zero.
pub fn stirling_remainder(x: f64) -> f64 {
    if x < 12.0 {
        // Upward recurrence to where the series serves.
        let steps = (12.0 - x).ceil();
        let mut carried = 0.0;
        for i in 0..steps as u32 {
            let y = x + f64::from(i);
            carried += 1.0 - (y + 0.5) * (1.0 / y).ln_1p();
        }
        return stirling_remainder(x + steps) - carried;
    }
    let inverse = 1.0 / x;
    let square = inverse * inverse;
    let series = [
        -3617.0 / 122_400.0,
        1.0 / 156.0,
        -691.0 / 360_360.0,
        1.0 / 1188.0,
        -1.0 / 1680.0,
        1.0 / 1260.0,
        -1.0 / 360.0,
        1.0 / 12.0,
    ];
    inverse * series.iter().fold(0.0, |sum, c| sum * square + c)
}

/// `ln(1 + x) - x` without cancellation, for `x` above -1.
pub fn ln_1p_minus(x: f64) -> f64 {
    if !(-0.6..=1.5).contains(&x) {
        return x.ln_1p() - x;
    }
    let r = x / (2.0 + x);
    let square = r * r;
    let (mut power, mut sum, mut k) = (square * r, 0.0, 3.0);
    while power.abs() > 1e-18 * x * x {
        sum += power / k;
        power *= square;
        k += 2.0;
    }
    2.0 * sum - x * r
}

/// `x^a exp(-x) / Gamma(a+1)`.
fn factor(a: f64, x: f64) -> f64 {
    if a < 1.0 {
        // Nothing large cancels here, and `x/a` need not be finite.
        return (a * x.ln() - x - libm::lgamma(1.0 + a)).exp();
    }
    let off = (x - a) / a;
    let per_unit = if x < 0.4 * a { (x / a).ln() - off } else { ln_1p_minus(off) };
    let exponent = a * per_unit - stirling_remainder(a);
    exponent.exp() / (std::f64::consts::TAU * a).sqrt()
}

fn allowed(a: f64, x: f64) -> Result<()> {
    if !(a > 0.0 && a <= 1e9) {
        return Err(Error::OutsideDomain {
            what: "gamma parameter",
            value: a,
            allowed: "above 0 and at most 1e9",
        });
    }
    if x.is_nan() || x < 0.0 {
        return Err(Error::OutsideDomain { what: "gamma argument", value: x, allowed: "0 or more" });
    }
    Ok(())
}

/// The regularised incomplete gamma function from zero to `x`: `P(a, x)`.
pub fn lower(a: f64, x: f64) -> Result<f64> {
    both(a, x).map(|tails| tails.0)
}

/// The regularised incomplete gamma function from `x` to infinity: `Q(a, x)`.
pub fn upper(a: f64, x: f64) -> Result<f64> {
    both(a, x).map(|tails| tails.1)
}

/// Both sides, the smaller computed directly.
pub(crate) fn both(a: f64, x: f64) -> Result<(f64, f64)> {
    allowed(a, x)?;
    effort::one();
    if x == 0.0 {
        return Ok((0.0, 1.0));
    }
    if x.is_infinite() {
        return Ok((1.0, 0.0));
    }
    if x < a + 1.0 {
        let low = (factor(a, x) * series(a, x)?).min(1.0);
        Ok((low, 1.0 - low))
    } else {
        let high = (factor(a, x) * a * fraction(a, x)?).min(1.0);
        Ok((1.0 - high, high))
    }
}

/// `1 + x/(a+1) + x^2/((a+1)(a+2)) + ...`
fn series(a: f64, x: f64) -> Result<f64> {
    let (mut term, mut sum) = (1.0, 1.0);
    for k in 1..MAX_TERMS {
        term *= x / (a + k as f64);
        sum += term;
        if term < 1e-17 * sum {
            return Ok(sum);
        }
    }
    Err(Error::NoConvergence { what: "incomplete gamma series" })
}

/// Legendre's continued fraction for `Gamma(a, x) / (x^a exp(-x))`, by Lentz's method.
fn fraction(a: f64, x: f64) -> Result<f64> {
    let tiny = f64::MIN_POSITIVE / f64::EPSILON;
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / tiny;
    let mut d = 1.0 / b;
    let mut value = d;
    for k in 1..MAX_TERMS {
        let k = k as f64;
        let top = -k * (k - a);
        b += 2.0;
        d = top * d + b;
        d = 1.0 / if d.abs() < tiny { tiny } else { d };
        c = b + top / c;
        c = if c.abs() < tiny { tiny } else { c };
        value *= d * c;
        if (d * c - 1.0).abs() < 2e-16 {
            return Ok(value);
        }
    }
    Err(Error::NoConvergence { what: "incomplete gamma continued fraction" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stirling_remainder_completes_the_factorials() {
        // ln 9! = 12.801827480081469611 (Abramowitz and Stegun, table 6.4 by ln 362880).
        let got = 9.5 * 10.0_f64.ln() - 10.0 + 0.918_938_533_204_672_8 + stirling_remainder(10.0);
        assert!((got - 362_880.0_f64.ln()).abs() < 4e-15, "{got}");
    }

    /// Values by mpmath with 40 digits.
    #[test]
    fn the_logarithm_less_its_argument_keeps_its_digits() {
        for (x, exact) in [
            (1e-12, -4.999_999_999_996_666e-25),
            (-1e-9, -5.000_000_003_333_334e-19),
            (1e-7, -4.999_999_666_666_691e-15),
            (-3e-5, -4.500_090_002_025_049e-10),
            (0.004, -7.978_730_462_547e-6),
            (-0.3, -0.056_674_943_938_732_374),
            (1.2, -0.411_542_639_635_729_8),
            (-0.9, -1.402_585_092_994_046),
            (5.0, -3.208_240_530_771_945),
        ] {
            assert!((ln_1p_minus(x) / exact - 1.0).abs() < 2e-15, "{x}: {}", ln_1p_minus(x));
        }
    }

    #[test]
    fn with_parameter_one_the_upper_side_is_the_exponential() {
        for x in [1e-5, 0.3, 1.9, 2.1, 30.0, 500.0] {
            let high = upper(1.0, x).unwrap();
            assert!((high / (-x).exp() - 1.0).abs() < 1e-13, "{x}: {high}");
        }
    }

    /// `Q(a, x)` tends to `a E1(x)` as a goes to nil (DLMF 8.4.4 and 8.19.1), far below the rounding of one.
    #[test]
    fn the_smallest_parameters_leave_all_below() {
        for a in [5e-324, 1e-310, 1e-100, 1e-30] {
            for x in [1e-3, 0.5, 1.0, 100.0, 1e300] {
                let (low, high) = both(a, x).unwrap();
                assert!(
                    low <= 1.0 && 1.0 - low < 1e-15 && (0.0..1e-15).contains(&high),
                    "{a} {x}: {low} {high}"
                );
            }
        }
    }

    #[test]
    fn arguments_outside_the_domain_are_refused() {
        assert!(lower(0.0, 1.0).is_err() && lower(1.0, f64::NAN).is_err() && upper(f64::NAN, 1.0).is_err());
    }
}
