//! The two forms of the mean over strata, against their formulas worked out apart from the program.
//!
//! Values: the formulas of the module `strata`, by mpmath with 30 digits.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use fullshift_stats::censored::Observation;
use fullshift_stats::complete::land::{Location, ln_mean_lower, ln_mean_upper};
use fullshift_stats::strata::{Form, Note, Spread, StrataMean, Stratum};

fn sampled(weight: f64, values: &[f64]) -> Stratum {
    let readings = values.iter().map(|&v| Observation::exact(v).unwrap()).collect();
    Stratum::Sampled { weight, readings, relative_sd: Some(0.14) }
}

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found / expected - 1.0).abs() < tolerance, "{found} instead of {expected}");
}

/// Location, standard deviation, degrees of freedom, effective number; shares by place.
#[track_caller]
fn is(form: &Form, spread: Spread, four: [f64; 4], shares: [f64; 3]) {
    assert_eq!(form.spread, spread);
    let at = &form.location;
    for (found, expected) in [at.ln(), at.sd_ln(), at.df(), at.effective_n()].into_iter().zip(four) {
        close(found, expected, 1e-13);
    }
    assert_eq!(form.shares.len(), 3);
    form.shares.iter().for_each(|&(place, share)| close(share, shares[place], 1e-13));
}

#[test]
fn three_strata_have_the_forms_of_their_formulas() {
    let strata = [
        sampled(0.5, &[12.0, 30.0, 18.0, 22.0]),
        sampled(0.3, &[55.0, 80.0, 41.0]),
        sampled(0.2, &[7.0, 2.5]),
    ];
    let mean = StrataMean::new(&strata).unwrap();
    let forms: Vec<&Form> = mean.forms().collect();
    assert_eq!(forms.len(), 2);
    is(
        forms[0],
        Spread::Common,
        [3.299283177985372, 0.4466104239709785, 6.0, 6.317923396542673],
        [0.3532501693924212, 0.6163296370696482, 0.03042019353793059],
    );
    is(
        forms[1],
        Spread::Own,
        [3.300193394674536, 0.3744054378287002, 5.417982222126914, 7.439246445066079],
        [0.3547834986476265, 0.6082220857939764, 0.03699441555839707],
    );
}

#[test]
fn a_single_reading_borrows_the_common_spread() {
    let strata =
        [sampled(0.5, &[12.0, 30.0, 18.0, 22.0]), sampled(0.3, &[55.0, 80.0, 41.0]), sampled(0.2, &[16.0])];
    let mean = StrataMean::new(&strata).unwrap();
    let forms: Vec<&Form> = mean.forms().collect();
    is(
        forms[0],
        Spread::Common,
        [3.381256308682956, 0.365159459052888, 5.0, 6.881891806129656],
        [0.3252977020459874, 0.5675598542144548, 0.1071424437395578],
    );
    is(
        forms[1],
        Spread::Own,
        [3.381647966253738, 0.3550736503736254, 4.621676448357253, 7.239918507646755],
        [0.3287951451057185, 0.5636690255252126, 0.107535829369069],
    );
    assert_eq!(mean.notes(), [Note::BorrowedVariance { place: 2 }]);
}

/// One stratum as a part: Land's limits at its own mean and number, and at the spread and degrees of freedom of all.
#[test]
fn a_part_of_the_mean_has_lands_limits_at_the_spread_of_all() {
    let values = [55.0_f64, 80.0, 41.0];
    let known = Stratum::Bounded { weight: 0.2, low: 1.0, high: 3.0 };
    let strata = [sampled(0.5, &[12.0, 30.0, 18.0, 22.0]), sampled(0.3, &values), known];
    let mean = StrataMean::new(&strata).unwrap();
    let ln = values.iter().map(|v| v.ln()).sum::<f64>() / 3.0 + 0.3_f64.ln();
    let alone = Location::new(ln, mean.pooled_sd_ln().unwrap(), 5.0, 3.0).unwrap();
    let (lower, upper) =
        (ln_mean_lower(&alone, 0.95).unwrap().exp(), ln_mean_upper(&alone, 0.95).unwrap().exp());
    let part = |wanted: fn(usize) -> bool| mean.limits_of_part(wanted, 0.95).unwrap().unwrap();
    let found = part(|place| place == 1);
    close(found.0, lower, 1e-12);
    close(found.1, upper, 1e-12);
    let with_known = part(|place| place > 0);
    close(with_known.0, lower + 0.2, 1e-12);
    close(with_known.1, upper + 0.6, 1e-12);
    assert_eq!(part(|place| place == 2), (0.2, 0.6000000000000001));
    let single = StrataMean::new(&[sampled(1.0, &[20.0])]).unwrap();
    assert_eq!(single.limits_of_part(|_| true, 0.95), Ok(None));
    assert!(mean.limits_of_part(|_| true, 1.0).is_err());
}

/// Readings known to a millionth of themselves say what exact ones say, beside strata of exact values too.
#[test]
fn exact_strata_beside_narrow_ranges_are_as_if_all_were_exact() {
    let (own, other) = ([55.0, 80.0, 41.0, 60.0], [12.0, 30.0, 18.0, 22.0]);
    let narrow = other.map(|v| Observation::between(v * (1.0 - 5e-7), v * (1.0 + 5e-7)).unwrap());
    let ranges = Stratum::Sampled { weight: 0.6, readings: narrow.to_vec(), relative_sd: Some(0.14) };
    let mixed = StrataMean::new(&[sampled(0.4, &own), ranges]).unwrap();
    let exact = StrataMean::new(&[sampled(0.4, &own), sampled(0.6, &other)]).unwrap();
    close(mixed.pooled_sd_ln().unwrap(), exact.pooled_sd_ln().unwrap(), 1e-5);
    for (a, b) in mixed.forms().zip(exact.forms()) {
        close(a.location.ln(), b.location.ln(), 1e-5);
        close(a.location.sd_ln(), b.location.sd_ln(), 1e-5);
        close(a.location.df(), b.location.df(), 1e-4);
        close(a.location.effective_n(), b.location.effective_n(), 1e-5);
    }
    assert_eq!(mixed.forms().count(), 2);
}

#[test]
fn half_of_the_mean_on_two_readings_is_not_more_than_half() {
    let one = sampled(0.5, &[10.0, 30.0]);
    assert_eq!(StrataMean::new(&[one.clone(), one]).unwrap().notes(), []);
}
