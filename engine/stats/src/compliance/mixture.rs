//! Substances whose effects add.

use super::{Finding, concentration, error_share, limit};
use crate::{Error, Result};

/// One substance of a mixture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Component {
    /// What was found, in the unit of the limit.
    pub concentration: f64,
    /// Its own limit.
    pub limit: f64,
    /// The one-sided error of its measurement as a share ([`super::sampling_error`]).
    pub error: f64,
}

/// The index of a mixture with the limit of its error.
#[derive(Debug, Clone, PartialEq)]
pub struct MixtureIndex {
    /// The sum of the ratios to the limits.
    pub index: f64,
    /// Every substance's share of it.
    pub shares: Vec<f64>,
    /// The error of the index as a share.
    pub error: f64,
    /// `1 + error`: an index above it is above with the confidence of the errors.
    pub control_limit: f64,
}

impl MixtureIndex {
    /// Above the control limit, at most `1 - error`, or neither.
    pub fn finding(&self) -> Finding {
        if self.index > self.control_limit {
            Finding::Above
        } else if self.index <= 1.0 - self.error {
            Finding::Below
        } else {
            Finding::Undecided
        }
    }
}

/// The index of a mixture and its control limit.
///
/// `E = sum X_i / L_i`, shares `R_i = (X_i / L_i) / E`, `SAE = sqrt(sum R_i^2 SAE_i^2)`, control limit `1 + SAE`. Two substances or more, not all zero. Table
/// `shift-mixture-printed`. Sources: 29 CFR 1910.1000(d)(2) (read); OTM, appendix H (recalled).
///
/// ```
/// use fullshift_stats::compliance::{Component, mixture};
/// // 29 CFR 1910.1000(d)(2)(ii): 500/1000 + 45/200 + 40/200 = 0.925
/// let all = [(500.0, 1000.0), (45.0, 200.0), (40.0, 200.0)].map(|(concentration, limit)| Component { concentration, limit, error: 0.1 });
/// assert!((mixture(&all)?.index - 0.925).abs() < 1e-15);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn mixture(components: &[Component]) -> Result<MixtureIndex> {
    if components.len() < 2 {
        let value = components.len() as f64;
        return Err(Error::OutsideDomain { what: "number of substances", value, allowed: "2 or more" });
    }
    let mut ratios = Vec::with_capacity(components.len());
    for component in components {
        error_share(component.error)?;
        ratios.push(concentration(component.concentration)? / limit(component.limit)?);
    }
    let index: f64 = ratios.iter().sum();
    if !(index > 0.0 && index < f64::INFINITY) {
        return Err(Error::OutsideDomain {
            what: "index of the mixture",
            value: index,
            allowed: "above 0 and finite",
        });
    }
    let shares: Vec<f64> = ratios.iter().map(|r| r / index).collect();
    let error = shares.iter().zip(components).map(|(r, c)| (r * c.error).powi(2)).sum::<f64>().sqrt();
    Ok(MixtureIndex { index, shares, error, control_limit: 1.0 + error })
}
