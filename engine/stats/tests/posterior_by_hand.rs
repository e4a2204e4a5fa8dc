//! The posterior against its definition: likelihood times prior, summed over a fine grid of location and spread.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use fullshift_stats::censored::{Observation, Quantity, Sample};
use fullshift_stats::numeric::quadrature::{GAUSS_16, adaptive};
use fullshift_stats::posterior::{LocationPrior, Posterior, Prior, SpreadPrior};
use fullshift_stats::special::normal;

/// The likelihood of one observation.
fn likelihood(observation: &Observation, mu: f64, sigma: f64) -> f64 {
    let z = |bound: f64| (bound.ln() - mu) / sigma;
    let (low, high) = (z(observation.low()), z(observation.high()));
    match observation.is_exact() {
        true => normal::density(low) / sigma,
        false if low > 0.0 => normal::upper(low) - normal::upper(high),
        false => normal::lower(high) - normal::lower(low),
    }
}

fn location(prior: &Prior, mu: f64) -> f64 {
    match prior.location() {
        LocationPrior::Flat { .. } => 1.0,
        LocationPrior::Lognormal { median, gsd } => normal::density((mu - median.ln()) / gsd.ln()),
    }
}

/// The density of tau = ln ln GSD.
fn spread(prior: &Prior, tau: f64) -> f64 {
    match prior.spread() {
        SpreadPrior::Flat { .. } => tau.exp(),
        SpreadPrior::Invariant { .. } => 1.0,
        SpreadPrior::Lognormal { median, factor } => normal::density((tau - median.ln().ln()) / factor.ln()),
    }
}

/// The integral in panels of at most `length`.
fn integral(low: f64, high: f64, length: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    if low >= high {
        return 0.0;
    }
    let panels = ((high - low) / length).ceil();
    let at = |i: usize| low + (high - low) * i as f64 / panels;
    (0..panels as usize).map(|i| GAUSS_16.integral(at(i), at(i + 1), &mut f)).sum()
}

/// The highest location at which the quantity lies below the value.
fn highest(quantity: Quantity, value: f64, sigma: f64) -> f64 {
    match quantity {
        Quantity::GeometricMean => value.ln(),
        Quantity::Mean => value.ln() - 0.5 * sigma * sigma,
        Quantity::Percentile(p) => value.ln() - normal::quantile(p).unwrap() * sigma,
        Quantity::Exceedance(limit) => limit.ln() + normal::quantile(value).unwrap() * sigma,
        Quantity::GeometricSd if sigma < value.ln() => f64::INFINITY,
        Quantity::GeometricSd => f64::NEG_INFINITY,
    }
}

fn probability_below(all: &[Observation], prior: &Prior, quantity: Quantity, value: f64) -> f64 {
    let ends = all.iter().flat_map(|o| [o.low(), o.high()]).filter(|end| *end > 0.0 && end.is_finite());
    let (least, most) = ends.fold((f64::INFINITY, 0.0_f64), |(a, b), end| (a.min(end), b.max(end)));
    let (floor, ceiling) = match prior.location() {
        LocationPrior::Flat { lowest, highest } => (lowest.ln(), highest.ln()),
        LocationPrior::Lognormal { median, gsd } => {
            (median.ln() - 9.0 * gsd.ln(), median.ln() + 9.0 * gsd.ln())
        }
    };
    let known = |end: fn(&Observation) -> f64| all.iter().any(|o| end(o) > 0.0 && end(o).is_finite());
    let (from_below, from_above) = (known(Observation::low), known(Observation::high));
    let (first, last) = match prior.spread() {
        SpreadPrior::Flat { lowest, highest } | SpreadPrior::Invariant { lowest, highest } => {
            (lowest.ln().ln(), highest.ln().ln())
        }
        SpreadPrior::Lognormal { median, factor } => {
            (median.ln().ln() - 8.0 * factor.ln(), median.ln().ln() + 8.0 * factor.ln())
        }
    };
    let sum = |first: f64, last: f64, capped: bool| {
        adaptive("sum", 1e-8, first, last, |tau| {
            let sigma = tau.exp();
            let low = if from_below { floor.max(least.ln() - 9.0 * sigma) } else { floor };
            let high = if from_above { ceiling.min(most.ln() + 9.0 * sigma) } else { ceiling };
            let high = if capped { high.min(highest(quantity, value, sigma)) } else { high };
            spread(prior, tau)
                * integral(low, high, (3.0 * sigma).min(1.0), |mu| {
                    all.iter().map(|o| likelihood(o, mu, sigma)).product::<f64>() * location(prior, mu)
                })
        })
        .unwrap()
    };
    let below = match quantity {
        Quantity::GeometricSd => sum(first, value.ln().ln().clamp(first, last), false),
        _ => sum(first, last, true),
    };
    below / sum(first, last, false)
}

const INF: f64 = f64::INFINITY;

#[track_caller]
fn agrees(tolerance: f64, bounds: &[(f64, f64)], prior: Prior) {
    let all: Vec<_> = bounds.iter().map(|&(low, high)| Observation::between(low, high).unwrap()).collect();
    let sample = Sample::new(&all).unwrap();
    let posterior = Posterior::new(&sample, &prior).unwrap();
    for (quantity, value) in [
        (Quantity::GeometricMean, 4.0),
        (Quantity::GeometricSd, 2.2),
        (Quantity::Mean, 9.0),
        (Quantity::Percentile(0.95), 15.0),
        (Quantity::Exceedance(12.0), 0.05),
    ] {
        let found = posterior.probability_below(quantity, value).unwrap();
        let expected = probability_below(&all, &prior, quantity, value);
        assert!((found - expected).abs() < tolerance, "{quantity:?}: {found} instead of {expected}");
    }
}

