//! The decision rules, each a value in a file of its own. To add one: write its file, list it in [`RULES`].

mod exceedance;
mod individual;
mod mean;
mod nonparametric;
mod posterior;
mod screening;
mod tolerance;

#[cfg(test)]
mod own_rule;

use crate::model::assessment::RuleResult;
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, Interval};

/// What a rule may look at.
#[derive(Default)]
pub struct Facts<'a> {
    /// Shift figures, one a shift, in the unit of the limit.
    pub values: &'a [Interval],
    /// The limit.
    pub limit: f64,
    /// Unit of both.
    pub unit: &'a str,
    /// The profile's figures by name, as `p95`.
    pub figures: &'a [(&'static str, Figure)],
    /// Those that need no distribution or test the fit, as `p95_by_rank`.
    pub fit: &'a [(&'static str, Figure)],
    /// The chances under a prior, as `p95_above_limit`.
    pub chances: &'a [(&'static str, Figure)],
    /// The prior, in words.
    pub prior: &'a str,
    /// Where the prior is the user's: the chances under the program's own flat one.
    pub flat: &'a [(&'static str, Figure)],
    /// Between and within workers, as `share_over`.
    pub between: &'a [(&'static str, Figure)],
    /// Workers with at least one shift figure.
    pub workers: usize,
    /// Of how many shifts no short-term window holds three tubes.
    pub few_tubes: usize,
}

impl Facts<'_> {
    /// A figure of the profile.
    fn figure(&self, name: &str) -> Option<&Figure> {
        let all = self.figures.iter().chain(self.fit).chain(self.chances).chain(self.between);
        all.into_iter().find(|(n, _)| *n == name).map(|(_, figure)| figure)
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
    /// Fewest workers whose shifts they must be.
    pub workers: usize,
    /// What it looks at beside the profile.
    pub looks_at: LooksAt,
    /// What it tests, so that the chance of its answer can be told beforehand.
    pub criterion: Criterion,
    /// The decision, given enough figures.
    decide: fn(&Facts) -> (Verdict, String),
}

/// What a rule looks at beside the profile's figures and those that need no distribution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LooksAt {
    /// Nothing.
    Profile,
    /// The chances under a prior.
    Chances,
    /// The variation between and within workers.
    Workers,
}

/// Every rule, in the order in which they are listed to the user.
static RULES: &[&Rule] = &[
    &screening::RULE,
    &tolerance::RULE,
    &tolerance::STRICT,
    &exceedance::RULE,
    &mean::RULE,
    &individual::RULE,
    &posterior::RULE,
    &nonparametric::RULE,
];

/// The names of all rules.
pub fn names() -> Vec<&'static str> {
    RULES.iter().map(|rule| rule.name).collect()
}

/// The rule called `name`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.name == name).copied()
}

/// The verdicts of the rules asked for, in the order asked.
pub fn verdicts<'a>(asked: impl Iterator<Item = &'a str>, facts: &Facts) -> Vec<RuleResult> {
    asked.filter_map(rule).map(|rule| apply(rule, facts)).collect()
}

/// Shifts without a window of enough tubes are screened only: that their tubes lie below a limit shows nothing of the minutes between.
fn screened(facts: &Facts, verdict: Verdict, because: String) -> (Verdict, String) {
    let (few, all) = (facts.few_tubes, facts.values.len());
    if few == 0 {
        return (verdict, because);
    }
    let verdict = if verdict == Verdict::Below { Verdict::Undecided } else { verdict };
    (
        verdict,
        format!("{because}; in {few} of {all} shifts no window holds three tubes, which is screening only"),
    )
}

fn apply(rule: &Rule, facts: &Facts) -> RuleResult {
    let n = facts.values.len();
    let (verdict, because) = match rule.most {
        _ if n < rule.fewest => {
            (Verdict::NotGiven, format!("needs {} shifts with a figure, there are {n}", rule.fewest))
        }
        _ if facts.workers < rule.workers => {
            let there = facts.workers;
            (
                Verdict::NotGiven,
                format!("needs shifts of {} workers or more, there are {there}", rule.workers),
            )
        }
        Some(most) if n > most => {
            (Verdict::NotGiven, format!("meant for {} to {most} shifts, there are {n}", rule.fewest))
        }
        _ => (rule.decide)(facts),
    };
    let (verdict, because) = screened(facts, verdict, because);
    RuleResult {
        rule: rule.name,
        verdict,
        because,
        to_settle: None,
        more_shifts: None,
        settling: None,
        source: rule.source,
    }
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
