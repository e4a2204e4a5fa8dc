//! The shifts.

use super::figures::{figure_of, ratio, sampled_figure, sampling_step, share_figure, window_figure};
use super::{Found, address, against, basis, shift_limit_figure};
use crate::judge::{self, Judged, Occasions};
use crate::model::assessment::{DiaryStretch, ShiftLimit, ShiftResult, TaskResult, WindowResult};
use crate::model::shift::{Basis, Block, Reason, Segment, Shift, ShiftExposure, TaskExposure, Window};
use crate::model::{
    ClockChange, Figure, Input, Interval, Limit, LimitKind, Minutes, Step, Study, shown, shown_range,
};
use chrono::NaiveTime;
use std::collections::BTreeMap;

/// Every shift and agent, by group, worker and start.
pub fn results(found: &Found) -> Vec<ShiftResult> {
    found.figures.exposures.iter().map(|exposure| result(found, exposure)).collect()
}

/// Every shift and agent against its limits alone, in the same order.
pub fn limits(found: &Found) -> impl Iterator<Item = Vec<ShiftLimit>> {
    found.figures.exposures.iter().map(|exposure| View::of(found, exposure).limits())
}

fn result(found: &Found, exposure: &ShiftExposure) -> ShiftResult {
    let view = View::of(found, exposure);
    let (study, shift) = (found.study, view.shift);
    let (length, window) = &exposure.windows[0];
    ShiftResult {
        shift: shift.name.clone(),
        worker: study.workers.name(shift.worker).to_owned(),
        group: study.groups.name(shift.group).to_owned(),
        start: begun(study, shift),
        end: shift.clock.then(|| study.clock.shown(shift.end)),
        minutes: shift.blocks.iter().map(|b| b.minutes.0).sum(),
        agent: study.agents.name(exposure.agent).to_owned(),
        twa: view.twa(),
        twa_notes: exposure.sampling.as_ref().map_or(Vec::new(), |s| s.notes.clone()),
        twa_inside_respirators: view.twa_inside(),
        short_term: view.short_term(*length, window),
        short_term_window: window.as_ref().ok().map(|w| view.window(*length, w)),
        highest_reading: view.highest_reading(),
        covered: exposure.covered,
        unsampled: view.unsampled(),
        tasks: exposure.tasks.iter().filter(|_| found.parts).map(|t| view.task(t)).collect(),
        diary: view.diary(),
        clock_changes: view.clock_changes(),
        limits: view.limits(),
    }
}

/// When a shift began; the day alone where a diary by minutes tells no more.
pub fn begun(study: &Study, shift: &Shift) -> String {
    let start = study.clock.local(shift.start);
    match shift.clock || start.time() != NaiveTime::MIN {
        true => study.clock.shown(shift.start),
        false => start.date().to_string(),
    }
}

struct View<'a> {
    found: &'a Found<'a>,
    study: &'a Study,
    shift: &'a Shift,
    exposure: &'a ShiftExposure,
    unit: &'static str,
}

