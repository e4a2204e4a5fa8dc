use super::*;

const DFS: [f64; 8] = [1.0, 2.0, 2.5, 5.0, 9.0, 199.0, 5000.0, 1e5];
const NONCENTRALITIES: [f64; 9] = [-200.0, -11.9, -1.0, 0.0, 0.3, 2.0, 11.9, 60.0, 200.0];

#[test]
fn an_ordinary_case_that_common_routines_answer_with_no_number() {
    // mpmath, 30 digits, Poisson mixture and direct integral alike: 0.81802174811335179
    let tails = tails(13.0, 199.0, 11.9).unwrap();
    assert!((tails.lower - 0.818_021_748_113_351_8).abs() < 1e-15, "{tails:?}");
    assert!((tails.lower + tails.upper - 1.0).abs() < 1e-15);
}

#[test]
fn at_zero_the_lower_tail_is_the_normal_tail_of_the_noncentrality() {
    for df in DFS {
        for ncp in [-5.0, -0.4, 0.0, 1.0, 30.0] {
            let got = tails(0.0, df, ncp).unwrap();
            let (low, high) = (normal_lower(-ncp), normal_lower(ncp));
            assert!((got.lower / low - 1.0).abs() < 1e-13 || got.lower > 0.5, "{df} {ncp}: {got:?}");
            assert!((got.upper / high - 1.0).abs() < 1e-13 || got.upper > 0.5, "{df} {ncp}: {got:?}");
        }
    }
}

fn normal_lower(x: f64) -> f64 {
    crate::special::normal::lower(x)
}

#[test]
fn quantiles_invert_the_tails_from_both_sides() {
    for df in DFS {
        for ncp in NONCENTRALITIES {
            for p in [1e-6, 0.01, 0.3, 0.5, 0.6, 0.95] {
                let t = quantile(p, df, ncp).unwrap();
                let got = lower(t, df, ncp).unwrap();
                assert!((got / p - 1.0).abs() < 1e-10, "df {df} ncp {ncp} p {p}: t {t}, back {got}");
                let t = quantile_upper(p, df, ncp).unwrap();
                let got = upper(t, df, ncp).unwrap();
                assert!((got / p - 1.0).abs() < 1e-10, "df {df} ncp {ncp} p {p}: t {t}, back {got}");
            }
        }
    }
}

#[test]
fn the_noncentrality_inverts_the_tail() {
    for df in DFS {
        for t in [-30.0, -1.0, 0.0, 0.5, 4.0, 100.0] {
            for p in [1e-9, 0.05, 0.5, 0.95] {
                let ncp = noncentrality(t, df, p).unwrap();
                let got = lower(t, df, ncp).unwrap();
                assert!((got / p - 1.0).abs() < 1e-11, "df {df} t {t} p {p}: ncp {ncp}, back {got}");
            }
        }
    }
}

#[test]
fn the_lower_tail_rises_with_the_point_and_falls_with_the_noncentrality() {
    for df in [1.0, 3.0, 29.0, 1e4] {
        let mut last = 0.0;
        for i in -40..=80 {
            let now = tails(f64::from(i) * 0.5, df, 4.0).unwrap();
            assert!(now.lower >= last && now.lower <= 1.0 && (now.lower + now.upper - 1.0).abs() < 3e-16);
            last = now.lower;
        }
        let mut last = 1.0;
        for i in -40..=80 {
            let now = lower(4.0, df, f64::from(i) * 0.5).unwrap();
            assert!((0.0..=last).contains(&now), "df {df}, ncp {}", f64::from(i) * 0.5);
            last = now;
        }
    }
}

#[test]
fn the_density_is_the_slope_of_the_lower_tail() {
    for (t, df, ncp) in [(0.5, 1.0, 1.0), (3.0, 9.0, 2.0), (14.0, 199.0, 11.9), (-2.0, 4.0, 1.0)] {
        let h = 1e-4;
        let slope = (lower(t + h, df, ncp).unwrap() - lower(t - h, df, ncp).unwrap()) / (2.0 * h);
        assert!((density(t, df, ncp).unwrap() / slope - 1.0).abs() < 1e-6);
    }
}

#[test]
fn arguments_outside_the_domain_are_refused() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(
            tails(bad, 3.0, 1.0).is_err() && tails(1.0, bad, 1.0).is_err() && tails(1.0, 3.0, bad).is_err()
        );
        assert!(quantile(bad, 3.0, 1.0).is_err() && noncentrality(bad, 3.0, 0.5).is_err());
    }
    for p in [0.0, 1.0, -0.5, 2.0] {
        assert!(quantile(p, 3.0, 1.0).is_err() && noncentrality(1.0, 3.0, p).is_err());
    }
    assert!(tails(1.0, 0.5, 1.0).is_err());
    for far in [1.01e5, -1.01e5] {
        assert!(tails(1.0, 3.0, far).is_err() && quantile(0.5, 3.0, far).is_err(), "{far}");
    }
    for far in [1.01e12, -1.01e12] {
        assert!(tails(far, 3.0, 1.0).is_err() && noncentrality(far, 3.0, 0.5).is_err(), "{far}");
    }
}

/// The largest relative difference of tail and both rates, and of the slopes of the rates over their own sizes.
fn difference(a: &Tail, b: &Tail, df: f64) -> f64 {
    let (ratio, apart) = (b.ln_scale.exp(), |a: f64, b: f64| (a / b - 1.0).abs());
    let slopes = (a.density_slope - b.density_slope * ratio).abs() / (a.per_t * df)
        + (a.per_noncentrality_slope - b.per_noncentrality_slope * ratio).abs() / a.per_noncentrality;
    apart(a.value, b.value * ratio)
        .max(apart(a.per_t, b.per_t * ratio))
        .max(apart(a.per_noncentrality, b.per_noncentrality * ratio))
        .max(1e-2 * slopes)
}

#[test]
fn the_finite_sum_meets_the_integral_wherever_it_serves() {
    let (mut served, mut worst) = (0, 0.0_f64);
    for df in (1..=100).map(f64::from) {
        for ncp in [0.0, 0.01, 0.5, 1.6, 3.0, 5.2, 11.9, 40.0, 250.0, 4000.0] {
            for t in [0.0, 1e-3, 0.1, 0.5, 0.9, 1.0, 1.1, 1.5, 3.0].map(|share| share * (ncp + 1.0)) {
                for is_upper in [false, true] {
                    let Some(sum) = finite::tail(t, df, ncp, is_upper) else { continue };
                    let Ok(whole) = integral::integrated(t, df, ncp, is_upper, integral::Accuracy::Full)
                    else {
                        continue;
                    };
                    served += 1;
                    worst = worst.max(difference(&sum, &whole, df));
                }
            }
        }
    }
    assert!(served > 7000 && worst < 1e-12, "{worst} of {served}");
}
