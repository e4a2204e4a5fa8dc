//! Joint confidence distribution of the variances and the location, on a grid.

use super::chi::Chi;
use super::repeats::Repeats;
use crate::Result;
use crate::numeric::quadrature::GaussLegendre;
use crate::special::chi_squared;

/// Probability of a point below which the point is left out; some thousand of them together stay below 1e-11.
const NEGLIGIBLE: f64 = 1e-15;

/// One point of the grid: variances with their probability, and the location's distribution there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Point {
    pub probability: f64,
    pub between_sd: f64,
    pub within_sd: f64,
    /// Location, counted from the mean of all values.
    pub location: f64,
    pub location_error: f64,
}

/// The grid. Outer nodes are those of the variance within; inside each, the variance between runs over the part of
/// its chi distribution where it is positive, in the angle `r = r0 sin(angle)` that makes its root smooth, and one point carries
/// all the probability of no variance between.
pub(crate) fn grid(repeats: &Repeats, rule: &GaussLegendre) -> Result<Vec<Point>> {
    let (within, between) = (Chi::new(repeats.freedom_within()), Chi::new(repeats.freedom_between()));
    let mut grid = Vec::new();
    for (r, probability) in within.nodes(panels(repeats), rule) {
        let slice = Slice { repeats, chi: between, within: repeats.within_sum() / (r * r), probability };
        slice.fill(rule, &mut grid)?;
    }
    normalise(&mut grid);
    Ok(grid)
}

/// Panels for the variance within: with few degrees of freedom its distribution is wide against the changes that the worker
/// means bring about.
pub(crate) fn panels(repeats: &Repeats) -> usize {
    let sharpness = (repeats.freedom_between() / repeats.freedom_within()).sqrt().ceil();
    (sharpness as usize).clamp(1, 200)
}

/// Takes out what the quadrature leaves over of the total probability, and the points that carry none.
fn normalise(grid: &mut Vec<Point>) {
    grid.retain(|point| point.probability > NEGLIGIBLE);
    let total: f64 = grid.iter().map(|point| point.probability).sum();
    grid.iter_mut().for_each(|point| point.probability /= total);
}

/// All points with one variance within.
struct Slice<'a> {
    repeats: &'a Repeats,
    chi: Chi,
    within: f64,
    probability: f64,
}

impl Slice<'_> {
    fn fill(&self, rule: &GaussLegendre, grid: &mut Vec<Point>) -> Result<()> {
        let spread = self.repeats.weighted(self.within, 0.0).spread;
        let nil = chi_squared::upper(spread, self.repeats.freedom_between())?;
        grid.push(self.point(0.0, nil));
        let ends = self.angles(spread.sqrt());
        let mut between = 0.0;
        // From the largest angle down, so that each root is the start of the next, larger one.
        let nodes: Vec<(f64, f64)> = rule.on(ends.0, ends.1).collect();
        for &(angle, weight) in nodes.iter().rev() {
            let r = spread.sqrt() * angle.sin();
            between = self.between_at(r * r, between);
            let density = self.chi.density(r) * spread.sqrt() * angle.cos();
            grid.push(self.point(between, weight * density));
        }
        Ok(())
    }

    /// The angles between which the density is not negligible and the variance between is positive.
    fn angles(&self, full: f64) -> (f64, f64) {
        let (low, high) = self.chi.range();
        let angle = |r: f64| if full > 0.0 { (r / full).min(1.0).asin() } else { 0.0 };
        (angle(low), angle(high))
    }

    /// The variance between at which the weighted spread is `wanted`, by Newton's method on its reciprocal, which is concave
    /// (linear for balanced data) so that every step from the left stays on the left.
    fn between_at(&self, wanted: f64, start: f64) -> f64 {
        let mut between = start;
        for _ in 0..60 {
            let sums = self.repeats.weighted(self.within, between);
            let step = (1.0 / wanted - 1.0 / sums.spread) * sums.spread * sums.spread / sums.spread_squared;
            if !step.is_finite() {
                break;
            }
            between = (between + step).max(0.0);
            if step.abs() <= 1e-13 * between {
                break;
            }
        }
        between
    }

    fn point(&self, between: f64, probability: f64) -> Point {
        let sums = self.repeats.weighted(self.within, between);
        Point {
            probability: self.probability * probability,
            between_sd: between.sqrt(),
            within_sd: self.within.sqrt(),
            location: sums.mean,
            location_error: (1.0 / sums.weight).sqrt(),
        }
    }
}
