//! The shifts.

use super::{Found, address, figure_of, limit_figure};
use crate::judge::{self, Judged};
use crate::model::assessment::{ShiftLimit, ShiftResult, TaskResult, WindowResult};
use crate::model::shift::{Basis, Shift, ShiftExposure, TaskExposure, Window};
use crate::model::{
    Figure, Input, Interval, Limit, LimitKind, Minutes, Step, Study, Unsampled, shown, shown_moment,
    shown_range,
};
use std::collections::BTreeMap;

const ONE_SHIFT: &str =
    "how far a few short readings can be from the mean of the time they stand for is not in this figure";

/// Every shift and agent, by group, worker and start.
pub fn results(found: &Found) -> Vec<ShiftResult> {
    found.exposures.iter().map(|exposure| result(found, exposure)).collect()
}

fn result(found: &Found, exposure: &ShiftExposure) -> ShiftResult {
    let study = found.study;
    let shift = &found.shifts[exposure.shift];
    let view = View { found, study, shift, exposure, unit: study.unit(exposure.agent).symbol() };
    let (length, window) = &exposure.windows[0];
    ShiftResult {
        shift: shift.name.clone(),
        worker: study.workers.name(shift.worker).to_owned(),
        group: study.groups.name(shift.group).to_owned(),
        start: shown_moment(shift.start),
        end: shown_moment(shift.end),
        minutes: shift.blocks.iter().map(|b| b.minutes.0).sum(),
        agent: study.agents.name(exposure.agent).to_owned(),
        twa: view.twa(),
        short_term: view.short_term(*length, window),
        short_term_window: window.as_ref().ok().map(|w| view.window(*length, w)),
        highest_reading: view.highest_reading(),
        covered: exposure.covered,
        unsampled: view.unsampled(),
        tasks: exposure.tasks.iter().map(|t| view.task(t)).collect(),
        limits: (0..study.limits.len())
            .filter(|&l| study.limits[l].agent == exposure.agent)
            .map(|l| view.limit(l))
            .collect(),
    }
}

struct View<'a> {
    found: &'a Found<'a>,
    study: &'a Study,
    shift: &'a Shift,
    exposure: &'a ShiftExposure,
    unit: &'static str,
}

