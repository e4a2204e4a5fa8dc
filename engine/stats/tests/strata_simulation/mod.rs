//! Studies drawn from known strata, and how often the limits of their mean miss the truth.

#![allow(dead_code, reason = "each of those who share it uses a part")]

use fullshift_stats::censored::Observation;
use fullshift_stats::special::normal;
use fullshift_stats::strata::{StrataMean, Stratum};

/// Strata with geometric mean 1: a stratum with another has the limits of one with another weight.
#[derive(Debug, Clone)]
pub struct Case {
    pub readings: Vec<usize>,
    pub weights: Vec<f64>,
    pub gsds: Vec<f64>,
}

/// How often the true mean lay below the lower and above the upper 95 % limit.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Misses {
    pub lower: u32,
    pub upper: u32,
}

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014), and normal numbers by inversion.
pub struct Draws(pub u64);

impl Draws {
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((z ^ (z >> 31)) >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    pub fn normal(&mut self) -> f64 {
        normal::quantile(self.uniform()).unwrap()
    }

    pub fn study(&mut self, case: &Case) -> Vec<Stratum> {
        let mut strata = Vec::new();
        for (i, &n) in case.readings.iter().enumerate() {
            let readings =
                (0..n).map(|_| Observation::exact(case.gsds[i].powf(self.normal())).unwrap()).collect();
            strata.push(Stratum::Sampled { weight: case.weights[i], readings, relative_sd: None });
        }
        strata
    }
}

/// The true mean of a case.
pub fn truth(case: &Case) -> f64 {
    let mean = |gsd: f64| (0.5 * gsd.ln().powi(2)).exp();
    case.weights.iter().zip(&case.gsds).map(|(w, &gsd)| w * mean(gsd)).sum()
}

/// Draws studies and counts; an upper limit beyond the largest number of the machine has not missed.
pub fn simulate(case: &Case, studies: u32) -> Misses {
    let (mut draws, truth) = (Draws(20_260_101), truth(case));
    let mut misses = Misses::default();
    for _ in 0..studies {
        let mean = StrataMean::new(&draws.study(case)).unwrap();
        misses.lower += u32::from(mean.lower(0.95).unwrap() > truth);
        misses.upper += u32::from(mean.upper(0.95).unwrap_or(f64::MAX) < truth);
    }
    misses
}
