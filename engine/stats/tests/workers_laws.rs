//! Laws of the variances between and within workers.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use fullshift_stats::workers::{
    Likelihood, OwnFigure, Repeats, analysis_of_variance, between_sd_confidence_below, between_sd_lower,
    between_sd_upper, distance_to_limit_confidence_below, distance_to_limit_upper, location_lower,
    location_upper, profile, share_between_lower, share_between_upper, share_over_lower, share_over_upper,
    total_sd_lower, total_sd_upper, variance_components, within_sd_lower, within_sd_upper, worker_effects,
};
use proptest::prelude::*;

/// Two to six workers with one to five values each, at least one repeat.
fn groups() -> impl Strategy<Value = Vec<Vec<f64>>> {
    let worker = (-2.0..2.0_f64, prop::collection::vec(-1.0..1.0_f64, 1..6))
        .prop_map(|(own, values)| values.into_iter().map(|v| own + v).collect::<Vec<f64>>());
    prop::collection::vec(worker, 2..7)
        .prop_filter("some repeats", |groups| groups.iter().any(|g| g.len() > 1))
}

fn balanced() -> impl Strategy<Value = Vec<Vec<f64>>> {
    (2..7_usize, 2..6_usize).prop_flat_map(|(workers, repeats)| {
        let worker = (-2.0..2.0_f64, prop::collection::vec(-1.0..1.0_f64, repeats))
            .prop_map(|(own, values)| values.into_iter().map(|v| own + v).collect::<Vec<f64>>());
        prop::collection::vec(worker, workers)
    })
}

fn close(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * a.abs().max(b.abs()).max(1e-6)
}

