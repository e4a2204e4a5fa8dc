//! The decision rules, each a value in a file of its own. To add one: write its file, list it in [`RULES`].

mod exceedance;
mod mean;
mod screening;
mod tolerance;

use crate::model::Figure;
use crate::model::Interval;
use crate::model::assessment::RuleResult;
use crate::model::profile::Verdict;

/// What a rule may look at.
pub struct Facts<'a> {
    /// Shift figures, one a shift, in the unit of the limit.
    pub values: &'a [Interval],
    /// The limit.
    pub limit: f64,
    /// Unit of both.
    pub unit: &'a str,
    /// The profile's figures by name.
    pub figures: &'a [(&'static str, Figure)],
}

impl Facts<'_> {
    /// A figure of the profile.
    fn figure(&self, name: &str) -> Option<&Figure> {
        self.figures.iter().find(|(n, _)| *n == name).map(|(_, figure)| figure)
    }

    /// A number with its unit, if it has one.
    fn amount(&self, number: String) -> String {
        if self.unit.is_empty() { number } else { format!("{number} {}", self.unit) }
    }
}

/// A decision rule: where it comes from, how many shift figures it needs, how it decides.
pub struct Rule {
    /// Its name in the study file.
    pub name: &'static str,
    /// Its source: a key of the handbook's list.
    pub source: &'static str,
    /// Fewest shift figures it can be applied to.
    pub fewest: usize,
    /// Most, where there is a most.
    pub most: Option<usize>,
    /// The decision, given enough figures.
    decide: fn(&Facts) -> (Verdict, String),
}

/// Every rule, in the order in which they are listed to the user.
static RULES: &[&Rule] =
    &[&screening::RULE, &tolerance::RULE, &tolerance::STRICT, &exceedance::RULE, &mean::RULE];

/// The names of all rules.
pub fn names() -> Vec<&'static str> {
    RULES.iter().map(|rule| rule.name).collect()
}

/// The verdicts of the rules asked for, in the order asked.
pub fn verdicts<'a>(asked: impl Iterator<Item = &'a str>, facts: &Facts) -> Vec<RuleResult> {
    asked
        .filter_map(|name| RULES.iter().find(|rule| rule.name == name))
        .map(|rule| apply(rule, facts))
        .collect()
}

fn apply(rule: &Rule, facts: &Facts) -> RuleResult {
    let n = facts.values.len();
    let (verdict, because) = match rule.most {
        _ if n < rule.fewest => {
            (Verdict::NotGiven, format!("needs {} shifts with a figure, there are {n}", rule.fewest))
        }
        Some(most) if n > most => {
            (Verdict::NotGiven, format!("meant for {} to {most} shifts, there are {n}", rule.fewest))
        }
        _ => (rule.decide)(facts),
    };
    RuleResult { rule: rule.name, verdict, because, to_settle: None, source: rule.source }
}

/// Decides by a figure's one-sided limits against a threshold: below where the upper one lies under it, above where
/// the lower one lies over it.
fn by_limits(
    figure: Option<&Figure>,
    upper: Option<f64>,
    threshold: f64,
    words: &Words,
) -> (Verdict, String) {
    let Some(figure) = figure else { return (Verdict::NotGiven, format!("{} is not given", words.what)) };
    if let Some(reason) = figure.reason() {
        return (Verdict::NotGiven, reason.to_owned());
    }
    let show = |x: f64| (words.show)(x, threshold);
    let entered = (words.show_threshold)(threshold);
    match (figure.low(), upper) {
        (_, Some(upper)) if upper < threshold => (
            Verdict::Below,
            format!("the {} of {} is {}, below {}", words.upper, words.what, show(upper), entered),
        ),
        (Some(low), _) if low > threshold => (
            Verdict::Above,
            format!("the 95 % lower limit of {} is {}, above {}", words.what, show(low), entered),
        ),
        (low, upper) => {
            let end = |x: Option<f64>| x.map_or("none".to_owned(), show);
            let message = format!(
                "{} is {} (95 % lower limit {}, {} {}), and {} lies between",
                words.what,
                figure.value().map_or("unknown".to_owned(), show),
                end(low),
                words.upper,
                end(upper),
                entered
            );
            (Verdict::Undecided, message)
        }
    }
}

/// How a rule speaks of its figure.
struct Words<'a> {
    what: &'static str,
    upper: &'static str,
    /// A figure beside the threshold.
    show: &'a dyn Fn(f64, f64) -> String,
    /// The threshold itself.
    show_threshold: &'a dyn Fn(f64) -> String,
}
