//! The chain from stain to concentration: `C = R x f(strokes) x f(temperature) x f(humidity) x f(pressure)`.

use super::convert::{Converter, conversion_in_words};
use super::factor;
use crate::model::Interference;
use crate::model::quantity::ATMOSPHERE;
use crate::model::{Input, Interval, Reading, Stain, Step, Study, Tube, shown, shown_range};

/// Corrects one reading; the interval is in the agent's unit.
pub fn correct(study: &Study, reading: &Reading) -> Interval {
    walk(study, reading, None).interval
}

/// The steps by which a reading is corrected.
pub fn working(study: &Study, reading: &Reading) -> Vec<Step> {
    walk(study, reading, Some(Vec::new())).steps.unwrap_or_default()
}

fn walk(study: &Study, reading: &Reading, steps: Option<Vec<Step>>) -> Chain {
    let (tube, told) = (&study.tubes[reading.tube], reading.circumstances());
    let mut chain = Chain::from_stain(reading, tube, study, steps);
    chain.strokes(reading, tube);
    chain.condition("temperature", "C", told.temperature.map(|c| c.0), &tube.temperature);
    chain.condition("humidity", "%", told.humidity, &tube.humidity);
    chain.pressure(reading, tube);
    for (interference, ppm) in study.interferents(reading) {
        chain.interference(interference, ppm);
    }
    chain.unit(tube, study);
    chain
}

/// Why a condition is not corrected for.
const NOT_TOLD: &str = "the reading has none, so no correction";

struct Chain {
    interval: Interval,
    unit: &'static str,
    /// The working, where it is wanted: its words cost more than its numbers.
    steps: Option<Vec<Step>>,
}

impl Chain {
    fn from_stain(reading: &Reading, tube: &Tube, study: &Study, steps: Option<Vec<Step>>) -> Chain {
        let (low, high) = reading.stain.range();
        let (formula, source) = match reading.stain {
            Stain::At(_) => ("R as read", "tube sheet"),
            Stain::Between(..) => ("R lies between two marks", "tube sheet"),
            Stain::Below(_) => ("R lies between 0 and the first mark", "tube sheet"),
            Stain::Past(_) => ("R lies past the last mark", "tube sheet"),
            Stain::Slanted(..) => ("R = (shortest + longest) / 2", "common practice, no source"),
        };
        // The reader has refused stains that are negative or out of order.
        let interval = Interval::new(low, high).unwrap_or(Interval::ZERO);
        let mut chain = Chain { interval, unit: tube.unit.symbol(), steps };
        chain.record("stain", formula, source, || {
            let written = crate::model::reading::written(reading.stain);
            let stain = Input::new("stain", written, format!("reading {}", reading.id));
            vec![stain, Input::new("tube", study.tubes.name(reading.tube), "tube sheet")]
        });
        chain
    }

    fn record(
        &mut self,
        name: &str,
        formula: &str,
        source: &'static str,
        inputs: impl FnOnce() -> Vec<Input>,
    ) {
        let Some(steps) = &mut self.steps else { return };
        let range = shown_range(self.interval.low(), self.interval.high());
        let result = format!("{range} {}", self.unit);
        let (name, formula) = (name.to_owned(), formula.to_owned());
        steps.push(Step { name, formula, inputs: inputs(), result, source });
    }

    /// Multiplies by a factor and records it.
    fn times(
        &mut self,
        name: &str,
        factor: f64,
        why: &str,
        source: &'static str,
        inputs: impl FnOnce() -> Vec<Input>,
    ) {
        self.interval = self.interval.times(factor);
        self.record(name, "C x factor", source, || {
            let mut inputs = inputs();
            inputs.push(Input::new("factor", shown(factor), why));
            inputs
        });
    }

    fn strokes(&mut self, reading: &Reading, tube: &Tube) {
        let (factor, why) = factor::for_strokes(tube, reading.strokes);
        self.times("strokes", factor, why, "tube sheet", || {
            let drawn = Input::new("strokes drawn", reading.strokes, format!("reading {}", reading.id));
            vec![drawn, Input::new("strokes of the scale", tube.strokes, "tube sheet")]
        });
    }

    fn condition(&mut self, name: &str, unit: &str, value: Option<f64>, points: &[(f64, f64)]) {
        if points.is_empty() {
            return;
        }
        match value.and_then(|v| Some((v, factor::interpolated(points, v)?))) {
            Some((value, factor)) => {
                let why = "linear between the points of the tube sheet";
                self.times(name, factor, why, "tube sheet", || {
                    vec![Input::new(name, format!("{value} {unit}"), "reading")]
                });
            }
            None => self.times(name, 1.0, NOT_TOLD, "tube sheet", Vec::new),
        }
    }

    fn pressure(&mut self, reading: &Reading, tube: &Tube) {
        if !tube.pressure_proportional {
            return;
        }
        match reading.circumstances().pressure {
            Some(pressure) => {
                let (factor, why) = (factor::for_pressure(pressure.0), format!("{} kPa / P", ATMOSPHERE.0));
                self.times("pressure", factor, &why, "common practice, no source", || {
                    vec![Input::new("P", format!("{} kPa", pressure.0), "reading")]
                });
            }
            None => self.times("pressure", 1.0, NOT_TOLD, "tube sheet", Vec::new),
        }
    }

    /// Opens the interval for another substance; never a silent subtraction.
    fn interference(&mut self, interference: &Interference, ppm: Option<f64>) {
        let part = interference.per_ppm.zip(ppm).map(|(per_ppm, ppm)| per_ppm * ppm);
        let (low, high, formula) = match (interference.reads_higher, part) {
            (true, Some(part)) => (
                (self.interval.low() - part).max(0.0),
                self.interval.high(),
                "the true value lies between max(0, C - response x present) and C",
            ),
            (true, None) => (0.0, self.interval.high(), "the true value lies between 0 and C"),
            (false, Some(part)) => (
                self.interval.low(),
                self.interval.high() + part,
                "the true value lies between C and C + response x present",
            ),
            (false, None) => (self.interval.low(), f64::INFINITY, "the true value lies at C or above"),
        };
        self.interval = Interval::new(low, high).unwrap_or(self.interval);
        let name = format!("interference of {}", interference.agent);
        self.record(&name, formula, "tube sheet", || {
            let or_unknown =
                |x: Option<f64>, unit: &str| x.map_or("unknown".to_owned(), |x| format!("{x}{unit}"));
            let response = or_unknown(interference.per_ppm, " per ppm");
            vec![
                Input::new("present", or_unknown(ppm, " ppm"), "reading or group"),
                Input::new("response", response, "tube sheet"),
            ]
        });
    }

    fn unit(&mut self, tube: &Tube, study: &Study) {
        let to = study.unit(tube.agent);
        if to == tube.unit {
            return;
        }
        let molar_mass = study.agents[tube.agent].molar_mass;
        // The check step has made sure that the molar mass is known where it is needed.
        let Some(converter) = Converter::new(tube.unit, to, molar_mass, &study.reference) else { return };
        self.unit = to.symbol();
        let why = conversion_in_words(&study.reference);
        self.times("unit", converter.factor, &why, "NIOSH Pocket Guide, conversion factors", || {
            vec![Input::new("M", format!("{} g/mol", molar_mass.unwrap_or(0.0)), "study.yaml")]
        });
    }
}
