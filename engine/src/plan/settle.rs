//! What would settle an open verdict: so many more shifts, or lower exposure.

use super::chance::{self, Outlook};
use super::driver::Driver;
use crate::model::profile::Verdict;
use crate::model::{Criterion, Figure, Input, Interval, Step, brief, shown};
use fullshift_stats::Result;
use fullshift_stats::power::fewest;
use fullshift_stats::special::normal;

/// The chance with which the shifts named settle a verdict.
pub const WANTED: f64 = 0.8;

/// More shifts than this are no plan (our judgement, no source).
const MOST_MORE: usize = 200;

/// More shifts than this are not searched.
const MOST_SEARCHED: usize = 20_000;

/// The rule that takes over where the screening rule has run out of shifts.
pub(super) const AFTER_SCREENING: Criterion = Criterion::Percentile { upper: 0.7, lower: 0.95 };

/// Fewest shifts of that rule.
pub(super) const FEWEST_AFTER_SCREENING: usize = 6;

/// What would settle a verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Settling {
    /// In words.
    pub words: String,
    /// How many more shifts, with the working.
    pub more_shifts: Figure,
}

/// A verdict that is open.
pub struct Open<'a> {
    /// What its rule tests.
    pub criterion: Criterion,
    /// The profile's figures.
    pub figures: &'a [(&'static str, Figure)],
    /// Its shift figures.
    pub values: &'a [Interval],
    /// The limit, in their unit.
    pub limit: f64,
    /// Address of the profile, as `hall-operators/ammonia/twa`.
    pub address: &'a str,
    /// Of how many shifts no short-term window holds three tubes.
    pub few_tubes: usize,
    /// The task that brings most of the dose, where one does.
    pub driver: Option<&'a Driver>,
}

/// What would settle an open verdict, were the profile's estimates the truth.
pub fn to_settle(open: &Open) -> Settling {
    let outlook = match Outlook::of_profile(open.figures, open.limit) {
        Ok(outlook) => outlook,
        Err(reason) => return untold(format!("what would settle it cannot be told: {reason}")),
    };
    if open.few_tubes > 0 && outlook.is_below(open.criterion) {
        let words = "shifts like these cannot show it below; windows measured in full, with three tubes or more in each shift, can";
        return untold(words.to_owned());
    }
    let settled = match open.criterion {
        Criterion::Workers => return workers(open),
        Criterion::AllBelow(shares) => by_screening(open, &outlook, shares),
        criterion => by_statistics(open, criterion, &outlook, open.values.len() + 1),
    };
    settled.unwrap_or_else(|error| untold(format!("what would settle it cannot be told: {error}")))
}

fn untold(reason: String) -> Settling {
    Settling { more_shifts: Figure::not_given(reason.clone()), words: reason }
}

/// The individual rule is open only where its estimate lies above: more shifts can then only bear that out.
fn workers(open: &Open) -> Settling {
    let words = format!(
        "the estimate itself lies above 20 %, so more shifts can only bear it out; {} would bring it below",
        lower_exposure(open)
    );
    let reason = "the chance of the limits of several workers is not computed";
    Settling { words, more_shifts: Figure::not_given(reason) }
}

/// Shifts until the limits of a statistical rule part from the limit, with the verdict towards which the profile lies.
fn by_statistics(open: &Open, criterion: Criterion, outlook: &Outlook, from: usize) -> Result<Settling> {
    let towards = if outlook.is_below(criterion) { Verdict::Below } else { Verdict::Above };
    let chance = |n: usize| {
        chance::known(match towards {
            Verdict::Below => chance::below(criterion, outlook, n),
            _ => chance::above(criterion, outlook, n),
        })
    };
    let have = open.values.len();
    let found = match (towards, criterion) {
        (Verdict::Above, Criterion::ByRank { .. }) => None,
        _ => fewest(from, have + MOST_SEARCHED, WANTED, chance)?,
    };
    Ok(match found {
        Some(total) => counted(open, criterion, outlook, total - have, towards, chance(total)?),
        None => Settling {
            words: format!("more shifts will not settle it; {} would", lower_exposure(open)),
            more_shifts: Figure::not_given(format!(
                "the profile sits so near the limit that {MOST_SEARCHED} more shifts would not settle it with {} %",
                brief(100.0 * WANTED)
            )),
        },
    })
}

