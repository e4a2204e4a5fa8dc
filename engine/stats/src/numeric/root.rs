//! Roots of a function of one variable.
//!
//! Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4.

use crate::{Error, Result};

const STEPS: usize = 200;

/// The root of `f` between `low` and `high`, where `f` has opposite signs (or is zero at an end).
///
/// Brent's method: inverse quadratic interpolation guarded by bisection. Stops when the bracket is narrower than
/// about two units in the last place of the root plus `absolute`, or at an exact zero. `what` names the computation in
/// an error.
///
/// Fails with `NoConvergence` when the signs agree, when `f` returns a value that is not a number, or after 200 steps.
pub fn brent(
    what: &'static str,
    absolute: f64,
    low: f64,
    high: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Result<f64> {
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Ok(a);
    }
    if fb == 0.0 {
        return Ok(b);
    }
    if (fa > 0.0) == (fb > 0.0) || fa.is_nan() || fb.is_nan() {
        return Err(Error::NoConvergence { what });
    }
    let (mut c, mut fc) = (a, fa);
    let mut step = b - a;
    let mut before = step;
    for _ in 0..STEPS {
        if fc.abs() < fb.abs() {
            (a, b, c) = (b, c, b);
            (fa, fb, fc) = (fb, fc, fb);
        }
        let tolerance = 2.0 * f64::EPSILON * b.abs() + 0.5 * absolute;
        let half = 0.5 * (c - b);
        if half.abs() <= tolerance || fb == 0.0 {
            return Ok(b);
        }
        if before.abs() >= tolerance && fa.abs() > fb.abs() {
            let (p, q) = interpolation(a, b, c, fa, fb, fc);
            if 2.0 * p < (3.0 * half * q - (tolerance * q).abs()).min((before * q).abs()) {
                before = step;
                step = p / q;
            } else {
                step = half;
                before = half;
            }
        } else {
            step = half;
            before = half;
        }
        (a, fa) = (b, fb);
        b += if step.abs() > tolerance { step } else { tolerance.copysign(half) };
        fb = f(b);
        if fb.is_nan() {
            break;
        }
        if (fb > 0.0) == (fc > 0.0) {
            (c, fc) = (a, fa);
            step = b - a;
            before = step;
        }
    }
    Err(Error::NoConvergence { what })
}

/// Numerator and denominator (numerator not negative) of the secant or inverse quadratic step from `b`.
fn interpolation(a: f64, b: f64, c: f64, fa: f64, fb: f64, fc: f64) -> (f64, f64) {
    let s = fb / fa;
    let half = 0.5 * (c - b);
    let (p, q) = if a == c {
        (2.0 * half * s, 1.0 - s)
    } else {
        let (u, r) = (fa / fc, fb / fc);
        (s * (2.0 * half * u * (u - r) - (b - a) * (r - 1.0)), (u - 1.0) * (r - 1.0) * (s - 1.0))
    };
    if p > 0.0 { (p, -q) } else { (-p, q) }
}

