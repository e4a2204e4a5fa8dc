//! What the limits of the mean over strata obey, and what they refuse.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod strata_simulation;

use fullshift_stats::Error;
use fullshift_stats::censored::Observation;
use fullshift_stats::complete::{LogSample, arithmetic_mean};
use fullshift_stats::strata::{Note, Spread, StrataMean, Stratum};
use strata_simulation::{Case, Draws};

const CONFIDENCES: [f64; 5] = [0.05, 0.5, 0.7, 0.95, 0.99];

fn sampled(weight: f64, values: &[f64]) -> Stratum {
    let readings = values.iter().map(|&v| Observation::exact(v).unwrap()).collect();
    Stratum::Sampled { weight, readings, relative_sd: Some(0.14) }
}

fn between(weight: f64, bounds: &[(f64, f64)]) -> Stratum {
    let readings = bounds.iter().map(|&(l, h)| Observation::between(l, h).unwrap()).collect();
    Stratum::Sampled { weight, readings, relative_sd: Some(0.14) }
}

fn mean(strata: &[Stratum]) -> StrataMean {
    StrataMean::new(strata).unwrap()
}

fn both(strata: &[Stratum]) -> (f64, f64) {
    let mean = mean(strata);
    (mean.lower(0.95).unwrap(), mean.upper(0.95).unwrap())
}

fn close(a: (f64, f64), b: (f64, f64), tolerance: f64) {
    let off = |a: f64, b: f64| (a - b).abs() / b.abs().max(1e-300);
    assert!(off(a.0, b.0) <= tolerance && off(a.1, b.1) <= tolerance, "{a:?} {b:?}");
}

fn three() -> [Stratum; 3] {
    [sampled(0.5, &[12.0, 30.0, 18.0, 22.0]), sampled(0.3, &[55.0, 80.0, 41.0]), sampled(0.2, &[7.0, 2.5])]
}

fn studies() -> Vec<Vec<Stratum>> {
    let mut draws = Draws(7);
    let case = |readings: &[usize], gsds: &[f64]| Case {
        readings: readings.to_vec(),
        weights: vec![0.4, 0.1, 0.3, 0.2][..readings.len()].to_vec(),
        gsds: gsds.to_vec(),
    };
    let cases = [
        case(&[2], &[3.0]),
        case(&[1, 2], &[1.5, 1.5]),
        case(&[3, 4], &[4.0, 1.5]),
        case(&[1, 2, 3, 5], &[2.0, 2.0, 3.0, 1.5]),
        case(&[2, 2, 2, 2], &[4.0; 4]),
    ];
    cases.iter().flat_map(|c| (0..6).map(|_| draws.study(c)).collect::<Vec<_>>()).collect()
}

#[test]
fn one_stratum_has_lands_exact_limits() {
    let mut draws = Draws(3);
    for n in 2..9 {
        let values: Vec<f64> = (0..n).map(|_| (3.0 + 0.9 * draws.normal()).exp()).collect();
        let sample = LogSample::from_values(&values).unwrap();
        for confidence in CONFIDENCES {
            let mean = mean(&[sampled(1.0, &values)]);
            // Two scattered values put the upper limit beyond the range of a double: both ways say so.
            let exact = arithmetic_mean::upper(&sample, confidence).unwrap_or(f64::MAX);
            let upper = mean.upper(confidence).unwrap_or(f64::MAX);
            let lower = arithmetic_mean::lower(&sample, confidence).unwrap();
            close((mean.lower(confidence).unwrap(), upper), (lower, exact), 1e-12);
        }
    }
}

#[test]
fn the_order_of_strata_and_of_readings_changes_no_digit() {
    let [a, b, c] = three();
    let turned = [sampled(0.2, &[2.5, 7.0]), b.clone(), sampled(0.5, &[22.0, 12.0, 18.0, 30.0])];
    assert_eq!(both(&[a.clone(), b.clone(), c.clone()]), both(&turned));
    assert_eq!(both(&[a.clone(), b.clone(), c.clone()]), both(&[b, a, c]));
}

#[test]
fn limits_scale_with_the_unit_and_with_the_weights() {
    let scaled = |by: f64, weight: f64| {
        [
            sampled(0.5 * weight, &[12.0 * by, 30.0 * by, 18.0 * by]),
            sampled(0.3 * weight, &[55.0 * by, 80.0 * by, 41.0 * by]),
            Stratum::Known { weight: 0.1 * weight, mean: 3.0 * by },
            Stratum::Bounded { weight: 0.1 * weight, low: 0.0, high: 40.0 * by },
        ]
    };
    let (lower, upper) = both(&scaled(1.0, 1.0));
    for (by, weight) in [(24.45, 1.0), (1e-9, 3.0), (1e12, 0.01)] {
        close(both(&scaled(by, weight)), (lower * by * weight, upper * by * weight), 1e-11);
    }
}

