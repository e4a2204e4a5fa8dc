//! What must hold of any censored sample.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use fullshift_stats::censored::{
    InvariantLimits, Limit, Observation, ProfileLikelihood, Quantity, Sample, fit, product_limit, turnbull,
};
use fullshift_stats::posterior::{Posterior, Prior};
use proptest::prelude::*;

fn between(low: f64, high: f64) -> Observation {
    Observation::between(low, high).unwrap()
}

/// Four to twelve observations: exact, below a bound, between marks, above the last one.
fn observations() -> impl Strategy<Value = Vec<Observation>> {
    let one = (0_u8..6, 0.5_f64..20.0, 1.05_f64..3.0).prop_map(|(kind, x, width)| match kind {
        0 => between(0.0, x),
        1 => between(x, x * width),
        2 => between(x, f64::INFINITY),
        _ => between(x, x),
    });
    prop::collection::vec(one, 4..12)
}

fn value(limit: Limit) -> f64 {
    limit.value().unwrap_or(f64::INFINITY)
}

const ON_THE_SCALE: [Quantity; 3] = [Quantity::GeometricMean, Quantity::Mean, Quantity::Percentile(0.95)];

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(20_240_229), ..ProptestConfig::default() })]

    #[test]
    fn a_change_of_unit_by_a_power_of_two_scales_every_limit_exactly(all in observations(), power in -20_i32..20) {
        let factor = 2.0_f64.powi(power);
        let scaled: Vec<Observation> = all.iter().map(|o| between(factor * o.low(), factor * o.high())).collect();
        let (a, b) = (Sample::new(&all).unwrap(), Sample::new(&scaled).unwrap());
        let (Ok(pa), Ok(pb)) = (ProfileLikelihood::new(&a), ProfileLikelihood::new(&b)) else {
            prop_assert!(fit(&a).is_err() && fit(&b).is_err());
            return Ok(());
        };
        for quantity in ON_THE_SCALE {
            let (la, lb) = (pa.limits(quantity, 0.95).unwrap(), pb.limits(quantity, 0.95).unwrap());
            prop_assert_eq!(factor * value(la.upper), value(lb.upper));
            prop_assert_eq!(factor * value(la.lower), value(lb.lower));
        }
        if let (Ok(ia), Ok(ib)) = (InvariantLimits::new(&a), InvariantLimits::new(&b)) {
            for quantity in ON_THE_SCALE {
                let (la, lb) = (ia.limits(quantity, 0.95).unwrap(), ib.limits(quantity, 0.95).unwrap());
                prop_assert!(value(la.upper) == f64::INFINITY || factor * value(la.upper) == value(lb.upper));
                prop_assert_eq!(factor * value(la.lower), value(lb.lower));
            }
        }
    }

    #[test]
    fn the_order_of_the_observations_changes_no_digit(all in observations()) {
        let mut turned = all.clone();
        turned.reverse();
        let (a, b) = (Sample::new(&all).unwrap(), Sample::new(&turned).unwrap());
        prop_assert_eq!(&a, &b);
        prop_assert_eq!(turnbull(&all).ok(), turnbull(&turned).ok());
    }

    #[test]
    fn limits_widen_with_confidence_and_enclose_the_estimate(all in observations()) {
        let sample = Sample::new(&all).unwrap();
        let Ok(profile) = ProfileLikelihood::new(&sample) else { return Ok(()) };
        let invariant = InvariantLimits::new(&sample).ok();
        for quantity in [Quantity::GeometricMean, Quantity::GeometricSd, Quantity::Percentile(0.95), Quantity::Exceedance(8.0)] {
            let (narrow, wide) = (profile.limits(quantity, 0.7).unwrap(), profile.limits(quantity, 0.95).unwrap());
            let chain = [wide.lower, narrow.lower, narrow.estimate, narrow.upper, wide.upper].map(value);
            prop_assert!(chain.is_sorted(), "{:?} {:?}", quantity, chain);
            if let Some(invariant) = &invariant {
                let (narrow, wide) = (invariant.limits(quantity, 0.7).unwrap(), invariant.limits(quantity, 0.95).unwrap());
                let chain = [wide.lower, narrow.lower, narrow.upper, wide.upper].map(value);
                prop_assert!(chain.is_sorted(), "{:?} {:?}", quantity, chain);
            }
        }
    }

    #[test]
    fn the_limit_of_a_percentile_is_the_mirror_of_the_limit_of_the_exceedance(all in observations()) {
        let sample = Sample::new(&all).unwrap();
        let Ok(profile) = ProfileLikelihood::new(&sample) else { return Ok(()) };
        let upper = value(profile.limits(Quantity::Percentile(0.9), 0.9).unwrap().upper);
        if upper < 1e12 {
            let over = value(profile.limits(Quantity::Exceedance(upper), 0.9).unwrap().upper);
            prop_assert!((over - 0.1).abs() < 1e-7, "{}", over);
        }
    }

    #[test]
    fn the_chance_above_falls_as_the_limit_rises(all in observations()) {
        let sample = Sample::new(&all).unwrap();
        let posterior = Posterior::new(&sample, &Prior::around(20.0).unwrap()).unwrap();
        for quantity in ON_THE_SCALE {
            let chances = [2.0, 10.0, 20.0, 100.0].map(|l| posterior.probability_above(quantity, l).unwrap());
            prop_assert!(chances.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9), "{:?}", chances);
        }
    }

    #[test]
    fn an_interval_shrunk_to_a_point_tells_what_the_exact_value_tells(all in observations(), at in 0_usize..4) {
        let exact = between(all[at].low().max(0.5), all[at].low().max(0.5));
        let narrow = between(exact.low() * (1.0 - 1e-8), exact.low() * (1.0 + 1e-8));
        let with = |o: Observation| {
            let mut all = all.clone();
            all[at] = o;
            fit(&Sample::new(&all).unwrap())
        };
        if let (Ok(a), Ok(b)) = (with(exact), with(narrow)) {
            prop_assert!((a.mu - b.mu).abs() < 1e-6 * (1.0 + a.sigma) && (a.sigma / b.sigma - 1.0).abs() < 1e-6, "{:?} {:?}", a, b);
        }
    }

    #[test]
    fn turnbull_gives_the_product_limit_distribution_of_left_censored_values(
        exact in prop::collection::vec(1_u8..12, 3..10), bounds in prop::collection::vec(1_u8..12, 0..8)
    ) {
        let mut all: Vec<Observation> = exact.iter().map(|&x| between(f64::from(x), f64::from(x))).collect();
        all.extend(bounds.iter().map(|&b| between(0.0, f64::from(b))));
        let (steps, cells) = (product_limit(&all).unwrap().steps, turnbull(&all).unwrap().cells);
        for step in steps {
            let below: f64 = cells.iter().filter(|c| c.high <= step.value && c.low < step.value).map(|c| c.mass).sum();
            prop_assert!((below - step.below).abs() < 2e-4, "{}: {} {}", step.value, below, step.below);
        }
    }
}
