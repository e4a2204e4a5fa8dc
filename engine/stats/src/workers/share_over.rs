//! The share of workers whose own figure lies above a limit.

use super::components::VarianceComponents;
use super::pivots::{Point, grid};
use super::repeats::{Repeats, outside};
use super::within_limits::checked;
use crate::numeric::quadrature::GaussLegendre;
use crate::special::normal;
use crate::{Error, Result};
use std::sync::LazyLock;

const WHAT: &str = "limit of the share of workers above";

/// Largest distance, in standard deviations between workers, that is told from "all on one side".
const FARTHEST: f64 = 37.0;

/// How near the distance is found, and in how many steps at most.
const TOLERANCE: f64 = 1e-10;
const STEPS: usize = 100;

/// Rules of the grids tried in turn until the next one agrees.
static RULES: [LazyLock<GaussLegendre>; 6] = [
    LazyLock::new(|| GaussLegendre::new(40)),
    LazyLock::new(|| GaussLegendre::new(48)),
    LazyLock::new(|| GaussLegendre::new(64)),
    LazyLock::new(|| GaussLegendre::new(96)),
    LazyLock::new(|| GaussLegendre::new(144)),
    LazyLock::new(|| GaussLegendre::new(192)),
];

/// What two grids must agree to, as a probability; the finer one, which is used, is then some fifty times better.
const AGREEMENT: f64 = 1e-7;

/// Which figure of a worker is held against the limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OwnFigure {
    /// The worker's own percentile, with this share of the worker's values below it.
    Percentile(f64),
    /// The worker's own arithmetic mean of the values before taking logarithms.
    Mean,
}

impl OwnFigure {
    /// How far the logarithm of the figure lies above the worker's own location.
    fn above_location(self, within_sd: f64) -> Result<f64> {
        match self {
            OwnFigure::Percentile(share) => Ok(normal::quantile(share)? * within_sd),
            OwnFigure::Mean => Ok(0.5 * within_sd * within_sd),
        }
    }
}

/// How far the limit lies above the middle worker's own figure, in standard deviations between workers.
///
/// `U = (limit - (location + a)) / s_b`, with a the distance from a worker's location to the figure: `z_p s_w` for a
/// percentile, `s_w^2/2` for the mean. Infinite of either sign where the fitted spread between workers is nil. `limit` is a
/// logarithm.
///
/// Source: BOHS and NVvA, Testing Compliance with Occupational Exposure Limits for Airborne Substances, 2011 (from memory).
pub fn distance_to_limit(fit: &VarianceComponents, limit: f64, figure: OwnFigure) -> Result<f64> {
    let gap = checked_limit(limit)? - fit.location - figure.above_location(fit.within.sqrt())?;
    Ok(if fit.is_at_boundary() { f64::INFINITY.copysign(gap) } else { gap / fit.between.sqrt() })
}

/// The share of workers whose own figure lies above a limit, as fitted: `Phi(-U)` of [`distance_to_limit`].
///
/// ```
/// use fullshift_stats::workers::{OwnFigure, VarianceComponents, share_over};
/// // The 95th percentile of the middle worker 0.84 deviations below the limit: one worker in five above it (Phi(-0.84) = 0.2005).
/// let fit = VarianceComponents { location: 0.0, location_error: 0.1, between: 0.25, within: 1.0, ln_likelihood: 0.0 };
/// let share = share_over(&fit, 1.644854 + 0.84 * 0.5, OwnFigure::Percentile(0.95))?;
/// assert!((share - 0.2005).abs() < 5e-5);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn share_over(fit: &VarianceComponents, limit: f64, figure: OwnFigure) -> Result<f64> {
    Ok(normal::upper(distance_to_limit(fit, limit, figure)?))
}

