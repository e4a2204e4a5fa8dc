//! Where the published compliance tests change their mind, and what they refuse.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use fullshift_stats::compliance::{
    Component, Finding, Sample, consecutive_samples, consecutive_samples_uniform,
    consecutive_samples_varying, daily_reduction, few_grab_samples, lead_style_reduction, many_grab_samples,
    mixture, sampling_error, single_sample, weekly_reduction,
};

const WILD: [f64; 4] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0];

fn sample(minutes: f64, concentration: f64) -> Sample {
    Sample { minutes, concentration }
}

#[test]
fn an_upper_limit_of_exactly_one_is_below_and_a_lower_of_exactly_one_undecided() {
    assert_eq!(single_sample(0.75, 1.0, 0.25).unwrap().finding(), Finding::Below);
    assert_eq!(single_sample(1.25, 1.0, 0.25).unwrap().finding(), Finding::Undecided);
    assert_eq!(single_sample(1.5, 1.0, 0.25).unwrap().finding(), Finding::Above);
}

#[test]
fn one_consecutive_sample_is_a_single_sample() {
    let one = consecutive_samples(&[sample(480.0, 42.0)], 50.0, 0.2).unwrap();
    let single = single_sample(42.0, 50.0, 0.2 * 42.0 / 50.0).unwrap();
    assert!((one.upper - single.upper).abs() < 1e-15 && one.ratio == single.ratio);
}

#[test]
fn n_equal_samples_divide_the_error_by_the_root_of_n() {
    let four = [sample(120.0, 100.0); 4];
    let uniform = consecutive_samples_uniform(&four, 100.0, 0.1, 0.95).unwrap();
    assert!((uniform.upper - uniform.ratio - sampling_error(0.1, 0.95).unwrap() / 2.0).abs() < 1e-15);
    let varying = consecutive_samples_varying(&four, 100.0, 0.1, 0.95).unwrap();
    let narrower = (varying.upper - varying.ratio) / (uniform.upper - uniform.ratio);
    assert!((narrower - 1.01f64.sqrt().recip()).abs() < 1e-13);
}

#[test]
fn a_change_of_unit_changes_no_ratio() {
    let ppm = [sample(100.0, 12.0), sample(300.0, 30.0)];
    let mg = ppm.map(|s| sample(s.minutes, s.concentration * 3.5));
    let (a, b) =
        (consecutive_samples(&ppm, 25.0, 0.23).unwrap(), consecutive_samples(&mg, 87.5, 0.23).unwrap());
    assert!((a.lower - b.lower).abs() < 1e-14 && (a.upper - b.upper).abs() < 1e-14);
}

#[test]
fn a_mixture_between_the_control_limits_is_undecided() {
    let part = |concentration| Component { concentration, limit: 100.0, error: 0.2 };
    assert_eq!(mixture(&[part(51.0), part(51.0)]).unwrap().finding(), Finding::Undecided);
    assert_eq!(mixture(&[part(60.0), part(60.0)]).unwrap().finding(), Finding::Above);
    assert_eq!(mixture(&[part(40.0), part(40.0)]).unwrap().finding(), Finding::Below);
}

#[test]
fn reductions_fall_with_the_hours_and_never_exceed_one() {
    for (reduction, longest) in [
        (daily_reduction as fn(f64) -> fullshift_stats::Result<f64>, 24.0),
        (weekly_reduction, 168.0),
        (lead_style_reduction, 24.0),
    ] {
        let mut before = 1.0;
        for i in 1..=200 {
            let factor = reduction(longest * f64::from(i) / 200.0).unwrap();
            assert!((0.0..=before).contains(&factor));
            before = factor;
        }
        assert!(reduction(longest + 0.1).is_err() && reduction(0.0).is_err());
        assert!(WILD.iter().all(|&h| reduction(h).is_err()));
    }
}

#[test]
fn wild_numbers_are_refused_everywhere() {
    let good = [sample(240.0, 10.0), sample(240.0, 12.0)];
    for wild in WILD {
        assert!(single_sample(wild, 5.0, 0.2).is_err());
        assert!(single_sample(1.0, wild, 0.2).is_err());
        assert!(single_sample(1.0, 5.0, wild).is_err());
        assert!(sampling_error(wild, 0.95).is_err());
        assert!(sampling_error(0.14, wild).is_err());
        assert!(consecutive_samples(&[sample(wild, 1.0)], 5.0, 0.2).is_err());
        assert!(consecutive_samples(&[sample(10.0, wild)], 5.0, 0.2).is_err());
        assert!(consecutive_samples(&good, wild, 0.2).is_err());
        assert!(consecutive_samples_varying(&good, 10.0, wild, 0.95).is_err());
        assert!(few_grab_samples(&[1.0, 2.0, wild], 10.0, 0.95).is_err());
        assert!(few_grab_samples(&[1.0, 2.0, 3.0], wild, 0.95).is_err());
        assert!(many_grab_samples(&[wild; 30], 10.0, 0.95).is_err());
        let part = Component { concentration: wild, limit: 1.0, error: 0.1 };
        assert!(mixture(&[part, part]).is_err());
    }
    assert!(single_sample(1.0, 0.0, 0.2).is_err());
    assert!(consecutive_samples(&[], 5.0, 0.2).is_err());
    assert!(many_grab_samples(&[1.0; 29], 10.0, 0.95).is_err());
    let part = Component { concentration: 0.0, limit: 1.0, error: 0.1 };
    assert!(mixture(&[part]).is_err() && mixture(&[part, part]).is_err());
}
