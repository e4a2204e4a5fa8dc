//! What censored samples and posteriors answer to bad and extreme input: a reason, or the right figure; never NaN.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use fullshift_stats::Error;
use fullshift_stats::censored::{
    InvariantLimits, Limit, Limits, Observation, ProfileLikelihood, Quantity, Sample, fit, order_regression,
    product_limit, turnbull,
};
use fullshift_stats::posterior::{LocationPrior, Posterior, Prior, SpreadPrior};

const INF: f64 = f64::INFINITY;

fn sample(bounds: &[(f64, f64)]) -> Sample {
    Sample::new(&observations(bounds)).unwrap()
}

fn observations(bounds: &[(f64, f64)]) -> Vec<Observation> {
    bounds.iter().map(|&(l, h)| Observation::between(l, h).unwrap()).collect()
}

fn quantities(limit: f64) -> [Quantity; 5] {
    let p95 = Quantity::Percentile(0.95);
    [Quantity::GeometricMean, Quantity::GeometricSd, Quantity::Mean, p95, Quantity::Exceedance(limit)]
}

fn orderly(limits: &Limits) -> bool {
    let value = |limit: Limit| limit.value().unwrap_or(INF);
    let all = [value(limits.lower), value(limits.estimate), value(limits.upper)];
    all.iter().all(|v| !v.is_nan()) && all[0] <= all[1] && all[1] <= all[2]
}

#[test]
fn no_observation_at_all_is_refused_everywhere() {
    assert!(Sample::new(&[]).is_err());
    assert!(Sample::of_values(&[]).is_err());
    assert!(product_limit(&[]).is_err());
    assert!(turnbull(&[]).is_err());
    assert!(order_regression(&[]).is_err());
}

#[test]
fn values_that_are_no_concentrations_are_refused_by_name() {
    for bad in [0.0, -1.0, f64::NAN, INF, -INF] {
        assert!(matches!(Sample::of_values(&[1.0, bad, 2.0]), Err(Error::OutsideDomain { .. })), "{bad}");
    }
}

#[test]
fn samples_that_support_no_fit_are_refused_by_every_likelihood_method() {
    let cases: [&[(f64, f64)]; 6] = [
        &[(2.0, 2.0)],
        &[(2.0, 2.0), (2.0, 2.0), (2.0, 2.0), (2.0, 2.0)],
        &[(0.0, 1.0), (0.0, 1.0), (0.0, 2.0), (0.0, 3.0)],
        &[(5.0, INF), (6.0, INF), (7.0, INF)],
        &[(2.0, 5.0), (2.0, 5.0), (2.0, 5.0)],
        &[(0.0, 1.0), (0.0, 1.0), (0.0, 1.0), (4.0, 4.0), (5.0, 5.0)],
    ];
    for bounds in cases {
        let sample = sample(bounds);
        assert!(matches!(fit(&sample), Err(Error::OutsideDomain { .. })), "{bounds:?}");
        assert!(
            ProfileLikelihood::new(&sample).is_err() && InvariantLimits::new(&sample).is_err(),
            "{bounds:?}"
        );
    }
}

#[test]
fn confidences_and_quantities_out_of_range_are_refused() {
    let sample = sample(&[(1.0, 1.0), (2.0, 2.0), (4.0, 4.0), (0.0, 1.5)]);
    let (profile, invariant) =
        (ProfileLikelihood::new(&sample).unwrap(), InvariantLimits::new(&sample).unwrap());
    for confidence in [0.0, 1.0, -0.5, 2.0, f64::NAN, INF] {
        assert!(profile.limits(Quantity::Mean, confidence).is_err(), "{confidence}");
        assert!(invariant.limits(Quantity::Mean, confidence).is_err(), "{confidence}");
        assert!(invariant.limits(Quantity::GeometricMean, confidence).is_err(), "{confidence}");
    }
    for bad in [0.0, -1.0, f64::NAN, INF] {
        assert!(profile.limits(Quantity::Exceedance(bad), 0.95).is_err(), "{bad}");
        assert!(profile.limits(Quantity::Percentile(bad), 0.95).is_err(), "{bad}");
        assert!(invariant.posterior().probability_above(Quantity::Mean, bad).is_err(), "{bad}");
    }
}

