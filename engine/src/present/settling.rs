//! What would settle the verdicts that are open.

use super::Found;
use crate::judge::{self, Facts};
use crate::model::assessment::RuleResult;
use crate::model::profile::{GroupProfile, Verdict};
use crate::plan::{self, Open};

/// Adds to every open verdict what would settle it; `address` is that of the profile.
pub fn settled(
    mut verdicts: Vec<RuleResult>,
    found: &Found,
    profile: &GroupProfile,
    facts: &Facts,
    address: &str,
) -> Vec<RuleResult> {
    let driver = profile.drivers.as_ref().and_then(|drivers| plan::driving_task(found.study, drivers));
    for open in verdicts.iter_mut().filter(|v| v.verdict == Verdict::Undecided) {
        let Some(rule) = judge::rule(open.rule) else { continue };
        let question = Open {
            criterion: rule.criterion,
            figures: facts.figures,
            values: facts.values,
            limit: facts.limit,
            few_tubes: facts.few_tubes,
            address,
            driver: driver.as_ref(),
        };
        let settling = plan::to_settle(&question);
        open.settling = plan::curve(&question);
        open.to_settle = Some(settling.words);
        open.more_shifts = Some(settling.more_shifts);
    }
    verdicts
}
