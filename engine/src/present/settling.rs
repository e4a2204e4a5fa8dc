//! What would settle the verdicts that are open.

use super::Found;
use crate::judge::{self, Facts};
use crate::model::LimitKind;
use crate::model::assessment::RuleResult;
use crate::model::profile::{Against, GroupProfile, Verdict};
use crate::plan::{self, Open};

/// Adds to every open verdict what would settle it; `address` is that of the profile.
pub fn settled(
    mut verdicts: Vec<RuleResult>,
    found: &Found,
    profile: &GroupProfile,
    facts: &Facts,
    address: &str,
) -> Vec<RuleResult> {
    let driver = match profile.against {
        Against::Limit(number) if found.study.limits[number].kind == LimitKind::Twa => {
            let agent = found.study.limits[number].agent;
            plan::driving_task(found.study, found.shifts, &found.figures.exposures, profile.group, agent)
        }
        _ => None,
    };
    for open in verdicts.iter_mut().filter(|v| v.verdict == Verdict::Undecided) {
        let Some(rule) = judge::rule(open.rule) else { continue };
        let question = Open {
            criterion: rule.criterion,
            figures: facts.figures,
            values: facts.values,
            limit: facts.limit,
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
