//! What stands beside the verdicts of shifts: windows without a tube, and the published test where it was asked for.

use super::words;
use crate::page::figure::{self, Form};
use crate::page::{Block, Text};
use fullshift_engine::model::assessment::{GroupResult, ShiftLimit, ShiftResult};
use fullshift_engine::model::profile::Verdict;

/// From which chance on a window without a tube is worth a look.
const WORTH_A_LOOK: f64 = 0.05;

/// How likely a window without a tube was above the short-term limit, and where most.
pub(super) fn unmeasured(shifts: &[&ShiftResult]) -> Option<Block> {
    let chances: Vec<_> = of_limits(shifts, |limit| limit.unmeasured.as_ref()).collect();
    let known: Vec<_> = chances.iter().filter_map(|(shift, u)| Some((shift, u, u.any.value()?))).collect();
    let (shift, highest, _) = known.iter().max_by(|a, b| a.2.total_cmp(&b.2))?;
    let many = known.iter().filter(|(.., chance)| *chance > WORTH_A_LOOK).count();
    let task = highest.task.as_deref().unwrap_or("the task");
    Some(Block::Paragraph(Text::from(format!(
        "Chance that a window without a tube was above the short-term limit: highest {} ({task} of {shift}); above 5 % in {many} of {}",
        figure::bare(&highest.any, Form::Share),
        words::counted(chances.len(), "shift"),
    ))))
}

/// What drives the exposure of a group against its TWA limit.
pub(super) fn drivers(groups: &[&GroupResult]) -> Option<Block> {
    let drivers = groups.iter().find_map(|group| group.drivers.as_ref())?;
    let mut tasks: Vec<_> =
        drivers.tasks.iter().filter(|t| t.share.value().is_some_and(|v| v > 0.0)).collect();
    tasks.sort_by(|a, b| b.share.value().unwrap_or(0.0).total_cmp(&a.share.value().unwrap_or(0.0)));
    let shares: Vec<String> =
        tasks.iter().map(|t| format!("{} {}", t.task, figure::bare(&t.share, Form::Share))).collect();
    let halved = match drivers.p95_halved.reason() {
        Some(_) => String::new(),
        None => format!(
            "; halving {} brings the 95th percentile to {}",
            drivers.largest,
            figure::with_unit(&drivers.p95_halved, Form::Amount)
        ),
    };
    Some(Block::Paragraph(Text::from(format!("Share of the dose: {}{halved}", shares.join(", ")))))
}

/// The shifts by the verdict of the published test.
pub(super) fn compliance(shifts: &[&ShiftResult]) -> Option<Block> {
    let tests: Vec<_> = of_limits(shifts, |limit| limit.compliance.as_ref()).collect();
    let rule = tests.first()?.1.rule;
    let verdicts = [Verdict::Above, Verdict::Undecided, Verdict::Below, Verdict::NotGiven];
    let said = verdicts.iter().filter_map(|verdict| {
        let own: Vec<&str> =
            tests.iter().filter(|(_, t)| t.verdict == *verdict).map(|(shift, _)| *shift).collect();
        (!own.is_empty()).then(|| format!("{}: {}", verdict.word(), own.join(", ")))
    });
    let said: Vec<String> = said.collect();
    Some(Block::Paragraph(Text::from(format!("TWA by {rule}, one shift at a time: {}", said.join("; ")))))
}

/// What is told of the first limit that tells it, for each shift.
fn of_limits<'a, T: 'a>(
    shifts: &'a [&'a ShiftResult],
    told: impl Fn(&'a ShiftLimit) -> Option<&'a T> + 'a,
) -> impl Iterator<Item = (&'a str, &'a T)> {
    shifts.iter().filter_map(move |shift| Some((shift.shift.as_str(), shift.limits.iter().find_map(&told)?)))
}
