//! Chances under a stated prior: that the 95th percentile, or the mean, lies above the limit or a part of it.

use super::sampled::{CONFIDENCE, Known, SHARE, Told};
use super::working::from_values;
use crate::model::belief::{Belief, Believed};
use crate::model::{Figure, Interval, brief};
use fullshift_stats::Result;
use fullshift_stats::censored::{Limits, Quantity};
use fullshift_stats::posterior::{LocationPrior, Posterior, Prior, SpreadPrior};

const NO_INTERVAL: &str = "a chance given the data and the prior is itself the statement of uncertainty";

/// The chances and credible limits of a profile.
pub struct Chances {
    /// The prior, in words.
    pub prior: String,
    /// The figures by name.
    pub figures: Vec<(&'static str, Figure)>,
    /// Where the prior is the user's: the same under the program's own, with that in words.
    pub flat: Option<(String, Vec<(&'static str, Figure)>)>,
}

/// The chances for shift figures against a limit; works from one shift on. Where the user entered a prior they are given under it, and beside it
/// under the program's own.
pub fn chances(known: &Known, limit: f64, unit: &str, belief: Option<&Belief>) -> Chances {
    let (prior, figures) = match Prior::around(limit) {
        Ok(prior) => {
            let words = in_words(&prior, unit, "a proposal of this program");
            let figures = under(known, &prior, &words, limit, unit);
            (words, figures)
        }
        Err(error) => (error.to_string(), Vec::new()),
    };
    let Some(belief) = belief else { return Chances { prior, figures, flat: None } };
    let (entered, own) = match prior_of(belief, limit) {
        Ok(own) => {
            let words = in_words(&own, unit, &format!("entered by you: {}", belief.source));
            let figures = under(known, &own, &words, limit, unit);
            (words, figures)
        }
        Err(error) => (error.to_string(), Vec::new()),
    };
    Chances { prior: entered, figures: own, flat: Some((prior, figures)) }
}

/// The prior that the user entered, against a limit.
fn prior_of(belief: &Belief, limit: f64) -> Result<Prior> {
    let location = match belief.gm {
        Believed::Between { lowest, highest } => {
            LocationPrior::Flat { lowest: lowest * limit, highest: highest * limit }
        }
        Believed::About { median, factor } => {
            LocationPrior::Lognormal { median: median * limit, gsd: factor }
        }
    };
    let spread = match belief.gsd {
        Believed::Between { lowest, highest } => SpreadPrior::Flat { lowest, highest },
        Believed::About { median, factor } => SpreadPrior::Lognormal { median, factor },
    };
    Prior::new(location, spread)
}

fn under(known: &Known, prior: &Prior, words: &str, limit: f64, unit: &str) -> Vec<(&'static str, Figure)> {
    let Known { values, sample, told } = known;
    let (p95, mean) = (Quantity::Percentile(SHARE), Quantity::Mean);
    let above = [
        ("p95_above_limit", p95, 1.0),
        ("p95_above_half", p95, 0.5),
        ("p95_above_tenth", p95, 0.1),
        ("mean_above_limit", mean, 1.0),
        ("mean_above_half", mean, 0.5),
        ("mean_above_tenth", mean, 0.1),
    ];
    let credible = [
        ("gm", unit, Quantity::GeometricMean),
        ("gsd", "", Quantity::GeometricSd),
        ("mean", unit, mean),
        ("p95", unit, p95),
    ];
    let refused = |reason: String| {
        let names = above.iter().map(|(name, ..)| *name).chain(credible.iter().map(|(name, ..)| *name));
        names.map(|name| (name, Figure::not_given(reason.clone()))).collect()
    };
    let sample = match sample {
        Ok(sample) => sample,
        Err(reason) => return refused(reason.clone()),
    };
    let posterior = match Posterior::new(sample, prior) {
        Ok(posterior) => posterior,
        Err(error) => return refused(error.to_string()),
    };
    if let Some(reason) = outside(told, values.intervals(), prior) {
        return refused(reason);
    }
    let chance = |(name, quantity, share): (&'static str, Quantity, f64)| {
        let steps = from_values(
            "posterior probability",
            "likelihood of all shift figures times the prior, integrated over (ln GM, ln GSD) where the quantity lies above",
            "handbook, page statistics-posterior",
            values,
        );
        (name, chance_figure(posterior.probability_above(quantity, share * limit), words).with_trail(steps))
    };
    let limits = |(name, unit, quantity): (&'static str, &str, Quantity)| {
        let steps = from_values(
            "credible limits",
            "the values below which the quantity lies with 5 %, 50 % and 95 % probability",
            "handbook, page statistics-posterior",
            values,
        );
        (name, credible_figure(posterior.limits(quantity, CONFIDENCE), unit).with_trail(steps))
    };
    above.into_iter().map(chance).chain(credible.into_iter().map(limits)).collect()
}

/// Why the prior's region cannot speak for the data: their own spread or level lies outside it.
fn outside(told: &Told, values: &[Interval], prior: &Prior) -> Option<String> {
    let (LocationPrior::Flat { lowest, highest }, SpreadPrior::Flat { lowest: narrowest, highest: widest }) =
        (prior.location(), prior.spread())
    else {
        return None;
    };
    let Ok(sampled) = told else {
        // Too little for a profile, as one value or equal ones, may still lie off.
        let off = |v: &Interval| v.is_point() && (v.low() > highest || v.high() < lowest);
        let words = "the data lie outside the region of the prior, which would decide";
        return values.iter().all(off).then(|| words.to_owned());
    };
    let estimate = |quantity| sampled.limits(quantity, CONFIDENCE).ok().and_then(|l| l.estimate.value());
    let (gm, gsd) = (estimate(Quantity::GeometricMean)?, estimate(Quantity::GeometricSd)?);
    let inside = (lowest..=highest).contains(&gm) && (narrowest..=widest).contains(&gsd);
    (!inside).then(|| {
        format!(
            "the data (GM {}, GSD {}) lie outside the region of the prior, which would decide",
            brief(gm),
            brief(gsd)
        )
    })
}

fn chance_figure(chance: Result<f64>, prior: &str) -> Figure {
    match chance {
        Ok(chance) => {
            Figure::without_interval(chance, "", format!("posterior probability; prior {prior}"), NO_INTERVAL)
        }
        Err(error) => Figure::not_given(error.to_string()),
    }
}

fn credible_figure(limits: Result<Limits>, unit: &str) -> Figure {
    let limits = match limits {
        Ok(limits) => limits,
        Err(error) => return Figure::not_given(error.to_string()),
    };
    let Some(value) = limits.estimate.value() else {
        return Figure::not_given("the data and the prior set it no bound that a number can hold");
    };
    let ends = (limits.lower.value(), limits.upper.value());
    let open = (ends.0.is_none() || ends.1.is_none())
        .then(|| "on the side left open nothing sets a bound".to_owned());
    Figure::estimate(value, ends, CONFIDENCE, unit, "posterior median; credible limits", open)
}

fn in_words(prior: &Prior, unit: &str, origin: &str) -> String {
    let location = match prior.location() {
        LocationPrior::Flat { lowest, highest } => {
            format!("flat in ln GM from {} to {} {unit}", brief(lowest), brief(highest))
        }
        LocationPrior::Lognormal { median, gsd } => {
            format!("GM lognormal about {} {unit} with GSD {}", brief(median), brief(gsd))
        }
    };
    let spread = match prior.spread() {
        SpreadPrior::Flat { lowest, highest } => {
            format!("flat in ln GSD from {} to {}", brief(lowest), brief(highest))
        }
        SpreadPrior::Invariant { lowest, highest } => {
            format!("flat in ln ln GSD from {} to {}", brief(lowest), brief(highest))
        }
        SpreadPrior::Lognormal { median, factor } => {
            format!("ln GSD lognormal about that of {} by a factor of {}", brief(median), brief(factor))
        }
    };
    format!("{location}; {spread}; {origin}")
}