impl View<'_> {
    fn reading_id(&self, position: usize) -> &str {
        &self.study.readings[self.found.concentrations[position].reading].id
    }

    fn ranged(&self, interval: Interval) -> String {
        format!("{} {}", shown_range(interval.low(), interval.high()), self.unit)
    }

    fn twa(&self) -> Figure {
        let twa = match &self.exposure.twa {
            Ok(twa) => *twa,
            Err(reason) => return Figure::not_given(reason.clone()),
        };
        let mut inputs: Vec<Input> = self.exposure.tasks.iter().map(|t| self.task_input(t)).collect();
        inputs.push(Input::new(
            "reference period",
            format!("{} min", self.study.shift.reference.0),
            "study.yaml, shift",
        ));
        let step = Step {
            name: "time-weighted average".to_owned(),
            formula: "TWA = sum of (task mean x minutes) / reference period".to_owned(),
            inputs,
            result: self.ranged(twa),
            source: "OSHA-1910.1000(d)",
        };
        figure_of(twa, self.unit, "time-weighted average of task means", ONE_SHIFT).with_trail(vec![step])
    }

    fn task_input(&self, task: &TaskExposure) -> Input {
        let name = self.study.tasks.name(task.task);
        let value = format!("{} x {} min", self.ranged(task.mean), shown(task.minutes));
        Input::new(name, value, address(self.study, self.shift, self.exposure.agent, name))
    }

    fn task(&self, task: &TaskExposure) -> TaskResult {
        let name = self.study.tasks.name(task.task);
        let basis = basis_in_words(task.basis);
        let inputs = task.readings.iter().map(|&i| {
            let c = &self.found.concentrations[i];
            let time = c.drawn_minutes.map_or(String::new(), |m| format!(", drawn {} min", shown(m)));
            Input::new(self.reading_id(i), format!("{}{time}", self.ranged(c.interval)), self.reading_id(i))
        });
        let step = Step {
            name: format!("mean of {name}"),
            formula: formula_of(task.basis).to_owned(),
            inputs: inputs.collect(),
            result: self.ranged(task.mean),
            source: source_of(task.basis),
        };
        TaskResult {
            task: name.to_owned(),
            minutes: task.minutes,
            readings: task.readings.iter().map(|&i| self.reading_id(i).to_owned()).collect(),
            mean: figure_of(task.mean, self.unit, &basis, ONE_SHIFT).with_trail(vec![step]),
            share_of_dose: self.share(task),
            basis,
        }
    }

    fn share(&self, task: &TaskExposure) -> Figure {
        let dose = |t: &TaskExposure| t.mean.middle().map(|m| m * t.minutes);
        let total: Option<f64> = self.exposure.tasks.iter().map(dose).sum();
        match (dose(task), total) {
            (Some(part), Some(total)) if total > 0.0 => {
                let reason = "it compares middle values only";
                Figure::without_interval(part / total, "", "share of the shift's dose", reason)
            }
            (Some(_), Some(_)) => Figure::not_given("no dose was found in this shift"),
            _ => Figure::not_given("a stain went past the last mark, so the dose has no upper end"),
        }
    }

    fn short_term(&self, length: Minutes, window: &Result<Window, String>) -> Figure {
        let window = match window {
            Ok(window) => window,
            Err(reason) => return Figure::not_given(reason.clone()),
        };
        let mut inputs: Vec<Input> = window
            .readings
            .iter()
            .map(|&(i, minutes)| {
                let value = format!(
                    "{} x {} min",
                    self.ranged(self.found.concentrations[i].interval),
                    shown(minutes)
                );
                Input::new(self.reading_id(i), value, self.reading_id(i))
            })
            .collect();
        let unmeasured = length.0 - window.measured_minutes;
        if unmeasured > 1e-9 {
            inputs.push(Input::new(
                "minutes without a reading",
                format!("0 x {} min", shown(unmeasured)),
                "diary",
            ));
        }
        let step = Step {
            name: format!("highest {} minutes", shown(length.0)),
            formula: "sum of (concentration x minutes for which it stands) / window; each reading stands to the midpoints of its neighbours in the same task".to_owned(),
            inputs,
            result: format!("{} from {}", self.ranged(window.mean), shown_moment(window.start)),
            source: "29 CFR 1910.1000(a)(1), the window; common practice, no source, the midpoints",
        };
        let method = format!(
            "highest {} minutes; the upper end is the highest single reading held for the whole window",
            shown(length.0)
        );
        let figure = match window.mean.middle() {
            Some(value) if window.bound.is_finite() => {
                Figure::between(value, window.mean.low(), window.bound, self.unit, method)
            }
            _ => figure_of(window.mean, self.unit, &method, ONE_SHIFT),
        };
        figure.with_trail(vec![step])
    }

    fn window(&self, length: Minutes, window: &Window) -> WindowResult {
        WindowResult {
            start: shown_moment(window.start),
            minutes: length.0,
            drawn_minutes: window.drawn_minutes,
            measured_minutes: window.measured_minutes,
            readings: window.readings.iter().map(|&(i, _)| self.reading_id(i).to_owned()).collect(),
            screening_only: window.readings.len() < judge::TUBES_FOR_A_WINDOW,
        }
    }

    fn highest_reading(&self) -> Figure {
        let Some(i) = self.exposure.highest_reading else {
            return Figure::not_given("no tube was drawn in this shift that counts for it");
        };
        let c = &self.found.concentrations[i];
        let step = Step {
            name: "highest reading".to_owned(),
            formula: "the reading whose upper end is highest".to_owned(),
            inputs: vec![Input::new(self.reading_id(i), self.ranged(c.interval), self.reading_id(i))],
            result: self.ranged(c.interval),
            source: "definition",
        };
        let reason = "a single reading; its tube's relative standard deviation is with the reading";
        figure_of(c.interval, self.unit, "highest single reading", reason).with_trail(vec![step])
    }

    fn unsampled(&self) -> BTreeMap<&'static str, f64> {
        let total: f64 = self.exposure.tasks.iter().map(|t| t.minutes).sum();
        let mut shares = BTreeMap::new();
        for task in &self.exposure.tasks {
            let rule = match task.basis {
                Basis::Measured => continue,
                Basis::Unsampled(rule) => rule.word(),
                Basis::NothingToBorrow => Unsampled::Bounds.word(),
            };
            *shares.entry(rule).or_insert(0.0) += task.minutes / total;
        }
        shares
    }

    fn limit(&self, number: usize) -> ShiftLimit {
        let (limit, value) = (&self.study.limits[number], self.found.limits[number]);
        let (figure, judged) = match limit.kind {
            LimitKind::Twa => (self.twa(), judge::twa(&self.exposure.twa, value, self.unit)),
            LimitKind::ShortTerm => self.against_short_term(limit, value),
            LimitKind::Ceiling => {
                (self.highest_reading(), judge::ceiling(self.highest_ends(), value, self.unit))
            }
        };
        ShiftLimit {
            kind: limit.kind,
            limit: limit_figure(self.found, number),
            ratio: ratio(&figure, value),
            verdict: judged.verdict,
            because: judged.because,
        }
    }

    fn against_short_term(&self, limit: &Limit, value: f64) -> (Figure, Judged) {
        let own = self.exposure.windows.iter().find(|(length, _)| *length == limit.averaging);
        let (length, window) = own.unwrap_or(&self.exposure.windows[0]);
        (self.short_term(*length, window), judge::short_term(window, *length, value, self.unit))
    }

    fn highest_ends(&self) -> Option<(f64, f64)> {
        let used =
            self.exposure.tasks.iter().filter(|t| t.basis == Basis::Measured).flat_map(|t| &t.readings);
        let ends = used.map(|&i| self.found.concentrations[i].interval);
        ends.map(|i| (i.low(), i.high())).reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)))
    }
}

