//! The chance that numbers of shifts give `below`, rule by rule.

use super::chance::{self, Outlook};
use crate::model::plan::{ASSUMED_GSD, ASSUMED_P95, LimitOutlook, RuleOutlook, WANTED, Wishes};
use crate::model::profile::GroupProfile;
use crate::model::{Criterion, Figure, LimitKind, brief};
use fullshift_stats::power::fewest;

/// Numbers of shifts for which the chance is told.
const FEWEST_SHIFTS: usize = 3;
const MOST_SHIFTS: usize = 30;

/// Largest number of shifts that is searched for the chance wanted.
const MOST_SEARCHED: usize = 1000;

/// A limit and what is known of the group's figures against it.
pub struct Against<'a> {
    /// The substance.
    pub agent: String,
    /// The kind of limit.
    pub kind: LimitKind,
    /// The limit.
    pub limit: Figure,
    /// Its value in the unit of the figures.
    pub value: f64,
    /// The profile.
    pub profile: &'a GroupProfile,
    /// The rules asked for.
    pub rules: Vec<AskedRule>,
}

/// A rule that was asked for, as far as a plan needs to know it.
pub struct AskedRule {
    /// Its name.
    pub name: &'static str,
    /// Fewest shifts.
    pub fewest: usize,
    /// Most, where there is a most.
    pub most: Option<usize>,
    /// What it tests.
    pub criterion: Criterion,
}

/// What numbers of shifts can be expected to settle.
pub fn outlook(against: Against, wishes: &Wishes) -> LimitOutlook {
    let (outlook, basis) = taken_as_true(&against, wishes);
    let shifts: Vec<usize> = (FEWEST_SHIFTS..=MOST_SHIFTS).collect();
    let rules = against.rules.iter().map(|rule| rule_outlook(rule, &outlook, &shifts)).collect();
    LimitOutlook {
        agent: against.agent,
        kind: against.kind,
        limit: against.limit,
        gm: outlook.mu.exp(),
        gsd: outlook.sigma.exp(),
        p95: (outlook.mu + chance::Z_95 * outlook.sigma).exp(),
        basis,
        shifts,
        rules,
    }
}

/// The distribution that is taken as true, with the words that say where it comes from: what the user assumes before the profile before what
/// the program proposes.
fn taken_as_true(against: &Against, wishes: &Wishes) -> (Outlook, String) {
    let profile = Outlook::of_profile(&against.profile.figures, against.value).ok();
    let ln_limit = against.value.ln();
    let from_profile = format!("profile of {} shifts", against.profile.n);
    let (sigma, spread) = match (wishes.gsd, &profile) {
        (Some(gsd), _) => (gsd.ln(), "GSD as assumed by you".to_owned()),
        (None, Some(profile)) => (profile.sigma, format!("GSD from the {from_profile}")),
        (None, None) => (ASSUMED_GSD.ln(), "GSD a proposal of this program".to_owned()),
    };
    let share = |share: f64| ln_limit + share.ln() - chance::Z_95 * sigma;
    let (mu, level) = match (wishes.p95, &profile) {
        (Some(p95), _) => {
            (share(p95), format!("95th percentile at {} of the limit as assumed by you", brief(p95)))
        }
        (None, Some(profile)) if wishes.gsd.is_none() => (profile.mu, String::new()),
        (None, Some(profile)) => (profile.mu, format!("GM from the {from_profile}")),
        (None, None) => (
            share(ASSUMED_P95),
            format!("95th percentile at {ASSUMED_P95} of the limit, a proposal of this program"),
        ),
    };
    let basis = match level.as_str() {
        "" => from_profile,
        level => format!("{spread}; {level}"),
    };
    (Outlook { mu, sigma, ln_limit }, basis)
}

fn rule_outlook(rule: &AskedRule, outlook: &Outlook, shifts: &[usize]) -> RuleOutlook {
    let takes = |n: usize| n >= rule.fewest && rule.most.is_none_or(|most| n <= most);
    let chance =
        |n: usize| takes(n).then(|| chance::below(rule.criterion, outlook, n)).flatten().and_then(Result::ok);
    let most = rule.most.unwrap_or(MOST_SEARCHED);
    let known = |n: usize| chance::known(chance::below(rule.criterion, outlook, n));
    let enough = match rule.criterion {
        Criterion::Workers => None,
        Criterion::AllBelow(_) => (rule.fewest..=most).find(|&n| chance(n).is_some_and(|c| c >= WANTED)),
        // Where the truth does not lie below, more shifts make the chance of `below` smaller; the first numbers are the best ones.
        _ => fewest(rule.fewest.max(2), most, WANTED, known).ok().flatten(),
    };
    let method = method(rule.criterion);
    RuleOutlook {
        rule: rule.name,
        chances: shifts.iter().map(|&n| chance(n)).collect(),
        fewest: enough,
        method,
    }
}

/// How the chances are found.
fn method(criterion: Criterion) -> &'static str {
    match criterion {
        Criterion::Percentile { .. } => "noncentral t, exact",
        Criterion::Posterior { .. } => "by the exact limits, which the posterior nears as shifts grow",
        Criterion::Mean { .. } => "quadrature over the spread, with Land's limits",
        Criterion::ByRank { .. } => "binomial, exact",
        Criterion::AllBelow(_) => "a power of the normal distribution, exact",
        Criterion::Workers => "not computed: it depends on how far workers differ",
    }
}
