//! Limits of the spread between workers, of the total spread and of the share between, from generalised pivots.

use super::chi::Chi;
use super::pivots::panels;
use super::repeats::{Repeats, outside};
use super::within_limits::checked;
use crate::Result;
use crate::numeric::quadrature::{GAUSS_64, GaussLegendre};
use crate::numeric::root;
use crate::special::chi_squared;

/// The lower limit of the standard deviation between workers.
///
/// The `1 - confidence` quantile of the generalised pivot: with `v* = SSW/Q_w` and `b*` the root of
/// `sum n_i (ybar_i - m)^2/(v* + n_i b*) = Q_b` (0 where there is none), `Q_w` and `Q_b` independent chi-squared variables of N - k
/// and k - 1 degrees of freedom, the limit c solves `P(b* <= c^2) = 1 - confidence`. It is 0 exactly where the F test of
/// equal worker means does not reject at `1 - confidence`. `confidence` between 0 and 1, one-sided.
///
/// Coverage: not exact, but close; the measured table is in the handbook (*Between and within workers*). Accuracy of the
/// computation: 1e-11 relative against 20-digit quadrature in another variable (table
/// `workers-spread-pivots`).
///
/// Sources: S. Weerahandi, J. Am. Stat. Assoc. 88 (1993) 899-905; B. Arendacka, Statistics 39 (2005) 275-286.
///
/// Fails with `OutsideDomain` for a confidence that is none, otherwise `NoConvergence`.
pub fn between_sd_lower(repeats: &Repeats, confidence: f64) -> Result<f64> {
    let wanted = 1.0 - checked(confidence)?;
    Spreads::of(repeats).sd_at(BETWEEN, wanted, Spreads::between_below)
}

/// The upper limit of the standard deviation between workers; see [`between_sd_lower`].
pub fn between_sd_upper(repeats: &Repeats, confidence: f64) -> Result<f64> {
    Spreads::of(repeats).sd_at(BETWEEN, checked(confidence)?, Spreads::between_below)
}

/// The confidence with which the standard deviation between workers lies below `sd`: where this is `confidence`, `sd` is the
/// upper limit of [`between_sd_upper`].
///
/// At `sd` 0 it is the p-value of the F test. `sd` 0 or more.
pub fn between_sd_confidence_below(repeats: &Repeats, sd: f64) -> Result<f64> {
    Spreads::of(repeats).between_below(checked_sd(sd)?)
}

fn checked_sd(sd: f64) -> Result<f64> {
    if sd >= 0.0 { Ok(sd.min(LARGEST)) } else { Err(outside("standard deviation", sd, "0 or more")) }
}

const BETWEEN: &str = "limit of the spread between workers";

/// Upper end of the search: a standard deviation of logarithms beyond it is no longer a number as a GSD.
const LARGEST: f64 = 1e40;

/// Confidence distribution of the variances: the chance, given the data, that they lie below a value.
///
/// With `S(b, v) = sum n_i (ybar_i - m)^2 / (v + n_i b)`, `m` the mean under those weights, `SSW / within` and
/// `S(between, within)` are independent chi-square variables with N - k and k - 1 degrees of freedom. Putting the
/// variables back for the unknown variances makes `v* = SSW/Q_w` and the root `b*` of `S(b*, v*) = Q_b`, or 0 where there
/// is none; the distribution of (b*, v*) is computed by quadrature, without draws.
pub(crate) struct Spreads<'a> {
    repeats: &'a Repeats,
    chi: Chi,
    panels: usize,
    rule: &'a GaussLegendre,
}

impl<'a> Spreads<'a> {
    pub fn of(repeats: &'a Repeats) -> Spreads<'a> {
        Self::with(repeats, &GAUSS_64, 1)
    }

    /// With another rule and `finer` times as many panels, to see what the quadrature leaves over.
    pub fn with(repeats: &'a Repeats, rule: &'a GaussLegendre, finer: usize) -> Spreads<'a> {
        let panels = finer * panels(repeats);
        Spreads { repeats, chi: Chi::new(repeats.freedom_within()), panels, rule }
    }

    /// Chance that the standard deviation between workers lies below `sd`.
    pub fn between_below(&self, sd: f64) -> Result<f64> {
        let mut sum = 0.0;
        for (r, probability) in self.chi.nodes(self.panels, self.rule) {
            sum += probability * self.exceeds(self.repeats.within_sum() / (r * r), sd * sd)?;
        }
        Ok(sum)
    }

    /// Chance that the variance between lies below `between` when the variance within is `within`.
    fn exceeds(&self, within: f64, between: f64) -> Result<f64> {
        let spread = self.repeats.weighted(within, between).spread;
        chi_squared::upper(spread, self.repeats.freedom_between())
    }

    /// The standard deviation below which `below` finds the chance `wanted`; 0 where more than that lies at nil.
    pub fn sd_at(
        &self,
        what: &'static str,
        wanted: f64,
        below: impl Fn(&Self, f64) -> Result<f64>,
    ) -> Result<f64> {
        let scale = self.scale();
        if below(self, 1e-9 * scale)? >= wanted {
            return Ok(0.0);
        }
        let mut failure = None;
        let mut gap = |ln_sd: f64| match below(self, ln_sd.exp()) {
            Ok(chance) => chance - wanted,
            Err(error) => {
                failure = Some(error);
                f64::NAN
            }
        };
        let bounds = ((1e-9 * scale).ln(), (LARGEST * scale).ln());
        let found = root::bracket(what, scale.ln(), 0.5, bounds, &mut gap)
            .and_then(|(low, high)| root::brent(what, 1e-12, low, high, &mut gap));
        match failure {
            Some(error) => Err(error),
            None => found.map(f64::exp),
        }
    }

    fn scale(&self) -> f64 {
        let (fewest, _) = self.repeats.extreme_repeats();
        let within = self.repeats.within_sum() / self.repeats.freedom_within();
        let between = self.repeats.weighted(1.0, 0.0).spread / self.repeats.freedom_between() / fewest;
        (within + between).sqrt()
    }
}