fn basis_in_words(basis: Basis) -> String {
    match basis {
        Basis::Measured => "mean of its readings in this shift",
        Basis::Unsampled(Unsampled::Zero) => "no tube drawn; zero on the user's word",
        Basis::Unsampled(Unsampled::Bounds) => {
            "no tube drawn; between zero and the highest task mean of the shift"
        }
        Basis::Unsampled(Unsampled::Borrow) => {
            "no tube drawn; mean of this task's readings in the group's other shifts"
        }
        Basis::NothingToBorrow => {
            "no tube drawn and none to borrow from; between zero and the highest task mean of the shift"
        }
    }
    .to_owned()
}

fn formula_of(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured | Basis::Unsampled(Unsampled::Borrow) => {
            "arithmetic mean of the readings, weighted by the time drawn"
        }
        Basis::Unsampled(Unsampled::Zero) => "0",
        Basis::Unsampled(Unsampled::Bounds) | Basis::NothingToBorrow => {
            "0 to the highest task mean of the shift"
        }
    }
}

fn source_of(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured => "OSHA-1910.1000(d)",
        _ => "study.yaml, tasks, unsampled",
    }
}

/// A figure over a limit.
fn ratio(figure: &Figure, limit: f64) -> Figure {
    match figure {
        Figure::Given(estimate) => {
            let mut ratio = estimate.clone();
            ratio.value /= limit;
            ratio.low = ratio.low.map(|x| x / limit);
            ratio.high = ratio.high.map(|x| x / limit);
            ratio.further.values_mut().for_each(|x| *x /= limit);
            ratio.unit = String::new();
            ratio.trail.clear();
            Figure::Given(ratio)
        }
        Figure::AtLeast { low, not_given, .. } => Figure::AtLeast {
            low: low / limit,
            unit: String::new(),
            not_given: not_given.clone(),
            trail: Vec::new(),
        },
        Figure::NotGiven { .. } => figure.clone(),
    }
}