#[test]
fn limits_widen_with_confidence() {
    for strata in studies() {
        let mean = mean(&strata);
        let (mut lower, mut upper) = (f64::INFINITY, 0.0);
        for confidence in CONFIDENCES {
            let (l, u) = (mean.lower(confidence).unwrap(), mean.upper(confidence).unwrap_or(f64::INFINITY));
            assert!(l < lower && u >= upper && (u > upper || u.is_infinite()), "{strata:?} {confidence}");
            (lower, upper) = (l, u);
            assert!(confidence <= 0.5 || l < u, "{strata:?} {confidence}");
        }
    }
}

#[test]
fn a_stratum_of_weight_zero_changes_nothing() {
    for strata in studies() {
        let mut more = strata.clone();
        more.push(sampled(0.0, &[1.0, 50.0, 3000.0]));
        more.push(Stratum::Bounded { weight: 0.0, low: 1.0, high: 9.0 });
        let (a, b) = (mean(&strata), mean(&more));
        assert_eq!(a.lower(0.95), b.lower(0.95));
        assert_eq!(a.upper(0.95), b.upper(0.95));
    }
}

#[test]
fn a_known_or_bounded_stratum_may_be_split_in_two() {
    let [a, b, _] = three();
    let known = |weight: f64| Stratum::Known { weight, mean: 6.0 };
    let bounded = |weight: f64| Stratum::Bounded { weight, low: 1.0, high: 80.0 };
    let whole = both(&[a.clone(), b.clone(), known(0.1), bounded(0.2)]);
    let split = both(&[a, b, known(0.07), known(0.03), bounded(0.125), bounded(0.075)]);
    close(split, whole, 1e-14);
}

#[test]
fn known_strata_are_added_to_both_limits_and_bounds_each_to_its_own() {
    let [a, b, _] = three();
    let (lower, upper) = both(&[a.clone(), b.clone()]);
    let fixed =
        [Stratum::Known { weight: 0.5, mean: 8.0 }, Stratum::Bounded { weight: 0.25, low: 2.0, high: 10.0 }];
    let [known, bounded] = fixed;
    close(both(&[a, b, known, bounded]), (lower + 4.5, upper + 6.5), 1e-14);
}

#[test]
fn strata_none_of_which_was_sampled_have_their_bounds_for_limits() {
    let strata =
        [Stratum::Known { weight: 0.5, mean: 0.0 }, Stratum::Bounded { weight: 0.5, low: 2.0, high: 10.0 }];
    assert_eq!(both(&strata), (1.0, 5.0));
}

#[test]
fn the_upper_limit_is_the_larger_of_the_two_forms_and_the_lower_that_of_the_common_spread() {
    use fullshift_stats::complete::land::{ln_mean_lower, ln_mean_upper};
    for strata in studies() {
        let mean = mean(&strata);
        let uppers: Vec<f64> = mean.forms().map(|f| ln_mean_upper(&f.location, 0.9).unwrap()).collect();
        let common = mean.forms().next().unwrap();
        assert_eq!(common.spread, Spread::Common);
        let largest = uppers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert!((mean.upper(0.9).map_or(largest, f64::ln) - largest).abs() < 1e-12);
        let lower = ln_mean_lower(&common.location, 0.9).unwrap();
        assert!((mean.lower(0.9).unwrap().ln() - lower).abs() < 1e-12);
        let governs = mean.upper_spread(0.9).unwrap().unwrap();
        assert_eq!(governs == Spread::Own, uppers.len() == 2 && uppers[1] > uppers[0]);
    }
}

#[test]
fn with_equal_variances_and_locations_the_common_form_is_that_of_all_readings_at_half_the_bias() {
    // Two strata of equal weight, readings mirrored: n = 1 / (1/4/3 + 1/4/3) = 6 and v = 4, location ybar + ln w.
    let readings = [1.0f64, 2.0, 4.0];
    let mean = mean(&[sampled(0.5, &readings), sampled(0.5, &readings)]);
    let common = mean.forms().next().unwrap();
    assert!((common.location.effective_n() - 6.0).abs() < 1e-12 && common.location.df() == 4.0);
    let s2 = 2f64.ln().powi(2);
    let location = 2f64.ln() - 0.5 * (s2 / 3.0 - s2 / 6.0);
    assert!((common.location.ln() - location).abs() < 1e-12);
    assert!((mean.pooled_sd_ln().unwrap() - 2f64.ln()).abs() < 1e-12);
}