/// The lower limit of the share of workers whose own figure lies above `limit`.
///
/// The `1 - confidence` quantile of the generalised pivot of the share: the variances as in
/// [`between_sd_lower`](super::between_sd_lower), the location normal about the weighted mean they imply. Computed by
/// quadrature on grids that are refined until two agree on the confidence reached to 1e-7; the finer is used. `limit` is a logarithm, `confidence` is
/// between 0 and 1, one-sided.
///
/// Coverage: approximate; the measured table is in the handbook (*Between and within workers*).
///
/// Sources: K. Krishnamoorthy and T. Mathew, J. Agric. Biol. Environ. Stat. 7 (2002) 440-451; K. Krishnamoorthy,
/// T. Mathew and G. Ramachandran, Ann. Occup. Hyg. 51 (2007) 397-406; both approximate the unbalanced case through the
/// plain mean of the worker means, which is not needed here.
///
/// Fails with `OutsideDomain` for a confidence or percentile that is none or a limit that is not finite.
pub fn share_over_lower(repeats: &Repeats, limit: f64, figure: OwnFigure, confidence: f64) -> Result<f64> {
    distance_to_limit_upper(repeats, limit, figure, confidence).map(normal::upper)
}

/// The upper limit of the share of workers whose own figure lies above `limit`; see [`share_over_lower`].
pub fn share_over_upper(repeats: &Repeats, limit: f64, figure: OwnFigure, confidence: f64) -> Result<f64> {
    distance_to_limit_lower(repeats, limit, figure, confidence).map(normal::upper)
}

/// The lower limit of [`distance_to_limit`]: that of the share's upper limit. Minus infinity where the share may be 1.
pub fn distance_to_limit_lower(
    repeats: &Repeats,
    limit: f64,
    figure: OwnFigure,
    confidence: f64,
) -> Result<f64> {
    distance_at(repeats, limit, figure, 1.0 - checked(confidence)?)
}

/// The upper limit of [`distance_to_limit`]: that of the share's lower limit. Infinite where the share may be 0.
pub fn distance_to_limit_upper(
    repeats: &Repeats,
    limit: f64,
    figure: OwnFigure,
    confidence: f64,
) -> Result<f64> {
    distance_at(repeats, limit, figure, checked(confidence)?)
}

/// The confidence with which the distance to the limit lies at or below `distance`: where this is `confidence`, `distance` is the
/// upper limit of [`distance_to_limit_upper`]. `distance` finite.
pub fn distance_to_limit_confidence_below(
    repeats: &Repeats,
    limit: f64,
    figure: OwnFigure,
    distance: f64,
) -> Result<f64> {
    if !distance.is_finite() {
        return Err(outside("distance to the limit", distance, "finite"));
    }
    OwnLimits::of(repeats, limit)?.confidence_below(figure, distance)
}

fn checked_limit(limit: f64) -> Result<f64> {
    if limit.is_finite() { Ok(limit) } else { Err(outside("limit, as a logarithm", limit, "finite")) }
}

/// The distance below which its confidence distribution holds the chance `wanted`.
fn distance_at(repeats: &Repeats, limit: f64, figure: OwnFigure, wanted: f64) -> Result<f64> {
    OwnLimits::of(repeats, limit)?.distance_at(figure, wanted)
}

/// Limits of several figures of the same data against the same limit, on one set of grids.
pub(crate) struct OwnLimits<'a> {
    repeats: &'a Repeats,
    limit: f64,
    first: Vec<Point>,
    second: Vec<Point>,
}

