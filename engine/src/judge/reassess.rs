//! How long an assessment may stand: a proposal.

use crate::model::assessment::RuleResult;
use crate::model::belief::Reassessment;
use crate::model::profile::Verdict;
use crate::model::{Figure, Input, LimitKind, Step, brief, shown};

/// The months until the next assessment, by the GM of the group against its limit.
pub fn reassess(
    kind: LimitKind,
    gm: Option<&Figure>,
    limit: f64,
    verdicts: &[RuleResult],
    rule: &Reassessment,
) -> Figure {
    if kind != LimitKind::Twa {
        return Figure::not_given("a re-assessment is proposed by the TWA alone");
    }
    let verdict = |wanted| verdicts.iter().any(|v| v.verdict == wanted);
    if verdict(Verdict::Above) {
        return Figure::not_given(
            "a rule finds the group above its limit: lower the exposure first, then assess it anew",
        );
    }
    if verdict(Verdict::Undecided) || !(verdicts.is_empty() || verdict(Verdict::Below)) {
        return Figure::not_given("not every rule finds the group below its limit: settle that first");
    }
    let gm = match gm {
        Some(Figure::Given(estimate)) => estimate.value,
        Some(other) => return Figure::not_given(other.reason().unwrap_or_default()),
        None => return Figure::not_given("the group has no GM"),
    };
    let ratio = gm / limit;
    let step = rule.steps.iter().find(|(share, _)| share.is_none_or(|share| ratio < share));
    let Some((share, months)) = step else {
        return Figure::not_given("the rule of re-assessment has no step for it");
    };
    let place = match share {
        Some(share) => format!("below {} of it", brief(*share)),
        None => "beyond every step".to_owned(),
    };
    let trail = Step {
        name: "re-assessment".to_owned(),
        formula: "months by the GM as a share of the limit".to_owned(),
        inputs: vec![Input::new("GM", shown(gm), "gm"), Input::new("limit", shown(limit), "limits")],
        result: format!("the GM is {} of the limit, {place}: {months} months", brief(ratio)),
        source: "study.yaml, reassess; without it EN 689:2018, annex I (recalled)",
    };
    let method = format!("a proposal by the GM: {}", rule.source);
    let reason = "a rule of thumb has no interval";
    Figure::without_interval(f64::from(*months), "months", method, reason).with_trail(vec![trail])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn months(gm: f64) -> Option<f64> {
        let gm = Figure::without_interval(gm, "ppm", "", "");
        reassess(LimitKind::Twa, Some(&gm), 20.0, &[], &Reassessment::default()).value()
    }

    /// EN 689:2018, annex I (recalled): 36, 24, 18 months below 0.1, 0.25, 0.5 of the limit, else 12.
    #[test]
    fn the_lower_the_gm_the_longer_an_assessment_stands() {
        let found = [1.9, 2.0, 4.9, 5.0, 9.9, 10.0, 30.0].map(months);
        assert_eq!(found, [36.0, 24.0, 24.0, 18.0, 18.0, 12.0, 12.0].map(Some));
    }

    #[test]
    fn a_short_term_limit_proposes_nothing() {
        assert!(reassess(LimitKind::ShortTerm, None, 20.0, &[], &Reassessment::default()).reason().is_some());
    }
}