#[test]
fn extreme_but_possible_samples_give_orderly_limits() {
    let cases: [&[(f64, f64)]; 8] = [
        &[(1e-300, 1e-300), (1.0, 1.0), (1e300, 1e300)],
        &[(1e-300, 1e-300), (0.0, 1e-200), (1.0, 1.0), (1e200, 1e300), (1e300, INF)],
        &[(1.0, 1.0), (1.0 + 1e-12, 1.0 + 1e-12), (1.0 + 3e-12, 1.0 + 3e-12)],
        &[(1e-3, 1e-3), (2e-3, 2e-3), (0.0, 1e3), (0.0, 1e3), (5e-3, 5e-3)],
        &[(1.0, 1.0 + 1e-9), (2.0, 2.0 + 1e-9), (4.0, 4.0 + 1e-9), (0.0, 1.5)],
        &[(0.0, 1.0), (1.0, 2.0), (2.0, 5.0), (5.0, 10.0), (20.0, INF)],
        &[(1.0, 1.0), (1e6, 1e6), (0.0, 1e-6), (0.0, 1e-6), (3.0, 3.0)],
        &[(5e-324, 5e-324), (1e-310, 1e-310), (0.0, 1e-320), (1e-305, 1e-305)],
    ];
    for bounds in cases {
        let sample = sample(bounds);
        let profile = ProfileLikelihood::new(&sample).unwrap();
        for quantity in quantities(3.0) {
            let limits = profile.limits(quantity, 0.95).unwrap();
            assert!(orderly(&limits), "profile {bounds:?} {quantity:?} {limits:?}");
        }
        let invariant = InvariantLimits::new(&sample).unwrap();
        for quantity in quantities(3.0) {
            match invariant.limits(quantity, 0.95) {
                // Finney's estimate of the mean may lie below Land's lower limit where sigma is as large as 9.
                Ok(limits) if quantity == Quantity::Mean => {
                    let lower = limits.lower.value().unwrap_or(INF);
                    assert!(
                        lower > 0.0 && lower <= limits.upper.value().unwrap_or(INF),
                        "{bounds:?} {limits:?}"
                    );
                }
                Ok(limits) => assert!(orderly(&limits), "invariant {bounds:?} {quantity:?} {limits:?}"),
                Err(error) => panic!("{bounds:?} {quantity:?} {error}"),
            }
        }
    }
}

#[test]
fn one_value_or_none_above_a_bound_has_a_posterior_within_a_region() {
    let prior = Prior::around(50.0).unwrap();
    let cases: [&[(f64, f64)]; 6] = [
        &[(3.0, 3.0)],
        &[(2.0, 5.0)],
        &[(0.0, 4.0)],
        &[(40.0, INF)],
        &[(0.0, 1e-3); 5],
        &[(1e6, INF), (1e6, INF)],
    ];
    for bounds in cases {
        let sample = sample(bounds);
        let posterior = Posterior::new(&sample, &prior).unwrap();
        for quantity in quantities(50.0) {
            assert!(orderly(&posterior.limits(quantity, 0.95).unwrap()), "{bounds:?} {quantity:?}");
        }
        let chance = |limit| posterior.probability_above(Quantity::Percentile(0.95), limit).unwrap();
        let (all, half, tenth) = (chance(50.0), chance(25.0), chance(5.0));
        assert!(
            0.0 <= all && all <= half && half <= tenth && tenth <= 1.0,
            "{bounds:?} {all} {half} {tenth}"
        );
    }
}

#[test]
fn a_posterior_without_a_finite_total_is_refused() {
    let unbounded = Prior::invariant();
    for bounds in
        [&[(3.0, 3.0)][..], &[(2.0, 5.0), (0.0, 1.0)], &[(0.0, 1.0), (0.0, 2.0)], &[(2.0, 2.0), (2.0, 2.0)]]
    {
        assert!(
            matches!(Posterior::new(&sample(bounds), &unbounded), Err(Error::OutsideDomain { .. })),
            "{bounds:?}"
        );
    }
    let flat = SpreadPrior::Flat { lowest: 1.0, highest: INF };
    let prior = Prior::new(LocationPrior::Flat { lowest: 0.0, highest: INF }, flat).unwrap();
    assert!(Posterior::new(&sample(&[(1.0, 1.0), (3.0, 3.0)]), &prior).is_err());
    assert!(Posterior::new(&sample(&[(1.0, 1.0), (3.0, 3.0), (4.0, 4.0)]), &prior).is_ok());
}

