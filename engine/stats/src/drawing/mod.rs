//! Drawing at random from a finite population: how many must be drawn for one of a few to be among them.

use crate::numeric::root;
use crate::{Error, Result};
use statrs::function::gamma::ln_gamma;

/// What two chances may differ by and still count as the same: a chance that is met exactly must not fail by rounding.
const ROUNDING: f64 = 1e-12;

/// The largest population.
const MOST: usize = 10_000_000;

/// The chance that none of `marked` members is among `drawn` drawn at random, without putting back, from `population`.
///
/// `(N - M)! (N - n)! / (N! (N - M - n)!)`, the hypergeometric probability of nil, as a product of `drawn` ratios. Relative error below 1e-12
/// (table `drawing-missed`). `marked` and `drawn` at most `population`, which is at most 1e7. Source: elementary. Fails with `OutsideDomain`.
///
/// ```
/// // 13 drawn of 20 miss both of the two highest with 7 x 6 / (20 x 19) = 0.1105 (by hand).
/// assert!((fullshift_stats::drawing::chance_missed(20, 2, 13)? - 42.0 / 380.0).abs() < 1e-15);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn chance_missed(population: usize, marked: usize, drawn: usize) -> Result<f64> {
    check_population(population)?;
    for (what, value) in [("number of marked members", marked), ("number drawn", drawn)] {
        if value > population {
            return Err(Error::OutsideDomain {
                what,
                value: value as f64,
                allowed: "at most the population",
            });
        }
    }
    // The product has as many factors as the smaller of the two numbers; which of them is drawn does not matter.
    let (few, many) = (marked.min(drawn), marked.max(drawn));
    let factor = |i: usize| (population - many).saturating_sub(i) as f64 / (population - i) as f64;
    Ok((0..few).map(factor).product())
}

/// The fewest to draw at random from `population` so that at least one of `marked` members is among them with `confidence`.
///
/// The smallest `n` at which [`chance_missed`] is at most `1 - confidence`, to rounding. `marked` from 1; `confidence` in (0, 1). Source:
/// elementary. Fails with `OutsideDomain`.
///
/// ```
/// // One of the highest 2 of 20 with 90 %: 13 miss both with 42/380, 14 with 30/380 (by hand).
/// assert_eq!(fullshift_stats::drawing::fewest(20, 2, 0.9)?, 14);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn fewest(population: usize, marked: usize, confidence: f64) -> Result<usize> {
    check_confidence(confidence)?;
    if marked == 0 {
        let what = "number of marked members";
        return Err(Error::OutsideDomain { what, value: 0.0, allowed: "1 or more" });
    }
    let serves = |drawn: usize| {
        Ok::<bool, Error>(chance_missed(population, marked, drawn)? <= 1.0 - confidence + ROUNDING)
    };
    let (mut low, mut high) = (0, population);
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if serves(middle)? { high = middle } else { low = middle }
    }
    Ok(high)
}

/// The number to draw as a real number, as printed tables have it: the `n` at which the hypergeometric probability of nil, with gamma functions for
/// the factorials and `share N` for the number of marked members, is `1 - confidence`.
///
/// NIOSH-77-173 prints this rounded to the nearest whole number, so that what it prints does not always reach the confidence; [`fewest`] does.
/// Never above `population`. Absolute error below 1e-9 (table `drawing-real-valued`). `share` and `confidence` in (0, 1). Source:
/// NIOSH-77-173, technical appendix A (recalled). Fails with `OutsideDomain`.
///
/// ```
/// // 20 workers, highest 10 %, 90 %: 13.315 (checked by mpmath); the manual prints 13 (recalled).
/// assert!((fullshift_stats::drawing::real_valued(20, 0.1, 0.9)? - 13.315).abs() < 0.0005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn real_valued(population: usize, share: f64, confidence: f64) -> Result<f64> {
    check_population(population)?;
    check_confidence(confidence)?;
    if !(share > 0.0 && share < 1.0) {
        return Err(Error::OutsideDomain { what: "share", value: share, allowed: "between 0 and 1" });
    }
    let whole = population as f64;
    let marked = share * whole;
    let ln_missed = |drawn: f64| {
        ln_gamma(whole - marked + 1.0) + ln_gamma(whole - drawn + 1.0)
            - ln_gamma(whole + 1.0)
            - ln_gamma(whole - marked - drawn + 1.0)
    };
    let target = (1.0 - confidence).ln();
    let last = (whole - marked + 1.0 - 1e-9).min(whole);
    if ln_missed(last) > target {
        return Ok(whole);
    }
    root::brent("number to draw", 1e-12, 0.0, last, |drawn| ln_missed(drawn) - target)
}

fn check_population(population: usize) -> Result<()> {
    if !(1..=MOST).contains(&population) {
        let value = population as f64;
        return Err(Error::OutsideDomain { what: "population", value, allowed: "from 1 to 1e7" });
    }
    Ok(())
}

fn check_confidence(confidence: f64) -> Result<()> {
    if !(confidence > 0.0 && confidence < 1.0) {
        return Err(Error::OutsideDomain {
            what: "confidence",
            value: confidence,
            allowed: "between 0 and 1",
        });
    }
    Ok(())
}
