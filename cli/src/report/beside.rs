//! What stands beside the verdicts of single shifts: windows without a tube, and the published test where it was asked for.

use super::telling::{Pair, Telling};
use crate::page::figure::Form;
use crate::page::{Block, Column, Section, Table, Text};
use fullshift_engine::model::assessment::{ComplianceResult, ShiftLimit, ShiftResult, UnmeasuredResult};

/// From which chance on a window without a tube is worth a line.
const WORTH_A_LOOK: f64 = 0.05;

pub(super) fn told(telling: &Telling<'_>, pair: &Pair<'_>, at: usize, section: &mut Section) {
    unmeasured(telling, pair, at, section);
    compliance(telling, pair, at, section);
}

/// How likely a window without a tube was above the short-term limit.
fn unmeasured(telling: &Telling<'_>, pair: &Pair<'_>, at: usize, section: &mut Section) {
    let say = telling.say();
    let chances = of_limits(pair, |limit| limit.unmeasured.as_ref());
    let (known, unknown): (Vec<_>, Vec<_>) =
        chances.into_iter().partition(|(_, chance)| chance.any.value().is_some());
    let likely: Vec<_> =
        known.iter().filter(|(_, chance)| chance.any.value().is_some_and(|any| any > WORTH_A_LOOK)).collect();
    if !known.is_empty() {
        let key = format!("unmeasured-{at}");
        let [group, agent] = pair.names();
        let gaps = [
            ("many", likely.len().to_string().into()),
            ("shifts", telling.counted(known.len(), say.of_shift_one, say.of_shift_more)),
            ("table", Text::caption(&key)),
            group,
            agent,
        ];
        section.say(
            telling.fill(if likely.is_empty() { say.unmeasured_none } else { say.unmeasured_words }, &gaps),
        );
        section.blocks.extend((!likely.is_empty()).then(|| {
            let columns = vec![
                Column::words(say.col_worker),
                Column::words(say.col_start),
                Column::words(say.col_task),
                Column::numbers(say.col_windows),
                Column::numbers(say.col_one_window),
                Column::numbers(say.col_any_window),
            ];
            let rows = likely.iter().map(|(shift, chance)| chance_row(telling, shift, chance)).collect();
            let caption = telling.fill(say.unmeasured_caption, &pair.names());
            Block::Table(Table::of(columns, rows).captioned(key, caption))
        }));
    }
    let reason = |(shift, chance): &(&ShiftResult, &UnmeasuredResult)| {
        Some((format!("{}, {}", say.col_any_window, name(telling, shift)), chance.any.reason()?.to_owned()))
    };
    section.blocks.extend(telling.reasons(unknown.iter().filter_map(reason).collect()));
}

fn chance_row(telling: &Telling<'_>, shift: &ShiftResult, chance: &UnmeasuredResult) -> Vec<Text> {
    let address = |end: &str| format!("{}/{}/short-term/{end}", shift.shift, shift.agent);
    vec![
        shift.worker.as_str().into(),
        telling.language.moment(&shift.start).into(),
        chance.task.as_deref().unwrap_or_default().into(),
        chance.windows.map_or_else(String::new, |windows| telling.number(windows)).into(),
        telling.figure(&chance.one, Form::Share, address("one-window")),
        telling.figure(&chance.any, Form::Share, address("unmeasured")),
    ]
}

/// The published test of a shift's mean against its limit.
fn compliance(telling: &Telling<'_>, pair: &Pair<'_>, at: usize, section: &mut Section) {
    let say = telling.say();
    let tests = of_limits(pair, |limit| limit.compliance.as_ref());
    let Some((_, first)) = tests.first() else { return };
    let key = format!("compliance-{at}");
    let [group, agent] = pair.names();
    let gaps = [
        ("table", Text::caption(&key)),
        ("rule", telling.language.rule(first.rule).into()),
        ("source", telling.language.told(first.source).into()),
        group,
        agent,
    ];
    section.say(telling.fill(say.compliance_words, &gaps));
    let columns = vec![
        Column::words(say.col_worker),
        Column::words(say.col_start),
        Column::numbers(say.col_ratio),
        Column::words(say.col_verdict),
        Column::words(say.col_because),
    ];
    let rows = tests.iter().map(|(shift, test)| test_row(telling, shift, test)).collect();
    let caption = telling.fill(say.compliance_caption, &pair.names());
    section.blocks.push(Block::Table(Table::of(columns, rows).captioned(key, caption)));
}

fn test_row(telling: &Telling<'_>, shift: &ShiftResult, test: &ComplianceResult) -> Vec<Text> {
    let address = format!("{}/{}/twa/{}", shift.shift, shift.agent, test.rule);
    vec![
        shift.worker.as_str().into(),
        telling.language.moment(&shift.start).into(),
        telling.figure(&test.ratio, Form::Ratio, address),
        telling.marked(test.verdict),
        test.because.as_str().into(),
    ]
}

fn name(telling: &Telling<'_>, shift: &ShiftResult) -> String {
    format!("{} {}", shift.worker, telling.language.short_date(&shift.start))
}

/// What the first limit that tells it tells of each shift.
fn of_limits<'a, T>(
    pair: &Pair<'a>,
    told: impl Fn(&'a ShiftLimit) -> Option<&'a T>,
) -> Vec<(&'a ShiftResult, &'a T)> {
    pair.shifts.iter().filter_map(|shift| Some((*shift, shift.limits.iter().find_map(&told)?))).collect()
}
