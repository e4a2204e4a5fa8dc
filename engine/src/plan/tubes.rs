//! Which tubes, how many, in how many boxes.

use crate::model::plan::{GrabTime, TubeChoice, TubeNeed, TubeUse, Visit};
use crate::model::{Agent, Concentration, Figure, Group, LimitKind, Ref, Study, Task, Tube, brief};

/// Minutes that a stroke is taken to need where the sheet does not tell (common practice, no source).
const STROKE_MINUTES: f64 = 1.0;

/// Tubes in a box where the study does not tell (common practice, no source).
const USUAL_BOX: u32 = 10;

/// What the air is taken to hold where nothing was measured: from a tenth of the limit to twice the limit (a proposal of this program).
const UNMEASURED: (f64, f64) = (0.1, 2.0);

/// Draws that a short-term window needs for a verdict (common practice, no source).
const DRAWS_FOR_A_WINDOW: f64 = 3.0;

/// What the plan of tubes rests on.
pub struct Air<'a> {
    /// The study.
    pub study: &'a Study,
    /// Its concentrations, one a reading, in the agents' units.
    pub concentrations: &'a [Concentration],
    /// Its limits in the agents' units.
    pub limits: &'a [f64],
    /// The factor from each tube's unit to its agent's, in the order of the tubes.
    pub factors: &'a [f64],
}

/// A tube type with one of the stroke numbers on its sheet, and what it can then be read for in the agent's unit.
#[derive(Debug, Clone, Copy)]
struct Setting {
    tube: Ref<Tube>,
    strokes: f64,
    low: f64,
    high: f64,
    minutes: f64,
}

/// What the air is expected to hold.
struct Expected {
    low: f64,
    high: f64,
    basis: String,
}

