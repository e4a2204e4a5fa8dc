//! The working behind the figures of a profile.

use super::sampled::Sampled;
use crate::model::{Input, Interval, Step, shown, shown_range};

/// The shift figures of a profile with the addresses by which `trace` finds them.
pub struct Values {
    /// Address of the profile, as `hall-operators/ammonia/twa`.
    address: String,
    unit: &'static str,
    addresses: Vec<String>,
    intervals: Vec<Interval>,
}

impl Values {
    /// Shift figures, each with its address.
    pub fn new(
        address: String,
        unit: &'static str,
        figures: impl Iterator<Item = (String, Interval)>,
    ) -> Values {
        let (addresses, intervals) = figures.unzip();
        Values { address, unit, addresses, intervals }
    }

    /// Shift figures without addresses: no working can name them.
    pub fn nameless(unit: &'static str, intervals: Vec<Interval>) -> Values {
        Values { address: String::new(), unit, addresses: Vec::new(), intervals }
    }

    /// Their unit.
    pub fn unit(&self) -> &str {
        self.unit
    }

    /// The figures.
    pub fn intervals(&self) -> &[Interval] {
        &self.intervals
    }

    fn inputs(&self) -> Vec<Input> {
        let input = |(address, v): (&String, &Interval)| {
            Input::new(address, format!("{} {}", shown_range(v.low(), v.high()), self.unit), address)
        };
        self.addresses.iter().zip(&self.intervals).map(input).collect()
    }

    /// Inputs of a figure that rests on the geometric mean and standard deviation.
    fn moments(&self, sampled: &Sampled) -> Vec<Input> {
        let of = |name: &str| format!("{}/{name}", self.address);
        let mut inputs = vec![Input::new("n", self.intervals.len(), "shifts with a figure")];
        if let Sampled::Complete(sample) = sampled {
            inputs.push(Input::new("ybar = ln GM", shown(sample.mean_ln()), of("gm")));
            inputs.push(Input::new("s = ln GSD", shown(sample.sd_ln()), of("gsd")));
        } else {
            inputs.extend(self.inputs());
        }
        if let Sampled::Censored(limits) = sampled {
            let fitted = limits.restricted();
            inputs.push(Input::new("mu", shown(fitted.mu), "fit"));
            inputs.push(Input::new("sigma", shown(fitted.sigma), "fit"));
        }
        inputs
    }
}

/// The steps behind the figure called `name`.
pub fn working(name: &str, sampled: &Sampled, values: &Values) -> Vec<Step> {
    let (title, formula, source) = match (sampled, name) {
        (Sampled::Censored(_), _) => (
            "censored fit",
            "mu and sigma from the likelihood of all shift figures, points and ranges; limits from the posterior under the prior 1/sigma, equal to the exact limits where nothing is censored",
            "Cohen-1961; handbook, page statistics-censored-samples",
        ),
        (_, "gm") => ("geometric mean", "GM = exp(mean of ln x)", "definition"),
        (_, "gsd") => ("geometric standard deviation", "GSD = exp(s), s with n - 1", "definition"),
        (_, "mean") => ("mean", "exp(ybar) psi_n(s^2/2); limits by Land", "Finney-1941; Land-1971"),
        (_, "p95") => (
            "95th percentile",
            "exp(ybar + 1.64485 s); limits exp(ybar + k s), k from the noncentral t distribution",
            "Hahn-Meeker-1991; EN-689",
        ),
        _ => (
            "share of shifts above the limit",
            "1 - Phi((ln L - ybar) / s); limits by inverting the noncentral t distribution",
            "Hahn-Meeker-1991",
        ),
    };
    let inputs = match name {
        "gm" | "gsd" => values.inputs(),
        _ => values.moments(sampled),
    };
    vec![Step { name: title.to_owned(), formula: formula.to_owned(), inputs, result: String::new(), source }]
}

/// One step from the shift figures themselves to a result.
pub fn from_values(title: &str, formula: &str, source: &'static str, values: &Values) -> Vec<Step> {
    let (name, formula) = (title.to_owned(), formula.to_owned());
    vec![Step { name, formula, inputs: values.inputs(), result: String::new(), source }]
}
