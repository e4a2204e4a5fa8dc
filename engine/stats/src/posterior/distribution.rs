//! What the posterior says of the figures of the distribution.

use super::grid::Grid;
use super::prior::Prior;
use super::problem::Problem;
use super::series::Resolution;
use crate::censored::{Curve, Limit, Limits, Point, Quantity, Sample, probability_quantile};
use crate::special::normal;
use crate::{Error, Result};

/// Beyond these psi lies no quantity that double precision can hold.
const STEPS: usize = 200;

/// The posterior distribution of a lognormal distribution.
///
/// The density is the likelihood of the sample times the prior, integrated over ln sigma by Gauss-Legendre panels and, at each
/// node, over mu as a Legendre series (closed form for complete samples). Nothing is drawn at random, so that
/// the same input gives the same digits.
///
/// Accuracy: probabilities to 1e-6 absolute, most of them to 1e-9, against `fixtures/published/posterior-quadrature.json` (adaptive double integration
/// in mpmath) and against the noncentral t distribution; to 2e-4 where a bound of the prior cuts through locations that are likely (1e-3 where they leave all but a point), because the integral over
/// ln sigma then meets a kink.
#[derive(Debug, Clone)]
pub struct Posterior<'a> {
    sample: &'a Sample,
    grid: Grid,
}

impl<'a> Posterior<'a> {
    /// Combines a sample of one value or more with a prior.
    ///
    /// Fails with `OutsideDomain` where the posterior has no finite total: too few values for a prior without bounds.
    pub fn new(sample: &'a Sample, prior: &Prior) -> Result<Self> {
        Self::with_resolution(sample, prior, Resolution::Standard)
    }

    /// The same at a resolution of one's choice.
    pub fn with_resolution(sample: &'a Sample, prior: &Prior, resolution: Resolution) -> Result<Self> {
        let grid = Grid::new(&Problem::new(sample, prior)?, resolution)?;
        Ok(Posterior { sample, grid })
    }

    /// The probability that a quantity lies below a value of it.
    pub fn probability_below(&self, quantity: Quantity, value: f64) -> Result<f64> {
        let curve = Curve::new(self.sample, quantity)?;
        Ok(self.at(curve, curve.psi_of(self.sample, value)?).0.clamp(0.0, 1.0))
    }

    /// The probability that a quantity lies above a value of it.
    ///
    /// ```
    /// use fullshift_stats::censored::{Quantity, Sample};
    /// use fullshift_stats::posterior::{Posterior, Prior};
    /// // Under the invariant prior the exact limits of a complete sample come back. Upper 95 % limit of the 95th percentile
    /// // of ten values: mean + 2.911 s on the log scale (NIST handbook 7.2.6.3, factor of n = 10 to three decimals).
    /// let sample = Sample::of_values(&[1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 11.0])?;
    /// let logs: Vec<f64> = [1.0f64, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 11.0].iter().map(|x| x.ln()).collect();
    /// let mean = logs.iter().sum::<f64>() / 10.0;
    /// let s = (logs.iter().map(|y| (y - mean).powi(2)).sum::<f64>() / 9.0).sqrt();
    /// let posterior = Posterior::new(&sample, &Prior::invariant())?;
    /// let above = posterior.probability_above(Quantity::Percentile(0.95), (mean + 2.911 * s).exp())?;
    /// assert!((above - 0.05).abs() < 5e-5);
    /// # Ok::<(), fullshift_stats::Error>(())
    /// ```
    pub fn probability_above(&self, quantity: Quantity, value: f64) -> Result<f64> {
        Ok(1.0 - self.probability_below(quantity, value)?)
    }

    /// The value below which a quantity lies with a probability between 0 and 1.
    pub fn quantile(&self, quantity: Quantity, probability: f64) -> Result<Limit> {
        let curve = Curve::new(self.sample, quantity)?;
        let psi = self.psi_quantile(curve, probability)?;
        Ok(curve.value(self.sample, psi))
    }

    /// The posterior median of a quantity and its one-sided credible limits.
    pub fn limits(&self, quantity: Quantity, confidence: f64) -> Result<Limits> {
        Ok(Limits {
            estimate: self.quantile(quantity, 0.5)?,
            lower: self.quantile(quantity, 1.0 - confidence)?,
            upper: self.quantile(quantity, confidence)?,
        })
    }

    /// The node of ln sigma at which its posterior density is highest.
    pub(crate) fn likeliest_tau(&self) -> f64 {
        self.grid.likeliest_tau
    }

    /// Probability below psi and density at it.
    fn at(&self, curve: Curve, psi: f64) -> (f64, f64) {
        if curve == Curve::Spread {
            return self.grid.spread_at(psi);
        }
        self.grid.rows.iter().fold((0.0, 0.0), |(p, d), row| {
            let (below, density) = row.conditional.at(curve.mu(psi, row.tau));
            let by_psi = curve.slopes(psi, row.tau).2 * row.tau.exp();
            (p + row.weight * below, d + row.weight * density * by_psi)
        })
    }

    /// Newton's method on the normal scale, where a distribution function is nearly straight, inside a bracket.
    fn psi_quantile(&self, curve: Curve, probability: f64) -> Result<f64> {
        let target = probability_quantile(probability)?;
        let middle = self.grid.middle().ok_or(FAILED)?;
        let mut psi = curve.psi(Point { mu: middle.peak, tau: middle.tau });
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        let mut stride = 1.0;
        for _ in 0..STEPS {
            let (below, density) = self.at(curve, psi);
            let miss = below - probability;
            if miss.abs() < 1e-13 {
                return Ok(psi);
            }
            if miss < 0.0 {
                low = psi
            } else {
                high = psi
            }
            let newton = newton(psi, below, density, target);
            if let Some((next, left)) = newton
                && left.abs() < 1e-6
            {
                return Ok(next);
            }
            let next = newton.map(|step| step.0).filter(|next| *next > low && *next < high);
            let next = next.unwrap_or_else(|| {
                stride *= 2.0;
                match (low.is_finite(), high.is_finite()) {
                    (true, true) => 0.5 * (low + high),
                    (true, false) => psi + stride,
                    _ => psi - stride,
                }
            });
            if (next - psi).abs() <= 1e-13 * (1.0 + psi.abs()) {
                return Ok(next);
            }
            psi = next;
        }
        Err(FAILED)
    }
}

const FAILED: Error = Error::NoConvergence { what: "posterior quantile" };

/// Where the Newton step towards the normal quantile `target` leads and how far the quantile was off, where the distribution
/// function allows a step. A step that begins 1e-6 off ends within the square of that.
fn newton(psi: f64, below: f64, density: f64, target: f64) -> Option<(f64, f64)> {
    let z = normal::quantile(below).ok()?;
    let slope = density / normal::density(z);
    (slope > 0.0 && slope.is_finite()).then(|| (psi + (target - z) / slope, target - z))
}