const FULL: f64 = 1e-6;
/// Where a bound of the prior cuts through what is likely, the quadrature over the spread meets a kink.
const CUT: f64 = 2e-4;
const EXACT: [(f64, f64); 5] = [(2.0, 2.0), (3.5, 3.5), (4.1, 4.1), (7.0, 7.0), (12.0, 12.0)];
const BETWEEN: [(f64, f64); 5] = [(0.0, 1.0), (1.0, 2.0), (2.0, 5.0), (5.0, 10.0), (10.0, INF)];
const MIXED: [(f64, f64); 4] = [(0.0, 3.0), (4.0, 4.0), (0.0, 1.0), (9.0, 9.0)];

fn flat_spread(location: LocationPrior) -> Prior {
    Prior::new(location, SpreadPrior::Flat { lowest: 1.05, highest: 10.0 }).unwrap()
}

#[test]
fn under_a_wide_region() {
    for bounds in [&EXACT[..], &BETWEEN, &MIXED] {
        agrees(FULL, bounds, Prior::around(10.0).unwrap());
    }
}

/// The region cuts through where the likelihood is high, on every side.
#[test]
fn under_a_region_narrower_than_the_data() {
    for bounds in [&EXACT[..], &BETWEEN, &MIXED] {
        agrees(CUT, bounds, Prior::flat((3.8, 5.0), (1.9, 2.6)).unwrap());
    }
}

/// So narrow that the chance inside is no difference of tails.
#[test]
fn the_spread_under_a_location_all_but_known() {
    let all = EXACT.map(|(low, high)| Observation::between(low, high).unwrap());
    let prior = Prior::flat((4.2, 4.2004), (1.9, 2.6)).unwrap();
    let sample = Sample::new(&all).unwrap();
    let found = Posterior::new(&sample, &prior).unwrap();
    let found = found.probability_below(Quantity::GeometricSd, 2.2).unwrap();
    let expected = probability_below(&all, &prior, Quantity::GeometricSd, 2.2);
    assert!((found - expected).abs() < FULL, "{found} instead of {expected}");
}

#[test]
fn under_a_location_bounded_on_one_side() {
    for bounds in [&EXACT[..], &BETWEEN] {
        agrees(CUT, bounds, flat_spread(LocationPrior::Flat { lowest: 4.0, highest: 1e3 }));
        agrees(CUT, bounds, flat_spread(LocationPrior::Flat { lowest: 1e-3, highest: 4.5 }));
    }
}

#[test]
fn under_a_believed_location_and_spread() {
    let believed = LocationPrior::Lognormal { median: 6.0, gsd: 1.5 };
    for bounds in [&EXACT[..], &BETWEEN, &MIXED] {
        agrees(
            FULL,
            bounds,
            Prior::new(believed, SpreadPrior::Lognormal { median: 2.5, factor: 1.4 }).unwrap(),
        );
        agrees(FULL, bounds, flat_spread(believed));
        agrees(
            FULL,
            bounds,
            Prior::new(believed, SpreadPrior::Invariant { lowest: 1.3, highest: 6.0 }).unwrap(),
        );
    }
}

#[test]
fn with_a_single_value_or_nothing_but_upper_bounds() {
    for bounds in [&[(5.0, 5.0)][..], &[(2.0, 8.0)], &[(0.0, 3.0), (0.0, 3.0), (0.0, 2.0)]] {
        agrees(FULL, bounds, Prior::around(10.0).unwrap());
        agrees(
            FULL,
            bounds,
            Prior::new(
                LocationPrior::Lognormal { median: 2.0, gsd: 3.0 },
                SpreadPrior::Lognormal { median: 2.0, factor: 1.3 },
            )
            .unwrap(),
        );
    }
}

/// Spreads from nothing to beyond all numbers are believed in, of which some have no probability. Values by the trapezoidal rule in numpy and
/// scipy's `ndtr`.
#[test]
fn under_a_belief_in_spreads_of_no_probability() {
    let observed = [Observation::below(0.116).unwrap(), Observation::above(0.0014).unwrap()];
    let sample = Sample::new(&observed).unwrap();
    let location = LocationPrior::Flat { lowest: 0.0, highest: 1e295 };
    let prior = Prior::new(location, SpreadPrior::Lognormal { median: 221.0, factor: 221.0 }).unwrap();
    let posterior = Posterior::new(&sample, &prior).unwrap();
    let below = [1e-9, 1e-3, 1.0, 1e3, 1e9]
        .map(|gm| posterior.probability_below(Quantity::GeometricMean, gm).unwrap());
    let by_scipy = [0.99998584648, 0.99998640488, 0.99998734535, 0.99998762702, 0.99998808679];
    assert!(below.is_sorted());
    for (found, expected) in below.into_iter().zip(by_scipy) {
        assert!((found - expected).abs() < 1e-6, "{found} instead of {expected}");
    }
}
