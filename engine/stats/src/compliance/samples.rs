//! Samples that cover the whole period.

use super::{Ratio, concentration, error_share, limit, within};
use crate::complete::check_confidence;
use crate::special::normal;
use crate::{Error, Result};

/// One of several consecutive samples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// How long it was drawn; above 0.
    pub minutes: f64,
    /// What it found, in the unit of the limit; zero or above.
    pub concentration: f64,
}

/// The one-sided error of a measurement as a share of its value.
///
/// `z CV`, with `z` the normal quantile of `confidence` and `CV` the relative standard deviation of sampling and analysis together, from 0
/// to 5: at 95 %, 1.645 CV. Source: NIOSH-77-173, section 4.2.1 (recalled).
///
/// ```
/// // Detector tubes, CV 0.14: 0.23 (OTM and NIOSH-77-173, recalled)
/// let error = fullshift_stats::compliance::sampling_error(0.14, 0.95)?;
/// assert!((error - 0.23).abs() < 0.005);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn sampling_error(relative_sd: f64, confidence: f64) -> Result<f64> {
    check_confidence(confidence)?;
    within("relative standard deviation", relative_sd, 0.0, 5.0, "from 0 to 5")?;
    Ok(relative_sd * normal::quantile(confidence)?.max(0.0))
}

/// One sample over the full period.
///
/// `x = X / L`, limits `x - SAE` and `x + SAE`, where `error` is the share SAE = `z CV` ([`sampling_error`]), from 0 to 10. Table `shift-single-printed`.
/// Sources: NIOSH-77-173, section 4.2.1 (recalled); OTM, appendix N (read in a reprint).
///
/// ```
/// use fullshift_stats::compliance::{Finding, single_sample};
/// // 6.07 mg/m3 against 5, SAE 0.23: 1.21, from 0.98 to 1.44, possible overexposure (OTM, appendix N)
/// let test = single_sample(6.07, 5.0, 0.23)?;
/// assert!((test.lower - 0.98).abs() < 0.005 && (test.upper - 1.44).abs() < 0.005);
/// assert_eq!(test.finding(), Finding::Undecided);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn single_sample(found: f64, limit_value: f64, error: f64) -> Result<Ratio> {
    Ok(Ratio::around(concentration(found)? / limit(limit_value)?, error_share(error)?))
}

/// Consecutive samples over the full period, each with its own concentration.
///
/// `x = sum T_i X_i / (L sum T_i)`, error `SAE sqrt(sum T_i^2 X_i^2) / (L sum T_i)`. Table `shift-consecutive-printed`. Source: OTM, appendix O (recalled).
pub fn consecutive_samples(samples: &[Sample], limit_value: f64, error: f64) -> Result<Ratio> {
    let sums = Sums::of(samples, limit_value)?;
    Ok(Ratio::around(sums.ratio, error_share(error)? * sums.error_of_values))
}

/// Consecutive samples of an exposure that varied: the conservative form of the manual.
///
/// As [`consecutive_samples`] with `error` = `z CV` divided by `sqrt(1 + CV^2)`, `relative_sd` = CV. Table `shift-consecutive-printed`. Source: NIOSH-77-173, section
/// 4.2.2 (recalled).
pub fn consecutive_samples_varying(
    samples: &[Sample],
    limit_value: f64,
    relative_sd: f64,
    confidence: f64,
) -> Result<Ratio> {
    let sums = Sums::of(samples, limit_value)?;
    let error = sampling_error(relative_sd, confidence)? / (1.0 + relative_sd * relative_sd).sqrt();
    Ok(Ratio::around(sums.ratio, error * sums.error_of_values))
}

/// Consecutive samples of an exposure that was the same all the time.
///
/// `x` as in [`consecutive_samples`], error `z CV sqrt(sum T_i^2) / sum T_i`. Table `shift-consecutive-printed`. Source: NIOSH-77-173, section 4.2.2
/// (recalled).
///
/// ```
/// use fullshift_stats::compliance::{Finding, Sample, consecutive_samples_uniform};
/// // Isoamyl alcohol, limit 100 ppm, CV 0.08: 1.10 with a lower limit of 1.02, noncompliance (NIOSH-77-173, recalled)
/// let all = [(150.0, 90.0), (100.0, 140.0), (230.0, 110.0)].map(|(minutes, concentration)| Sample { minutes, concentration });
/// let test = consecutive_samples_uniform(&all, 100.0, 0.08, 0.95)?;
/// assert!((test.ratio - 1.10).abs() < 0.005 && (test.lower - 1.02).abs() < 0.005);
/// assert_eq!(test.finding(), Finding::Above);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn consecutive_samples_uniform(
    samples: &[Sample],
    limit_value: f64,
    relative_sd: f64,
    confidence: f64,
) -> Result<Ratio> {
    let sums = Sums::of(samples, limit_value)?;
    Ok(Ratio::around(sums.ratio, sampling_error(relative_sd, confidence)? * sums.error_of_times))
}

/// The weighted mean over the limit, and what multiplies a sample's error.
struct Sums {
    ratio: f64,
    error_of_values: f64,
    error_of_times: f64,
}

impl Sums {
    fn of(samples: &[Sample], limit_value: f64) -> Result<Sums> {
        if samples.is_empty() {
            return Err(Error::OutsideDomain { what: "number of samples", value: 0.0, allowed: "1 or more" });
        }
        for sample in samples {
            within("minutes of a sample", sample.minutes, 1e-6, 1e6, "from 1e-6 to 1e6")?;
            concentration(sample.concentration)?;
        }
        let total: f64 = samples.iter().map(|s| s.minutes).sum();
        let shares = samples.iter().map(|s| s.minutes / total);
        let parts: Vec<f64> =
            samples.iter().map(|s| s.minutes / total * (s.concentration / limit_value)).collect();
        limit(limit_value)?;
        Ok(Sums {
            ratio: parts.iter().sum(),
            error_of_values: parts.iter().map(|p| p * p).sum::<f64>().sqrt(),
            error_of_times: shares.map(|p| p * p).sum::<f64>().sqrt(),
        })
    }
}
