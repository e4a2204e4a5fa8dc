//! Arbitrary numbers for the mathematics: every answer is a number or a reason, and limits stand in their order.

use fullshift_stats::censored::{
    self, InvariantLimits, Limits, Observation, ProfileLikelihood, Quantity, Sample,
};
use fullshift_stats::complete::{
    LogSample, arithmetic_mean, exceedance, geometric_mean, geometric_sd, order_statistics, percentile,
};
use fullshift_stats::posterior::{LocationPrior, Posterior, Prior, SpreadPrior};
use fullshift_stats::strata::{StrataMean, Stratum};
use fullshift_stats::workers::{self, Likelihood, OwnFigure, Repeats};
use fullshift_stats::{Result, comparison, compliance, drawing, fit, power, shares, special};

/// What the bytes stand for: numbers of any kind, most of them such as a user could enter.
struct Draw<'a>(&'a [u8]);

impl Draw<'_> {
    fn bytes<const N: usize>(&mut self) -> [u8; N] {
        let (own, rest) = self.0.split_at(N.min(self.0.len()));
        self.0 = rest;
        std::array::from_fn(|at| own.get(at).copied().unwrap_or(0))
    }

    fn byte(&mut self) -> u8 {
        let [byte] = self.bytes();
        byte
    }

    fn count(&mut self, most: usize) -> usize {
        usize::from(self.byte()) % (most + 1)
    }

    fn number(&mut self) -> f64 {
        match self.byte() % 4 {
            0 => f64::from_bits(u64::from_le_bytes(self.bytes())),
            1 => f64::from(self.byte()),
            2 => (f64::from(i16::from_le_bytes(self.bytes())) / 4096.0).exp(),
            _ => self.share(),
        }
    }

    fn share(&mut self) -> f64 {
        f64::from(u16::from_le_bytes(self.bytes())) / 65536.0
    }

    fn numbers(&mut self, most: usize) -> Vec<f64> {
        (0..self.count(most)).map(|_| self.number()).collect()
    }

    fn observations(&mut self, most: usize) -> Vec<Observation> {
        let most = most.min(self.0.len());
        let one = |_| match self.byte() % 4 {
            0 => Observation::exact(self.number()),
            1 => Observation::below(self.number()),
            2 => Observation::above(self.number()),
            _ => Observation::between(self.number(), self.number()),
        };
        (0..most).map(one).filter_map(Result::ok).collect()
    }

    fn quantity(&mut self) -> Quantity {
        match self.byte() % 5 {
            0 => Quantity::GeometricMean,
            1 => Quantity::GeometricSd,
            2 => Quantity::Mean,
            3 => Quantity::Percentile(self.share()),
            _ => Quantity::Exceedance(self.number()),
        }
    }
}

/// A number or a reason.
fn number(what: &str, answer: Result<f64>) -> Option<f64> {
    let value = answer.ok()?;
    assert!(!value.is_nan(), "{what} is NaN");
    Some(value)
}

/// The same for a chance.
fn chance(what: &str, answer: Result<f64>) {
    if let Some(value) = number(what, answer) {
        assert!((0.0..=1.0).contains(&value), "{what} is {value}");
    }
}

/// Limits of confidence of at least one half stand in their order.
fn ordered(what: &str, confidence: f64, low: Result<f64>, high: Result<f64>) {
    if let (Some(low), Some(high)) = (number(what, low), number(what, high)) {
        let slack = 1e-9 * low.abs().max(high.abs()).max(1e-300);
        assert!(
            confidence < 0.5 || low <= high || low - high <= slack,
            "{what}: {low} to {high} at {confidence}"
        );
    }
}

fn ordered_limits(what: &str, confidence: f64, answer: Result<Limits>) {
    let Ok(limits) = answer else { return };
    let (low, high) = (limits.lower.value(), limits.upper.value());
    number(what, Ok(limits.estimate.value().unwrap_or(0.0)));
    if let (Some(low), Some(high)) = (low, high) {
        ordered(what, confidence, Ok(low), Ok(high));
    }
}

