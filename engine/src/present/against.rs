//! What stands beside the verdict of a shift: the published test, and the windows in which no tube was drawn.

use super::Found;
use crate::judge;
use crate::model::assessment::{ComplianceResult, UnmeasuredResult};
use crate::model::shift::{ComplianceForm, ShiftExposure, Unmeasured};
use crate::model::{Figure, Input, LimitKind, Step, Study, shown};

/// One-sided confidence of the limits.
const CONFIDENCE: f64 = 0.95;

/// The published test against limit `number`, where the study asks for it.
pub fn compliance(found: &Found, exposure: &ShiftExposure, number: usize) -> Option<ComplianceResult> {
    let asked = found.study.rules.iter().filter(|(kind, _)| *kind == LimitKind::Twa);
    asked.flat_map(|(_, rules)| rules).find(|(name, _)| name == judge::SHIFT_SAE)?;
    let (_, test) = exposure.compliance.iter().find(|(limit, _)| *limit == number)?;
    let judged = judge::shift_sae(test);
    let ratio = match test {
        Ok(test) => {
            let limits = (Some(test.lower), Some(test.upper));
            Figure::estimate(test.ratio, limits, CONFIDENCE, "", method(test.form), None)
        }
        Err(reason) => Figure::not_given(reason.clone()),
    };
    Some(ComplianceResult {
        rule: judge::SHIFT_SAE,
        ratio,
        verdict: judged.verdict,
        because: judged.because,
        source: judge::SHIFT_SAE_SOURCE,
    })
}

fn method(form: ComplianceForm) -> &'static str {
    match form {
        ComplianceForm::FullPeriod => "one sample over the full period; sampling and analytical error",
        ComplianceForm::Consecutive => {
            "consecutive samples over the full period; sampling and analytical error"
        }
        ComplianceForm::FewGrab => "grab samples; Land's exact limits of the mean",
        ComplianceForm::ManyGrab => "thirty grab samples or more; normal limits of the mean",
    }
}

/// The chance that a window without a tube exceeded limit `number`, a short-term limit.
pub fn unmeasured(found: &Found, exposure: &ShiftExposure, number: usize) -> Option<UnmeasuredResult> {
    let (_, chance) = exposure.unmeasured.iter().find(|(limit, _)| *limit == number)?;
    let chance = match chance {
        Ok(chance) => chance,
        Err(reason) => {
            let [one, any] = [(), ()].map(|()| Figure::not_given(reason.clone()));
            return Some(UnmeasuredResult { task: None, windows: None, one, any });
        }
    };
    let study = found.study;
    let task = study.tasks.name(chance.task).to_owned();
    Some(UnmeasuredResult {
        windows: Some(chance.windows),
        one: figure(chance.one, "share of the windows of the task above the limit; exact limits")
            .with_trail(steps(found, || one_step(found, exposure, &task))),
        any: figure(chance.any, "1 - (1 - p)^k").with_trail(steps(found, || any_step(study, chance))),
        task: Some(task),
    })
}

/// A step, where the working is told.
fn steps(found: &Found, step: impl FnOnce() -> Step) -> Vec<Step> {
    if found.parts { vec![step()] } else { Vec::new() }
}

fn figure([value, low, high]: [f64; 3], method: &str) -> Figure {
    // An estimate by likelihood may lie outside limits that average over the spread.
    let ends = (Some(low.min(value)), Some(high.max(value)));
    Figure::estimate(value, ends, CONFIDENCE, "", method, None)
}

fn one_step(found: &Found, exposure: &ShiftExposure, task: &str) -> Step {
    let address = super::address(found.study, &found.shifts[exposure.shift], exposure.agent, task);
    Step {
        name: "chance for one window".to_owned(),
        formula: "share of a lognormal distribution above the limit, fitted to the task's readings in this shift; each stands for a window".to_owned(),
        inputs: vec![Input::new(task, "its readings", address)],
        result: String::new(),
        source: "Hahn-Meeker-1991; our own rule, that a reading stands for a window",
    }
}

fn any_step(study: &Study, chance: &Unmeasured) -> Step {
    Step {
        name: "chance for any window without a tube".to_owned(),
        formula: "1 - (1 - p)^k".to_owned(),
        inputs: vec![
            Input::new("p", shown(chance.one[0]), "chance for one window"),
            Input::new(
                "k",
                format!("{} windows of {}", shown(chance.windows), study.tasks.name(chance.task)),
                "diary",
            ),
        ],
        result: shown(chance.any[0]),
        source: "definition; windows taken to be independent",
    }
}
