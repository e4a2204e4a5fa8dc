//! Distributions on an interval as Legendre series.

use crate::numeric::quadrature::GaussLegendre;
use std::sync::LazyLock;

/// How finely a posterior is sampled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Resolution {
    /// Enough for six decimals of any probability, and for nine of most.
    #[default]
    Standard,
    /// Twice as many nodes in both directions: what the standard is held against.
    Doubled,
}

/// A Gauss-Legendre rule with the Legendre polynomials at its nodes.
#[derive(Debug)]
pub(super) struct Rule {
    pub(super) gauss: GaussLegendre,
    polynomials: Vec<Vec<f64>>,
}

/// Nodes over the location at the standard resolution.
pub(super) const LOCATION_NODES: usize = 44;

static RULES: LazyLock<[Rule; 4]> =
    LazyLock::new(|| [LOCATION_NODES, 20, 2 * LOCATION_NODES, 40].map(Rule::new));

impl Resolution {
    /// The rule over the location, and the rule of each panel over the spread.
    pub(super) fn rules(self) -> (&'static Rule, &'static Rule) {
        match self {
            Resolution::Standard => (&RULES[0], &RULES[1]),
            Resolution::Doubled => (&RULES[2], &RULES[3]),
        }
    }
}

impl Rule {
    fn new(points: usize) -> Self {
        let gauss = GaussLegendre::new(points);
        let polynomials = gauss.nodes().iter().map(|node| legendre(points, node.0)).collect();
        Rule { gauss, polynomials }
    }
}

/// P_0 to P_(n-1) at `t`.
fn legendre(n: usize, t: f64) -> Vec<f64> {
    let mut all = vec![1.0, t];
    for k in 2..n {
        let m = k as f64;
        all.push(((2.0 * m - 1.0) * t * all[k - 1] - (m - 1.0) * all[k - 2]) / m);
    }
    all.truncate(n);
    all
}

/// A density on an interval, known at Gauss-Legendre nodes, as its Legendre series and that of its integral.
#[derive(Debug, Clone)]
pub(super) struct Series {
    pub(super) low: f64,
    pub(super) high: f64,
    density: Vec<f64>,
    integral: Vec<f64>,
}

impl Series {
    /// From the values at the nodes of `rule` carried over to [`low`, `high`].
    pub(super) fn new(rule: &Rule, low: f64, high: f64, values: &[f64]) -> Self {
        let n = values.len();
        let mut density = vec![0.0; n];
        for ((polynomials, node), value) in rule.polynomials.iter().zip(rule.gauss.nodes()).zip(values) {
            let weighted = node.1 * value;
            density.iter_mut().zip(polynomials).for_each(|(c, p)| *c += weighted * p);
        }
        for (k, c) in density.iter_mut().enumerate() {
            *c *= k as f64 + 0.5;
        }
        let half = 0.5 * (high - low);
        let term = |k: usize| density.get(k).map_or(0.0, |c| c / (2.0 * k as f64 + 1.0));
        let mut integral: Vec<f64> = (1..=n).map(|k| half * (term(k - 1) - term(k + 1))).collect();
        integral.insert(0, half * (density[0] - term(1)));
        Series { low, high, density, integral }
    }

    /// The integral over the whole interval.
    pub(super) fn mass(&self) -> f64 {
        self.density[0] * (self.high - self.low)
    }

    /// Divides the density by a number.
    pub(super) fn divide(&mut self, by: f64) {
        self.density.iter_mut().chain(self.integral.iter_mut()).for_each(|c| *c /= by);
        let least = 1e-15 * self.density[0].abs();
        while self.density.len() > 2 && self.density.last().is_some_and(|c| c.abs() < least) {
            self.density.pop();
            self.integral.pop();
        }
    }

    /// The integral below `x` and the density at it.
    pub(super) fn at(&self, x: f64) -> (f64, f64) {
        if x <= self.low {
            return (0.0, 0.0);
        }
        if x >= self.high {
            return (self.mass(), 0.0);
        }
        let t = (2.0 * x - self.low - self.high) / (self.high - self.low);
        let (mut before, mut now) = (1.0, t);
        let mut density = self.density[0] + self.density[1] * t;
        let mut integral = self.integral[0] + self.integral[1] * t;
        for ((c, b), (rise, fall)) in self.density.iter().zip(&self.integral).zip(RECURRENCE.iter()).skip(2) {
            let next = (rise * t) * now - fall * before;
            (before, now) = (now, next);
            density += c * now;
            integral += b * now;
        }
        (integral, density.max(0.0))
    }
}

/// (2k - 1)/k and (k - 1)/k: P_k = (2k - 1)/k t P_(k-1) - (k - 1)/k P_(k-2). The time goes into waiting for the polynomial before, so
/// that all else is kept out of its way.
static RECURRENCE: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let of = |k: f64| ((2.0 * k - 1.0) / k, (k - 1.0) / k);
    (0..=96).map(|k| of(f64::from(k.max(1)))).collect()
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_integral_of_a_polynomial_is_exact() {
        let rule = Resolution::Standard.rules().1;
        let values: Vec<f64> = rule.gauss.on(1.0, 3.0).map(|(x, _)| x * x * x).collect();
        let series = Series::new(rule, 1.0, 3.0, &values);
        let (integral, density) = series.at(2.5);
        assert!((integral - (2.5_f64.powi(4) - 1.0) / 4.0).abs() < 1e-12, "{integral}");
        assert!((density - 2.5_f64.powi(3)).abs() < 1e-12, "{density}");
        assert!((series.mass() - 20.0).abs() < 1e-12);
    }

    #[test]
    fn the_normal_distribution_comes_back_to_ten_digits() {
        let rule = Resolution::Standard.rules().0;
        let values: Vec<f64> =
            rule.gauss.on(-7.0, 7.0).map(|(x, _)| crate::special::normal::density(x)).collect();
        let series = Series::new(rule, -7.0, 7.0, &values);
        for x in [-4.0, -1.6, 0.0, 0.3, 2.0, 5.0] {
            let got = series.at(x).0;
            assert!((got - crate::special::normal::lower(x)).abs() < 2e-9, "{x} {got}");
        }
    }
}