/// The mathematics on arbitrary bits.
pub fn statistics(bytes: &[u8]) {
    let mut draw = Draw(bytes);
    match draw.byte() % 9 {
        0 => complete(&mut draw),
        1 => censored(&mut draw),
        2 => posterior(&mut draw),
        3 => strata(&mut draw),
        4 => workers(&mut draw),
        5 => special(&mut draw),
        6 => compliance(&mut draw),
        7 => power(&mut draw),
        _ => comparison(&mut draw),
    }
}

fn complete(draw: &mut Draw) {
    let (confidence, share, point) = (draw.share(), draw.share(), draw.number());
    let values = draw.numbers(40);
    let sample = match draw.byte() % 2 {
        0 => LogSample::from_values(&values),
        _ => LogSample::from_statistics(draw.count(200), draw.number(), draw.number()),
    };
    if let Ok(sample) = sample {
        let s = &sample;
        ordered("gm", confidence, geometric_mean::lower(s, confidence), geometric_mean::upper(s, confidence));
        ordered("gsd", confidence, geometric_sd::lower(s, confidence), geometric_sd::upper(s, confidence));
        ordered(
            "mean",
            confidence,
            arithmetic_mean::lower(s, confidence),
            arithmetic_mean::upper(s, confidence),
        );
        let ends = (percentile::lower(s, share, confidence), percentile::upper(s, share, confidence));
        ordered("percentile", confidence, ends.0, ends.1);
        let ends = (exceedance::lower(s, point, confidence), exceedance::upper(s, point, confidence));
        ordered("exceedance", confidence, ends.0, ends.1);
        chance("exceedance", exceedance::estimate(s, point));
        chance("unbiased exceedance", exceedance::unbiased(s, point));
        number("mean", arithmetic_mean::estimate(s));
    }
    let _ = order_statistics::percentile_upper(&values, share, confidence);
    let _ = order_statistics::percentile_lower(&values, share, confidence);
    chance("plot correlation", fit::probability_plot_correlation(&values).map(f64::abs));
    chance("Shapiro and Wilk", fit::shapiro_wilk(&values).map(|test| test.p));
    let times = draw.numbers(40);
    chance("Mann and Kendall", fit::mann_kendall(&times, &values).map(|trend| trend.p));
}

fn censored(draw: &mut Draw) {
    let (confidence, quantity, share) = (draw.share(), draw.quantity(), draw.share());
    let observations = draw.observations(24);
    if let Ok(table) = censored::product_limit(&observations) {
        number("product-limit mean", Ok(table.mean()));
        number("product-limit percentile", Ok(table.percentile(share).unwrap_or(0.0)));
    }
    if let Ok(line) = censored::order_regression(&observations) {
        number("regression on order statistics", Ok(line.mean()));
    }
    if let Ok(table) = censored::turnbull(&observations) {
        let (low, high) = table.mean_bounds();
        ordered("Turnbull's mean", 1.0, Ok(low), Ok(high));
    }
    let Ok(sample) = Sample::new(&observations) else { return };
    let _ = censored::fit(&sample);
    if let Ok(profile) = ProfileLikelihood::new(&sample) {
        ordered_limits("profile likelihood", confidence, profile.limits(quantity, confidence));
    }
    if let Ok(limits) = InvariantLimits::new(&sample) {
        ordered_limits("invariant limits", confidence, limits.limits(quantity, confidence));
    }
}

fn posterior(draw: &mut Draw) {
    let (quantity, confidence, value) = (draw.quantity(), draw.share(), draw.number());
    let location = match draw.byte() % 2 {
        0 => LocationPrior::Flat { lowest: draw.number(), highest: draw.number() },
        _ => LocationPrior::Lognormal { median: draw.number(), gsd: draw.number() },
    };
    let spread = match draw.byte() % 3 {
        0 => SpreadPrior::Flat { lowest: draw.number(), highest: draw.number() },
        1 => SpreadPrior::Invariant { lowest: draw.number(), highest: draw.number() },
        _ => SpreadPrior::Lognormal { median: draw.number(), factor: draw.number() },
    };
    let prior = match draw.byte() % 3 {
        0 => Prior::around(draw.number()),
        _ => Prior::new(location, spread),
    };
    let Ok(sample) = Sample::new(&draw.observations(12)) else { return };
    let Ok(posterior) = prior.and_then(|prior| Posterior::new(&sample, &prior)) else { return };
    ordered_limits("posterior", confidence, posterior.limits(quantity, confidence));
    chance("posterior", posterior.probability_below(quantity, value));
}

