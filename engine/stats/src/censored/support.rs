//! Whether a sample can support a fit of two parameters at all.

use super::observation::{Observation, outside};
use super::sample::{Group, Sample};
use crate::Result;

/// The least number of values at least partly above the lowest bound.
pub const LEAST_INFORMATIVE: usize = 3;

/// How many values say more than that they are below the lowest bound: those known from below, and those known only from
/// above whose bound is not the lowest one.
pub fn informative(observations: &[Observation]) -> usize {
    let bounds = observations.iter().filter(|o| o.low() == 0.0).map(Observation::high);
    let lowest = bounds.fold(f64::INFINITY, f64::min);
    observations.iter().filter(|o| o.low() > 0.0 || o.high() > lowest).count()
}

/// Whether the likelihood of the sample has a maximum and enough values bear on it.
///
/// The log-likelihood is concave in (mu/sigma, 1/sigma) (Pratt, J. Am. Statist. Assoc. 76 (1981) 103-106; Burridge, J. R.
/// Statist. Soc. B 43 (1981) 41-45), so that a maximum exists exactly when it does not rise for ever in some
/// direction. It does so when all values are known only from one side, when a single concentration lies in every interval
/// (the spread may be nothing at all), and when values known from one side only do not overlap the right way round (the
/// spread may be anything).
///
/// Fails with `OutsideDomain`, which names the reason.
pub fn require_maximum(sample: &Sample) -> Result<()> {
    let all = sample.observations();
    let above = informative(all);
    if above < LEAST_INFORMATIVE {
        return Err(outside(
            "number of values at least partly above the lowest bound",
            above as f64,
            "3 or more",
        ));
    }
    if all.iter().all(|o| o.low() == 0.0) {
        return Err(outside(
            "number of values known from below",
            0.0,
            "1 or more: all values are below their bounds",
        ));
    }
    if all.iter().all(|o| o.high() == f64::INFINITY) {
        return Err(outside(
            "number of values known from above",
            0.0,
            "1 or more: all values are above their bounds",
        ));
    }
    if let Some(point) = sample.common_point() {
        let allowed =
            "absent: where one concentration lies in every interval the spread may be nothing at all";
        return Err(outside("concentration common to all values", point, allowed));
    }
    if sample.bounded() == 0.0 && !one_sided_values_overlap(sample) {
        let allowed = "higher than that of the lower bounds: otherwise the spread may be anything";
        return Err(outside(
            "geometric mean of the upper bounds",
            sample.value_of(mean_bound(sample, true)),
            allowed,
        ));
    }
    Ok(())
}

/// With one-sided values only, the slope of the likelihood in 1/sigma at 1/sigma = 0 has the sign of the mean upper bound less
/// the mean lower bound (logarithms).
fn one_sided_values_overlap(sample: &Sample) -> bool {
    mean_bound(sample, true) > mean_bound(sample, false)
}

fn mean_bound(sample: &Sample, upper: bool) -> f64 {
    let bound = |g: &Group| if upper { g.high } else { g.low };
    let with: Vec<_> = sample.groups.iter().filter(|g| bound(g).is_finite()).collect();
    let count: f64 = with.iter().map(|g| g.count).sum();
    with.iter().map(|g| g.count * bound(g)).sum::<f64>() / count
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Error;

    const INF: f64 = f64::INFINITY;

    fn reason(bounds: &[(f64, f64)]) -> &'static str {
        let all: Vec<Observation> =
            bounds.iter().map(|&(l, h)| Observation::between(l, h).unwrap()).collect();
        match require_maximum(&Sample::new(&all).unwrap()) {
            Err(Error::OutsideDomain { what, .. }) => what,
            Err(Error::NoConvergence { what }) => what,
            Ok(()) => "fit",
        }
    }

    #[test]
    fn each_refusal_names_its_reason() {
        let few = "number of values at least partly above the lowest bound";
        assert_eq!(reason(&[(1.0, 1.0), (2.0, 2.0)]), few);
        assert_eq!(reason(&[(0.0, 1.0), (0.0, 1.0), (0.0, 1.0), (3.0, 3.0), (4.0, 4.0)]), few);
        assert_eq!(
            reason(&[(0.0, 1.0), (0.0, 2.0), (0.0, 3.0), (0.0, 3.0)]),
            "number of values known from below"
        );
        assert_eq!(reason(&[(1.0, INF), (2.0, INF), (3.0, INF)]), "number of values known from above");
        let common = "concentration common to all values";
        assert_eq!(reason(&[(2.0, 5.0), (2.0, 5.0), (2.0, 5.0)]), common);
        assert_eq!(reason(&[(3.0, 3.0), (3.0, 3.0), (3.0, 3.0), (0.0, 5.0)]), common);
        assert_eq!(reason(&[(1.0, 2.0), (2.0, 5.0), (2.0, 2.0), (2.0, 2.0)]), common);
        let apart = "geometric mean of the upper bounds";
        assert_eq!(reason(&[(0.0, 1.0), (5.0, INF), (5.0, INF), (6.0, INF)]), apart);
    }

    #[test]
    fn samples_with_a_maximum_pass() {
        assert_eq!(reason(&[(1.0, 1.0), (2.0, 2.0), (4.0, 4.0)]), "fit");
        assert_eq!(reason(&[(0.0, 1.0), (1.0, 2.0), (2.0, 5.0), (2.0, 5.0)]), "fit");
        assert_eq!(reason(&[(0.0, 1.0), (0.0, 20.0), (0.0, 30.0), (5.0, INF), (6.0, INF)]), "fit");
    }
}