/// One value, and a spread without an upper bound: it takes a region closed on both sides.
#[test]
fn one_value_has_a_posterior_where_the_location_is_bounded_on_both_sides() {
    let one = sample(&[(2.0, 8.0)]);
    let spread = SpreadPrior::Invariant { lowest: 1.1, highest: f64::INFINITY };
    let served = |lowest: f64, highest: f64| {
        Posterior::new(&one, &Prior::new(LocationPrior::Flat { lowest, highest }, spread).unwrap()).is_ok()
    };
    assert!(served(1.0, 10.0));
    assert!(!served(1.0, f64::INFINITY) && !served(0.0, 10.0) && !served(0.0, f64::INFINITY));
}

#[test]
fn priors_that_are_no_priors_are_refused() {
    for (gm, gsd) in [
        ((1.0, 1.0), (1.1, 3.0)),
        ((2.0, 1.0), (1.1, 3.0)),
        ((-1.0, 1.0), (1.1, 3.0)),
        ((0.1, 1.0), (0.9, 3.0)),
    ] {
        assert!(Prior::flat(gm, gsd).is_err(), "{gm:?} {gsd:?}");
    }
    assert!(
        Prior::flat((0.1, f64::NAN), (1.1, 3.0)).is_err()
            && Prior::around(f64::NAN).is_err()
            && Prior::around(0.0).is_err()
    );
    let location = LocationPrior::Lognormal { median: 1.0, gsd: 1.0 };
    assert!(Prior::new(location, SpreadPrior::Lognormal { median: 2.0, factor: 1.5 }).is_err());
}

#[test]
fn a_million_values_with_three_bounds_are_fitted() {
    let mut all = Vec::with_capacity(1_000_000);
    for i in 0..1_000_000_u64 {
        let x = 0.1 + ((i * 7919) % 1_000_003) as f64 / 1e4;
        all.push(
            if i % 4 == 0 { Observation::below(x.max(1.0).round()) } else { Observation::exact(x) }.unwrap(),
        );
    }
    let sample = Sample::new(&all).unwrap();
    let limits = InvariantLimits::new(&sample).unwrap().limits(Quantity::Percentile(0.95), 0.95).unwrap();
    let profile = ProfileLikelihood::new(&sample).unwrap().limits(Quantity::Percentile(0.95), 0.95).unwrap();
    let relative = limits.upper.value().unwrap() / profile.upper.value().unwrap() - 1.0;
    assert!(orderly(&limits) && relative.abs() < 1e-4, "{limits:?} {profile:?}");
    assert!(product_limit(&all).unwrap().mean().is_finite());
    assert!(order_regression(&all).unwrap().sd_ln().is_finite());
}

#[test]
fn nonparametric_methods_refuse_what_they_cannot_use() {
    let interval = observations(&[(1.0, 2.0), (3.0, 3.0), (4.0, 4.0), (5.0, 5.0)]);
    assert!(
        product_limit(&interval).is_err()
            && order_regression(&interval).is_err()
            && turnbull(&interval).is_ok()
    );
    let below = observations(&[(0.0, 1.0), (0.0, 2.0)]);
    assert!(product_limit(&below).is_err() && order_regression(&below).is_err() && turnbull(&below).is_ok());
    let equal = observations(&[(2.0, 2.0), (2.0, 2.0), (2.0, 2.0), (0.0, 1.0)]);
    assert!(order_regression(&equal).is_err());
    let two = observations(&[(2.0, 2.0), (5.0, 5.0), (0.0, 1.0), (0.0, 3.0)]);
    let three = [two.clone(), observations(&[(7.0, 7.0)])].concat();
    assert!(order_regression(&two).is_err() && order_regression(&three).is_ok());
}