fn strata(draw: &mut Draw) {
    let confidence = draw.share();
    let one = |_| match draw.byte() % 3 {
        0 => Stratum::Known { weight: draw.number(), mean: draw.number() },
        1 => Stratum::Bounded { weight: draw.number(), low: draw.number(), high: draw.number() },
        _ => {
            let (weight, error) = (draw.number(), draw.number());
            let (many, known) = (draw.count(6), draw.byte().is_multiple_of(2));
            Stratum::Sampled {
                weight,
                readings: draw.observations(many),
                relative_sd: known.then_some(error),
            }
        }
    };
    let strata: Vec<Stratum> = (0..4).map(one).collect();
    let many = 1 + draw.count(3);
    if let Ok(mean) = StrataMean::new(&strata[..many]) {
        ordered("mean over strata", confidence, mean.lower(confidence), mean.upper(confidence));
        if let Ok(Some((low, high))) = mean.limits_of_part(|place| place == 0, confidence) {
            ordered("part of a mean", confidence, Ok(low), Ok(high));
        }
    }
}

fn workers(draw: &mut Draw) {
    let (confidence, limit) = (draw.share(), draw.number());
    let groups: Vec<Vec<f64>> = (0..draw.count(7)).map(|_| draw.numbers(6)).collect();
    let Ok(repeats) = Repeats::of(&groups) else { return };
    let _ = workers::profile(&repeats, Some(limit), confidence);
    let ends =
        (workers::between_sd_lower(&repeats, confidence), workers::between_sd_upper(&repeats, confidence));
    ordered("spread between", confidence, ends.0, ends.1);
    let ends =
        (workers::within_sd_lower(&repeats, confidence), workers::within_sd_upper(&repeats, confidence));
    ordered("spread within", confidence, ends.0, ends.1);
    let ends = (workers::total_sd_lower(&repeats, confidence), workers::total_sd_upper(&repeats, confidence));
    ordered("total spread", confidence, ends.0, ends.1);
    let figure =
        if draw.byte().is_multiple_of(2) { OwnFigure::Mean } else { OwnFigure::Percentile(draw.share()) };
    let low = workers::share_over_lower(&repeats, limit, figure, confidence);
    ordered("share over", confidence, low, workers::share_over_upper(&repeats, limit, figure, confidence));
    for likelihood in [Likelihood::Full, Likelihood::Restricted] {
        let low = workers::between_sd_profile_lower(&repeats, likelihood, confidence);
        ordered(
            "profile",
            confidence,
            low,
            workers::between_sd_profile_upper(&repeats, likelihood, confidence),
        );
        let low = workers::within_sd_profile_lower(&repeats, likelihood, confidence);
        ordered(
            "profile",
            confidence,
            low,
            workers::within_sd_profile_upper(&repeats, likelihood, confidence),
        );
    }
}

fn special(draw: &mut Draw) {
    let (a, b, c, p) = (draw.number(), draw.number(), draw.number(), draw.share());
    chance("normal", Ok(special::normal::lower(a)).filter_nan(a));
    number("normal quantile", special::normal::quantile(p));
    number("normal quantile of log", special::normal::quantile_of_log(-a));
    chance("chi squared", special::chi_squared::lower(a, b));
    chance("chi squared", special::chi_squared::upper(a, b));
    number("chi squared quantile", special::chi_squared::quantile(p, b));
    number("chi squared quantile", special::chi_squared::quantile_upper(p, b));
    chance("gamma", special::gamma::lower(a, b));
    chance("gamma", special::gamma::upper(a, b));
    chance("student", special::student_t::lower(a, b));
    number("student quantile", special::student_t::quantile(p, b));
    chance("noncentral t", special::noncentral_t::lower(a, b, c));
    chance("noncentral t", special::noncentral_t::upper(a, b, c));
    number("noncentral t density", special::noncentral_t::density(a, b, c));
    number("noncentral t quantile", special::noncentral_t::quantile(p, b, c));
    number("noncentrality", special::noncentral_t::noncentrality(a, b, p));
    chance("F", workers::f_ratio::lower(a, b, c));
    number("F quantile", workers::f_ratio::quantile(p, b, c));
}