fn counted(
    open: &Open,
    criterion: Criterion,
    outlook: &Outlook,
    more: usize,
    towards: Verdict,
    chance: f64,
) -> Settling {
    let (wanted, verdict) = (brief(100.0 * WANTED), towards.word());
    let shifts = if more == 1 { "1 more shift".to_owned() } else { format!("about {more} more shifts") };
    let words = match towards {
        _ if more > MOST_MORE => {
            format!(
                "more shifts will hardly settle it (about {} of them); {} would",
                brief(more as f64),
                lower_exposure(open)
            )
        }
        Verdict::Above => format!(
            "{shifts} would show it {verdict} ({wanted} %); only {} would bring it below",
            lower_exposure(open)
        ),
        _ => format!("{shifts} would show it {verdict} ({wanted} %)"),
    };
    Settling { words, more_shifts: figure(open, criterion, outlook, more, towards, chance) }
}

/// While the screening rule has shifts left, it is open only where all results lie below the share for a larger number; else the statistical rule
/// takes over.
fn by_screening(open: &Open, outlook: &Outlook, shares: &[(usize, f64)]) -> Result<Settling> {
    let have = open.values.len();
    let highest = open.values.iter().map(|v| v.high()).fold(0.0, f64::max) / open.limit;
    let ahead = shares.iter().filter(|(number, share)| *number > have && highest < *share);
    for &(number, share) in ahead {
        let more = number - have;
        let chance = normal::lower(outlook.distance(share)).powi(more as i32);
        if chance >= WANTED {
            let figure = figure(open, open.criterion, outlook, more, Verdict::Below, chance);
            let shifts = if more == 1 { "1 more shift".to_owned() } else { format!("{more} more shifts") };
            let words = format!("{shifts} would show it below ({} %)", brief(100.0 * chance));
            return Ok(Settling { words, more_shifts: figure });
        }
    }
    let settled = by_statistics(open, AFTER_SCREENING, outlook, FEWEST_AFTER_SCREENING)?;
    Ok(Settling { words: format!("by the tolerance rule, {}", settled.words), ..settled })
}

fn figure(
    open: &Open,
    criterion: Criterion,
    outlook: &Outlook,
    more: usize,
    towards: Verdict,
    chance: f64,
) -> Figure {
    let (formula, source) = method(criterion);
    let step = Step {
        name: "shifts to settle it".to_owned(),
        formula: formula.to_owned(),
        inputs: vec![
            Input::new("mu = ln GM", shown(outlook.mu), format!("{}/gm", open.address)),
            Input::new("sigma = ln GSD", shown(outlook.sigma), format!("{}/gsd", open.address)),
            Input::new("ln L", shown(outlook.ln_limit), "limits"),
            Input::new("n", open.values.len(), "shifts with a figure"),
        ],
        result: format!(
            "{} shifts in all give `{}` with {} %; {} % were wanted",
            open.values.len() + more,
            towards.word(),
            shown(100.0 * chance),
            brief(100.0 * WANTED)
        ),
        source,
    };
    let reason = "the profile's estimates are taken as true; how far they may be off is in their own limits";
    Figure::without_interval(more as f64, "shifts", formula, reason).with_trail(vec![step])
}

/// How the chance is found, and its source.
fn method(criterion: Criterion) -> (&'static str, &'static str) {
    match criterion {
        Criterion::Percentile { .. } => (
            "the fewest shifts of this GM and GSD whose exact limits of the 95th percentile leave the limit on one side with the chance wanted; noncentral t, every shift known to a point",
            "Hahn-Meeker-1991",
        ),
        Criterion::Posterior { .. } => (
            "the fewest shifts of this GM and GSD whose exact limits of the 95th percentile leave the limit on one side; the posterior nears them as shifts grow",
            "Hahn-Meeker-1991",
        ),
        Criterion::Mean { .. } => (
            "the fewest shifts of this GM and GSD whose limits of the mean by Land leave the limit on one side with the chance wanted; by quadrature over the spread",
            "Land-1971",
        ),
        Criterion::ByRank { .. } => (
            "the fewest shifts whose limit by rank lies below the limit with the chance wanted; binomial, with the share above that this GM and GSD tell",
            "Hahn-Meeker-1991",
        ),
        Criterion::AllBelow(_) => (
            "the chance that every further shift of this GM and GSD lies below the rule's share of the limit",
            "EN-689",
        ),
        Criterion::Workers => ("not computed", ""),
    }
}

/// The other way to settle it.
fn lower_exposure(open: &Open) -> String {
    match open.driver {
        Some(driver) => {
            format!("lower exposure in {} ({} % of the dose)", driver.task, (100.0 * driver.share).round())
        }
        None => "lower exposure".to_owned(),
    }
}