impl<'a> View<'a> {
    fn of(found: &'a Found<'a>, exposure: &'a ShiftExposure) -> View<'a> {
        let (study, shift) = (found.study, &found.shifts[exposure.shift]);
        View { found, study, shift, exposure, unit: study.unit(exposure.agent).symbol() }
    }

    fn reading_id(&self, position: usize) -> &str {
        &self.study.readings[self.found.figures.concentrations[position].reading].id
    }

    /// A figure with its working, where that is told.
    fn worked(&self, figure: Figure, steps: impl FnOnce() -> Vec<Step>) -> Figure {
        if self.found.parts { figure.with_trail(steps()) } else { figure }
    }

    fn diary(&self) -> Vec<DiaryStretch> {
        let stretch = |block: &Block| {
            let from = (block.start - self.shift.start).num_seconds() as f64 / 60.0;
            let task = self.study.tasks.name(block.task).to_owned();
            DiaryStretch { task, from, to: from + block.minutes.0 }
        };
        self.shift.blocks.iter().filter(|_| self.found.parts && self.shift.clock).map(stretch).collect()
    }

    fn clock_changes(&self) -> Vec<ClockChange> {
        match self.found.parts && self.shift.clock {
            true => self.study.clock.changes(self.shift.start, self.shift.end),
            false => Vec::new(),
        }
    }

    fn ranged(&self, interval: Interval) -> String {
        format!("{} {}", shown_range(interval.low(), interval.high()), self.unit)
    }

    fn twa(&self) -> Figure {
        match &self.exposure.twa {
            Ok(twa) => self.worked(self.bare_twa(), || self.working_of_twa(*twa)),
            Err(_) => self.bare_twa(),
        }
    }

    fn bare_twa(&self) -> Figure {
        let what = "time-weighted average of task means";
        match &self.exposure.twa {
            Ok(twa) => sampled_figure(*twa, &self.exposure.sampling, self.unit, what),
            Err(reason) => Figure::not_given(reason.clone()),
        }
    }

    fn working_of_twa(&self, twa: Interval) -> Vec<Step> {
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
        vec![step].into_iter().chain(sampling_step(&self.exposure.sampling, self.unit)).collect()
    }

    fn twa_inside(&self) -> Option<Figure> {
        let reason = "the assigned protection factor has no interval of its own";
        self.exposure.twa_inside.as_ref().map(|twa| match twa {
            Ok(twa) => figure_of(
                *twa,
                self.unit,
                "inside the respirators worn; verdicts use the air outside",
                reason,
            ),
            Err(reason) => Figure::not_given(reason.clone()),
        })
    }

    fn task_input(&self, task: &TaskExposure) -> Input {
        let name = self.study.tasks.name(task.task);
        let value = format!("{} x {} min", self.ranged(task.mean), shown(task.minutes));
        Input::new(name, value, address(self.study, self.shift, self.exposure.agent, name))
    }

    fn task(&self, task: &TaskExposure) -> TaskResult {
        let name = self.study.tasks.name(task.task);
        let basis = basis::in_words(task.basis);
        let inputs = task.readings.iter().map(|&i| {
            let c = &self.found.figures.concentrations[i];
            let time = c.drawn_minutes.map_or(String::new(), |m| format!(", drawn {} min", shown(m)));
            Input::new(self.reading_id(i), format!("{}{time}", self.ranged(c.interval)), self.reading_id(i))
        });
        let step = Step {
            name: format!("mean of {name}"),
            formula: basis::formula(task.basis).to_owned(),
            inputs: inputs.collect(),
            result: self.ranged(task.mean),
            source: basis::source(task.basis),
        };
        TaskResult {
            task: name.to_owned(),
            minutes: task.minutes,
            readings: task.readings.iter().map(|&i| self.reading_id(i).to_owned()).collect(),
            mean: sampled_figure(task.mean, &task.sampling, self.unit, &basis)
                .with_trail(vec![step].into_iter().chain(sampling_step(&task.sampling, self.unit)).collect()),
            share_of_dose: share_figure(&task.share),
            unsampled: basis::rule(task.basis),
            basis,
        }
    }

    fn short_term(&self, length: Minutes, window: &Result<Window, Reason>) -> Figure {
        let figure = self.bare_short_term(length, window);
        match window {
            Ok(window) => self.worked(figure, || vec![self.step_of_window(length, window)]),
            Err(_) => figure,
        }
    }

    fn bare_short_term(&self, length: Minutes, window: &Result<Window, Reason>) -> Figure {
        match window {
            Ok(window) => window_figure(window, &format!("highest {} minutes", shown(length.0)), self.unit),
            Err(reason) => Figure::not_given(reason.clone()),
        }
    }

    fn step_of_window(&self, length: Minutes, window: &Window) -> Step {
        let mut inputs: Vec<Input> = window
            .readings
            .iter()
            .map(|&(i, minutes)| {
                let value = format!(
                    "{} x {} min",
                    self.ranged(self.found.figures.concentrations[i].interval),
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
        Step {
            name: format!("highest {} minutes", shown(length.0)),
            formula: "sum of (concentration x minutes for which it stands) / window; each reading stands to the midpoints of its neighbours in the same task".to_owned(),
            inputs,
            result: format!("{} from {}", self.ranged(window.mean), self.study.clock.shown(window.start)),
            source: "29 CFR 1910.1000(a)(1), the window; common practice, no source, the midpoints",
        }
    }

    fn window(&self, length: Minutes, window: &Window) -> WindowResult {
        WindowResult {
            start: self.study.clock.shown(window.start),
            minutes: length.0,
            drawn_minutes: window.drawn_minutes,
            measured_minutes: window.measured_minutes,
            readings: window.readings.iter().map(|&(i, _)| self.reading_id(i).to_owned()).collect(),
            screening_only: window.is_screening(),
        }
    }

    fn highest_reading(&self) -> Figure {
        let Some(i) = self.exposure.highest_reading else {
            return Figure::not_given("no tube was drawn in this shift that counts for it");
        };
        let c = &self.found.figures.concentrations[i];
        let step = || Step {
            name: "highest reading".to_owned(),
            formula: "the reading whose upper end is highest".to_owned(),
            inputs: vec![Input::new(self.reading_id(i), self.ranged(c.interval), self.reading_id(i))],
            result: self.ranged(c.interval),
            source: "definition",
        };
        let reason = "a single reading; its tube's relative standard deviation is with the reading";
        let figure = figure_of(c.interval, self.unit, "highest single reading", reason);
        self.worked(figure, || vec![step()])
    }

    fn unsampled(&self) -> BTreeMap<&'static str, f64> {
        let total: f64 = self.exposure.tasks.iter().map(|t| t.minutes).sum();
        let mut shares = BTreeMap::new();
        for task in &self.exposure.tasks {
            let Some(rule) = basis::rule(task.basis) else { continue };
            *shares.entry(rule).or_insert(0.0) += task.minutes / total;
        }
        shares
    }

    fn limits(&self) -> Vec<ShiftLimit> {
        let own = |&number: &usize| self.study.limits[number].agent == self.exposure.agent;
        (0..self.study.limits.len()).filter(own).map(|number| self.limit(number)).collect()
    }

    fn limit(&self, number: usize) -> ShiftLimit {
        let (limit, value) =
            (&self.study.limits[number], self.found.limits.in_shift(number, self.exposure.shift));
        let (figure, judged) = match limit.kind {
            LimitKind::Twa => {
                (self.bare_twa(), judge::twa(&self.exposure.twa, &self.exposure.sampling, value, self.unit))
            }
            LimitKind::ShortTerm => self.against_short_term(limit, value),
            LimitKind::Ceiling | LimitKind::Mixture => {
                (self.highest_reading(), judge::ceiling(self.highest_ends(), value, self.unit))
            }
        };
        ShiftLimit {
            kind: limit.kind,
            limit: shift_limit_figure(self.found, number, self.exposure.shift),
            ratio: ratio(&figure, value),
            verdict: judged.verdict,
            because: judged.because,
            unmeasured: against::unmeasured(self.found, self.exposure, number),
            compliance: against::compliance(self.found, self.exposure, number),
        }
    }

    fn against_short_term(&self, limit: &Limit, value: f64) -> (Figure, Judged) {
        let own = self.exposure.windows.iter().find(|(length, _)| *length == limit.averaging);
        let (length, window) = own.unwrap_or(&self.exposure.windows[0]);
        let judged = judge::short_term(window, *length, value, self.unit);
        let occasions = self.occasions();
        (
            self.bare_short_term(*length, window),
            judge::with_occasions(judged, limit, occasions.as_ref(), self.unit),
        )
    }

    /// The occasions above the TWA limit; `None` without one.
    fn occasions(&self) -> Option<Occasions> {
        let twa = |l: &usize| {
            self.study.limits[*l].agent == self.exposure.agent && self.study.limits[*l].kind == LimitKind::Twa
        };
        let number = (0..self.study.limits.len()).find(twa)?;
        let limit = self.found.limits.entered[number];
        let above = |s: &&Segment| self.found.figures.concentrations[s.reading].interval.low() > limit;
        let mut list: Vec<(f64, f64)> = Vec::new();
        for segment in self.exposure.segments.iter().filter(above) {
            match list.last_mut() {
                Some(last) if segment.from - last.1 < 1e-6 => last.1 = segment.to,
                _ => list.push((segment.from, segment.to)),
            }
        }
        Some(Occasions { above: limit, stretches: list })
    }

    fn highest_ends(&self) -> Option<(f64, f64)> {
        let used =
            self.exposure.tasks.iter().filter(|t| t.basis == Basis::Measured).flat_map(|t| &t.readings);
        let ends = used.map(|&i| self.found.figures.concentrations[i].interval);
        ends.map(|i| (i.low(), i.high())).reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)))
    }
}
