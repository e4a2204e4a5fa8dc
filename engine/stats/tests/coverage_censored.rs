//! How often the limits of censored samples hold, by simulation with a fixed seed.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout, reason = "a test may stop")]

use fullshift_stats::censored::{InvariantLimits, Observation, ProfileLikelihood, Quantity, Sample};
use fullshift_stats::special::normal;

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014), one uniform number for each normal one.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((z ^ (z >> 31)) >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        normal::quantile(self.uniform()).unwrap()
    }
}

/// Lognormal values of geometric mean 1, those below the population's `censored` quantile known only to be below it.
fn sample(draws: &mut Draws, n: usize, gsd: f64, censored: f64) -> Sample {
    let bound = if censored > 0.0 { gsd.powf(normal::quantile(censored).unwrap()) } else { 0.0 };
    let value = |z: f64| gsd.powf(z);
    let observed = |x: f64| if x < bound { Observation::below(bound) } else { Observation::exact(x) };
    let all: Vec<Observation> = (0..n).map(|_| observed(value(draws.normal())).unwrap()).collect();
    Sample::new(&all).unwrap()
}

/// Every quantity and its true value.
fn truths(gsd: f64) -> [(Quantity, f64); 5] {
    let at = |p: f64| gsd.powf(normal::quantile(p).unwrap());
    [
        (Quantity::GeometricMean, 1.0),
        (Quantity::GeometricSd, gsd),
        (Quantity::Mean, (0.5 * gsd.ln().powi(2)).exp()),
        (Quantity::Percentile(0.95), at(0.95)),
        (Quantity::Exceedance(at(0.9)), 0.1),
    ]
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Method {
    Profile,
    Invariant,
}

/// Of the samples that could be fitted, how often the truth lay below the lower 95 % limit and above the upper one.
#[derive(Debug, Default, Clone, PartialEq)]
struct Misses {
    given: u32,
    below: [u32; 5],
    above: [u32; 5],
}

/// The truth lies below the lower limit exactly where the method's probability below the truth is under 5 %.
fn probabilities(method: Method, sample: &Sample, gsd: f64) -> Option<[f64; 5]> {
    let truths = truths(gsd);
    match method {
        Method::Profile => {
            let profile = ProfileLikelihood::new(sample).ok()?;
            Some(truths.map(|(q, truth)| normal::lower(profile.signed_root(q, truth).unwrap())))
        }
        Method::Invariant => {
            let limits = InvariantLimits::new(sample).ok()?;
            let mut all = truths.map(|(q, truth)| limits.posterior().probability_below(q, truth).unwrap());
            let mean = limits.limits(Quantity::Mean, 0.95).unwrap();
            let (lower, upper) = (mean.lower.value().unwrap(), mean.upper.value().unwrap_or(f64::INFINITY));
            all[2] = if truths[2].1 < lower {
                0.0
            } else if truths[2].1 > upper {
                1.0
            } else {
                0.5
            };
            Some(all)
        }
    }
}

fn simulate(method: Method, n: usize, gsd: f64, censored: f64, runs: u32) -> Misses {
    let mut draws = Draws(20_240_229 + n as u64);
    let mut misses = Misses::default();
    for _ in 0..runs {
        let sample = sample(&mut draws, n, gsd, censored);
        let Some(all) = probabilities(method, &sample, gsd) else { continue };
        misses.given += 1;
        for (i, p) in all.into_iter().enumerate() {
            misses.below[i] += u32::from(p < 0.05);
            misses.above[i] += u32::from(p > 0.95);
        }
    }
    misses
}

#[test]
#[ignore = "minutes long; prints the table of the handbook page"]
fn the_table_of_the_handbook_is_printed() {
    let runs = std::env::var("RUNS").map_or(10_000, |r| r.parse().unwrap());
    for method in [Method::Profile, Method::Invariant] {
        for n in [3, 6, 10, 30] {
            for censored in [0.0, 0.2, 0.5] {
                for gsd in [1.5, 2.5, 4.0] {
                    let m = simulate(method, n, gsd, censored, runs);
                    let share = |k: u32| format!("{:.1}", 100.0 * f64::from(k) / f64::from(m.given));
                    let pair = |i: usize| format!("{}/{}", share(m.below[i]), share(m.above[i]));
                    let cells: Vec<String> = (0..5).map(pair).collect();
                    println!(
                        "| {method:?} | {n} | {gsd} | {censored} | {} | {} |",
                        m.given,
                        cells.join(" | ")
                    );
                }
            }
        }
    }
}
