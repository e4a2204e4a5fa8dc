//! What things may cost. The budgets are no truths: they are what was measured when they were set, with a fiftieth to spare, and are to be lowered
//! when something becomes cheaper.

use crate::censored::{InvariantLimits, Observation, ProfileLikelihood, Quantity, Sample, fit};
use crate::complete::land::{Location, ln_mean_lower, ln_mean_upper};
use crate::posterior::{Posterior, Prior};
use crate::special::{chi_squared, noncentral_t};
use crate::strata::{StrataMean, Stratum};
use crate::workers::{Likelihood, OwnFigure, Repeats};
use crate::{Result, workers};
use std::cell::Cell;

thread_local! {
    pub(super) static SPENT: Cell<usize> = const { Cell::new(0) };
}

/// Evaluations of kernels that the work takes, which must succeed.
#[track_caller]
fn spent<T>(work: impl FnOnce() -> Result<T>) -> usize {
    let before = SPENT.get();
    work().unwrap();
    SPENT.get() - before
}

/// At most the budget.
#[track_caller]
fn within(budget: usize, spent: usize) {
    assert!(spent <= budget, "{spent} of {budget}");
}

const CONFIDENCES: [f64; 5] = [0.05, 0.6, 0.7, 0.95, 0.999];

#[test]
fn points_of_chi_squared() {
    let (mut sum, mut most) = (0, 0);
    for df in [0.3, 1.0, 2.0, 5.5, 29.0, 1000.0, 1e5] {
        for p in [1e-9, 1e-3, 0.05, 0.3, 0.5, 0.7, 0.95, 0.999] {
            for now in [spent(|| chi_squared::quantile(p, df)), spent(|| chi_squared::quantile_upper(p, df))]
            {
                (sum, most) = (sum + now, most.max(now));
            }
        }
    }
    within(545, sum);
    within(7, most);
}

const DFS: [f64; 7] = [1.5, 2.5, 5.5, 9.0, 29.0, 200.5, 5000.0];
const NONCENTRALITIES: [f64; 7] = [-60.0, -3.0, 0.0, 0.3, 2.0, 11.9, 60.0];

#[test]
fn tails_of_the_noncentral_t() {
    let mut sum = [0, 0];
    for df in DFS {
        for ncp in NONCENTRALITIES {
            for t in [-5.0, -1.0, -0.2, 0.0, 0.3, 1.1, 3.0, 20.0] {
                let now = spent(|| noncentral_t::tails(t * (1.0 + ncp.abs()), df, ncp));
                sum[usize::from(df < 8.0)] += now;
            }
        }
    }
    within(14_900, sum[0]);
    within(22_000, sum[1]);
}

#[test]
fn points_of_the_noncentral_t() {
    let (mut sum, mut most) = (0, 0);
    for df in DFS {
        for ncp in NONCENTRALITIES {
            for p in [1e-6, 0.01, 0.3, 0.5, 0.6, 0.95] {
                let now = spent(|| noncentral_t::quantile(p, df, ncp))
                    + spent(|| noncentral_t::quantile_upper(p, df, ncp));
                (sum, most) = (sum + now, most.max(now));
            }
        }
    }
    within(101_000, sum);
    within(1_920, most);
}

#[test]
fn noncentralities() {
    let (mut sum, mut most) = (0, 0);
    for df in DFS {
        for t in [-30.0, -1.0, 0.0, 0.5, 4.0, 100.0] {
            for p in [1e-9, 0.05, 0.5, 0.95] {
                let now = spent(|| noncentral_t::noncentrality(t, df, p));
                (sum, most) = (sum + now, most.max(now));
            }
        }
    }
    within(28_700, sum);
    within(1_260, most);
}

#[test]
fn lands_limits() {
    let (mut sum, mut most) = (0, 0);
    for df in [1.0, 2.0, 3.0, 4.5, 9.0, 30.0, 300.0] {
        for s in [0.05, 0.7, 1.5, 4.0] {
            for confidence in CONFIDENCES {
                for n in [0.5, 2.0, df + 1.0] {
                    let at = Location::new(0.0, s, df, n).unwrap();
                    let now =
                        spent(|| ln_mean_lower(&at, confidence)) + spent(|| ln_mean_upper(&at, confidence));
                    (sum, most) = (sum + now, most.max(now));
                }
            }
        }
    }
    within(371_000, sum);
    within(2_670, most);
}