/// Two points around a root of `f`, found by walking from `start` in both directions with steps that double.
///
/// `f` must change sign once and rise or fall throughout. Stops at `bounds`. Fails with `NoConvergence` when no change of
/// sign is found.
pub fn bracket(
    what: &'static str,
    start: f64,
    first_step: f64,
    bounds: (f64, f64),
    mut f: impl FnMut(f64) -> f64,
) -> Result<(f64, f64)> {
    let (mut low, mut high) = (start, start);
    let mut f_low = f(start);
    let mut f_high = f_low;
    let mut step = first_step;
    for _ in 0..STEPS {
        if f_low == 0.0 || f_high == 0.0 || (f_low > 0.0) != (f_high > 0.0) {
            return Ok((low, high));
        }
        if f_low.is_nan() || f_high.is_nan() || (low <= bounds.0 && high >= bounds.1) {
            break;
        }
        low = (low - step).max(bounds.0);
        high = (high + step).min(bounds.1);
        (f_low, f_high) = (f(low), f(high));
        step *= 2.0;
    }
    Err(Error::NoConvergence { what })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_of_x_squared_minus_two_is_the_square_root_of_two() {
        let root = brent("root", 0.0, 0.0, 2.0, |x| x * x - 2.0).unwrap();
        assert!((root - std::f64::consts::SQRT_2).abs() <= 4.0 * f64::EPSILON, "{root}");
    }

    #[test]
    fn a_flat_cubic_root_is_found_in_bounded_steps() {
        let mut calls = 0;
        let root = brent("root", 1e-12, -1.0, 3.0, |x| {
            calls += 1;
            (x - 0.5).powi(3)
        })
        .unwrap();
        assert!((root - 0.5).abs() < 1e-5 && calls < 150, "{root} after {calls}");
    }

    #[test]
    fn equal_signs_and_values_that_are_no_numbers_are_refused() {
        assert!(brent("root", 0.0, 1.0, 2.0, |x| x).is_err());
        assert!(brent("root", 0.0, -1.0, 2.0, |_| f64::NAN).is_err());
        assert!(bracket("root", 0.0, 1.0, (-5.0, 5.0), |_| 1.0).is_err());
    }

    #[test]
    fn a_bracket_is_found_far_from_the_start() {
        let (low, high) = bracket("root", 0.0, 1.0, (f64::MIN, f64::MAX), |x| x - 1e6).unwrap();
        assert!(low <= 1e6 && high >= 1e6);
    }

    /// A function, its bracket, and the evaluations that `brentq` of SciPy 1.17.1 takes to the last digit.
    type Counted = (fn(f64) -> f64, (f64, f64), usize);

    const COUNTED: [Counted; 9] = [
        (|x| x * x - 2.0, (0.0, 2.0), 10),
        (|x| x.cos() - x, (0.0, 1.0), 8),
        (|x| x.exp() - 2.0, (-5.0, 5.0), 13),
        (|x| x.powi(3) - 2.0 * x - 5.0, (2.0, 3.0), 8),
        (|x| 1.0 / x - 3.0, (0.01, 10.0), 15),
        (|x| x.ln(), (0.1, 20.0), 12),
        (|x| (x - 1.0).atan(), (-10.0, 30.0), 11),
        (|x| x.powi(9) - 1e-3, (-1.0, 4.0), 20),
        (|x| (-x).exp() - x, (0.0, 1.0), 7),
    ];

    /// Interpolation that is off still ends at the root, by halving: it is seen in the number of steps alone.
    #[test]
    fn smooth_functions_take_as_many_steps_as_elsewhere() {
        for (i, (f, (low, high), elsewhere)) in COUNTED.into_iter().enumerate() {
            for turned in [1.0, -0.25] {
                let mut calls = 0;
                let root = brent("root", 0.0, low, high, |x| {
                    calls += 1;
                    turned * f(x)
                });
                assert!(f(root.unwrap()).abs() < 1e-14, "{i}");
                assert_eq!(calls, elsewhere, "{i}");
            }
        }
    }

    #[test]
    fn a_wider_tolerance_saves_steps_and_is_kept() {
        for (f, (low, high), elsewhere) in COUNTED {
            let exact = brent("root", 0.0, low, high, f).unwrap();
            let mut calls = 0;
            let root = brent("root", 1e-3, low, high, |x| {
                calls += 1;
                f(x)
            });
            assert!((root.unwrap() - exact).abs() <= 1e-3 && calls < elsewhere, "{exact}");
        }
    }

    #[test]
    fn a_root_at_an_end_is_that_end() {
        for (low, high) in [(0.0, 1.0), (-1.0, 0.0)] {
            assert_eq!(brent("root", 0.0, low, high, |x| x), Ok(0.0));
            assert_eq!(bracket("root", low, 1.0, (-1.0, 1.0), |x| x).map(|(a, b)| a * b), Ok(0.0));
        }
    }

    /// The steps double: 1, 3, 7, ... from the start.
    #[test]
    fn a_bracket_of_a_root_a_million_off_takes_twenty_steps_and_keeps_to_its_bounds() {
        let mut calls = 0;
        let (low, high) = bracket("root", 0.0, 1.0, (-10.0, f64::MAX), |x| {
            calls += 1;
            x - 1e6
        })
        .unwrap();
        assert_eq!((low, high, calls), (-10.0, 1_048_575.0, 1 + 2 * 20));
        let (low, high) = bracket("root", 0.0, 1.0, (f64::MIN, 10.0), |x| x + 1e6).unwrap();
        assert_eq!((low, high), (-1_048_575.0, 10.0));
    }
}