/// Every limit and estimate on the scale of the values: shifted by a shift, scaled by a scale.
fn figures(groups: &[Vec<f64>]) -> ([f64; 3], [f64; 8]) {
    let repeats = Repeats::of(groups).unwrap();
    let fit = variance_components(&repeats, Likelihood::Restricted).unwrap();
    let places = [
        fit.location,
        location_lower(&repeats, &fit, 0.9).unwrap(),
        location_upper(&repeats, &fit, 0.9).unwrap(),
    ];
    let spreads = [
        fit.between.sqrt(),
        fit.within.sqrt(),
        between_sd_lower(&repeats, 0.9).unwrap(),
        between_sd_upper(&repeats, 0.9).unwrap(),
        within_sd_lower(&repeats, 0.9).unwrap(),
        within_sd_upper(&repeats, 0.9).unwrap(),
        total_sd_lower(&repeats, 0.9).unwrap(),
        total_sd_upper(&repeats, 0.9).unwrap(),
    ];
    (places, spreads)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, rng_seed: proptest::test_runner::RngSeed::Fixed(2026), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_shift_moves_the_location_and_leaves_the_spreads(groups in groups(), shift in -50.0..50.0_f64) {
        let moved: Vec<Vec<f64>> = groups.iter().map(|g| g.iter().map(|v| v + shift).collect()).collect();
        let ((places, spreads), (moved_places, moved_spreads)) = (figures(&groups), figures(&moved));
        for (a, b) in places.iter().zip(moved_places) {
            prop_assert!(close(a + shift, b, 1e-8), "{a} {b}");
        }
        for (a, b) in spreads.iter().zip(moved_spreads) {
            prop_assert!(close(*a, b, 1e-6), "{a} {b}");
        }
    }

    #[test]
    fn a_scale_scales_every_spread(groups in groups(), scale in 1e-6..1e6_f64) {
        let scaled: Vec<Vec<f64>> = groups.iter().map(|g| g.iter().map(|v| v * scale).collect()).collect();
        let (spreads, scaled_spreads) = (figures(&groups).1, figures(&scaled).1);
        for (a, b) in spreads.iter().zip(scaled_spreads) {
            prop_assert!((a * scale - b).abs() <= 1e-6 * scale * (1.0 + a), "{a} {b}");
        }
    }

    #[test]
    fn the_order_of_workers_and_of_values_does_not_matter(groups in groups()) {
        let mut turned = groups.clone();
        turned.reverse();
        turned.iter_mut().for_each(|g| g.reverse());
        let ((places, spreads), (turned_places, turned_spreads)) = (figures(&groups), figures(&turned));
        for (a, b) in places.iter().chain(&spreads).zip(turned_places.iter().chain(&turned_spreads)) {
            prop_assert!(close(*a, *b, 1e-7), "{a} {b}");
        }
    }

    #[test]
    fn labelled_values_in_any_order_give_the_same_as_groups(groups in groups()) {
        let mut labelled: Vec<(f64, usize)> =
            groups.iter().enumerate().flat_map(|(i, g)| g.iter().map(move |&v| (v, i))).collect();
        labelled.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (values, labels): (Vec<f64>, Vec<usize>) = labelled.into_iter().unzip();
        let a = analysis_of_variance(&Repeats::of(&groups).unwrap()).unwrap();
        let b = analysis_of_variance(&Repeats::of_labelled(&values, &labels).unwrap()).unwrap();
        prop_assert!(close(a.sum_between, b.sum_between, 1e-11) && close(a.sum_within, b.sum_within, 1e-11));
    }

    #[test]
    fn balanced_restricted_likelihood_is_the_analysis_of_variance(groups in balanced()) {
        let repeats = Repeats::of(&groups).unwrap();
        let (table, fit) =
            (analysis_of_variance(&repeats).unwrap(), variance_components(&repeats, Likelihood::Restricted).unwrap());
        if table.between_variance > 0.0 {
            prop_assert!(close(fit.between, table.between_variance, 1e-8), "{fit:?} {table:?}");
            prop_assert!(close(fit.within, table.mean_square_within, 1e-9), "{fit:?} {table:?}");
        } else {
            let total = (table.sum_between + table.sum_within) / (repeats.values() as f64 - 1.0);
            prop_assert!(fit.is_at_boundary() && close(fit.within, total, 1e-12));
        }
    }

    #[test]
    fn for_balanced_data_the_location_limits_are_those_of_the_worker_means(groups in balanced()) {
        // Student's limits from the worker means taken as one plain sample: the table of two-sided 10 % points, 1 to 5
        // degrees of freedom (Fisher and Yates 1963, Table III).
        let points = [6.314, 2.920, 2.353, 2.132, 2.015];
        let means: Vec<f64> = groups.iter().map(|g| g.iter().sum::<f64>() / g.len() as f64).collect();
        let k = means.len() as f64;
        let mean = means.iter().sum::<f64>() / k;
        let sd = (means.iter().map(|m| (m - mean).powi(2)).sum::<f64>() / (k - 1.0)).sqrt();
        let repeats = Repeats::of(&groups).unwrap();
        let fit = variance_components(&repeats, Likelihood::Restricted).unwrap();
        let expected = mean + points[means.len() - 2] * sd / k.sqrt();
        let got = location_upper(&repeats, &fit, 0.95).unwrap();
        prop_assert!((got - expected).abs() <= 0.0006 * sd / k.sqrt() + 1e-12, "{got} {expected}");
    }

    #[test]
    fn nil_spread_has_the_confidence_of_the_f_test(groups in groups()) {
        let repeats = Repeats::of(&groups).unwrap();
        let p_value = analysis_of_variance(&repeats).unwrap().p_value;
        let nil = between_sd_confidence_below(&repeats, 0.0).unwrap();
        prop_assert!((nil - p_value).abs() < 1e-10, "{nil} {p_value}");
        prop_assert_eq!(between_sd_lower(&repeats, 0.9).unwrap() == 0.0, p_value >= 0.1);
        prop_assert_eq!(share_between_lower(&repeats, 0.9).unwrap() == 0.0, p_value >= 0.1);
    }

    #[test]
    fn limits_widen_with_confidence(groups in groups()) {
        let repeats = Repeats::of(&groups).unwrap();
        let levels = [0.55, 0.7, 0.9, 0.95, 0.99];
        for pair in levels.windows(2) {
            let rising = |f: &dyn Fn(f64) -> f64| f(pair[0]) <= f(pair[1]) + 1e-8 * (1.0 + f(pair[1]).abs());
            prop_assert!(rising(&|c| between_sd_upper(&repeats, c).unwrap()));
            prop_assert!(rising(&|c| -between_sd_lower(&repeats, c).unwrap()));
            prop_assert!(rising(&|c| total_sd_upper(&repeats, c).unwrap()));
            prop_assert!(rising(&|c| within_sd_upper(&repeats, c).unwrap()));
            prop_assert!(rising(&|c| share_between_upper(&repeats, c).unwrap()));
            prop_assert!(rising(&|c| share_over_upper(&repeats, 1.0, OwnFigure::Mean, c).unwrap()));
            prop_assert!(rising(&|c| -share_over_lower(&repeats, 1.0, OwnFigure::Mean, c).unwrap()));
        }
    }

    #[test]
    fn limits_reach_the_confidence_they_claim(groups in groups(), limit in -3.0..3.0_f64, confidence in 0.05..0.99_f64) {
        let repeats = Repeats::of(&groups).unwrap();
        let sd = between_sd_upper(&repeats, confidence).unwrap();
        let reached = between_sd_confidence_below(&repeats, sd).unwrap();
        let fits = if sd == 0.0 { reached >= confidence } else { (reached - confidence).abs() < 1e-9 };
        prop_assert!(fits, "{} {}", reached, confidence);
        let figure = OwnFigure::Percentile(0.95);
        let distance = distance_to_limit_upper(&repeats, limit, figure, confidence).unwrap();
        if distance.is_finite() {
            let reached = distance_to_limit_confidence_below(&repeats, limit, figure, distance).unwrap();
            prop_assert!((reached - confidence).abs() < 1e-6, "{reached} {confidence}");
        }
    }

    #[test]
    fn a_higher_limit_is_passed_by_fewer_workers(groups in groups(), limit in -3.0..3.0_f64) {
        let repeats = Repeats::of(&groups).unwrap();
        let shares = |limit: f64| {
            let above = profile(&repeats, Some(limit), 0.95).unwrap().above_limit.unwrap();
            [above.share_percentile, above.share_mean].map(|s| [s.lower.unwrap(), s.value.unwrap(), s.upper.unwrap()])
        };
        for (low, high) in shares(limit).iter().flatten().zip(shares(limit + 0.5).iter().flatten()) {
            prop_assert!(high <= &(low + 1e-9) && (0.0..=1.0).contains(low), "{low} {high}");
        }
    }

    #[test]
    fn predictions_lie_between_the_workers_own_mean_and_the_group(groups in groups()) {
        let repeats = Repeats::of(&groups).unwrap();
        let fit = variance_components(&repeats, Likelihood::Restricted).unwrap();
        for effect in worker_effects(&repeats, &fit).unwrap() {
            let (low, high) = (effect.location.min(fit.location), effect.location.max(fit.location));
            prop_assert!(effect.predicted >= low - 1e-9 && effect.predicted <= high + 1e-9);
            prop_assert!((0.0..=1.0).contains(&effect.p_value));
        }
    }
}