/// From hardly censored to hardly anything known, with a value far off and a narrow range.
fn samples() -> Vec<Sample> {
    const INF: f64 = f64::INFINITY;
    let all: [&[(f64, f64)]; 8] = [
        &[(1.0, 1.0), (2.0, 2.0), (3.5, 3.5), (6.0, 6.0), (0.0, 1.5)],
        &[(0.0, 5.0), (0.0, 5.0), (0.0, 5.0), (6.0, 6.0), (9.0, 9.0), (30.0, 30.0)],
        &[(5.0, 10.0), (10.0, 20.0), (10.0, 20.0), (2.0, 5.0), (20.0, 30.0)],
        &[(0.0, 1.0), (1.0, 2.0), (2.0, INF), (1.0, 2.0), (4.0, 8.0)],
        &[(100.0, 100.0), (101.0, 101.0), (0.0, 1.0), (99.0, 99.0), (50.0, INF)],
        &[(0.0, 2.0), (0.0, 2.0), (0.0, 2.0), (0.0, 2.0), (3.0, 3.0), (4.0, 4.0), (0.0, 4.0)],
        &[(10.0, 10.001), (12.0, 12.001), (30.0, 30.001), (0.0, 8.0)],
        &[(1.0, 1e4), (2.0, 3.0), (900.0, 1000.0), (1e-3, 0.5), (40.0, INF)],
    ];
    let sample = |bounds: &&[(f64, f64)]| {
        let all: Vec<_> =
            bounds.iter().map(|&(low, high)| Observation::between(low, high).unwrap()).collect();
        Sample::new(&all).unwrap()
    };
    all.iter().map(sample).collect()
}

const QUANTITIES: [Quantity; 5] = [
    Quantity::GeometricMean,
    Quantity::GeometricSd,
    Quantity::Mean,
    Quantity::Percentile(0.95),
    Quantity::Exceedance(20.0),
];

#[test]
fn fits_of_censored_samples() {
    for (sample, budget) in samples().iter().zip([11, 15, 9, 11, 13, 17, 13, 11]) {
        within(budget, spent(|| fit(sample)));
    }
}

#[test]
fn limits_by_profile_likelihood() {
    let mut sum = [0; 5];
    for sample in samples() {
        for (place, quantity) in QUANTITIES.into_iter().enumerate() {
            for confidence in CONFIDENCES {
                let profile = ProfileLikelihood::new(&sample).unwrap();
                sum[place] += spent(|| profile.limits(quantity, confidence));
            }
        }
    }
    for (now, budget) in sum.into_iter().zip([1360, 920, 1380, 1570, 1010]) {
        within(budget, now);
    }
}

#[test]
fn posteriors() {
    let (mut flat, mut invariant) = (0, 0);
    for sample in samples() {
        flat += spent(|| Posterior::new(&sample, &Prior::around(50.0)?));
        invariant += spent(|| InvariantLimits::new(&sample));
    }
    within(35_100, flat);
    within(64_400, invariant);
}

#[test]
fn strata_with_values_between_bounds() {
    let mut sum = 0;
    for pair in samples()[..4].windows(2) {
        let strata = [0, 1].map(|i| Stratum::Sampled {
            weight: 0.5,
            readings: pair[i].observations().to_vec(),
            relative_sd: None,
        });
        sum += spent(|| StrataMean::new(&strata));
    }
    within(4_000, sum);
}

#[test]
fn workers_with_repeats() {
    let groups: [&[f64]; 6] = [
        &[1.2, 1.9, 0.7],
        &[2.5, 2.9],
        &[0.1, 0.9, 1.4, 2.2, 0.3],
        &[3.9],
        &[1.0, 1.1, 0.8, 1.3],
        &[2.0, 0.2],
    ];
    let repeats = Repeats::of(&groups).unwrap();
    for (likelihood, budgets) in
        [(Likelihood::Restricted, [31, 214, 163, 181, 160]), (Likelihood::Full, [30, 200, 163, 164, 77])]
    {
        within(budgets[0], spent(|| workers::variance_components(&repeats, likelihood)));
        within(budgets[1], spent(|| workers::between_sd_profile_lower(&repeats, likelihood, 0.6)));
        within(budgets[2], spent(|| workers::between_sd_profile_upper(&repeats, likelihood, 0.95)));
        within(budgets[3], spent(|| workers::within_sd_profile_lower(&repeats, likelihood, 0.95)));
        within(budgets[4], spent(|| workers::within_sd_profile_upper(&repeats, likelihood, 0.95)));
    }
    within(2090, spent(|| workers::between_sd_lower(&repeats, 0.6)));
    within(1830, spent(|| workers::between_sd_upper(&repeats, 0.95)));
    for figure in [OwnFigure::Mean, OwnFigure::Percentile(0.95)] {
        within(21_800, spent(|| workers::share_over_lower(&repeats, 2.5, figure, 0.95)));
        within(21_800, spent(|| workers::share_over_upper(&repeats, 2.5, figure, 0.95)));
    }
}