impl<'a> OwnLimits<'a> {
    pub fn of(repeats: &'a Repeats, limit: f64) -> Result<OwnLimits<'a>> {
        let limit = checked_limit(limit)?;
        Ok(OwnLimits { repeats, limit, first: grid(repeats, &RULES[0])?, second: grid(repeats, &RULES[1])? })
    }

    /// The distance to the limit with its lower and upper limits.
    pub fn distance(
        &self,
        fit: &VarianceComponents,
        figure: OwnFigure,
        confidence: f64,
    ) -> Result<(f64, f64, f64)> {
        let confidence = checked(confidence)?;
        Ok((
            distance_to_limit(fit, self.limit, figure)?,
            self.distance_at(figure, 1.0 - confidence)?,
            self.distance_at(figure, confidence)?,
        ))
    }

    /// The distance below which its confidence distribution holds the chance `wanted`.
    fn distance_at(&self, figure: OwnFigure, wanted: f64) -> Result<f64> {
        self.refined(figure, |fine| fine.quantile(wanted), |coarse, found| coarse.below(*found) - wanted)
    }

    fn confidence_below(&self, figure: OwnFigure, distance: f64) -> Result<f64> {
        self.refined(figure, |fine| Ok(fine.below(distance)), |coarse, found| coarse.below(distance) - found)
    }

    /// What `find` finds on the first grid on which the grid before it agrees, as `gap` measures it.
    fn refined(
        &self,
        figure: OwnFigure,
        find: impl Fn(&Distances) -> Result<f64>,
        gap: impl Fn(&Distances, &f64) -> f64,
    ) -> Result<f64> {
        let above_origin = self.limit - self.repeats.origin();
        let mut coarse = Distances::of(&self.first, above_origin, figure)?;
        let mut fine = Distances::of(&self.second, above_origin, figure)?;
        for rule in &RULES[2..] {
            let found = find(&fine)?;
            if found.is_infinite() || gap(&coarse, &found).abs() < AGREEMENT {
                return Ok(found);
            }
            coarse = fine;
            fine = Distances::of(&grid(self.repeats, rule)?, above_origin, figure)?;
        }
        find(&fine)
    }
}

/// Confidence distribution of the distance to the limit.
struct Distances {
    points: Vec<Gap>,
}

/// Its part at one pair of variances.
struct Gap {
    /// Probability.
    p: f64,
    /// Spread between workers.
    sd: f64,
    /// From the weighted mean's figure to the limit.
    gap: f64,
    /// Standard error of that.
    error: f64,
}

impl Gap {
    /// The chance that `distance` is not reached, as a normal deviate.
    fn reached(&self, distance: f64) -> f64 {
        let reach = if self.sd == 0.0 { 0.0 } else { distance * self.sd };
        (reach - self.gap) / self.error
    }
}

impl Distances {
    fn of(grid: &[Point], limit: f64, figure: OwnFigure) -> Result<Distances> {
        let place = |point: &Point| -> Result<Gap> {
            let gap = limit - point.location - figure.above_location(point.within_sd)?;
            Ok(Gap { p: point.probability, sd: point.between_sd, gap, error: point.location_error })
        };
        Ok(Distances { points: grid.iter().map(place).collect::<Result<_>>()? })
    }

    /// Chance that the gap is at most `distance` times the spread between workers.
    fn below(&self, distance: f64) -> f64 {
        self.points.iter().map(|point| point.p * normal::lower(point.reached(distance))).sum()
    }

    /// The same with its derivative.
    fn at(&self, distance: f64) -> (f64, f64) {
        self.points.iter().fold((0.0, 0.0), |(below, density), point| {
            let (lower, rise) = normal::lower_and_density(point.reached(distance));
            (below + point.p * lower, density + point.p * rise * point.sd / point.error)
        })
    }

    /// As normal quantiles the chances are nearly a straight line, on which Newton's method is at its end in a few steps; a step
    /// that leaves the stretch in which the quantile is known to lie halves that instead, and so does every late one.
    fn quantile(&self, wanted: f64) -> Result<f64> {
        let score = normal::quantile(wanted)?;
        let (mut low, mut high) = (-FARTHEST, FARTHEST);
        let mut distance = 0.0;
        for step in 0..STEPS {
            let (below, density) = self.at(distance);
            let own = normal::quantile(below.clamp(1e-300, 1.0 - f64::EPSILON))?;
            if own > score {
                high = distance
            } else {
                low = distance
            }
            let newton = distance + (score - own) * normal::density(own) / density;
            let next = match newton {
                next if next > low && next < high && step < STEPS / 2 => next,
                _ if high == FARTHEST && self.below(FARTHEST) <= wanted => return Ok(f64::INFINITY),
                _ if low == -FARTHEST && self.below(-FARTHEST) >= wanted => return Ok(f64::NEG_INFINITY),
                _ => 0.5 * (low + high),
            };
            if (next - distance).abs() <= TOLERANCE {
                return Ok(next);
            }
            distance = next;
        }
        Err(Error::NoConvergence { what: WHAT })
    }
}