/// However far one worker is off, and with it the mean of all: the others are like each other.
#[test]
fn one_worker_far_off_stands_apart_alone() {
    let mut groups: Vec<Vec<f64>> = (0..8).map(|i| vec![0.1 * f64::from(i % 3), 0.05, 0.1, 0.02]).collect();
    for off in [1.0, 3.0, 1000.0] {
        groups[5] = vec![off, off + 0.1, off - 0.1];
        let profile = profile(&Repeats::of(&groups).unwrap(), None, 0.95).unwrap();
        assert_eq!(profile.apart(), [5], "{off}");
        let effect = profile.effects[5];
        assert!(effect.standardised > 10.0 && effect.from_middle > 10.0 && effect.predicted > off - 0.2);
    }
}

/// Two pairs far from each other: neither is the group, all four are named.
#[test]
fn of_two_pairs_neither_is_taken_for_the_group() {
    let groups = [0.0, 0.0, 5.0, 5.0].map(|own: f64| vec![own - 0.1, own, own + 0.1]);
    assert_eq!(profile(&Repeats::of(&groups).unwrap(), None, 0.95).unwrap().apart(), [0, 1, 2, 3]);
}

/// Eight workers with three values each, 0.1 about a mean of 0, one of them about 0.4: mean square within 0.01, mean of all 0.05.
#[test]
fn one_worker_off_stands_apart_and_the_others_do_not() {
    let mut groups = vec![vec![-0.1, 0.0, 0.1]; 8];
    groups[5] = vec![0.3, 0.4, 0.5];
    let profile = profile(&Repeats::of(&groups).unwrap(), None, 0.95).unwrap();
    assert_eq!(profile.apart(), [5]);
    let error = (0.01 * (1.0 / 3.0 - 1.0 / 24.0_f64)).sqrt();
    assert!((profile.effects[5].standardised - 0.35 / error).abs() < 1e-10);
    assert!((profile.effects[0].standardised + 0.05 / error).abs() < 1e-10);
    // The median of the means is nil; the sum of 1/n over k^2 is 8/3 over 64.
    let error = (0.01 * (1.0 / 3.0 + std::f64::consts::FRAC_PI_2 / 24.0_f64)).sqrt();
    assert!((profile.effects[5].from_middle - 0.4 / error).abs() < 1e-10);
    assert_eq!(profile.effects[0].p_value, 1.0);
}

#[test]
fn without_a_spread_between_the_share_is_all_or_none() {
    // Dyestuff2 (Box and Tiao 1973): the variance between is fitted as nil; location 5.67, standard deviation 3.72.
    let batches = [
        [7.298, 3.846, 2.434, 9.566, 7.99],
        [5.22, 6.556, 0.608, 11.788, -0.892],
        [0.11, 10.386, 13.434, 5.51, 8.166],
        [2.212, 4.852, 7.092, 9.288, 4.98],
        [0.282, 9.014, 4.458, 9.446, 7.198],
        [1.722, 4.782, 8.106, 0.758, 3.758],
    ];
    let repeats = Repeats::of(&batches).unwrap();
    let share = |limit: f64| profile(&repeats, Some(limit), 0.95).unwrap().above_limit.unwrap();
    assert_eq!(share(12.0).share_percentile.value, Ok(0.0));
    assert_eq!(share(11.0).share_percentile.value, Ok(1.0));
    assert!(share(12.0).distance.value.is_err());
    assert!(share(12.0).share_percentile.upper.unwrap() > 0.0);
}