#[test]
fn narrow_bounds_around_the_readings_give_the_limits_of_exact_readings() {
    let exact = [[12.0, 30.0, 18.0, 22.0].as_slice(), &[55.0, 80.0, 41.0], &[7.0]];
    let strata: Vec<Stratum> = exact.iter().map(|v| sampled(0.3, v)).collect();
    let narrow: Vec<Stratum> = exact
        .iter()
        .map(|v| between(0.3, &v.iter().map(|x| (x * (1.0 - 1e-5), x * (1.0 + 1e-5))).collect::<Vec<_>>()))
        .collect();
    close(both(&narrow), both(&strata), 1e-4);
}

#[test]
fn readings_between_marks_and_below_the_first_mark_give_limits() {
    let strata = [
        between(0.6, &[(5.0, 10.0), (10.0, 20.0), (12.0, 12.0), (0.0, 5.0)]),
        between(0.3, &[(20.0, 50.0), (50.0, 50.0)]),
        between(0.1, &[(5.0, 10.0)]),
    ];
    let (lower, upper) = both(&strata);
    assert!(lower > 5.0 && upper > lower && upper < 1000.0, "{lower} {upper}");
    let notes = mean(&strata).notes().to_vec();
    assert!(notes.contains(&Note::BorrowedVariance { place: 2 }), "{notes:?}");
}

#[test]
fn one_stratum_with_intervals_has_limits_within_a_sixth_of_the_invariant_ones() {
    use fullshift_stats::censored::{InvariantLimits, Quantity, Sample};
    let bounds = [
        (5.0, 10.0),
        (10.0, 20.0),
        (12.0, 12.0),
        (0.0, 5.0),
        (7.0, 7.0),
        (25.0, 25.0),
        (9.0, 9.0),
        (16.0, 16.0),
    ];
    let all: Vec<Observation> = bounds.iter().map(|&(l, h)| Observation::between(l, h).unwrap()).collect();
    let sample = Sample::new(&all).unwrap();
    let limits = InvariantLimits::new(&sample).unwrap().limits(Quantity::Mean, 0.95).unwrap();
    close(
        both(&[between(1.0, &bounds)]),
        (limits.lower.value().unwrap(), limits.upper.value().unwrap()),
        0.16,
    );
}

#[test]
fn one_reading_alone_has_the_interval_of_its_measurement_error() {
    // ln-SD sqrt(ln(1 + 0.14^2)) = 0.139 321 ...; 20 exp(-+ 1.644 853 6 x 0.139 321 0)
    let strata = [sampled(1.0, &[20.0])];
    let sd = (1.0 + 0.14f64 * 0.14).ln().sqrt();
    close(both(&strata), (20.0 * (-1.644_853_627 * sd).exp(), 20.0 * (1.644_853_627 * sd).exp()), 1e-9);
    assert_eq!(mean(&strata).notes(), [Note::MeasurementOnly]);
    // Two tubes of equal weight and value: half the variance.
    let two = [sampled(0.5, &[20.0]), sampled(0.5, &[20.0])];
    let sd = (1.0f64 + 0.14 * 0.14 / 2.0).ln().sqrt();
    close(both(&two), (20.0 * (-1.644_853_627 * sd).exp(), 20.0 * (1.644_853_627 * sd).exp()), 1e-9);
}

#[test]
fn equal_readings_say_so_and_fall_back_on_the_measurement_error() {
    assert_eq!(mean(&[sampled(1.0, &[10.0, 10.0]), sampled(0.5, &[5.0])]).notes(), [Note::AllReadingsEqual]);
}

#[test]
fn a_reading_between_marks_alone_is_taken_at_its_ends() {
    let (lower, upper) = both(&[between(1.0, &[(5.0, 10.0)])]);
    let (five, ten) = (both(&[sampled(1.0, &[5.0])]), both(&[sampled(1.0, &[10.0])]));
    close((lower, upper), (five.0, ten.1), 1e-14);
}

