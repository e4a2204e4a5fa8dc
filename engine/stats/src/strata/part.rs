//! What the readings of each stratum tell about its location and spread.

use super::likelihood::Likelihoods;
use super::stratum::{Stratum, refused};
use crate::Result;
use crate::censored::Sample;

/// A sampled stratum of positive weight.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    /// Its place in the list the caller gave.
    pub place: usize,
    pub ln_weight: f64,
    /// How many readings say anything.
    pub readings: usize,
    /// At the common spread.
    pub common: Located,
    /// At its own spread, where it has one.
    pub own: Option<OwnSpread>,
}

/// A location on the logarithmic scale whose variance is `sigma^2 / n`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Located {
    pub ln: f64,
    pub n: f64,
}

/// The location and the spread of one stratum alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct OwnSpread {
    pub at: Located,
    pub df: f64,
    pub variance: f64,
}

/// The variance of the logarithms within strata, common to all, with its degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CommonSpread {
    pub df: f64,
    pub variance: f64,
}

/// The samples of the sampled strata of positive weight, with their places and weights.
pub(super) fn samples(strata: &[Stratum]) -> Result<Vec<(usize, f64, Sample)>> {
    let mut all = Vec::new();
    for (place, stratum) in strata.iter().enumerate() {
        if let Stratum::Sampled { weight, readings, .. } = stratum
            && *weight > 0.0
        {
            all.push((place, *weight, Sample::new(readings)?));
        }
    }
    Ok(all)
}

/// The common spread and the parts at it; `None` where no stratum shows any spread.
pub(super) fn parts(samples: &[(usize, f64, Sample)]) -> Result<Option<(CommonSpread, Vec<Part>)>> {
    if samples.iter().all(|(.., sample)| sample.is_complete()) {
        return Ok(of_exact_values(samples));
    }
    of_intervals(samples).map(Some)
}

fn of_exact_values(samples: &[(usize, f64, Sample)]) -> Option<(CommonSpread, Vec<Part>)> {
    let df: f64 = samples.iter().map(|(.., s)| s.exact_count() - 1.0).sum();
    let squares: f64 = samples.iter().map(|(.., s)| s.exact.squares).sum();
    if !(df > 0.0 && squares > 0.0) {
        return None;
    }
    let part = |(place, weight, sample): &(usize, f64, Sample)| Part {
        place: *place,
        ln_weight: weight.ln(),
        readings: sample.size(),
        common: located(sample),
        own: own_of_exact_values(sample),
    };
    Some((CommonSpread { df, variance: squares / df }, samples.iter().map(part).collect()))
}

fn located(sample: &Sample) -> Located {
    Located { ln: sample.absolute(sample.exact.mean), n: sample.exact_count() }
}

fn own_of_exact_values(sample: &Sample) -> Option<OwnSpread> {
    let df = sample.exact_count() - 1.0;
    (df > 0.0).then(|| OwnSpread { at: located(sample), df, variance: sample.exact.squares / df })
}

fn of_intervals(samples: &[(usize, f64, Sample)]) -> Result<(CommonSpread, Vec<Part>)> {
    let likelihoods = Likelihoods::new(samples.iter().map(|(.., sample)| sample).collect())?;
    let common = likelihoods.common_spread()?;
    let tau = 0.5 * common.variance.ln();
    let mut parts = Vec::with_capacity(samples.len());
    for (place, weight, sample) in samples {
        let common = likelihoods.located(sample, tau)?;
        if common.n < 0.01 {
            let what = "number of exact readings worth what a stratum's readings tell";
            return Err(refused(what, common.n, "0.01 or more"));
        }
        let own =
            if sample.is_complete() { own_of_exact_values(sample) } else { likelihoods.own_spread(sample) };
        parts.push(Part { place: *place, ln_weight: weight.ln(), readings: sample.size(), common, own });
    }
    Ok((common, parts))
}