/// A function that takes any number may answer NaN with NaN.
trait FilterNan {
    fn filter_nan(self, argument: f64) -> Self;
}

impl FilterNan for Result<f64> {
    fn filter_nan(self, argument: f64) -> Self {
        if argument.is_nan() { Ok(0.0) } else { self }
    }
}

fn compliance(draw: &mut Draw) {
    let (limit, error, confidence) = (draw.number(), draw.number(), draw.share());
    let values = draw.numbers(40);
    let ratio = |what: &str, answer: Result<compliance::Ratio>| {
        if let Ok(ratio) = answer {
            ordered(what, 1.0, Ok(ratio.lower), Ok(ratio.ratio));
            ordered(what, 1.0, Ok(ratio.ratio), Ok(ratio.upper));
        }
    };
    ratio("single sample", compliance::single_sample(draw.number(), limit, error));
    let sample = |&minutes| compliance::Sample { minutes, concentration: draw.number() };
    let samples: Vec<compliance::Sample> = values.iter().map(sample).collect();
    ratio("consecutive", compliance::consecutive_samples(&samples, limit, error));
    ratio("varying", compliance::consecutive_samples_varying(&samples, limit, error, confidence));
    ratio("uniform", compliance::consecutive_samples_uniform(&samples, limit, error, confidence));
    let _ = compliance::few_grab_samples(&values, limit, confidence);
    let _ = compliance::many_grab_samples(&values, limit, confidence);
    let component = |&concentration| compliance::Component { concentration, limit: draw.number(), error };
    let components: Vec<compliance::Component> = values.iter().map(component).collect();
    number("mixture", compliance::mixture(&components).map(|mixture| mixture.index));
    number("daily reduction", compliance::daily_reduction(limit));
    number("weekly reduction", compliance::weekly_reduction(limit));
    number("lead-style reduction", compliance::lead_style_reduction(limit));
}

fn power(draw: &mut Draw) {
    let (n, share, confidence) = (draw.count(200), draw.share(), draw.share());
    let (distance, sigma) = (draw.number(), draw.number());
    chance("percentile below", power::percentile::below(n, distance, share, confidence));
    chance("percentile above", power::percentile::above(n, distance, share, confidence));
    chance("mean below", power::mean::below(n, distance, sigma, confidence));
    chance("mean above", power::mean::above(n, distance, sigma, confidence));
    chance("by rank", power::by_rank::below(n, draw.share(), share, confidence));
    let _ = power::by_rank::most_above(n, share, confidence);
    let (population, marked) = (u32::from_le_bytes(draw.bytes()) as usize, draw.count(255));
    chance("missed", drawing::chance_missed(population, marked, n));
    let _ = drawing::fewest(population, marked, confidence);
    number("number to draw", drawing::real_valued(population, share, confidence));
}

fn comparison(draw: &mut Draw) {
    let confidence = draw.share();
    let (first, second) = (draw.numbers(20), draw.numbers(20));
    for difference in
        [comparison::unpaired(&first, &second), comparison::paired(&first)].into_iter().flatten()
    {
        ordered("difference", confidence, difference.lower(confidence), difference.upper(confidence));
        chance("difference", difference.confidence_below_zero());
    }
    if let Ok(share) = shares::OfTotals::new(&first, &second) {
        ordered("share of totals", confidence, share.lower(confidence), share.upper(confidence));
    }
    let mut three = || [draw.number(), draw.number(), draw.number()];
    if let Ok((low, high)) = shares::between(three(), three()) {
        ordered("share beside the rest", 1.0, Ok(low), Ok(high));
    }
}