#[test]
fn notes_name_the_stratum_by_its_place() {
    let strata = [sampled(0.1, &[3.0]), sampled(0.1, &[4.0, 5.0, 4.5]), sampled(0.8, &[10.0, 30.0])];
    let notes = mean(&strata).notes().to_vec();
    assert!(
        notes.contains(&Note::BorrowedVariance { place: 0 })
            && notes.contains(&Note::DominatedByTwoReadings { place: 2 }),
        "{notes:?}"
    );
    let unequal = [sampled(0.5, &[10.0, 10.1, 9.9, 10.05, 9.95]), sampled(0.5, &[1.0, 30.0, 5.0, 90.0])];
    assert!(mean(&unequal).notes().contains(&Note::UnequalVariances));
    assert!(mean(&unequal).equality().unwrap().p_value < 1e-4);
}

fn refusal(strata: &[Stratum]) -> &'static str {
    match StrataMean::new(strata) {
        Err(Error::OutsideDomain { what, .. } | Error::NoConvergence { what }) => what,
        Ok(_) => "accepted",
    }
}

#[test]
fn every_refusal_names_what_is_wrong() {
    assert_eq!(refusal(&[]), "number of strata");
    for weight in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(refusal(&[sampled(weight, &[1.0, 2.0])]), "weight of a stratum");
        assert_eq!(refusal(&[Stratum::Known { weight: 1.0, mean: weight }]), "known mean of a stratum");
    }
    let empty = Stratum::Sampled { weight: 1.0, readings: Vec::new(), relative_sd: None };
    assert_eq!(refusal(&[empty]), "number of readings of a stratum");
    let bounded = |low, high| Stratum::Bounded { weight: 1.0, low, high };
    assert_eq!(refusal(&[bounded(5.0, 2.0)]), "upper bound of a stratum's mean");
    assert_eq!(refusal(&[bounded(-5.0, 2.0)]), "lower bound of a stratum's mean");
    assert_eq!(
        refusal(&[between(1.0, &[(0.0, 5.0), (0.0, 2.0)]), sampled(1.0, &[1.0, 2.0])]),
        "number of readings of a stratum known from below"
    );
    assert_eq!(
        refusal(&[between(1.0, &[(5.0, f64::INFINITY)]), sampled(1.0, &[1.0, 2.0])]),
        "number of readings of a stratum known from above"
    );
    assert_eq!(
        refusal(&[between(1.0, &[(5.0, 10.0), (5.0, 10.0), (7.0, 12.0)])]),
        "spread common to the strata"
    );
    let no_error =
        Stratum::Sampled { weight: 1.0, readings: vec![Observation::exact(5.0).unwrap()], relative_sd: None };
    assert_eq!(refusal(&[no_error]), "number of relative standard deviations given");
    let wild = Stratum::Sampled {
        weight: 1.0,
        readings: vec![Observation::exact(5.0).unwrap()],
        relative_sd: Some(f64::NAN),
    };
    assert_eq!(refusal(&[wild]), "relative standard deviation of a reading");
}

#[test]
fn a_confidence_that_is_none_is_refused() {
    let mean = mean(&three());
    for confidence in [0.0, 1.0, -0.5, f64::NAN, f64::INFINITY] {
        assert!(mean.lower(confidence).is_err() && mean.upper(confidence).is_err());
        assert!(mean.upper_spread(confidence).is_err());
    }
}

#[test]
fn no_input_however_wild_gives_a_nan_or_a_panic() {
    let ends = [0.0, 5e-324, 1e-300, 1e-3, 1.0, 1.0 + 1e-15, 7.0, 1e300, f64::MAX];
    let mut draws = Draws(11);
    let mut pick = |from: &[f64]| from[(draws.uniform() * from.len() as f64) as usize];
    for _ in 0..400 {
        let mut strata = Vec::new();
        for _ in 0..(pick(&[1.0, 2.0, 3.0]) as usize) {
            let mut readings = Vec::new();
            for _ in 0..(pick(&[1.0, 2.0, 4.0]) as usize) {
                let (a, b) = (pick(&ends), pick(&ends));
                let exact = pick(&[0.0, 1.0]) == 1.0;
                if let Ok(reading) =
                    if exact { Observation::exact(a) } else { Observation::between(a.min(b), a.max(b)) }
                {
                    readings.push(reading);
                }
            }
            strata.push(Stratum::Sampled { weight: pick(&ends), readings, relative_sd: Some(0.1) });
        }
        if let Ok(mean) = StrataMean::new(&strata) {
            for limit in [mean.lower(0.95), mean.upper(0.95)].into_iter().flatten() {
                assert!(!limit.is_nan(), "{strata:?}");
            }
        }
    }
}