impl Air<'_> {
    /// The tube for a substance in a task of a group that covers best what is expected; of equal ones that which is drawn soonest. With it, the
    /// minutes of its draw.
    pub fn choice(
        &self,
        agent: Ref<Agent>,
        group: Ref<Group>,
        task: Option<Ref<Task>>,
    ) -> Option<(TubeChoice, f64)> {
        let expected = self.expected(agent, group, task)?;
        let better = |a: &Setting, b: &Setting| {
            covered(a, &expected).total_cmp(&covered(b, &expected)).then(b.minutes.total_cmp(&a.minutes))
        };
        // The first of equal ones, so that the order of the tube sheet decides.
        let best = self.settings(agent).into_iter().rev().max_by(better)?;
        let tube = self.study.tubes.name(best.tube).to_owned();
        Some((TubeChoice { tube, strokes: best.strokes }, best.minutes))
    }

    fn settings(&self, agent: Ref<Agent>) -> Vec<Setting> {
        let own = self.study.tubes.iter().zip(self.factors).filter(|((.., sheet), _)| sheet.agent == agent);
        own.flat_map(|((tube, _, sheet), unit)| {
            let usual = std::iter::once((sheet.strokes, 1.0));
            usual.chain(sheet.other_strokes.iter().copied()).map(move |(strokes, factor)| Setting {
                tube,
                strokes,
                low: sheet.marks[0] * factor * unit,
                high: sheet.marks[sheet.marks.len() - 1] * factor * unit,
                minutes: strokes * sheet.stroke_time.map_or(STROKE_MINUTES, |time| time.0),
            })
        })
        .collect()
    }

    /// From the readings of the task, else of the group, else from the limit.
    fn expected(&self, agent: Ref<Agent>, group: Ref<Group>, task: Option<Ref<Task>>) -> Option<Expected> {
        let readings = |task: Option<Ref<Task>>| -> Vec<f64> {
            let own = |c: &&Concentration| {
                let reading = &self.study.readings[c.reading];
                c.agent == agent
                    && c.why_not.is_none()
                    && self.study.group_of(reading) == Some(group)
                    && (task.is_none() || reading.task == task)
            };
            self.concentrations
                .iter()
                .filter(own)
                .map(|c| c.interval.middle().unwrap_or(c.interval.low()))
                .collect()
        };
        let measured = [task, None].into_iter().map(readings).find(|list| !list.is_empty());
        if let Some(list) = measured {
            let high = list.iter().copied().fold(0.0, f64::max);
            let low = list.iter().copied().fold(high, f64::min);
            return Some(Expected {
                low,
                high,
                basis: "from the lowest to the highest reading so far".to_owned(),
            });
        }
        let limits = self.study.limits.iter().zip(self.limits).filter(|(limit, _)| limit.agent == agent);
        let lowest = limits.map(|(_, value)| *value).min_by(f64::total_cmp)?;
        Some(Expected {
            low: UNMEASURED.0 * lowest,
            high: UNMEASURED.1 * lowest,
            basis: "nothing measured yet, from a tenth of the lowest limit to twice it".to_owned(),
        })
    }

    /// What is expected at some grab times: from the lowest to the highest of what is expected in their tasks.
    fn expected_in(&self, agent: Ref<Agent>, group: Ref<Group>, times: &[&GrabTime]) -> Option<Expected> {
        let mut tasks: Vec<Option<Ref<Task>>> =
            times.iter().map(|time| self.study.tasks.find(time.task.as_deref()?)).collect();
        tasks.sort_unstable();
        tasks.dedup();
        let each = tasks.into_iter().filter_map(|task| self.expected(agent, group, task));
        each.reduce(|a, b| Expected {
            low: a.low.min(b.low),
            high: a.high.max(b.high),
            basis: if a.basis == b.basis { a.basis } else { format!("{}; {}", a.basis, b.basis) },
        })
    }

    /// The tubes of all visits, by type, with spares, in boxes.
    pub fn needs(&self, group: Ref<Group>, visits: &[Visit], spares: f64) -> Vec<TubeNeed> {
        let own = |agent: &Ref<Agent>| self.study.groups[group].agents.contains(agent);
        let tubes = self.study.tubes.iter().filter(|(.., sheet)| own(&sheet.agent));
        tubes
            .filter_map(|(tube, name, sheet)| self.need((tube, name, sheet), group, visits, spares))
            .collect()
    }

    fn need(
        &self,
        (tube, name, sheet): (Ref<Tube>, &str, &Tube),
        group: Ref<Group>,
        visits: &[Visit],
        spares: f64,
    ) -> Option<TubeNeed> {
        let settings = self.settings(sheet.agent).into_iter().filter(|setting| setting.tube == tube);
        let uses: Vec<TubeUse> =
            settings.filter_map(|setting| self.tube_use((name, sheet), group, &setting, visits)).collect();
        let draws: usize = uses.iter().map(|drawn| drawn.draws).sum();
        let spare = (spares * draws as f64 - 1e-9).ceil() as usize;
        let box_size = sheet.per_box.unwrap_or(USUAL_BOX) as usize;
        (draws > 0).then(|| TubeNeed {
            tube: name.to_owned(),
            agent: self.study.agents.name(sheet.agent).to_owned(),
            draws,
            spares: spare,
            box_size,
            boxes: (draws + spare).div_ceil(box_size),
            uses,
        })
    }

    fn tube_use(
        &self,
        (name, sheet): (&str, &Tube),
        group: Ref<Group>,
        setting: &Setting,
        visits: &[Visit],
    ) -> Option<TubeUse> {
        let drawn =
            |time: &&GrabTime| time.tubes.iter().any(|t| t.tube == name && t.strokes == setting.strokes);
        let times: Vec<&GrabTime> = visits.iter().flat_map(|visit| &visit.times).filter(drawn).collect();
        let (agent, unit) = (sheet.agent, self.study.unit(sheet.agent).symbol());
        let expected = self.expected_in(agent, group, &times)?;
        Some(TubeUse {
            strokes: setting.strokes,
            draws: times.len(),
            draw_minutes: sheet.stroke_time.map(|_| setting.minutes),
            range: Figure::between(
                (setting.low * setting.high).sqrt(),
                setting.low,
                setting.high,
                unit,
                "printed range for these strokes",
            ),
            remarks: self.remarks(agent, setting, sheet, &expected, unit),
            expected: Figure::between(
                (expected.low * expected.high).sqrt().clamp(expected.low, expected.high),
                expected.low,
                expected.high,
                unit,
                expected.basis,
            ),
        })
    }

    fn remarks(
        &self,
        agent: Ref<Agent>,
        setting: &Setting,
        sheet: &Tube,
        expected: &Expected,
        unit: &str,
    ) -> Vec<String> {
        let mut remarks = Vec::new();
        if expected.high > setting.high {
            remarks.push(format!("up to {} {unit} is expected, past the last mark", brief(expected.high)));
        }
        if expected.low < setting.low {
            remarks.push(format!(
                "down to {} {unit} is expected, less than the first mark",
                brief(expected.low)
            ));
        }
        if sheet.stroke_time.is_none() {
            remarks.push("the sheet gives no time of a stroke; 1 min is taken".to_owned());
        }
        if sheet.per_box.is_none() {
            remarks.push(format!("no `per_box` is given; a box of {USUAL_BOX} is taken"));
        }
        let windows = self.study.limits.iter().filter(|l| l.agent == agent && l.kind == LimitKind::ShortTerm);
        for window in windows.map(|limit| limit.averaging.0) {
            if setting.minutes > window {
                remarks.push(format!(
                    "a draw takes longer than the {} min of the short-term limit",
                    brief(window)
                ));
            } else if DRAWS_FOR_A_WINDOW * setting.minutes > window {
                remarks.push(format!(
                    "three draws do not fit into the {} min of the short-term limit",
                    brief(window)
                ));
            }
        }
        remarks
    }
}

/// The share of what is expected, on the logarithmic scale, that a tube can be read for.
fn covered(setting: &Setting, expected: &Expected) -> f64 {
    let low = expected.low.max(1e-9 * setting.low);
    let (from, to) = (low.max(setting.low).ln(), expected.high.min(setting.high).ln());
    let whole = expected.high.max(low).ln() - low.ln();
    match whole {
        w if w > 0.0 => ((to - from) / w).max(0.0),
        _ if (setting.low..=setting.high).contains(&expected.high) => 1.0,
        _ => 0.0,
    }
}
